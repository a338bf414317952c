"""Arrangement and coverage: faces, holes and what holds them, by integers."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from poolgeo.arrays import Floats, Ints
from poolgeo.errors import GeometryError
from poolgeo.plan.arrangement import NOWHERE, Arrangement, arrange, components
from poolgeo.plan.coverage import coverage
from poolgeo.plan.keys import numbered
from poolgeo.plan.noding import node
from poolgeo.plan.partition import partition

from .lines import given, segments_of

SQUARE = shapely.box(0.0, 0.0, 4.0, 4.0)
HOLE = shapely.box(1.0, 1.0, 3.0, 3.0)
ISLAND = shapely.box(1.5, 1.5, 2.5, 2.5)
BESIDE = shapely.box(6.0, 0.0, 7.0, 1.0)


def arranged(*polygons: shapely.Polygon) -> tuple[Floats, Arrangement, Ints, Ints]:
    """Return vertices, arrangement, and for each strand its edge and its polygon."""
    lines, owner = segments_of(*polygons)
    strands = node(given(lines))
    low, high = strands.ends.min(axis=1), strands.ends.max(axis=1)
    first, edge = numbered(low * len(strands.vertices) + high)
    plan = arrange(strands.vertices, np.column_stack([low[first], high[first]]))
    return strands.vertices, plan, edge, owner[strands.parent]


def signed_area(points: Floats) -> float:
    """Return the area of a closed line, anticlockwise positive [m2]."""
    x, y = points.T
    return float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2.0


def test_holes_belong_to_the_face_round_them() -> None:
    """A square, a square in it, one in that, and one beside them: the loops, outer first."""
    vertices, plan, *_ = arranged(SQUARE, HOLE, ISLAND, BESIDE)
    areas = [[signed_area(vertices[plan.start[loop]]) for loop in loops] for loops in plan.loops()]
    assert sorted(areas) == [[1.0], [1.0], [4.0, -1.0], [16.0, -4.0]]


@pytest.mark.parametrize("turn", [0.0, 1.0, -1.0])
def test_a_hole_that_looks_at_a_vertex_belongs_to_the_face_that_opens_there(turn: float) -> None:
    """Beside the hole's leftmost corner edges of three faces go up and down from one vertex."""
    face = shapely.Polygon([(1.0, 1.0), (4.0, -3.0), (9.0, 1.0), (4.0, 5.0)])
    hole = shapely.Polygon([(2.0, 1.0), (3.0, 0.5), (4.0, 1.0 + turn), (3.0, 1.5)])
    above = shapely.Polygon([(1.0, 1.0), (0.5, 3.0), (0.0, 2.0)])
    beside = shapely.Polygon([(1.0, 1.0), (0.0, 1.5), (-1.0, 0.5)])
    vertices, plan, _, _ = arranged(above, beside, face, hole)
    areas = sorted(
        sum(signed_area(vertices[plan.start[loop]]) for loop in loops) for loops in plan.loops()
    )
    want = sorted([above.area, beside.area, face.area - hole.area, hole.area])
    assert areas == pytest.approx(want)


def test_outside_is_nowhere() -> None:
    """The half-edges round the outside have no face on their left."""
    _, plan, *_ = arranged(SQUARE)
    assert sorted([int(plan.left[0]), int(plan.right[0])]) == [NOWHERE, 0]


def test_components_take_the_lowest_number() -> None:
    """What hangs together over several steps gets one label."""
    found = components(7, np.array([5, 3, 6]), np.array([3, 1, 6]))
    assert found.tolist() == [0, 1, 2, 1, 4, 1, 6]


boxes = st.tuples(*[st.integers(0, 12)] * 4, st.integers(0, 3)).map(
    lambda k: shapely.affinity.rotate(
        shapely.box(k[0], k[1], k[0] + k[2] + 1, k[1] + k[3] + 1), 17.0 * k[4]
    )
)


@settings(max_examples=80)
@drawn(st.lists(boxes, min_size=1, max_size=6))
def test_coverage_is_what_measuring_finds(regions: list[shapely.Polygon]) -> None:
    """Crossing borders tells the same as asking each face's inside; the faces fill the plan."""
    vertices, plan, edge, region = arranged(*regions)
    held = coverage(vertices, plan, edge, region, len(regions))
    assert not held[:, -1].any()
    faces, origin = partition(vertices, plan, np.append(np.arange(plan.count), -1))
    corners = vertices[faces.triangles]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = (a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / 2.0
    assert area.min() > -1e-9
    whole = float(np.sum(area[held[:, origin[faces.owner]].any(axis=0)]))
    assert whole == pytest.approx(shapely.union_all(regions).area, abs=1e-3)
    middles = shapely.points(corners.mean(axis=1))
    for number, polygon in enumerate(regions):
        clear = (area > 1e-3) & (shapely.distance(polygon.boundary, middles) > 1e-3)
        inside = shapely.contains(polygon, middles)
        assert np.array_equal(held[number, origin[faces.owner]][clear], inside[clear])


def test_a_border_with_a_gap_is_no_border() -> None:
    """Round the gap one comes from inside to outside without crossing it: that contradicts it."""
    triangle = shapely.Polygon([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)])
    vertices, plan, edge, region = arranged(triangle)
    with pytest.raises(GeometryError, match="near"):
        coverage(vertices, plan, edge[:-1], region[:-1], 1)
