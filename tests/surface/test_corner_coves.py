"""Corner coves: closed forms, edges that go, and what is refused."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure

from ..measure.quantities import (
    area,
    lengths,
    level,
    model_of,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
)
from ..properties.facts import FACTS

VOLUME, SIZE = 5e-4, 1e-3
"""Relative: what a volume, an area or a length may be off."""

FREEBOARD, DEPTH, WALL, SLAB = 0.2, 1.5, 0.25, 0.3
SHELL = {"shell": {"wall": WALL, "floor": SLAB}}


def tank(corners: float | bool, radius: float = 0.1, **more: Any) -> dict[str, Any]:
    """Return a rectangle of 6 by 4 m with a cove."""
    return pool(
        rectangle(6.0, 4.0, **more), level(DEPTH), freeboard=FREEBOARD,
        cove={"radius": radius, "corners": corners}, **SHELL,
    )  # fmt: skip


def refusal(file: dict[str, Any]) -> str:
    """Return what is said of a pool that cannot be built."""
    with pytest.raises(PoolFileError) as caught:
        takeoff_of(file)
    return str(caught.value)


class TestClosedForms:
    """A rectangle whose corners have the radius R, with a cove of radius r on a level floor."""

    @pytest.mark.parametrize("rotation", [0.0, 31.0])
    @pytest.mark.parametrize(("corner", "radius"), [(0.3, 0.1), (0.1, 0.1), (0.2, 0.2)])
    def test_everything(self, corner: float, radius: float, rotation: float) -> None:
        """By Pappus; the spandrel's centroid lies r (10 - 3 pi) / (12 - 3 pi) off the wall."""
        given_as: float | bool = True if corner == radius else corner
        takeoff = takeoff_of(tank(given_as, radius, rotation=rotation))
        perimeter = 20.0 - (8.0 - 2.0 * math.pi) * corner
        plan = 24.0 - (4.0 - math.pi) * corner**2
        off = radius * (10.0 - 3.0 * math.pi) / (12.0 - 3.0 * math.pi)
        mortar = radius**2 * (1.0 - math.pi / 4.0) * (perimeter - 2.0 * math.pi * off)
        high = DEPTH + FREEBOARD - radius
        cove = math.pi / 2.0 * radius * perimeter - 2.0 * math.pi * radius**2 * (math.pi / 2 - 1)
        assert takeoff.water["pool"] == pytest.approx(plan * DEPTH - mortar, rel=VOLUME)
        assert area(takeoff, "wall") == pytest.approx((20.0 - 8.0 * corner) * high, rel=SIZE)
        girth = 2.0 * math.pi * corner
        assert area(takeoff, "corner cove") == pytest.approx(girth * high, rel=SIZE)
        assert area(takeoff, "cove") == pytest.approx(cove, rel=SIZE)
        outside = (6.0 + 2.0 * WALL) * (4.0 + 2.0 * WALL) * (DEPTH + FREEBOARD + SLAB)
        inside = plan * (DEPTH + FREEBOARD) - mortar
        assert takeoff.shell == pytest.approx(outside - inside, rel=VOLUME)
        runs = [run for run in takeoff.coves if run.kind == "corner cove"]
        assert [run.length for run in runs] == pytest.approx([high] * 4, rel=SIZE)
        assert sum(run.area for run in runs) == pytest.approx(area(takeoff, "corner cove"))

    def test_water_is_that_of_rounded_corners(self) -> None:
        """Only the names of faces, and the concrete behind the corners, differ."""
        one = takeoff_of(tank(0.3))
        other = takeoff_of(
            pool(rectangle(6.0, 4.0, corner_radius=0.3), level(DEPTH), freeboard=FREEBOARD,
                 cove={"radius": 0.1})
        )  # fmt: skip
        assert one.water == pytest.approx(other.water, rel=1e-9)
        wall = area(one, "wall") + area(one, "corner cove")
        assert wall == pytest.approx(area(other, "wall"), rel=1e-9)

    def test_an_octant_of_a_sphere_in_each_corner(self) -> None:
        """With equal radii the cove's own area is four octants more than that of its sides."""
        radius = 0.2
        takeoff = takeoff_of(tank(True, radius))
        straight = math.pi / 2.0 * radius * (20.0 - 8.0 * radius)
        octants = 4.0 * 4.0 * math.pi * radius**2 / 8.0
        assert area(takeoff, "cove") == pytest.approx(straight + octants, rel=SIZE)


class TestCurvedSides:
    """Where arcs meet, the corner cove touches both."""

    def test_a_lens(self) -> None:
        """Two arcs of radius 5 about (0, -3) and (0, 3): the cove's centre lies 5 - R off both."""
        corner = 0.25
        half = math.sqrt(5.0**2 - 3.0**2)
        bulge = math.tan(2.0 * math.asin(half / 5.0) / 4.0)
        outline = {"shape": "polyline", "points": [[-half, 0.0, bulge], [half, 0.0, bulge]]}
        model = model_of(pool(outline, level(1.2), cove={"radius": 0.1, "corners": corner}))
        centres = np.array(sorted(item.arc.centre.tolist() for item in model.rounds))
        x = math.sqrt((5.0 - corner) ** 2 - 3.0**2)
        assert centres == pytest.approx(np.array([[-x, 0.0], [x, 0.0]]), abs=1e-6)
        sweep = 2.0 * math.atan2(3.0, x)
        takeoff = measure(model)
        found = area(takeoff, "corner cove")
        assert found == pytest.approx(2.0 * corner * sweep * (1.2 + 0.15 - 0.1), rel=SIZE)


class TestEdges:
    """The upright edge at an inside corner is gone, that at an outside corner stays."""

    def test_an_angle(self) -> None:
        """Five inside corners take a cove, the outside one keeps its edge."""
        outline = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
        cove = {"radius": 0.1, "corners": True}
        takeoff = takeoff_of(pool(outline, level(1.5), cove=cove))
        assert lengths(takeoff, "wall/wall", "internal") == []
        assert lengths(takeoff, "wall/wall", "external") == pytest.approx([1.55])
        assert lengths(takeoff, "wall/corner cove") == []
        assert lengths(takeoff, "cove/corner cove") == []
        assert len([run for run in takeoff.coves if run.kind == "corner cove"]) == 5

    def test_an_island_with_a_notch(self) -> None:
        """Seen from the water, an L has five outside corners and one inside corner."""
        island = polygon((-1, -1), (1, -1), (1, 0), (0, 0), (0, 1), (-1, 1))
        file = tank(False) | {"islands": [{"outline": island}]}
        one, other = (
            takeoff_of(file | {"cove": {"radius": 0.1, "corners": item}}) for item in (False, 0.2)
        )
        assert len([run for run in other.coves if run.kind == "corner cove"]) == 5
        assert sum(lengths(other, "wall/wall", "external")) == pytest.approx(
            sum(lengths(one, "wall/wall", "external"))
        )
        assert lengths(other, "wall/wall", "internal") == []

    def test_numbers_are_each_their_own(self) -> None:
        """No two runs of coves have one number."""
        takeoff = takeoff_of(tank(0.3))
        numbers = [run.number for run in takeoff.coves]
        assert len(set(numbers)) == len(numbers)


class TestRefusals:
    """What fits nowhere is said in words."""

    def test_a_radius_too_large_for_its_sides(self) -> None:
        """On sides of 4 m two arcs of 2.1 m overlap."""
        text = refusal(tank(2.1))
        assert "'cove.corners' must fit the sides of the corner near (" in text
        assert "(got 2.100 m); use at most 1.99" in text

    def test_a_cove_larger_than_the_corner(self) -> None:
        """The ball does not reach into the corner."""
        text = refusal(tank(0.05, 0.1))
        assert "the plan curve is tighter than its radius" in text
        assert "use at most 0.049 m, or a larger radius of the corner coves ('corners')" in text

    def test_where_walls_lean(self) -> None:
        """A corner cove stands upright; where walls lean elsewhere it may."""
        text = refusal(tank(0.2) | {"batter": {"slope": 0.1}})
        assert (
            "'cove.corners' must stand where the walls are plumb: they lean at the corner" in text
        )
        assert "(got a slope of 0.100); give 'batter' a stretch of slope 0 there" in text
        lean = {"start": [3.0, -1.0], "end": [3.0, 1.0], "slope": 0.1}
        takeoff = takeoff_of(tank(0.2) | {"batter": {"slope": 0.0, "stretches": [lean]}})
        assert len([run for run in takeoff.coves if run.kind == "corner cove"]) == 4

    @pytest.mark.parametrize("corners", ["maybe", -0.1, 0])
    def test_what_is_no_radius(self, corners: object) -> None:
        """It is true, false or a length above 0."""
        file = tank(0.2)
        file["cove"]["corners"] = corners
        assert "cove.corners" in refusal(file)


class TestFacts:
    """All facts hold, and nothing depends on how the pool lies."""

    @settings(max_examples=8)
    @given(
        turn=st.floats(0.0, 360.0), radius=st.sampled_from([0.05, 0.1, 0.15]),
        larger=st.sampled_from([1.0, 1.0, 1.5, 3.0]), fall=st.sampled_from([0.0, 0.04]),
        furnished=st.booleans(),
    )  # fmt: skip
    def test_turned(
        self, turn: float, radius: float, larger: float, fall: float, furnished: bool
    ) -> None:
        """An angle of seven metres, turned."""
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        points = np.array([(0, 0), (7, 0), (7, 3), (3.5, 3.2), (3.5, 6), (0, 5.5)])
        points = points @ np.array([[c, s], [-s, c]])
        corners: float | bool = True if larger == 1.0 else radius * larger
        file = pool(
            polygon(*points.tolist()), plane(1.5, fall, turn) if fall else level(1.5),
            cove={"radius": radius, "corners": corners},
        )  # fmt: skip
        if furnished:
            start, end = points[5].tolist(), points[0].tolist()
            file["bench"] = [{"start": start, "end": end, "width": 0.4, "depth": 0.5}]
            way = turn + 180.0 if turn < 180.0 else turn - 180.0
            file["steps"] = [{"shape": "end", "direction": way, "going": 0.3, "risers": 3}]
        model = model_of(file)
        takeoff = measure(model)
        for fact in FACTS:
            fact(model, takeoff)
