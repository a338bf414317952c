"""How long the drawing set of the 50 m pool takes, step by step.

Run with ``python -m tests.benchmarks.bench_drawings [sample]``; a number behind a step is its share
of the whole. Nothing is asserted: machines differ.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def main() -> None:
    """Draw a sample and print the seconds of each step."""
    name = sys.argv[1] if len(sys.argv) > 1 else "long-course"
    taken: dict[str, float] = {}

    @contextmanager
    def step(what: str) -> Iterator[None]:
        start = time.perf_counter()
        yield
        taken[what] = time.perf_counter() - start

    with step("imports"):
        import poolgeo
        from poolgeo.design.layer_table import layer_table
        from poolgeo.drawing.drawing_set import drawing_set
        from poolgeo.jointing.joints import finish_joints
        from poolgeo.works import waterproof
        from poolgeo.write.dxf import write_drawing
        from poolgeo.write.prints import write_prints

        table = layer_table("trade-words")
    with step("load, build, measure"):
        model = poolgeo.build(poolgeo.load(ROOT / "samples" / f"{name}.yaml"))
        takeoff = poolgeo.measure(model)
    with step("joints, waterproofing"):
        joints = finish_joints(model, takeoff)
        works = waterproof(model, takeoff) if model.design.pool.waterproofing else None
    with step("views and sheets"):
        drawn = drawing_set(model, takeoff, joints, works)
    with tempfile.TemporaryDirectory() as folder:
        with step("DXF, audited"):
            write_drawing(drawn, table, Path(folder) / "set.dxf")
        with step("PDF"):
            write_prints(drawn, table, Path(folder) / "set.pdf")
    whole = sum(taken.values())
    for what, seconds in taken.items():
        print(f"{what:24} {seconds:6.2f} s {seconds / whole:5.0%}")
    without = whole - taken["PDF"]
    print(f"{'DXF set, in all':24} {without:6.2f} s; with PDF {whole:.2f} s")


if __name__ == "__main__":
    main()
