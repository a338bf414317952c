"""Bulge of a polyline's side.

Source: DXF reference, LWPOLYLINE, group code 42. SEEN (G10): the bulge is the tangent of a quarter
of the included angle, positive anticlockwise; 1 is a semicircle.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from poolgeo.plan.curves import Arc

START, END = np.array([2.0, 1.0]), np.array([5.0, 5.0])


@pytest.mark.parametrize(("bulge", "degrees"), [(0.57735, 120), (0.414214, 90), (1, 180)])
def test_g10_included_angle(bulge: float, degrees: float) -> None:
    """Bulge 0.57735, 0.414214 and 1 are 120, 90 and 180 degrees."""
    sweep = math.degrees(Arc.by_bulge(START, END, bulge).sweep)
    assert sweep == pytest.approx(degrees, abs=0.0005)


@pytest.mark.parametrize("bulge", [0.2, 0.57735, 1.0, 1.8, -0.2, -1.0, -1.8])
def test_g10_a_positive_bulge_runs_anticlockwise(bulge: float) -> None:
    """An anticlockwise arc bows out to the right of the way from its start to its end.

    It does so by bulge times half the chord, here 5 / 2.
    """
    chords = Arc.by_bulge(START, END, bulge).flatten(1e-4)
    right = np.array([END[1] - START[1], START[0] - END[0]]) / 5.0
    bow = (chords.points - START) @ right
    assert bow[np.argmax(np.abs(bow))] == pytest.approx(bulge * 2.5, abs=2e-4)
    assert chords.points[[0, -1]] == pytest.approx(np.array([START, END]))
