"""Walls that lean: frustums of pyramids and cones, with coves by Pappus."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from poolgeo.errors import PoolFileError
from poolgeo.quantities import Run

from ..measure.quantities import (
    area,
    circle,
    level,
    model_of,
    polygon,
    pool,
    rectangle,
    takeoff_of,
    water,
    wet_area,
)

EXACT = 1e-5
"""Relative: straight outlines, on a grid of a micrometre."""
VOLUME = 5e-4
"""Relative: what a volume may lose to chords."""
SURFACE = 1e-3
"""Relative: what an area may lose to them."""

LEAN, DEPTH, FREE = 0.1, 1.5, 0.2
HIGH = DEPTH + FREE
SLANT = math.hypot(1.0, LEAN)


def prismoid(length: float, width: float, out: float, height: float) -> float:
    """Return the frustum below a rectangle whose sides come in by ``out`` over its height."""
    mean = (length - out) * (width - out)
    end = (length - 2 * out) * (width - 2 * out)
    return height * (length * width + 4 * mean + end) / 6


class TestStraight:
    """A rectangle of 8 by 4 at the wall top."""

    def test_a_frustum(self) -> None:
        """The floor comes in by slope times height; the prismoidal rule; trapezia for walls."""
        takeoff = takeoff_of(
            pool(rectangle(8.0, 4.0), level(DEPTH), freeboard=FREE, batter={"slope": LEAN})
        )
        inner = 2 * LEAN * HIGH
        assert area(takeoff, "floor") == pytest.approx((8 - inner) * (4 - inner), rel=EXACT)
        top = 2 * LEAN * FREE
        want = prismoid(8 - top, 4 - top, LEAN * DEPTH, DEPTH)
        assert takeoff.water["pool"] == pytest.approx(want, rel=EXACT)
        walls = (24 + 24 - 4 * inner) / 2 * HIGH * SLANT
        assert area(takeoff, "wall") == pytest.approx(walls, rel=EXACT)
        wet = ((24 - 4 * top) + (24 - 4 * inner)) / 2 * DEPTH * SLANT
        assert wet_area(takeoff, "wall") == pytest.approx(wet, rel=EXACT)

    def test_its_edges(self) -> None:
        """Foot: 90 degrees and the lean; the corners slant, and are less than 90 degrees sharp."""
        takeoff = takeoff_of(
            pool(rectangle(8.0, 4.0), level(DEPTH), freeboard=FREE, batter={"slope": LEAN})
        )
        foot = [run for run in takeoff.edges if run.kind == "floor/wall"]
        inner = 2 * LEAN * HIGH
        assert sum(run.length for run in foot) == pytest.approx(24 - 4 * inner, rel=EXACT)
        for run in foot:
            assert run.sense == "internal"
            assert run.angle == pytest.approx(90 + math.degrees(math.atan(LEAN)), abs=0.01)
        corners = [run for run in takeoff.edges if run.kind == "wall/wall"]
        assert len(corners) == 4
        for run in corners:
            assert run.length == pytest.approx(HIGH * math.sqrt(1 + 2 * LEAN**2), rel=EXACT)
            cosine = LEAN**2 / (1 + LEAN**2)
            assert run.angle == pytest.approx(180 - math.degrees(math.acos(cosine)), abs=0.01)

    def test_an_outside_corner(self) -> None:
        """At an L's outside corner the foot goes round in an arc: a quarter of a cone.

        The floor is the L set in by the batter; there the wall is as far from the corner
        everywhere.
        """
        outline = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
        takeoff = takeoff_of(pool(outline, level(DEPTH), freeboard=FREE, batter={"slope": LEAN}))
        inn = LEAN * HIGH
        want = 31.5 - 26 * inn + 5 * inn**2 - math.pi * inn**2 / 4
        assert area(takeoff, "floor") == pytest.approx(want, rel=SURFACE)
        planes = 26 * HIGH - 5 * inn * HIGH
        cone = math.pi / 4 * inn * HIGH
        assert area(takeoff, "wall") == pytest.approx((planes + cone) * SLANT, rel=SURFACE)

    def test_along_a_stretch(self) -> None:
        """One end wall that leans: a wedge of concrete; the wall's face slants, others are cut."""
        batter = {"slope": 0.0, "stretches": [{"start": [4, -2], "end": [4, 2], "slope": LEAN}]}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(DEPTH), freeboard=FREE, batter=batter))
        inn = LEAN * HIGH
        assert area(takeoff, "floor") == pytest.approx((8 - inn) * 4, rel=EXACT)
        wedge = LEAN * (HIGH**2 - FREE**2) / 2
        assert takeoff.water["pool"] == pytest.approx(4 * (8 * DEPTH - wedge), rel=EXACT)
        walls = (4 + 16) * HIGH + 4 * HIGH * SLANT - inn * HIGH
        assert area(takeoff, "wall") == pytest.approx(walls, rel=EXACT)

    def test_part_of_a_wall(self) -> None:
        """Where it ends within a wall the concrete has an upright face, a triangle."""
        batter = {"slope": 0.0, "stretches": [{"start": [-1, -2], "end": [2, -2], "slope": LEAN}]}
        takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(DEPTH), freeboard=FREE, batter=batter))
        wedge = LEAN * (HIGH**2 - FREE**2) / 2
        assert takeoff.water["pool"] == pytest.approx(8 * 4 * DEPTH - 3 * wedge, rel=EXACT)
        walls = 21 * HIGH + 3 * HIGH * SLANT + 2 * LEAN * HIGH**2 / 2
        assert area(takeoff, "wall") == pytest.approx(walls, rel=EXACT)
        assert area(takeoff, "cove") == 0.0

    def test_none_at_all(self) -> None:
        """A batter of 0 without a cove is a plumb wall."""
        file = pool(rectangle(8.0, 4.0), level(DEPTH), batter={"slope": 0.0})
        assert water(file) == pytest.approx(48.0, rel=EXACT)


class TestRound:
    """A circle of radius 3 at the wall top: a cone."""

    R = 3.0

    def test_a_cone(self) -> None:
        """V = pi d (a^2 + a b + b^2) / 3 between the water and the floor, mantle pi (R + r) l."""
        takeoff = takeoff_of(
            pool(circle(self.R), level(DEPTH), freeboard=FREE, batter={"slope": LEAN})
        )
        a, b = self.R - LEAN * FREE, self.R - LEAN * HIGH
        want = math.pi * DEPTH * (a * a + a * b + b * b) / 3
        assert takeoff.water["pool"] == pytest.approx(want, rel=VOLUME)
        mantle = math.pi * (self.R + b) * HIGH * SLANT
        assert area(takeoff, "wall") == pytest.approx(mantle, rel=SURFACE)

    @pytest.mark.parametrize(("radius", "lean"), [(0.15, 0.1), (0.3, 0.25)])
    def test_with_a_cove(self, radius: float, lean: float) -> None:
        """Pappus: the arc turns by phi = 90 degrees less the lean's angle.

        It touches the floor r tan(phi / 2) from the sharp foot. Turned about the axis it sweeps
        2 pi r (c phi + r (1 - cos phi)), c the distance of its centre from the axis.
        """
        takeoff = takeoff_of(
            pool(
                circle(self.R),
                level(DEPTH),
                freeboard=FREE,
                batter={"slope": lean},
                cove={"radius": radius},
            )
        )
        phi = math.pi / 2 - math.atan(lean)
        foot = self.R - lean * HIGH
        centre = foot - radius * math.tan(phi / 2)
        want = 2 * math.pi * radius * (centre * phi + radius * (1 - math.cos(phi)))
        assert area(takeoff, "cove") == pytest.approx(want, rel=SURFACE)
        assert area(takeoff, "floor") == pytest.approx(math.pi * centre**2, rel=SURFACE)
        # by discs: up to the contact the arc, then the wall
        contact = radius * (1 - math.cos(phi))

        def disc(z: float) -> float:
            if z < contact:
                across = math.sqrt(radius**2 - (radius - z) ** 2)
                return math.pi * (centre + across) ** 2
            return math.pi * (foot + lean * z) ** 2

        volume = quad(disc, 0.0, contact)[0] + quad(disc, contact, DEPTH)[0]
        assert takeoff.water["pool"] == pytest.approx(float(volume), rel=VOLUME)
        slant = math.hypot(1.0, lean)
        top, low = self.R, foot + lean * contact
        mantle = math.pi * (top + low) * (HIGH - contact) * slant
        assert area(takeoff, "wall") == pytest.approx(mantle, rel=SURFACE)


def test_a_plumb_side_may_be_lower() -> None:
    """Corner to corner between walls that lean: their tops end above it, the water is the same."""
    side = {"start": [-4.0, 2.0], "end": [-4.0, -2.0]}
    batter = {"slope": LEAN, "stretches": [{**side, "slope": 0.0}]}
    file = pool(rectangle(8.0, 4.0), level(DEPTH), freeboard=FREE, batter=batter)
    lowered = takeoff_of(file | {"walls": [{**side, "height": 0.1}]})
    assert lowered.water["pool"] == pytest.approx(water(file), rel=EXACT)
    (crest,) = (run for run in lowered.edges if run.kind == "wall/wall top" and run.length < 4.1
                and abs(run.points[0][2] - 0.1) < 1e-9)  # fmt: skip
    assert crest.length == pytest.approx(4.0 - 2 * LEAN * (FREE - 0.1), rel=EXACT)


class TestUnderAWeir:
    """A channel beside a part of a curved wall, under a weir that the wall comes up to."""

    CREST = 0.02

    def runs(self, outline: dict[str, object], **more: object) -> list[Run]:
        """Return where the pool's wall meets the weir's top, but for the weir's two ends."""
        channel = {"crest": self.CREST, "width": 0.3, "depth": 0.4, "start": [3, -5], "end": [3, 5]}
        file = pool(outline, level(DEPTH), freeboard=FREE, channels=[{**channel, **more}])
        takeoff = takeoff_of({**file, "batter": {"slope": LEAN}})
        found = [run for run in takeoff.edges if (run.body, run.kind) == ("pool", "wall/weir top")]
        ends = [run for run in found if run.sense == "internal"]
        assert len(ends) in (0, 2)
        return [run for run in found if run.sense == "external"]

    @pytest.mark.parametrize("fall", [0.0, 0.08])
    def test_on_a_circle_it_is_one_edge(self, fall: float) -> None:
        """An arc within the outline by what the wall leans down to the crest."""
        (run,) = self.runs(circle(3.0), fall=fall)
        arc = (3.0 - LEAN * (FREE - self.CREST)) * 2.0 * math.atan2(5.0, 3.0)
        assert run.length == pytest.approx(arc, rel=SURFACE)

    @pytest.mark.parametrize("fall", [0.0, 0.08])
    def test_on_arcs_it_is_one_edge_a_side(self, fall: float) -> None:
        """Arcs meet in corners, where the foot of a wall ends elsewhere than its top."""
        sides = [[3, -2, 0.3], [3, 2, 0.2], [-3, 2, 0.25], [-3, -2, 0.1]]
        assert len(self.runs({"shape": "polyline", "points": sides}, fall=fall)) == 3


@pytest.mark.parametrize("radius", [0.1, 0.3])
@pytest.mark.parametrize("lean", [0.05, 0.2])
def test_a_stretch_that_leans_without_a_cove_ends_on_a_cove(radius: float, lean: float) -> None:
    """Where the foot of the lean stands within the cove their sections cross; neither hides any."""
    south = {"start": [-2, -20], "end": [2, -20]}
    cove = {"radius": radius}
    whole = pool(rectangle(8.0, 4.0), level(DEPTH), freeboard=FREE, cove=cove)
    changed = whole | {
        "cove": cove | {"stretches": [south | {"radius": 0.0}]},
        "batter": {"slope": 0.0, "stretches": [south | {"slope": lean}]},
    }
    mortar = (1.0 - math.pi / 4.0) * radius**2
    wedge = lean * DEPTH * (FREE + DEPTH / 2.0)
    want = water(whole) + 4.0 * (mortar - wedge)
    assert water(changed) == pytest.approx(want, rel=VOLUME / 10.0)


class TestRefused:
    """Batters that cannot be."""

    @pytest.mark.parametrize("lean", [1.5, -0.1])
    def test_out_of_bounds(self, lean: float) -> None:
        """From 0 to 1."""
        with pytest.raises(PoolFileError, match=r"from 0 \(plumb\) to 1 \(half a right") as caught:
            model_of(pool(circle(3.0), level(DEPTH), batter={"slope": lean}))
        assert caught.value.findings[0].key == ("batter", "slope")

    def test_walls_that_meet(self) -> None:
        """Where the floor is gone the finding says which slope fits: half the width by height."""
        with pytest.raises(PoolFileError, match="must fit the pool") as caught:
            model_of(pool(rectangle(8.0, 2.0), level(DEPTH), freeboard=FREE, batter={"slope": 0.7}))
        found = caught.value.findings[0]
        assert found.key == ("batter", "slope")
        assert found.value == "0.700"
        assert found.remedy in {"use at most 0.587", "use at most 0.588"}  # 1 m over 1.7 m

    def test_a_corner_that_is_too_tight(self) -> None:
        """A rounded corner of 0.25 m is gone before the floor where a wall comes in 0.425 m."""
        outline = rectangle(8.0, 4.0, corner_radius=0.25)
        with pytest.raises(PoolFileError, match="too tight for a wall that leans so") as caught:
            model_of(pool(outline, level(DEPTH), freeboard=FREE, batter={"slope": 0.25}))
        assert caught.value.findings[0].remedy in {"use at most 0.146", "use at most 0.147"}
