"""Sections of fillets and arrises against polygons of many points."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from poolgeo.sections import Form, Section, section

from .systems import outline_of

ANGLES = (20.0, 45.0, 84.0, 90.0, 96.0, 120.0, 150.0, 170.0)


def one(form: Form, size: float, degrees: float) -> Section:
    """Return a section at one angle."""
    return section(form, size, np.radians([degrees]))


def across(polygon: shapely.Polygon) -> float:
    """Return the length of the border but for the two legs from the corner [m]."""
    points = shapely.get_coordinates(polygon.exterior)[1:-1]
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


@pytest.mark.parametrize("form", ["straight", "round"])
@pytest.mark.parametrize("degrees", ANGLES)
@pytest.mark.parametrize("size", [0.01, 0.05, 0.2])
def test_a_section_measures_what_its_polygon_does(form: Form, degrees: float, size: float) -> None:
    found, polygon = one(form, size, degrees), outline_of(form, size, degrees)
    first = shapely.get_coordinates(polygon.exterior)[1]
    assert first[1] == pytest.approx(0.0, abs=1e-12)
    assert found.leg == pytest.approx(first[0])
    assert found.area == pytest.approx(polygon.area, rel=1e-4)
    assert found.girth == pytest.approx(across(polygon), rel=1e-6)
    assert found.reach == pytest.approx(math.hypot(*polygon.centroid.coords[0]), rel=1e-5)
    assert found.change == pytest.approx(across(polygon) - 2 * first[0], rel=1e-5)


@settings(max_examples=50)
@given(
    form=st.sampled_from(["straight", "round"]),
    size=st.floats(0.002, 0.5),
    degrees=st.floats(20.0, 170.0),
)
def test_a_section_at_any_angle(form: Form, size: float, degrees: float) -> None:
    found, polygon = one(form, size, degrees), outline_of(form, size, degrees)
    assert found.area == pytest.approx(polygon.area, rel=1e-4)
    assert found.girth == pytest.approx(across(polygon), rel=1e-6)
    assert found.reach == pytest.approx(math.hypot(*polygon.centroid.coords[0]), rel=1e-5)


@pytest.mark.parametrize("degrees", ANGLES)
def test_the_centroid_lies_on_the_bisector(degrees: float) -> None:
    """The polygons that the others are compared with are symmetric, as `reach` supposes."""
    for form in ("straight", "round"):
        x, y = outline_of(form, 0.1, degrees).centroid.coords[0]
        assert math.degrees(math.atan2(y, x)) == pytest.approx(degrees / 2, abs=1e-6)


def test_a_quarter_round_by_hand() -> None:
    """Square less quarter circle: its centroid lies r (10 - 3 pi) / (12 - 3 pi) off either face.

    Square r^2 at r/2, quarter circle pi r^2/4 at r - 4 r/(3 pi): (1/2 - pi/4 + 1/3)/(1 - pi/4).
    """
    r = 0.1
    found = one("round", r, 90.0)
    assert found.area == pytest.approx(r**2 * (1 - math.pi / 4))
    assert found.girth == pytest.approx(math.pi / 2 * r)
    off = r * (10 - 3 * math.pi) / (12 - 3 * math.pi)
    assert found.reach == pytest.approx(math.sqrt(2) * off)


def test_a_right_triangle_by_hand() -> None:
    """Half the square of the leg; its centroid a third of the leg off either face."""
    found = one("straight", 0.06, 90.0)
    assert found.area == pytest.approx(0.06**2 / 2)
    assert found.girth == pytest.approx(0.06 * math.sqrt(2))
    assert found.reach == pytest.approx(math.sqrt(2) * 0.02)
    assert found.change == pytest.approx(0.06 * (math.sqrt(2) - 2))


@pytest.mark.parametrize("form", ["straight", "round"])
def test_many_angles_are_each_by_itself(form: Form) -> None:
    many = section(form, 0.07, np.radians(ANGLES))
    each = [one(form, 0.07, degrees) for degrees in ANGLES]
    for name in ("leg", "area", "girth", "reach", "change"):
        assert getattr(many, name).tolist() == [float(getattr(item, name)[0]) for item in each]


@pytest.mark.parametrize("form", ["straight", "round"])
def test_two_faces_in_one_plane_have_nothing_between_them(form: Form) -> None:
    found = one(form, 0.1, 180.0)
    assert found.area == pytest.approx(0.0, abs=1e-8)
    assert found.change == pytest.approx(0.0, abs=1e-8)
    assert np.isfinite(found.reach).all()
