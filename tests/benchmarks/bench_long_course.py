"""How long poolgeo takes on the 50 m pool: channel all round, movement joint, 60 fittings.

Run it by hand: ``python -m tests.benchmarks.bench_long_course``. It prints the best of ten rounds,
by the clock and by the processor's time of this process; no test looks at a clock.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from poolgeo.builder import build
from poolgeo.design.load import load
from poolgeo.measure.takeoff import measure
from poolgeo.works import waterproof

ROUNDS = 10
SAMPLE = Path(__file__).parents[2] / "samples" / "long-course.yaml"


def main() -> None:
    """Print the times."""
    design = load(SAMPLE)
    model = build(design)
    waterproof(model, measure(model))  # warms up
    clocks: tuple[Callable[[], float], ...] = (time.perf_counter, time.process_time)
    for name, clock in zip(("clock", "processor"), clocks, strict=True):
        rounds = []
        for _ in range(ROUNDS):
            start = clock()
            model = build(design)
            between = clock()
            takeoff = measure(model)
            after = clock()
            waterproof(model, takeoff)
            rounds.append((between - start, after - between, clock() - after))
        built, measured, coated = (min(times) * 1e3 for times in zip(*rounds, strict=True))
        both = min(sum(times[:2]) for times in rounds) * 1e3
        print(
            f"{name:9}  build {built:6.1f} ms  measure {measured:6.1f} ms  both {both:6.1f} ms"
            f"  waterproof {coated:6.1f} ms"
        )


if __name__ == "__main__":
    main()
