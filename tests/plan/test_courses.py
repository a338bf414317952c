"""Rings of what overlays leave keep the normals of the curves that their sides follow."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from poolgeo.plan.courses import Course, ring_round
from poolgeo.plan.curves import Arc, Line
from poolgeo.plan.ring import Ring, ring_of
from poolgeo.plan.shapes import parallel_arcs


def disc(radius: float) -> Ring:
    """A circle about the origin."""
    return ring_of([Arc(np.zeros(2), radius, 0.0, 2.0 * math.pi)], 0.001)


def box(size: float) -> Ring:
    """A square about the origin."""
    corners = size / 2.0 * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
    ends = np.roll(corners, -1, axis=0)
    return ring_of([Line(a, b) for a, b in zip(corners, ends, strict=True)], 0.001)


def test_a_circle_comes_back_as_it_was() -> None:
    """Smooth everywhere, as long as the true curve, its normals to the middle."""
    ring = disc(2.0)
    found = ring_round(ring.polygon, [Course.along(ring)])
    assert not found.turns.any()
    assert found.perimeter == pytest.approx(4.0 * math.pi, rel=1e-6)
    middle = -found.points / np.hypot(*found.points.T)[:, None]
    assert np.abs(found.chord_normals[:, 0] - middle).max() < 1e-5


def test_a_parallel_is_smooth_too() -> None:
    """A circle grown by half a metre, cut by a straight line: two corners.

    They are cut into chords, off the circle, so they turn by 90 degrees nearly.
    """
    ring = disc(2.0)
    shape = shapely.intersection(ring.thickened(0.5), shapely.box(-9.0, -9.0, 0.0, 9.0))
    found = ring_round(shape, [Course.along(ring), Course.along(ring, 0.5)])
    assert found.turns[found.turns != 0.0] == pytest.approx([math.pi / 2.0] * 2, abs=0.02)
    assert found.perimeter == pytest.approx(2.5 * math.pi + 5.0, rel=1e-3)


def test_a_hole_s_curve_turns_the_other_way() -> None:
    """A half ring: along its inner side the normals point away from the middle."""
    inner, outer = disc(1.0), disc(2.0)
    ring = shapely.difference(outer.polygon, inner.polygon)
    shape = shapely.intersection(ring, shapely.box(-9.0, -9.0, 0.0, 9.0))
    found = ring_round(shape, [Course.along(inner), Course.along(outer)])
    near = np.hypot(*found.points.T) < 1.5
    outward = np.sum(found.points * found.chord_normals[:, 0], axis=1) > 0.0
    assert outward[near].sum() >= near.sum() - 1  # one starts the straight side
    assert not outward[~near].any()
    assert found.perimeter == pytest.approx(3.0 * math.pi + 2.0, rel=1e-3)


def test_a_square_s_parallel_has_its_corners() -> None:
    """Four turns of 90 degrees."""
    ring = box(2.0)
    found = ring_round(ring.thickened(0.25), [Course.along(ring, 0.25)])
    assert found.turns == pytest.approx([math.pi / 2.0] * 4)
    assert found.perimeter == pytest.approx(10.0)


def test_parallels_of_arcs_cross_on_both_arcs() -> None:
    """Two circles of 2 m meet at a re-entrant corner: outside it their parallels of 2.6 m do."""
    radius, off, aside = 2.0, 0.6, 1.6
    end = math.acos(aside / radius)  # from each circle's middle to the corner, at (0, 1.2)
    right = np.linspace(0.2, math.pi - end, 9)  # anticlockwise about (1.6, 0) up to the corner
    left = np.linspace(end, math.pi - 0.2, 9)  # and from it on about (-1.6, 0)
    middles = np.repeat([[aside, 0.0], [-aside, 0.0]], 9, axis=0)
    outward = np.column_stack([f(np.concatenate([right, left])) for f in (np.cos, np.sin)])
    points = middles + radius * outward
    assert points[8] == pytest.approx(points[9])
    before, after = np.delete(-outward, 9, axis=0), np.delete(-outward, 8, axis=0)
    met, _ = parallel_arcs(np.delete(points, 9, axis=0), before, after, -off)
    assert met[8] == pytest.approx((0.0, math.sqrt((radius + off) ** 2 - aside**2)), abs=1e-9)
