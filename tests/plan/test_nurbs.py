"""Splines by control points, against two other evaluators."""

from __future__ import annotations

import math

import ezdxf.math
import numpy as np
import pytest
from scipy.interpolate import BSpline

from poolgeo.plan.nurbs import Nurbs

CONTROLS = np.random.default_rng(1).normal(size=(9, 2))


def clamped(count: int, degree: int) -> np.ndarray:
    """Knots 0, 1, 2 ... with full ends."""
    inner = np.arange(1, count - degree)
    return np.concatenate([np.zeros(degree + 1), inner, np.full(degree + 1, count - degree)])


@pytest.mark.parametrize("degree", [1, 2, 3, 5])
@pytest.mark.parametrize("ends", ["clamped", "free"])
def test_points_and_derivatives_are_those_of_another_evaluator(degree: int, ends: str) -> None:
    knots = clamped(9, degree) if ends == "clamped" else np.arange(10.0 + degree)
    spline, other = Nurbs(degree, knots, CONTROLS, np.ones(9)), BSpline(knots, CONTROLS, degree)
    t = np.linspace(*spline.domain, 50)[:-1] + 1e-3
    t = t[t < spline.domain[1]]
    for order in range(3):
        assert spline.at(t, order) == pytest.approx(other(t, nu=order), abs=1e-10)


def test_a_rational_spline_is_that_of_the_drawing_library() -> None:
    weights = np.random.default_rng(2).uniform(0.5, 2.0, 9)
    other = ezdxf.math.BSpline(CONTROLS.tolist(), order=4, weights=weights.tolist())
    spline = Nurbs(3, np.array(other.knots()), CONTROLS, weights)
    t = np.linspace(*spline.domain, 50)
    rows = np.array([[(p.x, p.y) for p in row] for row in other.derivatives(t.tolist(), 2)])
    for order in range(3):
        assert spline.at(t, order) == pytest.approx(rows[:, order], abs=1e-9)


def test_a_quarter_circle_has_its_length() -> None:
    """Three control points, the middle one of weight 1/sqrt(2): an exact circle."""
    knots, controls = np.array([0, 0, 0, 1, 1, 1.0]), np.array([[2, 0], [2, 2], [0, 2.0]])
    arc = Nurbs(2, knots, controls, np.array([1.0, math.sqrt(0.5), 1.0]))
    chords = arc.flatten(1e-3)
    assert chords.lengths.sum() == pytest.approx(math.pi, rel=1e-9)
    assert np.hypot(*chords.points.T) == pytest.approx(2.0, abs=1e-12)
    assert np.sum(chords.points * chords.tangents, axis=1) == pytest.approx(0.0, abs=1e-12)


def test_it_is_cut_where_it_may_turn() -> None:
    knots = np.array([0, 0, 0, 1, 1, 2, 3, 3, 3, 4, 4, 4.0])
    spline = Nurbs(2, knots, CONTROLS, np.ones(9))
    parts = spline.smooth_parts()
    assert [item.domain for item in parts] == [(0.0, 1.0), (1.0, 3.0), (3.0, 4.0)]
    for part in parts:
        t = np.linspace(*part.domain, 20)[1:-1]
        for order in range(3):
            assert part.at(t, order) == pytest.approx(spline.at(t, order), abs=1e-10)


def test_a_part_is_the_same_curve_either_way_round() -> None:
    spline = Nurbs(3, clamped(9, 3), CONTROLS, np.ones(9))
    there, back = spline.part(1.2, 4.5), spline.part(4.5, 1.2)
    assert there.flatten(1e-4).lengths.sum() == pytest.approx(back.flatten(1e-4).lengths.sum())
    t = np.linspace(0.0, 1.0, 7)
    assert there.at(t) == pytest.approx(back.at(1.0 - t), abs=1e-12)
    assert there.at(t, 1) == pytest.approx(-back.at(1.0 - t, 1), abs=1e-12)
