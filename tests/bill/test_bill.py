"""The bill of a box: work as measured, materials in packs, tax, waste, and what has no price."""

from __future__ import annotations

from math import fsum

import pytest

from poolgeo.bill.bill import Bill, Line, bill_of
from poolgeo.bill.measured import Measured
from poolgeo.supply.rows import Order, PackCount
from poolgeo.system.prices import PriceBook

from ..review.changes import of
from ..review.sound import GONE, Changes, works_of
from ..supply.test_orders import COVERED, INTERNAL, JOINT, NOSES, RINGS

WORK = {
    "repair": round(0.05 * 31.17, 2) * 40,
    "primer": 31.17 * 4,
    "membrane": 31.17 * 16,
    "protection": 1.89 * 9,
    "inner: fillet": 23.0 * 6,
    "inner: tape": 23.0 * 8,
    "outer: arris": 12.0 * 5,
    "nose: arris": 4.6 * 5,
    "nose: tape": 4.6 * 8,
    "joint: rod": 5.7 * 2,
    "joint: bead": 5.7 * 5,
    "joint: breaker": 5.7 * 2,
    "joint: joint tape": 5.7 * 14,
    "fitting: rod": 1.62 * 4,
    "fitting: bead": 1.62 * 6,
    "fitting: piece": 3 * 18,
    "inside: piece": 6 * 5,
}
"""Quantities to two decimals times the system's rates."""

MATERIALS = {
    "mortar": 2 * 20, "primer": 2 * 30, "slurry": 8 * 90, "guard": 25, "fillet mortar": 2 * 22,
    "sealant": 3 * 11, "tape": 50, "joint tape": 50, "breaker": 50, "rod": 50, "swelling": 50,
    "corner": 60, "collar": 3 * 9,
}  # fmt: skip
"""17.0 L of 10 L, 6.4 L of 5 L, 104.9 L of 15 L (two coats, four whole kits each), 6.1 L of 10 L,
11.5 L of 10 L, 1.45 L of 0.6 L."""

IN_PLACE = {
    "mortar": 0.05 * COVERED * 10.0 / 20.0,
    "primer": COVERED * 0.2 / 10.0,
    "slurry": (COVERED * 3.0 + (INTERNAL + NOSES) * 0.1025) / 120.0,
    "guard": (1.89 - 12.0 * (2.0 - 3.14159265 / 2.0) * 0.01) * 3.0 / 10.0,
    "fillet mortar": INTERNAL * 0.45 / 20.0,
    "sealant": (JOINT * 0.2 + RINGS * 0.1) / 1.8,
    "tape": (INTERNAL + NOSES) / 50.0,
    "joint tape": JOINT / 50.0,
    "breaker": JOINT / 50.0,
    "rod": JOINT / 50.0,
    "swelling": RINGS / 50.0,
    "corner": 6 / 10,
    "collar": 1.0,
}
"""Litres, metres or pieces that end up in place, to what is in the packs."""


def bill(changes: Changes | None = None, **files: str) -> Bill:
    """Return the bill of a changed whole."""
    return works_of(changes or {}, **files)[0].bill


def amounts(found: Bill, part: str) -> dict[str, float]:
    """Return the amounts of a part by item."""
    return {line.item: line.amount for line in found.lines if line.part == part}


def test_work_at_the_systems_rates() -> None:
    assert amounts(bill(), "work") == pytest.approx(WORK)
    assert bill().subtotal("work") == pytest.approx(fsum(WORK.values()))


def test_materials_at_the_prices_of_their_packs() -> None:
    assert amounts(bill(), "materials") == pytest.approx(MATERIALS)
    assert bill().subtotal("materials") == pytest.approx(fsum(MATERIALS.values()))


@pytest.mark.parametrize("tax", ["0 %", "7 %", "19 %", "25 %"])
def test_tax_is_on_the_subtotal(tax: str) -> None:
    share = float(tax.removesuffix(" %")) / 100.0
    before = fsum(WORK.values()) + fsum(MATERIALS.values())
    assert bill({"job.tax": tax}).total == pytest.approx(before * (1.0 + share), abs=0.005)
    assert bill({"job.tax": tax}).as_dict()["tax"] == pytest.approx(before * share, abs=0.005)
    assert bill({"job.tax": tax}).subtotal() == pytest.approx(before)


def test_waste_is_what_is_not_in_place() -> None:
    waste = fsum(price * (1.0 - IN_PLACE[name]) for name, price in MATERIALS.items())
    assert bill().waste == pytest.approx(waste)


def test_a_loss_is_waste_even_if_the_packs_come_out_even() -> None:
    """Of 10 L at 50 one tenth is lost: 5."""
    order = Order("slurry", "membrane", "m3", 0.009, 0.010, (PackCount("can", 0.010, 1, 50.0),), ())
    assert bill_of((), (order,), PriceBook({}), 0.0).waste == pytest.approx(5.0)


def test_what_has_no_rate_stands_in_the_bill_without_an_amount() -> None:
    found = bill({**of("collar", price=GONE), "system.rates.0": GONE})
    assert found.unpriced == ("repair", "collar")
    assert found.subtotal("work") == pytest.approx(fsum(WORK.values()) - WORK["repair"])
    assert found.subtotal("materials") == pytest.approx(fsum(MATERIALS.values()) - 27)
    assert [line.quantity for line in found.lines if line.rate is None] == [1.56, 3.0]
    assert [row["item"] for row in found.as_dict()["lines"] if row["amount"] is None] == [
        "repair", "collar"
    ]  # fmt: skip


def test_what_costs_nothing_has_a_price() -> None:
    found = bill({**of("collar", price=0), "system.rates.0.rate": 0})
    assert found.unpriced == ()
    assert found.subtotal("work") == pytest.approx(fsum(WORK.values()) - WORK["repair"])


def test_what_is_deemed_included_is_not_in_the_bill() -> None:
    rules = {"name": "rules", "units": "mm", "included": {"work": ["fillet"], "source": "a book"}}
    found = bill({"method": rules})
    assert "inner: fillet" not in amounts(found, "work")
    assert "fillet mortar" in amounts(found, "materials")


def test_a_rate_of_its_band_goes_before_that_of_the_layer() -> None:
    band = "over 300 up to 500 mm wide"
    rows = [Measured("membrane", item, "m", 2.0, 2.0, 2.0, "")
            for item in ("up to 300 mm wide", band)]  # fmt: skip
    rates = {("membrane", "m"): 7.0, (f"membrane, {band}", "m"): 9.0, ("membrane", "m2"): 16.0}
    found = bill_of(rows, (), PriceBook(rates), 0.0)
    assert [(line.rate, line.amount) for line in found.lines] == [(7.0, 14.0), (9.0, 18.0)]


def test_a_price_book_goes_before_the_system() -> None:
    book = "item,unit,rate\nmembrane,m2,20\nslurry,kit,100\n"
    found = bill(prices=book)
    assert amounts(found, "work") == pytest.approx(WORK | {"membrane": 31.17 * 20})
    assert amounts(found, "materials") == pytest.approx(MATERIALS | {"slurry": 8 * 100})


def test_a_price_book_counts_when_packs_are_chosen() -> None:
    """6.4 L: one can of 5 L and two tins of 1 L, unless tins are dear, or cans."""
    packs = [{"name": "can", "volume": "5 L", "price": 30},
             {"name": "tin", "volume": "1 L", "price": 7}]  # fmt: skip
    for rate, counts in ((7, {"can": 1, "tin": 2}), (16, {"can": 2}), (1, {"tin": 7})):
        found = bill(of("primer", packs=packs), prices=f"item,unit,rate\nprimer,tin,{rate}\n")
        assert {line.unit: line.quantity for line in found.lines
                if (line.part, line.item) == ("materials", "primer")} == counts  # fmt: skip


def test_an_item_without_an_amount_of_its_own_adds_nothing() -> None:
    found = Bill((Line("work", "a", "m", 2.0, None), Line("work", "b", "m", 2.0, 3.0)), 0.1, "")
    assert found.total == pytest.approx(6.6)
    assert found.unpriced == ("a",)
