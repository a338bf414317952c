"""The palette: complete, and readable with red-green colour blindness."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest

from poolgeo.drawing.palette import EDGES, SURFACES, Rgb
from poolgeo.surface.kinds import KINDS, OUTSIDE_KINDS, WATER_SURFACE

SIGHT = {
    "normal": np.eye(3),
    "protan": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deutan": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
}
"""Linear RGB as seen; the two kinds of red-green colour blindness at severity 1.

Source: "A Physiologically-based Model for Simulation of Color Vision Deficiency", 2009,
doi:10.1109/TVCG.2009.113, table of matrices; values as in public copies of it.
"""

NEIGHBOURS = [
    *combinations(("floor", "wall", "cove"), 2),
    *combinations(("tread", "riser", "step side"), 2),
    *((kind, other) for kind in ("tread", "riser", "step side") for other in ("wall", "floor")),
    ("riser", "cove"),
    ("bench top", "bench face"),
    *((kind, other) for kind in ("bench top", "bench face") for other in ("wall", "floor")),
    ("bench face", "tread"),
    ("bench top", "riser"),
    ("spa floor", "spa wall"),
    ("spa floor", "seat face"),
    ("spa floor", "cove"),
    ("spa wall", "cove"),
    ("spa wall", "seat top"),
    ("seat top", "seat face"),
    ("dam wall top", "dam wall face"),
    ("dam wall top", "spa wall"),
    ("dam wall top", "spillway"),
    ("spillway", "dam wall face"),
    ("spillway", "spa wall"),
    ("dam wall face", "floor"),
    ("dam wall face", "wall"),
    ("weir top", "wall"),
    ("weir top", "weir face"),
    ("weir top", "cove"),
    *combinations(("weir face", "basin wall", "basin floor"), 2),
    *combinations(("weir face", "channel wall", "channel floor"), 2),
    *(("cove", kind) for kind in ("weir face", "basin wall", "basin floor")),
    *(("cove", kind) for kind in ("channel wall", "channel floor")),
    ("wall top", "basin wall"),
    ("wall top", "channel wall"),
    ("wall top", "wall"),
    ("wall top", "spa wall"),
    ("wall top", "outer wall"),
    ("outer wall", "soffit"),
    *((kind, other) for kind in ("recess", "wall end") for other in ("wall", "wall top")),
    ("wall end", "outer wall"),
    ("outer wall", "beam underside"),
    ("outer wall", "footing top"),
    ("footing top", "footing side"),
    ("soffit", "soffit step"),
]
"""Kinds that meet at an edge."""

APART = 15.0
"""Least difference of two neighbours in CIELAB (1976); 2.3 is just noticeable."""


def lab(rgb: Rgb, sight: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return a colour in CIELAB (D65) as someone sees it (IEC 61966-2-1, CIE 15)."""
    value = np.array(rgb) / 255
    linear = np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)
    seen = np.clip(SIGHT[sight] @ linear, 0, 1)
    to_xyz = np.array(
        [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    )
    part = to_xyz @ seen / to_xyz.sum(axis=1)
    x, y, z = np.where(part > 216 / 24389, np.cbrt(part), (24389 / 27 * part + 16) / 116)
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


def test_every_kind_of_surface_has_a_look_and_nothing_else_has() -> None:
    assert list(SURFACES) == [*KINDS, *OUTSIDE_KINDS, WATER_SURFACE]


def test_labels_tell_kinds_apart() -> None:
    assert len({style.label for style in SURFACES.values()}) == len(SURFACES)


@pytest.mark.parametrize("sight", SIGHT)
@pytest.mark.parametrize(("one", "other"), NEIGHBOURS)
def test_kinds_that_meet_can_be_told_apart(one: str, other: str, sight: str) -> None:
    difference = math.dist(lab(SURFACES[one].rgb, sight), lab(SURFACES[other].rgb, sight))
    assert difference >= APART


def test_the_measure_of_difference_is_that_of_black_and_white() -> None:
    assert math.dist(lab((0, 0, 0), "normal"), lab((255, 255, 255), "normal")) == pytest.approx(100)


def test_the_measure_sees_that_red_and_green_are_alike_to_a_deutan() -> None:
    red, green = (200, 60, 0), (105, 105, 0)
    assert math.dist(lab(red, "normal"), lab(green, "normal")) > 60
    assert math.dist(lab(red, "deutan"), lab(green, "deutan")) < 25


@pytest.mark.parametrize("sight", SIGHT)
def test_the_senses_of_an_edge_differ_in_colour_for_everyone(sight: str) -> None:
    one, other = (lab(style.rgb, sight) for style in EDGES.values())
    assert math.dist(one, other) > 50


def test_the_senses_of_an_edge_differ_in_dash_and_width_too() -> None:
    internal, external = EDGES["internal"], EDGES["external"]
    assert internal.dashed
    assert not external.dashed
    assert internal.width >= 1.5 * external.width


@pytest.mark.parametrize("sense", EDGES)
def test_an_edge_has_the_same_colour_in_the_drawing_and_in_the_picture(sense: str) -> None:
    from ezdxf.colors import aci2rgb

    assert tuple(aci2rgb(EDGES[sense].aci)) == EDGES[sense].rgb
