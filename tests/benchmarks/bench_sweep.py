"""How much faster bays are measured on all sections at once than on one after the other.

Run it by hand: ``python -m tests.benchmarks.bench_sweep``. It prints the time of a sweep and a
ratio; no test looks at a clock.
"""

from __future__ import annotations

import time
from pathlib import Path

from poolgeo.builder import build
from poolgeo.design.joint_rules import joint_rules
from poolgeo.design.load import load
from poolgeo.design.movement import MovementJoints
from poolgeo.jointing.ground import ground_of
from poolgeo.jointing.planes import section_at
from poolgeo.jointing.sweep import sweeps
from poolgeo.jointing.windows import strips_of
from poolgeo.measure.takeoff import measure

SAMPLES = Path(__file__).parents[2] / "samples"
WALKED = 200
"""Sections of each axis that are walked one by one; the others take as long."""


def main() -> None:
    """Print the times."""
    for name in ("long-course", "freeform-spa", "two-spas"):
        model = build(load(SAMPLES / f"{name}.yaml"))
        rules = joint_rules("closed-loops-6-m")
        ground = ground_of(model, measure(model), rules, MovementJoints())
        breaks = ground.breaks(ground.edges)
        sweeps(ground, breaks, [])  # warms up
        start = time.perf_counter()
        found = sweeps(ground, breaks, [])
        swept, walked = time.perf_counter() - start, 0.0
        for sweep in found:
            some = sweep.at[:: max(len(sweep.at) // WALKED, 1)]
            start = time.perf_counter()
            for at in some.tolist():
                list(strips_of(ground, section_at(ground, sweep.axis, at), breaks))
            walked += (time.perf_counter() - start) * len(sweep.at) / max(len(some), 1)
        count = sum(len(sweep.at) for sweep in found)
        print(f"{name:13} {count:6} sections  at once {swept:5.2f} s  ratio {walked / swept:5.1f}")


if __name__ == "__main__":
    main()
