"""What rules of measurement make of a box 4 m by 2 m: openings, narrow strips, what is included."""

from __future__ import annotations

import math
from typing import Any

import pytest

from poolgeo.bill.measured import Measured

from ..review.sound import GONE, Changes, works_of
from ..supply.test_coatings import DRAIN, INLET, SKIMMER
from ..supply.test_orders import COVERED, INTERNAL, JOINT, NOSES, RINGS

GROSS = 7.2 + 17.4 + 0.8 + 2.52 + 3.25
"""[m2] Floor, wall, top and face of the bench, wall top: openings not taken off."""


def method(**rules: Any) -> Changes:
    """Measure by rules of one's own."""
    sourced = {key: {**value, "source": "a book"} if isinstance(value, dict) else value
               for key, value in rules.items()}  # fmt: skip
    return {"method": {"name": "test rules", "units": "mm", **sourced}}


def measured(changes: Changes) -> dict[tuple[str, str], Measured]:
    """Return the items by name and band."""
    rows = works_of(changes)[0].measured
    assert len({(row.item, row.band) for row in rows}) == len(rows)
    return {(row.item, row.band): row for row in rows}


def item(changes: Changes, name: str, band: str = "") -> Measured:
    """Return one item."""
    return measured(changes)[name, band]


def opening(width: float, height: float) -> Changes:
    """Put an opening in the place of the inlet in the wall [m]."""
    return {"pool.fittings.1": {"kind": "fitting", "at": [-2, 0], "depth": 0.75, "width": width,
                                "height": height, "collar": 0.05}}  # fmt: skip


def test_without_rules_all_openings_are_deducted() -> None:
    row = item(method(), "membrane")
    assert row.net == pytest.approx(GROSS - DRAIN - INLET - SKIMMER)
    assert row.quantity == round(GROSS - DRAIN - INLET - SKIMMER, 2)
    assert row.reason == ""


def test_small_openings_are_not_deducted_and_are_told() -> None:
    row = item(method(voids={"up_to": "0.5 m2"}), "membrane")
    assert row.net == pytest.approx(GROSS - DRAIN - INLET - SKIMMER)
    assert row.quantity == round(GROSS, 2) == 31.17
    assert row.reason == "3 openings up to 0.5 m2 not deducted"


@pytest.mark.parametrize(("height", "deducted"), [(0.5, 0.0), (0.499, 0.0), (0.501, 0.501)])
def test_an_opening_at_the_limit_and_just_over_it(height: float, deducted: float) -> None:
    """1 m by 0.5 m is no larger than half a square metre."""
    row = item(method(voids={"up_to": "0.5 m2"}) | opening(1.0, height), "membrane")
    assert row.quantity == round(GROSS - deducted, 2)
    assert row.net == pytest.approx(GROSS - DRAIN - SKIMMER - height)
    assert row.reason.startswith("2 openings" if deducted else "3 openings")


def test_the_limit_is_of_the_opening_not_of_a_share_of_it() -> None:
    """5 % of the surface is repaired; an opening of 0.6 m2 is deducted all the same."""
    row = item(method(voids={"up_to": "0.5 m2"}) | opening(1.0, 0.6), "repair")
    assert row.quantity == round(0.05 * (GROSS - 0.6), 2)
    assert row.net == pytest.approx(0.05 * (GROSS - 0.6 - DRAIN - SKIMMER))


@pytest.mark.parametrize(
    ("where", "net"),
    [
        ({"kinds": ["floor"]}, 7.2 - DRAIN),
        ({"kinds": ["wall"]}, 17.4 - INLET - SKIMMER),
        ({"kinds": ["bench *"]}, 0.8 + 2.52),
        ({"zones": ["waterline band"]}, 12.0 * 0.15 - SKIMMER),
        ({"zones": ["below band"], "kinds": ["wall"]}, 12.0 * 1.325 - 1.8 - INLET),
        ({"zones": ["freeboard"]}, 12.0 * 0.125),
        ({"bodies": ["pool"], "kinds": ["wall top"]}, 3.25),
    ],
)
def test_only_the_openings_in_what_a_layer_covers(where: Changes, net: float) -> None:
    row = item(method() | {"system.layers.1.where": where}, "primer")
    assert row.net == pytest.approx(net)


BANDS = method(girth={"bands": [300, 500]})
SMALL, LARGE, BROAD = "up to 300 mm wide", "over 300 up to 500 mm wide", "over 500 mm wide"


def test_a_bench_top_of_400_mm() -> None:
    """2 m of it."""
    row = item(BANDS, "membrane", LARGE)
    assert (row.unit, row.quantity) == ("m", 2.0)
    assert "0.80 m2" in row.reason


def test_what_is_broad_stays_in_square_metres() -> None:
    """Floor, wall and bench face, which is 0.9 m high."""
    row = item(BANDS, "membrane", BROAD)
    assert row.unit == "m2"
    assert row.net == pytest.approx(7.2 + 17.4 + 2.52 - DRAIN - INLET - SKIMMER)


@pytest.mark.parametrize(
    ("width", "band"), [(0.29, SMALL), (0.31, LARGE), (0.499, LARGE), (0.501, BROAD)]
)
def test_the_band_of_a_bench_top(width: float, band: str) -> None:
    """Its top alone is coated: 2 m long."""
    bench = {"name": "seat", "start": [-1, -1], "end": [1, -1], "width": width, "depth": 0.5}
    top = {"system.layers.1.where": {"kinds": ["bench top"]}}
    row = item({**BANDS, "pool.bench.0": bench, **top}, "primer", band)
    assert row.net == pytest.approx(2.0 * width if band == BROAD else 2.0)


def test_a_wall_top_that_closes_on_itself() -> None:
    """0.25 m wide about 4 m by 2 m: its middle is 2 (4.25 + 2.25) = 13 m long."""
    row = item(BANDS, "membrane", SMALL)
    assert row.net == pytest.approx(13.0)


def test_a_ring_as_wide_as_the_band_is_within_it() -> None:
    """A wall top of 0.295 m, up to 300 mm; its middle is 2 (4.295 + 2.295) m long."""
    thick = {"pool.shell.wall": 0.295}
    row = item({**BANDS, **thick}, "membrane", SMALL)
    assert row.net == pytest.approx(13.18)


def test_a_band_about_a_pool_is_as_long_as_the_pool_round() -> None:
    """0.15 m wide, 12 m long, without a bench."""
    band = {"pool.bench": [], "system.layers.1.where": {"zones": ["waterline band"]}}
    row = item({**BANDS, **band}, "primer", SMALL)
    assert row.net == pytest.approx(12.0)


def test_an_opening_in_a_strip_is_not_taken_off_what_is_broad() -> None:
    """It goes through the bench's top, which is measured in metres."""
    inlet = {"kind": "return inlet", "point": [0, -0.8], "diameter": 0.1, "collar": 0.05}
    found = measured({**BANDS, "pool.fittings.3": inlet})
    assert found["membrane", LARGE].quantity == 2.0
    broad = 7.2 + 17.4 + 2.52 - DRAIN - INLET - SKIMMER
    assert found["membrane", BROAD].net == pytest.approx(broad)


def test_an_allowance_for_repairs_is_not_measured_by_width() -> None:
    rows = [row for row in measured(BANDS).values() if row.item == "repair"]
    assert [(row.band, row.unit) for row in rows] == [("", "m2")]


def test_details_are_measured_along_their_edges() -> None:
    found = measured(method())
    for name, length in (
        ("inner: fillet", INTERNAL), ("inner: tape", INTERNAL), ("nose: arris", NOSES),
        ("outer: arris", 12.0), ("joint: bead", JOINT), ("fitting: bead", RINGS),
    ):  # fmt: skip
        row = found[name, ""]
        assert (row.unit, row.quantity) == ("m", round(length, 2))
        assert row.net == pytest.approx(length)
    pieces = found["fitting: piece", ""]
    assert (pieces.unit, pieces.quantity) == ("pieces", 3.0)


def test_beds_are_measured_with_their_strips() -> None:
    assert not [name for name, _ in measured(method()) if "bed" in name]


def test_what_is_deemed_included_is_not_measured_but_stays_known() -> None:
    found = measured(method(included={"work": ["arris", "fillet"]}))
    for name, net in (("inner: fillet", INTERNAL), ("outer: arris", 12.0)):
        row = found[name, ""]
        assert (row.quantity, row.reason) == (0.0, "deemed included")
        assert row.net == pytest.approx(net)
    assert found["inner: tape", ""].quantity == round(INTERNAL, 2)


@pytest.mark.parametrize(
    ("decimals", "area", "ring"), [(0, 31, 2), (1, 31.2, 1.6), (4, 31.17, 1.6225)]
)
def test_quantities_are_rounded_net_ones_are_not(decimals: int, area: float, ring: float) -> None:
    found = measured(method(voids={"up_to": "1 m2"}, decimals=decimals))
    assert found["membrane", ""].quantity == area
    assert found["fitting: rod", ""].quantity == ring
    assert found["fitting: rod", ""].net == pytest.approx(math.pi * 0.3 + 0.68)


def test_net_measured_and_ordered_are_three_figures() -> None:
    """The surface less openings; that with small ones; what edges change, in packs with loss.

    The membrane: 31.10 m2, 31.17 m2, and 30.63 m2 x 3 mm / 0.9 beside the tapes' beds, in two
    coats of 4 x 15 L.
    """
    works, _ = works_of(method(voids={"up_to": "0.5 m2"}))
    row = next(row for row in works.measured if row.item == "membrane")
    order = next(order for order in works.supply.orders if order.material == "slurry")
    (layer,) = [use for use in order.uses if use.is_layer]
    assert row.net == pytest.approx(GROSS - DRAIN - INLET - SKIMMER)
    assert row.quantity == 31.17
    assert layer.extent == pytest.approx(COVERED)
    assert layer.extent < row.net < row.quantity
    assert layer.gross == pytest.approx(COVERED * 3.0e-3 / 0.9)
    assert order.ordered == pytest.approx(8 * 0.015)


def test_no_rules_of_measurement_change_what_is_ordered() -> None:
    plain, other = (
        works_of(rules)[0].supply.orders
        for rules in (method(), method(voids={"up_to": "1 m2"}, girth={"bands": [300, 500]},
                                       included={"work": ["fillet"]}, decimals=0))
    )  # fmt: skip
    assert plain == other


def test_an_unused_layer_is_not_measured() -> None:
    assert ("protection", "") in measured(method())
    assert ("protection", "") not in measured(method() | {"pool.coping": GONE})


def test_a_method_in_feet_rounds_square_feet() -> None:
    """31.17 m2 are 335.51 ft2, so 335.5; 2 m are 6.56 ft, so 6.6."""
    rules = method(voids={"up_to": "5 ft2"}, girth={"bands": [18]}, decimals=1)
    rules["method"]["units"] = "in"
    found = measured(rules)
    top = found["membrane", "up to 18 in wide"]
    assert top.quantity / 0.3048 == pytest.approx(round((top.net / 0.3048), 1))
    broad = found["membrane", "over 18 in wide"]
    assert broad.quantity / 0.3048**2 == pytest.approx(round((7.2 + 17.4 + 2.52) / 0.3048**2, 1))


@pytest.mark.parametrize("going", [299, 300, 301])
def test_equal_treads_lie_in_one_band(going: int) -> None:
    """Five treads 1 m wide, as broad as the band is or a millimetre off: metres of one band."""
    steps = [{"shape": "side", "at": [2.0, 0.3], "width": 1.0, "going": going / 1000, "risers": 5}]
    girth = {"bands": [300, 500], "source": "a book"}
    row = measured({**method(girth=girth), "pool.steps": steps, "pool.fittings": []})
    name = "up to 300 mm wide" if going <= 300 else "over 300 up to 500 mm wide"
    treads = {(kind, round(size, 6)) for _, kind, size in row["membrane", name].parts}
    assert ("tread", 5.0) in treads


def test_what_is_measured_is_told_by_surfaces() -> None:
    for row in measured({**BANDS}).values():
        if row.parts:
            net = sum(size for _, _, size in row.parts)
            assert net >= row.net - 1e-9  # openings are taken off the net quantity
