"""Orders: what each use takes, added up by hand, in whole packs."""

from __future__ import annotations

import math
from typing import Any

import pytest

from poolgeo.supply.rows import Order

from ..review.changes import of
from ..review.sound import Changes, works_of
from .test_coatings import FILLET, NET, ROUND

INTERNAL = 10.0 + 2.8 + 3.8 + 4 * 1.6
"""[m] Floor and wall, the bench's foot, the bench on the wall, wall corners."""
NOSES = 2.8 + 2 * 0.9
JOINT = (2.0 + 2 * 1.6) + 2 * 0.25
"""[m] Across the floor, up both walls and over their tops."""
RINGS = math.pi * (0.2 + 0.1) + 2.0 * (0.2 + 0.14)
"""[m] Edges of the openings."""
COVERED = sum(NET.values()) + INTERNAL * FILLET + (NOSES + 12.0) * ROUND * 0.01


def orders(changes: Changes | None = None) -> dict[str, Order]:
    """Return what is ordered by material."""
    return {row.material: row for row in works_of(changes or {})[0].supply.orders}


def counts(order: Order) -> dict[str, int]:
    """Return how many packs of each name."""
    return {pack.name: pack.count for pack in order.packs}


@pytest.mark.parametrize(
    ("material", "net", "unit"),
    [
        ("mortar", 0.05 * COVERED * 0.010, "m3"),
        ("primer", COVERED * 0.2 / 1000.0, "m3"),
        ("slurry", COVERED * 3.0e-3 + (INTERNAL + NOSES) * 0.1025 * 1.6 / 1600.0, "m3"),
        ("guard", (4.3 * 2.3 - 8.0 + 12.0 * ROUND * 0.01) * 3.0e-3, "m3"),
        ("fillet mortar", INTERNAL * 0.03**2 / 2.0, "m3"),
        ("sealant", JOINT * 0.02 * 0.01 + RINGS * 0.01 * 0.01, "m3"),
        ("tape", INTERNAL + NOSES, "m"),
        ("joint tape", JOINT, "m"),
        ("swelling", RINGS, "m"),
        ("corner", 4 + 2, "pieces"),
        ("collar", 3, "pieces"),
    ],
)
def test_net_amounts_by_hand(material: str, net: float, unit: str) -> None:
    """A joint of 20 mm is sealed half as deep as it is wide."""
    order = orders()[material]
    assert order.net == pytest.approx(net)
    assert order.unit == unit


@pytest.mark.parametrize(
    ("material", "gross"),
    [
        ("mortar", 0.05 * COVERED * 0.010 / 0.9),
        ("slurry", COVERED * 3.0e-3 / 0.9 + (INTERNAL + NOSES) * 0.1025 * 1.6 / 1600.0),
        ("sealant", (JOINT * 0.02 * 0.01 + RINGS * 0.01 * 0.01) / 0.9),
        ("fillet mortar", INTERNAL * 0.03**2 / 2.0 / 0.9),
    ],
)
def test_losses_are_those_of_each_use(material: str, gross: float) -> None:
    """The bed of the tape has none."""
    assert orders()[material].gross == pytest.approx(gross)


def test_uses_add_up() -> None:
    for order in orders().values():
        assert sum(use.amount for use in order.uses) == pytest.approx(order.net)
        assert sum(use.gross for use in order.uses) == pytest.approx(order.gross)
        assert {use.material for use in order.uses} == {order.material}
    assert [use.use for use in orders()["slurry"].uses] == [
        "membrane", "inner: bed of tape", "nose: bed of tape"
    ]  # fmt: skip


def test_extents_are_what_is_covered_laid_and_set() -> None:
    uses = {(use.material, use.use): use for order in orders().values() for use in order.uses}
    for material, use, extent, measure in (
        ("slurry", "membrane", COVERED, "m2"),
        ("slurry", "nose: bed of tape", NOSES * 0.1025, "m2"),
        ("fillet mortar", "inner: fillet", INTERNAL, "m"),
        ("collar", "fitting: piece", 3, "pieces"),
    ):
        assert uses[material, use].extent == pytest.approx(extent)
        assert uses[material, use].measure == measure


def test_whole_packs_hold_it_and_one_less_does_not() -> None:
    for order in orders().values():
        (pack,) = order.packs
        assert order.ordered == pytest.approx(pack.count * pack.size)
        assert order.ordered >= order.gross * (1 - 1e-6)
        if order.material != "slurry":  # of which each coat takes whole kits
            assert order.ordered - pack.size < order.gross


def test_a_kit_holds_its_parts_together() -> None:
    """18 kg and 6 kg of 1.6 kg/L are 15 L; 104.9 L take seven, weighed out."""
    divided = orders(of("slurry", divisible=True))["slurry"]
    assert divided.packs[0].size == pytest.approx(0.015)
    assert counts(divided) == {"kit": math.ceil(104.9 / 15.0)}


def test_of_kits_that_are_mixed_whole_each_coat_takes_its_own() -> None:
    """Each of two coats takes 3 and a bit: what that leaves of a fourth sets before the next."""
    assert counts(orders()["slurry"]) == {"kit": 2 * 4}


def test_a_kit_of_parts_by_volume() -> None:
    parts = [{"name": "base", "volume": "9 L"}, {"name": "hardener", "volume": "4.5 L"}]
    order = orders(of("slurry", packs=[{"name": "kit", "parts": parts, "price": 90}]))["slurry"]
    assert order.packs[0].size == pytest.approx(0.0135)
    assert counts(order) == {"kit": math.ceil(104.9 / 13.5)}


def test_bags_by_mass_hold_a_volume_by_the_density() -> None:
    """20 kg of 2 kg/L are 10 L."""
    assert orders()["mortar"].packs[0].size == pytest.approx(0.010)
    assert orders(of("mortar", density="1.6 kg/L"))["mortar"].packs[0].size == pytest.approx(0.0125)


@pytest.mark.parametrize("share", [0.999, 1.0, 1.0 + 1e-9])
def test_an_amount_that_fills_packs_takes_no_other(share: float) -> None:
    """The pack holds a seventh of what is bought, or a hair less or more."""
    gross = orders()["primer"].gross
    pack = {"name": "can", "volume": f"{gross / 7.0 * 1000.0 / share:.12f} L", "price": 1}
    assert counts(orders(of("primer", packs=[pack]))["primer"]) == {"can": 7}


def test_two_sizes_of_pack_cost_the_least() -> None:
    """6.45 L: 5 L at 30 and 1 L at 7 each; five and two of one beat two of five, by 44 to 60."""
    packs: list[dict[str, Any]] = [{"name": "can", "volume": "5 L", "price": 30},
                                   {"name": "tin", "volume": "1 L", "price": 7}]  # fmt: skip
    order = orders(of("primer", packs=packs))["primer"]
    assert order.gross == pytest.approx(COVERED * 0.2 / 1000.0 / 0.95)
    assert counts(order) == {"can": 1, "tin": 2}
    assert order.cost == pytest.approx(30 + 2 * 7)


def test_what_is_not_used_is_not_ordered() -> None:
    assert "joint tape" in orders()
    assert not {"joint tape", "rod", "breaker"} & set(orders({"pool.joints": []}))


def test_pieces_come_in_packs() -> None:
    """Six corners: two packs of five, one of ten."""
    order = orders(of("corner", pack=5))["corner"]
    assert (order.net, order.ordered, counts(order)) == (6, 10, {"pack of 5": 2})
    assert order.cost == 120


def test_without_a_price_there_is_no_cost() -> None:
    assert orders(of("collar", price=None))["collar"].cost is None
