"""Surfaces of floors against closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from poolgeo.plan.surfaces import Skirt


@pytest.mark.parametrize("first", [0.0, -0.9, 1.0, 2.5])
def test_a_skirt_of_a_closed_curve_is_one_where_it_closes(first: float) -> None:
    """About a circle it is a cone, on either side of the vertex that is both first and last."""
    angle = first + np.linspace(0.0, 2.0 * np.pi, 33)
    outward = np.column_stack([np.cos(angle), np.sin(angle)])
    points = 0.7 * outward
    points[-1] = points[0]
    skirt = Skirt(points, outward, -2.5, 1.0 / 3.0)
    away = np.linspace(0.8, 9.0, 200)[:, None]
    turn = first + np.linspace(-0.18, 0.18, 41)
    xy = away[..., None] * np.column_stack([np.cos(turn), np.sin(turn)])
    cone = np.broadcast_to(-2.5 + (away - 0.7) / 3.0, xy.shape[:2])
    # true vertices and normals, and between them a normal turned evenly: 1e-5 of the way off
    assert skirt.height(xy) == pytest.approx(cone, abs=2e-4)
