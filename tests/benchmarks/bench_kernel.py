"""How long poolgeo takes on a freeform pool with everything, beside a B-rep kernel.

Run it by hand: ``python -m tests.benchmarks.bench_kernel``. It prints times and a ratio; no test
looks at a clock.
"""

from __future__ import annotations

import statistics
import time

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.measure.takeoff import measure
from tests.independent import cases, kernel

ROUNDS, KERNEL_ROUNDS = 25, 3


def main() -> None:
    """Print the times and the ratio: medians, each model built and measured once."""
    design = design_from(cases.FURNISHED)
    pool = kernel.from_file(cases.FURNISHED)
    built, measured, kernels = [], [], []
    for _ in range(ROUNDS + 1):  # the first warms up
        start = time.perf_counter()
        model = build(design)
        between = time.perf_counter()
        measure(model)
        built.append(between - start)
        measured.append(time.perf_counter() - between)
    for _ in range(KERNEL_ROUNDS + 1):
        start = time.perf_counter()
        kernel.measure(pool)
        kernels.append(time.perf_counter() - start)
    both = statistics.median(a + b for a, b in zip(built[1:], measured[1:], strict=True))
    other = statistics.median(kernels[1:])
    print(f"poolgeo   build            {statistics.median(built[1:]) * 1e3:7.1f} ms")
    print(f"          measure          {statistics.median(measured[1:]) * 1e3:7.1f} ms")
    print(f"          both             {both * 1e3:7.1f} ms")
    print(f"kernel    both             {other * 1e3:7.1f} ms")
    print(f"ratio     kernel / poolgeo {other / both:7.1f}")


if __name__ == "__main__":
    main()
