"""How long poolgeo takes on a freeform pool with everything, beside a B-rep kernel.

Run it by hand: ``python -m tests.benchmarks.bench_kernel``. It prints times and a ratio; no test
looks at a clock.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.measure.takeoff import measure
from tests.independent import cases, kernel

ROUNDS = 9


def seconds(work: Callable[[], object], rounds: int) -> float:
    """Return the median time of some rounds, after one to warm up [s]."""
    work()
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> None:
    """Print the times and the ratio."""
    design = design_from(cases.FURNISHED)
    pool = kernel.from_file(cases.FURNISHED)
    built = seconds(lambda: build(design), ROUNDS)
    model = build(design)
    measured = seconds(lambda: measure(model), ROUNDS)
    other = seconds(lambda: kernel.measure(pool), 3)
    print(f"poolgeo   build {built * 1e3:7.1f} ms   measure {measured * 1e3:6.1f} ms")
    print(f"kernel    build and measure {other * 1e3:7.1f} ms")
    print(f"ratio     kernel / poolgeo  {other / (built + measured):5.1f}")


if __name__ == "__main__":
    main()
