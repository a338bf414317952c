"""What a pool measures doesn't depend on where it lies, which way round, or in which units."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError
from poolgeo.measure.lines import LEAST_RUN
from poolgeo.measure.takeoff import measure
from poolgeo.plan.outline import outline_ring
from poolgeo.quantities import Takeoff

from ..strategies import PoolDict, pools, star_points
from .moving import mirrored, moved, scaled

Quantities = dict[tuple[str, ...], float]

CLOSE = 1e-4
"""Relative, of the whole: what the grid may change."""
SMALL = 3e-4
"""Relative, for pools scaled down to 1.5 m: vertices move by 20 um, on coves of 15 mm radius."""
CHORDS = 8e-4
"""Relative: a circle's chords stay where they are when what stands on it is turned; and a cove has
joints on the chords of a curve in one size that it has not in another."""

quick = settings(
    max_examples=25,
)


def of_example(
    file: PoolDict, measured: Callable[[PoolDict], Quantities] | None = None
) -> Quantities:
    """Return the quantities of a pool; one that is refused is no example, its copies would be."""
    try:
        return (measured or quantities)(file)
    except PoolFileError:
        assume(condition=False)
        raise


def quantities(file: PoolDict) -> Quantities:
    """Return volumes, areas by kind, and lengths by sense."""
    return quantities_in(measure(build(design_from(file))))


def quantities_in(takeoff: Takeoff) -> Quantities:
    """Return volumes, areas by kind, and lengths by sense."""
    found: Quantities = {("water", body): size for body, size in takeoff.water.items()}
    found["shell",] = takeoff.shell
    for row in takeoff.areas:
        found["area", row.body, row.kind] = row.area
        found["wet area", row.body, row.kind] = row.wet_area
    for sense in ("internal", "external"):
        found["length", sense] = sum(r.length for r in takeoff.edges if r.sense == sense)
        found["wet", sense] = sum(r.wet_length for r in takeoff.edges if r.sense == sense)
    found["cove length",] = sum(run.length for run in takeoff.coves)
    return found


def assert_same(found: Quantities, want: Quantities, share: float) -> None:
    """Compare quantities, each to a share of itself and of the largest of its sort.

    One that is not there is nothing: a crumb of a face may weld away in one size only.
    """
    for key in found.keys() | want.keys():
        size = want.get(key, 0.0)
        largest = max(other for name, other in want.items() if name[0] == key[0])
        crumbs = 10.0 * LEAST_RUN if key[0] in ("length", "wet", "cove length") else 0.0
        assert found.get(key, 0.0) == pytest.approx(
            size, rel=share, abs=share * largest + crumbs
        ), key


def share_for(file: PoolDict) -> float:
    """Return how well a turned pool must agree."""
    shapes = {file["outline"]["shape"], "circle" if "spas" in file else ""}
    return CHORDS if "circle" in shapes else CLOSE


def share_scaled(file: PoolDict) -> float:
    """Return how well a scaled pool must agree."""
    outline = file["outline"]
    curved = outline["shape"] not in ("rectangle", "polygon") or outline.get("corner_radius")
    return CHORDS if curved else SMALL


@quick
@given(
    pools(), st.integers(-180, 180), st.sampled_from([(0.0, 0.0), (7.25, -3.5), (-512.0, 640.0)])
)
def test_rigid_motion_changes_nothing(
    file: PoolDict, degrees: int, by: tuple[float, float]
) -> None:
    """A pool turned and shifted has the same volumes, areas and lengths."""
    want = of_example(file)
    assert_same(quantities(moved(file, float(degrees), by)), want, share_for(file))


@quick
@given(pools())
def test_mirroring_changes_no_quantity(file: PoolDict) -> None:
    """A pool and its mirror image measure the same."""
    want = of_example(file)
    assert_same(quantities(mirrored(file)), want, CLOSE)


POWERS = {"water": 3, "shell": 3, "area": 2, "wet area": 2}


@quick
@given(pools(), st.sampled_from([0.5, 2.0, 3.0]))
def test_scaling_goes_by_powers(file: PoolDict, factor: float) -> None:
    """All lengths times k: lengths go by k, areas by k^2, volumes by k^3."""
    whole = of_example(file)
    want = {key: size * factor ** POWERS.get(key[0], 1) for key, size in whole.items()}
    assert_same(quantities(scaled(file, factor)), want, share_scaled(file))


@quick
@given(pools())
def test_units_are_a_scale(file: PoolDict) -> None:
    """The same numbers in feet are the same pool 0.3048 times as large."""
    whole = scaled(file, 1.0)
    own = of_example(whole)
    want = {key: size * 0.3048 ** POWERS.get(key[0], 1) for key, size in own.items()}
    assert_same(quantities(whole | {"units": "ft"}), want, share_scaled(file))


@quick
@given(star_points(st.integers(5, 12)), st.integers(1, 11))
def test_a_spline_may_start_anywhere(points: list[list[float]], first: int) -> None:
    """Perimeter and area don't depend on which point the file lists first, nor on the way round."""

    def ring(listed: list[list[float]]) -> tuple[float, float]:
        file = {
            "name": "spline",
            "units": "m",
            "outline": {"shape": "spline", "points": listed},
            "floor": {"shape": "level", "depth": 1.5},
        }
        found = outline_ring(design_from(file).pool.outline, 1e-4, ("outline",))
        return found.perimeter, found.polygon.area

    try:
        perimeter, area = ring(points)
    except PoolFileError:
        assume(condition=False)
    at = first % len(points)
    for listed in (points[at:] + points[:at], points[::-1]):
        assert ring(listed)[0] == pytest.approx(perimeter, rel=1e-6)
        assert ring(listed)[1] == pytest.approx(area, rel=1e-5)
