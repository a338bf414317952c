"""Union and difference of outlines, against closed forms and other software."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError
from poolgeo.plan.outline import Outline, outline_of

from ..strategies import outlines

Shape = dict[str, Any]

FINE = 1e-5
"""[m] Chords this near to the curve, so that areas can be compared."""


def rectangle(length: float, width: float, x: float = 0.0, y: float = 0.0, **more: Any) -> Shape:
    return {"shape": "rectangle", "length": length, "width": width, "centre": [x, y], **more}


def circle(radius: float, x: float = 0.0, y: float = 0.0) -> Shape:
    return {"shape": "circle", "radius": radius, "centre": [x, y]}


def combined(*parts: tuple[str, Shape]) -> Outline:
    """Add and subtract shapes."""
    outline = {"shape": "combined", "parts": [{name: shape} for name, shape in parts]}
    file = {"name": "c", "units": "m", "outline": outline, "floor": {"shape": "level", "depth": 1}}
    return outline_of(design_from(file).pool.outline, FINE, ("outline",))


def turns(found: Outline) -> list[float]:
    """The corners of the outline [deg]."""
    return sorted(np.degrees(found.ring.turns[found.ring.turns != 0.0]).tolist())


def test_a_rectangle_and_a_half_disc_on_its_side() -> None:
    """Area a b + pi r2 / 2, perimeter 2 (a + b) - 2 r + pi r, two corners that turn outwards."""
    found = combined(("add", rectangle(10, 4)), ("add", circle(1.5, 5)))
    assert found.ring.polygon.area == pytest.approx(40 + math.pi * 1.5**2 / 2, rel=5e-5)
    assert found.ring.perimeter == pytest.approx(28 - 3 + math.pi * 1.5, rel=1e-12)
    assert turns(found) == pytest.approx([-90, -90, 90, 90, 90, 90], abs=1e-9)


def lens(r: float, s: float, d: float) -> tuple[float, float, float]:
    """Area that two circles share, and the half angles of their arcs in it [rad]."""
    a = math.acos((d * d + r * r - s * s) / (2 * d * r))
    b = math.acos((d * d + s * s - r * r) / (2 * d * s))
    area = r * r * (a - math.sin(2 * a) / 2) + s * s * (b - math.sin(2 * b) / 2)
    return area, a, b


@pytest.mark.parametrize(("r", "s", "d"), [(3.0, 2.0, 3.5), (3.0, 3.0, 1.0), (4.0, 1.0, 3.9)])
def test_two_circles(r: float, s: float, d: float) -> None:
    """The lens that they share, by the segments of both."""
    shared, a, b = lens(r, s, d)
    both = combined(("add", circle(r)), ("add", circle(s, d)))
    rest = combined(("add", circle(r)), ("subtract", circle(s, d)))
    assert both.ring.polygon.area == pytest.approx(math.pi * (r * r + s * s) - shared, rel=1e-4)
    assert rest.ring.polygon.area == pytest.approx(math.pi * r * r - shared, rel=1e-4)
    arcs = 2 * r * (math.pi - a), 2 * s * (math.pi - b), 2 * s * b
    assert both.ring.perimeter == pytest.approx(arcs[0] + arcs[1], rel=1e-12)
    assert rest.ring.perimeter == pytest.approx(arcs[0] + arcs[2], rel=1e-12)
    angle = 180 - math.degrees(a + b)  # between the circles' radii where they cross
    assert turns(both) == pytest.approx([-angle, -angle], abs=1e-9)
    assert turns(rest) == pytest.approx([180 - angle] * 2, abs=1e-9)


def test_an_ellipse_and_a_turned_rectangle_cross_where_another_solver_says() -> None:
    """Both long sides of a bar across an ellipse: four crossings by Brent's method."""
    angle, half = math.radians(25), 0.6
    found = combined(
        ("add", {"shape": "ellipse", "length": 9, "width": 5}),
        ("add", rectangle(12, 2 * half, rotation=25)),
    )
    along = np.array([math.cos(angle), math.sin(angle)])
    want = []
    for off in (-half, half):
        start = off * np.array([-along[1], along[0]])

        def inside(t: float, start: np.ndarray = start) -> float:
            x, y = start + t * along
            return float((x / 4.5) ** 2 + (y / 2.5) ** 2 - 1)

        for low, high in ((-6.0, 0.0), (0.0, 6.0)):
            want.append(start + brentq(inside, low, high, xtol=1e-14) * along)
    corners = found.ring.points[found.ring.turns < 0.0]
    assert len(corners) == 4
    for place in want:
        assert np.hypot(*(corners - place).T).min() < 2e-6  # both stand on the grid


def test_the_turn_at_a_crossing_is_that_of_the_curves() -> None:
    """A level cut through a circle at half its radius: the tangent is at 60 degrees to it."""
    found = combined(("add", circle(2)), ("subtract", rectangle(6, 2, 0, 2)))
    assert turns(found) == pytest.approx([60, 60], abs=1e-9)


def test_a_stadium_has_no_corner() -> None:
    """Circles that touch the long sides in the corners of a rectangle go on smoothly."""
    found = combined(("add", rectangle(10, 4)), ("add", circle(2, 5)), ("add", circle(2, -5)))
    assert turns(found) == []
    assert found.ring.perimeter == pytest.approx(20 + 4 * math.pi, rel=1e-12)
    assert found.ring.polygon.area == pytest.approx(40 + 4 * math.pi, rel=5e-5)


def test_shapes_that_share_a_side() -> None:
    found = combined(("add", rectangle(10, 4)), ("add", rectangle(3, 4, 6.5)))
    assert (found.ring.perimeter, found.ring.polygon.area) == pytest.approx((34, 52))
    assert turns(found) == pytest.approx([90] * 4)
    found = combined(("add", rectangle(10, 4)), ("add", rectangle(3, 6, 6.5, 1)))
    assert (found.ring.perimeter, found.ring.polygon.area) == pytest.approx((38, 58))
    found = combined(("add", rectangle(10, 4)), ("subtract", rectangle(3, 1, 3.5, 1.5)))
    assert (found.ring.perimeter, found.ring.polygon.area) == pytest.approx((28, 37))


def test_shapes_that_share_an_arc() -> None:
    """A half disc filled up to the whole one, on the same circle."""
    half = {"shape": "polyline", "points": [[0, -3, 1.0], [0, 3]]}
    found = combined(("add", half), ("add", circle(3)))
    assert turns(found) == []
    assert found.ring.perimeter == pytest.approx(6 * math.pi, rel=1e-9)


def test_a_hole_is_an_island() -> None:
    found = combined(
        ("add", rectangle(10, 4)), ("subtract", circle(1)), ("subtract", circle(0.5, 3))
    )
    assert sorted(hole.perimeter for hole in found.holes) == pytest.approx([math.pi, 2 * math.pi])
    assert all(shapely.LinearRing(hole.points).is_ccw for hole in found.holes)
    assert found.ring.perimeter == pytest.approx(28)


def test_it_goes_in_order() -> None:
    """What is added last stays, whatever was subtracted before it."""
    first = combined(("add", rectangle(10, 4)), ("subtract", circle(1.5)), ("add", rectangle(1, 4)))
    assert len(first.holes) == 2
    last = combined(("add", rectangle(10, 4)), ("add", rectangle(1, 6)), ("subtract", circle(1.5)))
    assert len(last.holes) == 1


def test_the_first_point_is_that_of_the_first_shape() -> None:
    found = combined(("add", rectangle(10, 4)), ("add", circle(1.5, 5)))
    assert found.ring.points[0] == pytest.approx([-5, -2])
    turned = combined(("add", circle(1.5, 5)), ("add", rectangle(10, 4)))
    assert turned.ring.points[0] == pytest.approx([6.5, 0])


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ([("add", rectangle(4, 4)), ("add", circle(1, 0, 3))], "1 mm clear of each other"),
        ([("add", rectangle(4, 4)), ("add", rectangle(2, 2, 3, 3))], "does not touch itself"),
        ([("add", rectangle(4, 4)), ("subtract", circle(1, 0, 1))], "1 mm clear of each other"),
        ([("add", rectangle(4, 4)), ("add", circle(1, 5))], "one closed curve"),
        ([("add", rectangle(9, 4)), ("subtract", rectangle(1, 6))], "one closed curve"),
        ([("add", rectangle(4, 4)), ("subtract", rectangle(5, 5))], "must leave some water"),
        ([("add", rectangle(4, 4)), ("add", circle(1))], "parts[1].add' must change the outline"),
        ([("add", rectangle(4, 4)), ("subtract", circle(1, 9))], "takes nothing away"),
        ([("add", rectangle(4, 4)), ("add", rectangle(4, 4))], "must change the outline"),
        (
            [("add", rectangle(9, 9)), ("subtract", circle(3)), ("add", circle(1))],
            "no water within its islands",
        ),
    ],
)
def test_what_gives_no_outline_is_refused(parts: list[tuple[str, Shape]], words: str) -> None:
    with pytest.raises(PoolFileError) as refused:
        combined(*parts)
    assert words in str(refused.value)
    assert all(item.remedy for item in refused.value.findings)


def plain(shape: Shape) -> shapely.Polygon:
    """A shape as a polygon of fine chords."""
    file = {"name": "c", "units": "m", "outline": shape, "floor": {"shape": "level", "depth": 1}}
    return outline_of(design_from(file).pool.outline, FINE, ("outline",)).ring.polygon


@st.composite
def operations(draw: st.DrawFn) -> list[tuple[str, Shape]]:
    """Shapes of any kind, moved apart, added and subtracted."""
    found = []
    for k in range(draw(st.integers(2, 4))):
        shape = draw(outlines())
        if k and "centre" not in shape and shape["shape"] in ("rectangle", "ellipse", "circle"):
            reach = st.integers(-60, 60).map(lambda tenths: tenths / 10.0)
            shape["centre"] = [draw(reach), draw(reach)]
        found.append(("subtract" if k and draw(st.booleans()) else "add", shape))
    return found


@settings(max_examples=30)
@given(operations())
def test_any_shapes_leave_what_other_software_leaves(parts: list[tuple[str, Shape]]) -> None:
    """Area, length and holes are those of the overlay of fine polygons, or it is refused."""
    want = shapely.Polygon()
    for name, shape in parts:
        join = shapely.union if name == "add" else shapely.difference
        want = join(want, plain(shape))
    try:
        found = combined(*parts)
    except PoolFileError as error:
        why = str(error)
    else:
        why = ""
    if why:
        known = ("one closed curve", "must change", "clear of each", "touch", "some water", "0.01")
        assert any(word in why for word in known)
        assert "one closed curve" not in why or want.geom_type == "MultiPolygon"
        return
    holes = sum(hole.polygon.area for hole in found.holes)
    assert found.ring.polygon.area - holes == pytest.approx(want.area, rel=1e-4)
    length = found.ring.perimeter + sum(hole.perimeter for hole in found.holes)
    assert length == pytest.approx(want.length, rel=1e-4)
    assert len(found.holes) == len(want.interiors)
