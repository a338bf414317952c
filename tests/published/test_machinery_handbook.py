"""Areas and volumes of plane and solid figures.

Source: Machinery's Handbook, 31st edition, pages 80, 89 and 93. SEEN: G2, G4, G5, G6, and the
formulas of G3; the figures of G3 are DERIVED from them.
"""

from __future__ import annotations

import math
from typing import ClassVar

import numpy as np
import pytest

from poolgeo.measure.takeoff import volume
from poolgeo.mesh import Mesh, Patch

from ..measure.quantities import (
    area,
    circle,
    level,
    plane,
    pool,
    rectangle,
    takeoff_of,
    water,
    wet_area,
)

FINE = 1e-5
INCH = 0.0254


def hull(*points: tuple[float, float, float]) -> Mesh:
    """Return the convex solid with these corners."""
    from scipy.spatial import ConvexHull

    found = ConvexHull(np.array(points, dtype=float))
    out = np.cross(
        found.points[found.simplices[:, 1]] - found.points[found.simplices[:, 0]],
        found.points[found.simplices[:, 2]] - found.points[found.simplices[:, 0]],
    )
    inwards = np.sum(out * found.equations[:, :3], axis=1) < 0
    triangles = found.simplices.astype(np.int64)
    triangles[inwards] = triangles[inwards][:, ::-1]
    patch = np.zeros(len(triangles), dtype=np.int64)
    return Mesh(found.points, triangles, patch, (Patch("pool", "floor", "floor"),))


def test_g2_a_fillet_of_0_7_inch_has_0_105_square_inches() -> None:
    """Page 80: area of a fillet, r = 0.7 in. A basin 1 in longer has 2 in more of cove."""

    def mortar(length: float) -> float:
        bare = pool(rectangle(length, 10.0), level(5.0), units="in", tolerance="0.01 mm")
        return water(bare) - water(bare | {"cove": {"radius": 0.7}})

    assert (mortar(11.0) - mortar(10.0)) / INCH**3 / 2.0 == pytest.approx(0.105, abs=0.0005)


class TestG3:
    """Page 89: a vertical cylinder cut by a slanted plane is a round pool with a sloping floor.

    V = pi r^2 (h1 + h2) / 2, wall S = pi r (h1 + h2); d = 125, h1 = 100, h2 = 150.
    """

    FILE = pool(circle(62.5), plane(125.0, (150.0 - 100.0) / 125.0), tolerance=FINE)

    def test_volume(self) -> None:
        """The water is 1 533 981 m3."""
        assert water(self.FILE) == pytest.approx(1_533_981, rel=1e-6)

    def test_wall(self) -> None:
        """The wall under water is 49 087.4 m2."""
        assert wet_area(takeoff_of(self.FILE), "wall") == pytest.approx(49_087.4, rel=1e-6)

    def test_at_the_default_tolerance(self) -> None:
        """A pool of a believable size keeps the formula to 0.1 %."""
        takeoff = takeoff_of(pool(circle(3.0), plane(1.5, 0.1)))
        assert takeoff.water["pool"] == pytest.approx(math.pi * 9.0 * 1.5, rel=1e-3)
        assert wet_area(takeoff, "wall") == pytest.approx(math.pi * 3.0 * 3.0, rel=1e-3)


def test_g4_a_hopper_has_15_75_and_not_the_average_of_its_ends() -> None:
    """Page 89: frustum of a pyramid, base 2 x 3, top 1 x 1.5, h 4.5.

    The average of the end areas would give 16.875.
    """
    hopper = hull(
        (0, 0, 0), (2, 0, 0), (2, 3, 0), (0, 3, 0),
        (0.5, 0.75, 4.5), (1.5, 0.75, 4.5), (1.5, 2.25, 4.5), (0.5, 2.25, 4.5),
    )  # fmt: skip
    assert volume(hopper, 0.0) == pytest.approx(15.75, abs=1e-9)


def test_g5_a_wedge_has_29_25() -> None:
    """Page 89: (2a + c) b h / 6 with a = 4, b = 3, c = 5, h = 4.5."""
    wedge = hull((0, 0, 0), (4, 0, 0), (4, 3, 0), (0, 3, 0), (-0.5, 1.5, 4.5), (4.5, 1.5, 4.5))
    assert volume(wedge, 0.0) == pytest.approx(29.25, abs=1e-9)


class TestG6:
    """Page 93: a torus D = 5, d = 1.5 has V 27.76 and A 74.022.

    Its lower half is two coves of r = 0.75: at the wall of a round pool of R = 2.5 + 0.75, and at
    the foot of a round column of 2.5 - 0.75, a spa's dam wall in the middle of a larger pool.
    """

    COVE: ClassVar = {"radius": 0.75, "also_at": ["dam walls"]}
    WALL = pool(circle(3.25), level(2.0), tolerance=1e-4)
    COLUMN = pool(
        circle(8.0),
        level(2.0),
        tolerance=1e-4,
        spas=[{"outline": circle(1.5), "depth": 1.0, "dam_wall": 0.25}],
    )
    POOL = pool(circle(8.0), level(2.0), tolerance=1e-4)

    def test_area(self) -> None:
        """Both coves together have half the surface of the torus."""
        at_wall = area(takeoff_of(self.WALL | {"cove": self.COVE}), "cove")
        both = area(takeoff_of(self.COLUMN | {"cove": self.COVE}), "cove")
        at_column = both - area(takeoff_of(self.POOL | {"cove": self.COVE}), "cove")
        assert at_wall + at_column == pytest.approx(74.022 / 2.0, rel=1e-3)

    def test_volume(self) -> None:
        """Both coves together are what half the torus leaves of a square ring."""

        def mortar(bare: dict[str, object]) -> float:
            return water(bare) - water(bare | {"cove": self.COVE})

        at_column = mortar(self.COLUMN) - mortar(self.POOL)
        ring = math.pi * (3.25**2 - 1.75**2) * 0.75
        half = ring - mortar(self.WALL) - at_column
        assert half == pytest.approx(27.76 / 2.0, rel=1e-3)
