"""poolgeo against the second opinion, at the default tolerance.

Volumes, areas and coves agree within 0.1 %, lengths of edges within 0.05 %.
"""

from __future__ import annotations

from collections import defaultdict
from functools import cache

import numpy as np
import pytest

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.measure.takeoff import measure
from poolgeo.quantities import Takeoff

pytest.importorskip("scipy")

from . import cases

SIZE = 1e-3
"""Volumes and areas, relative."""
LENGTH = 5e-4
"""Lengths of edges, relative."""

RUNS = {
    "floor/wall": ({"floor/wall"}, {"internal"}),
    "waterline": ({"wall/wall top"}, {"external"}),
    "wall/wall internal": ({"wall/wall"}, {"internal"}),
    "wall/wall external": ({"wall/wall"}, {"external"}),
    "cove mitre": ({"cove/cove"}, {"internal"}),
    "pool wall at the water level": ({"wall/wall top"}, {"external"}),
    "bench nosing": ({"bench top/bench face"}, {"external"}),
    "tread nosing": ({"tread/riser", "tread/step side"}, {"external"}),
}
"""Lengths of the cases: kinds and senses of the runs that make them up.

The walls are vertical, so the waterline is as long as the wall's top edge.
"""


@cache
def _measured(name: str) -> Takeoff:
    (case,) = (case for case in cases.CASES if case.name == name)
    return measure(build(design_from(case.file)))


def takeoff_of(case: cases.Case) -> Takeoff:
    """Build and measure a case, each once."""
    return _measured(case.name)


by_case = pytest.mark.parametrize("case", cases.CASES, ids=lambda case: case.name)


@by_case
def test_water(case: cases.Case) -> None:
    assert takeoff_of(case).water == pytest.approx(case.expected().water, rel=SIZE)


@by_case
def test_areas(case: cases.Case) -> None:
    found: defaultdict[str, float] = defaultdict(float)
    for row in takeoff_of(case).areas:
        found[row.kind] += row.area
    want = case.expected().areas
    assert {kind: found[kind] for kind in want} == pytest.approx(want, rel=SIZE)


@by_case
def test_wet_areas(case: cases.Case) -> None:
    found: defaultdict[str, float] = defaultdict(float)
    for row in takeoff_of(case).areas:
        found[row.kind] += row.wet_area
    want = case.expected().wet
    assert {kind: found[kind] for kind in want} == pytest.approx(want, rel=SIZE)


@by_case
def test_lengths_of_edges(case: cases.Case) -> None:
    want = {name: size for name, size in case.expected().lengths.items() if name in RUNS}
    found = dict.fromkeys(want, 0.0)
    for name, (kinds, senses) in RUNS.items():
        runs = [run for run in takeoff_of(case).edges if run.kind in kinds and run.sense in senses]
        if name in want:
            found[name] = sum(run.length for run in runs)
    assert found == pytest.approx(want, rel=LENGTH)


@by_case
def test_length_of_the_cove(case: cases.Case) -> None:
    """Cove runs are as long as the cove's upper line."""
    want = case.expected().lengths.get("cove head", 0.0)
    if not want:
        pytest.skip("no length worked out")
    assert sum(run.length for run in takeoff_of(case).coves) == pytest.approx(want, rel=LENGTH)


@by_case
def test_areas_of_cove_runs(case: cases.Case) -> None:
    """Cove runs share out the whole cove."""
    areas = [run.area for run in takeoff_of(case).coves]
    assert sum(areas) == pytest.approx(case.expected().areas["cove"], rel=SIZE)


def test_dam_wall_at_the_water_level() -> None:
    """The free surface of the pool ends at the dam wall over the length worked out."""
    case = cases.FURNISHED_CASE
    model = build(design_from(case.file))
    mesh = next(body for body in model.bodies if body.name == "pool").water
    kinds = np.array([patch.kind for patch in mesh.patches])[mesh.patch]
    sides: defaultdict[tuple[int, int], set[str]] = defaultdict(set)
    for kind, (a, b, c) in zip(kinds.tolist(), mesh.triangles.tolist(), strict=True):
        for p, q in ((a, b), (b, c), (c, a)):
            sides[min(p, q), max(p, q)].add(kind)
    ends = [pair for pair, faces in sides.items() if faces == {"water surface", "dam wall face"}]
    steps = mesh.vertices[[a for a, _ in ends]] - mesh.vertices[[b for _, b in ends]]
    want = case.expected().lengths["dam wall at the water level"]
    assert np.linalg.norm(steps, axis=1).sum() == pytest.approx(want, rel=LENGTH)
