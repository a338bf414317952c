"""Closed forms of the cove: Pappus, mitre and torus.

On a level floor, along a wall of length L that turns through a total angle T towards the water:
area = (pi/2) r L - r^2 T (pi/2 - 1); each sharp inside corner by t cuts 2 r^2 tan(t/2) (pi/2 - 1).
"""

from __future__ import annotations

import math
from typing import ClassVar

import pytest

from poolgeo.errors import PoolFileError

from ..measure.quantities import (
    area,
    circle,
    lengths,
    level,
    model_of,
    plane,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    water,
)

SECTION = 1e-3
"""Relative: what the chords of a cove's section may lose."""


def pappus(radius: float, length: float, turn: float) -> float:
    """Return the area of a cove along a smooth wall [m2]."""
    return math.pi / 2 * radius * length - radius**2 * turn * (math.pi / 2 - 1)


@pytest.mark.parametrize("radius", [0.05, 0.15, 0.4])
@pytest.mark.parametrize(
    ("outline", "perimeter"),
    [
        (circle(2.5), 2 * math.pi * 2.5),
        (rectangle(8.0, 4.0, corner_radius=0.8), 24 - (8 - 2 * math.pi) * 0.8),
    ],
)
def test_a_convex_smooth_outline(
    outline: dict[str, object], perimeter: float, radius: float
) -> None:
    """Pappus with T = 2 pi."""
    takeoff = takeoff_of(pool(outline, level(1.5), cove={"radius": radius}))
    want = pappus(radius, perimeter, 2 * math.pi)
    assert area(takeoff, "cove") == pytest.approx(want, rel=SECTION)
    assert sum(run.length for run in takeoff.coves) == pytest.approx(perimeter, rel=5e-4)
    assert [run.radius for run in takeoff.coves] == [radius]


def test_inside_corners_meet_in_mitres() -> None:
    """A rectangle: four right angles cut 2 r^2 (pi/2 - 1) each; four mitres of equal length."""
    r = 0.2
    takeoff = takeoff_of(pool(rectangle(6.0, 4.0), level(1.5), cove={"radius": r}))
    want = pappus(r, 20.0, 0.0) - 4 * 2 * r**2 * math.tan(math.pi / 4) * (math.pi / 2 - 1)
    assert area(takeoff, "cove") == pytest.approx(want, rel=SECTION)
    assert area(takeoff, "floor") == pytest.approx((6 - 2 * r) * (4 - 2 * r), rel=1e-6)
    mitres = lengths(takeoff, "cove/cove", "internal")
    # A quarter ellipse with half axes r sqrt 2 and r (Ramanujan's second approximation).
    a, b = r * math.sqrt(2), r
    h = ((a - b) / (a + b)) ** 2
    quarter = math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h))) / 4
    assert mitres == pytest.approx([quarter] * 4, rel=5e-4)


def test_the_mortar_of_inside_corners() -> None:
    """A rectangle: volume r^2 (1 - pi/4) along the walls, less what counts twice in a corner.

    In a corner the coves overlap: by symmetry twice the volume over the half square below the
    mitre, 2 x integral over x of x times the height r - sqrt(2 r x - x^2), that is
    r^3 (5/3 - pi/2).
    """
    r = 0.3
    bare = pool(rectangle(6.0, 4.0), level(1.5))
    mortar = water(bare) - water(bare | {"cove": {"radius": r}})
    double = r**3 * (5 / 3 - math.pi / 2)
    assert mortar == pytest.approx(20 * r**2 * (1 - math.pi / 4) - 4 * double, rel=1e-2)


def test_an_outside_corner_is_a_piece_of_torus() -> None:
    """An L: five inside corners and a quarter turn of the arc about the outside one.

    Turned about a point r (1 - 2/pi) from its own centroid, the arc sweeps (pi/2) r x (pi/2) x
    r (1 - 2/pi).
    """
    r = 0.15
    outline = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
    takeoff = takeoff_of(pool(outline, level(1.5), cove={"radius": r}))
    corners = 5 * 2 * r**2 * (math.pi / 2 - 1)
    torus = (math.pi / 2) * r * (math.pi / 2) * r * (1 - 2 / math.pi)
    assert area(takeoff, "cove") == pytest.approx(
        math.pi / 2 * r * 26 - corners + torus, rel=SECTION
    )
    plan = 31.5 - 26 * r + 5 * r**2 - math.pi * r**2 / 4
    assert area(takeoff, "floor") == pytest.approx(plan, rel=1e-4)


def test_the_cove_replaces_the_sharp_foot() -> None:
    """With a cove there is no edge between floor and wall, and the wall ends at the radius."""
    takeoff = takeoff_of(pool(rectangle(6.0, 4.0), level(1.5), cove={"radius": 0.2}))
    assert lengths(takeoff, "floor/wall") == []
    assert area(takeoff, "wall") == pytest.approx(20 * (1.5 - 0.2 + 0.15), rel=1e-6)
    assert sorted(run.length for run in takeoff.coves) == pytest.approx([4, 4, 6, 6], abs=1e-5)


def test_on_a_slope_along_a_straight_wall() -> None:
    """Across the fall the ball sits deeper or higher in the corner.

    At the low end wall and floor meet at 90 deg - a, so the arc from contact to contact is
    r (90 deg + a); at the high end r (90 deg - a). Along the walls the section is a quarter circle,
    and slants by sqrt(1 + g^2). Per metre of a pool made wider by 1 m, only the ends grow.
    """
    r, g = 0.2, 0.1
    found = [
        area(takeoff_of(pool(rectangle(6.0, w), plane(1.5, g), cove={"radius": r})), "cove")
        for w in (4.0, 5.0)
    ]
    a = math.atan(g)
    assert found[1] - found[0] == pytest.approx(
        r * (math.pi / 2 + a) + r * (math.pi / 2 - a), rel=SECTION
    )
    found = [
        area(takeoff_of(pool(rectangle(x, 4.0), plane(1.5, g), cove={"radius": r})), "cove")
        for x in (6.0, 7.0)
    ]
    want = 2 * math.pi / 2 * r * math.sqrt(1 + g**2)
    assert found[1] - found[0] == pytest.approx(want, rel=SECTION)


@pytest.mark.parametrize(
    ("outline", "radius", "why"),
    [
        (rectangle(6.0, 4.0, corner_radius=0.3), 0.35, r"use at most 0\.(299|300) m"),
        (rectangle(6.0, 1.0), 0.6, r"use at most 0\.(499|500) m"),
        (circle(2.0), 1.7, "wall"),
    ],
)
def test_a_ball_that_does_not_fit_is_refused(
    outline: dict[str, object], radius: float, why: str
) -> None:
    """A plan radius below r, a channel narrower than 2 r, a wall lower than r."""
    with pytest.raises(PoolFileError, match=why) as caught:
        model_of(pool(outline, level(1.5), cove={"radius": radius}))
    assert caught.value.findings[0].key == ("cove", "radius")


class TestFeet:
    """Coves at the feet of what stands on the floor."""

    FLIGHT: ClassVar = {"shape": "end", "direction": 0.0, "going": 0.5, "risers": 3}

    def test_a_dam_wall(self) -> None:
        """Round a column the arc's centroid lies r (1 - 2/pi) further out: Pappus, T = -2 pi."""
        r = 0.1
        spa = {"outline": circle(0.8), "depth": 0.9, "dam_wall": 0.2}
        file = pool(rectangle(8.0, 6.0), level(1.5), spas=[spa])
        wall = area(takeoff_of(file | {"cove": {"radius": r}}), "cove")
        both = area(takeoff_of(file | {"cove": {"radius": r, "also_at": ["dam walls"]}}), "cove")
        want = pappus(r, 2 * math.pi * 1.0, -2 * math.pi)
        assert both - wall == pytest.approx(want, rel=2 * SECTION)

    def test_risers(self) -> None:
        """Wall to wall, the foot of each riser has a cove; between mitres it is w - 2 r long.

        With risers as walls, the floor is a rectangle with four mitred corners.
        """
        r = 0.1
        file = pool(rectangle(8.0, 4.0), level(1.5), steps=[self.FLIGHT])
        takeoff = takeoff_of(file | {"cove": {"radius": r, "also_at": ["risers"]}})
        assert area(takeoff, "floor") == pytest.approx((6.5 - 2 * r) * (4 - 2 * r), rel=1e-6)
        assert lengths(takeoff, "floor/riser") == []
        assert lengths(takeoff, "tread/riser", "internal") == []
        assert area(takeoff, "riser") == pytest.approx(3 * 4 * (1.5 / 4 - r), rel=2e-2)


def test_a_mitre_at_a_kink_between_two_chords_is_one() -> None:
    """Where a bench's face turns from chord to chord under a brow, its cove has room."""
    breaks = [{"at": at, "depth": depth} for at, depth in ((-5.0, 1.5), (1.08, 1.9), (7.0, 1.7))]
    floor = {"shape": "breaks", "direction": 0.0, "breaks": breaks}
    cove = {"radius": 0.15, "also_at": ["bench faces"]}
    file = pool(circle(8.0), floor, cove=cove, bench=[{"width": 1.0, "depth": 0.5}], tolerance=3e-3)
    takeoff = takeoff_of(file)
    around = 2 * math.pi * 7.0  # that it rises and falls makes it 0.05 % longer
    assert sum(run.length for run in takeoff.coves) == pytest.approx(around, rel=1e-3)
    assert area(takeoff, "cove") == pytest.approx(pappus(0.15, around, 2 * math.pi), rel=2e-2)


def test_a_joint_laid_a_lap_before_and_its_vertex_are_one_column() -> None:
    """In chords of 0.6 m a joint's place moves by 11 um when the wall takes it as a vertex."""
    breaks = [{"at": at, "depth": depth} for at, depth in ((-9.954, 3.792), (-5.022, 3.3))]
    floor = {"shape": "breaks", "direction": 100.0,
             "breaks": [*breaks, {"at": -2.022, "depth": 3.0}]}  # fmt: skip
    cove = {"radius": 0.3, "also_at": ["risers"]}
    takeoff = takeoff_of(pool(circle(14.454), floor, cove=cove, tolerance=3e-3))
    assert lengths(takeoff, "floor/wall") == []
    assert len(lengths(takeoff, "cove/cove")) == 6


def test_a_cove_stands_on_its_floor_or_is_refused() -> None:
    """A hopper comes so near to the wall that a ball touches the floor beyond its edge."""
    floor = {"shape": "dished", "at": [0.264, 0.405], "depth": 1.307, "edge_depth": 1.107,
             "reach": 6.363, "direction": 145.0}  # fmt: skip
    contour = {"shape": "ellipse", "length": 1.55, "width": 1.185, "centre": [0.145, 1.145],
               "rotation": -121.0}  # fmt: skip
    hopper = [{"contour": contour, "depth": 2.964, "slope": 0.5}]
    file = pool(circle(3.067), floor, hopper=hopper)
    with pytest.raises(PoolFileError, match="runs too close to the wall for it near") as caught:
        model_of(file | {"cove": {"radius": 0.15}})
    assert caught.value.findings[0].remedy.startswith("use at most 0.05")
    model_of(file | {"cove": {"radius": 0.05}})
