"""What counts as curved."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import poolgeo
from poolgeo.design.load import design_from
from poolgeo.finishing.curves import polyline
from poolgeo.finishing.shape import curved_share
from poolgeo.mesh import Mesh, Patch

from .pools import BOX

SAMPLES = Path(__file__).parents[2] / "samples"


@pytest.mark.parametrize("name", ["fillet", "hopper", "spots"])
def test_polygons_with_breaks_and_leaning_walls_are_straight(name: str) -> None:
    model = poolgeo.build(poolgeo.load(SAMPLES / f"{name}.yaml"))
    assert not curved_share(model).any()


@pytest.mark.parametrize(("bend", "curved"), [(0.0, False), (5.0, True), (30.0, False)])
def test_a_strip_is_curved_where_it_bends_smoothly(bend: float, *, curved: bool) -> None:
    # three facets 1 m wide: too few for a border to show a curve
    heading = np.radians(bend) * np.arange(3)
    x = np.concatenate([[0.0], np.cumsum(np.cos(heading))])
    z = np.concatenate([[0.0], np.cumsum(np.sin(heading))])
    near = np.column_stack([x, np.zeros(4), z])
    vertices = np.concatenate([near, near + np.array([0.0, 2.0, 0.0])])
    triangles = [[k, k + 1, k + 5] for k in range(3)] + [[k, k + 5, k + 4] for k in range(3)]
    strip = Mesh(
        vertices, np.array(triangles), np.zeros(6, dtype=np.int64), (Patch("pool", "floor", ""),)
    )
    model = replace(poolgeo.build(design_from(BOX)), surface=strip)
    assert curved_share(model).tolist() == [float(curved)] * 6


def arc(radius: float, turn: float, count: int) -> np.ndarray:
    """Return a polyline of chords that turn by as much each [deg]."""
    angle = np.radians(turn) * np.arange(count + 1)
    return radius * np.column_stack([np.cos(angle), np.sin(angle)])


def test_chords_of_an_arc_are_told_from_sides_of_a_polygon() -> None:
    # a chord of 2 degrees of a radius of 2 m stands off it by 0.3 mm, of 10 degrees by 7.6 mm
    assert polyline(arc(2.0, 2.0, 20)).has_curve(0.001)
    assert not polyline(arc(2.0, 10.0, 20)).has_curve(0.001)
    assert polyline(arc(2.0, 10.0, 20)).has_curve(0.01)
    assert not polyline(arc(0.1, 20.0, 10)).has_curve(0.001)  # corners


def test_lengths_of_chords_between_straights() -> None:
    bent = arc(1.0, 3.0, 30)
    ends = np.array([[1.0, -2.0]]), np.array([[-3.0, 1.0]])
    line = polyline(np.concatenate([ends[0], bent, ends[1]]))
    chords = line.chords(0.001)
    assert line.steps[chords].sum() == pytest.approx(math.pi / 2, rel=1e-3)
    assert line.steps[~chords].sum() == pytest.approx(5.0)
