"""Noding: what comes out meets in vertices only, however the lines ran."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from poolgeo.plan.noding import APART, Segments, node
from poolgeo.plan.tolerances import GRID, WELD

from .lines import crossings, given, segments_of

CLOSE = 0.9
"""[-] Of what the noding keeps apart: its vertices are rounded to the grid afterwards."""

places = st.integers(0, 60).map(lambda k: k / 20.0)
"""[m] Few places, so that lines meet in vertices, overlap and touch."""

wobbles = st.integers(-9, 9).map(lambda k: k * GRID)
"""[m] What overlay operations leave behind."""


def edges_of(ends: np.ndarray) -> np.ndarray:
    """Return each edge once, lower vertex first."""
    return np.unique(np.sort(ends, axis=1), axis=0)


@settings(max_examples=150)
@drawn(
    st.lists(st.tuples(places, places, places, places, wobbles, wobbles), min_size=2, max_size=25)
)
def test_noded_lines_meet_in_vertices_only(drawn_lines: list[tuple[float, ...]]) -> None:
    """No two strands cross, no vertex stands in another strand, no two are nearly one."""
    lines = np.array([[[a + u, b], [c, d + v]] for a, b, c, d, u, v in drawn_lines])
    lines = lines[np.hypot(*(lines[:, 0] - lines[:, 1]).T) > 1e-3]
    if not len(lines):
        return
    strands = node(given(lines))
    edges = edges_of(strands.ends)
    assert crossings(strands.vertices, edges) == 0
    used = np.unique(edges)
    points = shapely.points(strands.vertices[used])
    pairs = shapely.STRtree(points).query(points, "dwithin", distance=CLOSE * APART * WELD)
    assert np.array_equal(pairs[0], pairs[1])  # each is near itself alone
    tree = shapely.STRtree(shapely.linestrings(strands.vertices[edges]))
    point, edge = tree.query(points, "dwithin", distance=CLOSE * WELD)
    assert all(used[p] in edges[e] for p, e in zip(point, edge, strict=True))


def test_a_line_that_comes_to_lie_on_one_of_another_side_meets_what_is_there() -> None:
    """The long line is of both sides; the short ones of the first stand on it, none of the second.

    The line of the second side that lies on a part of it, from 2 to 6, has to meet these too.
    """
    lines = np.array([
        [[0.0, 0.0], [8.0, 0.0]], [[0.0, 0.0], [8.0, 0.0]],
        [[2.0, 0.0], [3.0, 0.0]], [[3.0, 0.0], [5.0, 0.0]], [[5.0, 0.0], [6.0, 0.0]],
        [[2.0, 0.0], [6.0, 0.0]],
    ])  # fmt: skip
    strands = node(given(lines, [1, 2, 1, 1, 1, 2]))
    mine = strands.ends[strands.parent == 5]
    assert sorted(strands.vertices[mine][:, :, 0].min(axis=1).tolist()) == [2.0, 3.0, 5.0]


@settings(max_examples=60)
@drawn(st.lists(st.tuples(places, places, places, places), min_size=1, max_size=12))
def test_the_strands_of_a_segment_lead_from_its_start_to_its_end(
    drawn_lines: list[tuple[float, ...]],
) -> None:
    """Each parent's strands, in their direction, are one path; it runs where the parent ran."""
    lines = np.array(drawn_lines).reshape(-1, 2, 2)
    lines = lines[np.hypot(*(lines[:, 0] - lines[:, 1]).T) > 1e-3]
    if not len(lines):
        return
    segments = given(lines)
    strands = node(segments)
    for parent, (a, b) in enumerate(segments.ends.tolist()):
        ends = dict(strands.ends[strands.parent == parent].tolist())
        at, seen = int(strands.number[a]), 0
        while at in ends and seen <= len(ends):
            at, seen = ends[at], seen + 1
        assert (at, seen) == (strands.number[b], len(ends))
        line = shapely.LineString(segments.vertices[[a, b]])
        path = shapely.points(strands.vertices[list(ends)])
        assert shapely.distance(line, path).max(initial=0.0) < 3.0 * WELD


def test_borders_that_rounding_has_moved_apart_become_one() -> None:
    """Two squares side by side, three micrometres apart: seven edges, no slit."""
    one = shapely.box(0.0, 0.0, 1.0, 1.0)
    other = shapely.affinity.translate(shapely.box(1.0, 0.0, 2.0, 1.0), 3.0 * GRID, -2.0 * GRID)
    lines, _ = segments_of(one, other)
    assert len(edges_of(node(given(lines)).ends)) == 7


def test_a_needle_smaller_than_the_reach_comes_to_an_end() -> None:
    """Each corner of this triangle lies within reach of the side beyond; that never stopped."""
    corners = np.array([[-5.041939, -2.588601], [-5.041941, -2.588616], [-5.04193, -2.588606]])
    lines = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
    assert len(node(given(lines)).ends) == 0  # it is all one point


def test_lines_of_two_sides_pass_each_other_by() -> None:
    """A soffit's bend does not cut what stands above it."""
    lines = np.array([[[0.0, 0.0], [2.0, 2.0]], [[0.0, 2.0], [2.0, 0.0]]])
    assert len(node(given(lines, side=[1, 2])).ends) == 2
    assert len(node(given(lines, side=[1, 3])).ends) == 4


@pytest.mark.parametrize("turn", [0.0, 17.0, 45.0])
def test_a_crossing_is_where_it_ought_to_be(turn: float) -> None:
    """Two diagonals meet in the middle, to the grid."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    lines = np.array([[[-1.0, -1.0], [1.0, 1.0]], [[-1.0, 1.0], [1.0, -1.0]]])
    strands = node(given(lines @ np.array([[c, s], [-s, c]]) + [3.0, 5.0]))
    (middle,) = strands.vertices[4:]
    assert middle == pytest.approx([3.0, 5.0], abs=2.0 * GRID)


def test_a_part_with_the_ends_of_an_edge_that_was_split_meets_what_that_had_met() -> None:
    """A long line, a short one beside it, and the end of a cove on a riser along both (in mm).

    The long line's part between the cove's ends comes up as the same edge that the short line
    had there when it was split.
    """
    section = [
        [2189.062, 2014.479], [2189.805, 2021.546], [2190.488, 2028.042], [2191.105, 2033.91],
        [2191.65, 2039.102], [2192.12, 2043.572], [2192.51, 2047.282], [2192.817, 2050.201],
        [2193.038, 2052.305], [2193.171, 2053.574], [2193.216, 2053.998],
    ]  # fmt: skip
    short, long = (
        [[2188.14, 2005.62], [2193.48, 2056.02]],
        [[2161.649, 1753.653], [2193.4261664, 2055.9885832]],
    )
    vertices = np.array([*short, long[0], *section, long[1]]) / 1e3
    wide = np.isin(np.arange(15), [0, 1, 2, 13])  # vertices of walls
    lines = Segments(
        vertices,
        np.array([[14, 2], [0, 1], *([k, k + 1] for k in range(3, 13))]),
        np.where(wide, 2.5 * WELD, WELD),
        wide | (np.arange(15) == 14),
        np.where(np.arange(12) == 1, 2.5 * WELD, WELD),
        np.array([-1, 0] + [4] * 10),
        np.array([0, 0, 3] + [4] * 11 + [-1]),
        np.ones(12, dtype=np.int64),
    )
    strands = node(lines)
    assert crossings(strands.vertices, edges_of(strands.ends)) == 0
    assert set(range(3, 14)) <= set(strands.ends[strands.parent == 0].ravel().tolist())


def test_a_line_is_not_drawn_along_another_that_leaves_it_at_a_small_angle() -> None:
    """The cells' edge ends 0.5 mm off the row of vertices 9 mm apart that it starts from.

    It goes through those within reach of it; from one to the next it went on to the last of all,
    one a round, as each is within reach of the line from the one before it.
    """
    row = np.column_stack([np.arange(45) * 0.009, np.zeros(45)])
    vertices = np.array([*row, [0.4, 5e-4]])
    count = len(row)
    ends = np.array([[0, count], *([k, k + 1] for k in range(count - 1))])
    strands = node(
        Segments(
            vertices,
            ends,
            np.full(count + 1, WELD),
            np.ones(count + 1, dtype=bool),
            np.full(count, WELD),
            np.array([0] + [1] * (count - 1)),
            np.array([0] + [1] * (count - 1) + [0]),
            np.ones(count, dtype=np.int64),
        )
    )
    assert strands.ends[strands.parent == 0].tolist() == [[0, 1], [1, count]]


def test_a_line_that_another_ends_on_follows_its_end() -> None:
    """The end of the short line welds with its start, 28 um off, which stands 26 um off the long.

    The long line was left where it was, and none ended on it any more.
    """
    near, end = (0.0, 0.0), (1e-5, 2.6e-5)
    lines = np.array([[near, end], [near, (-1, -1)], [near, (1, -1)], [(-1, 2.6e-5), (1, 2.6e-5)]])
    segments = given(lines)
    strands = node(segments)
    assert strands.number[segments.ends[0, 1]] in strands.ends[strands.parent == 3]
