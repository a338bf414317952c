"""Rows of the CSV for the waterproofing; `poolgeo.write.tables` says what stands in the columns."""

from __future__ import annotations

from collections.abc import Iterator

from ..mesh import ZONES
from ..works import Works
from .quantity import Quantity, in_zones

Figures = tuple[tuple[str, float, str], ...]
"""Measure, value, unit."""


def rows_of(works: Works) -> Iterator[Quantity]:
    """Yield the quantities of a pool's waterproofing, in the order of its tables."""
    yield from _details(works)
    yield from _layers(works)
    yield from _materials(works)
    yield from _rolls(works)
    yield from _mixes(works)
    yield from _bill(works)


def _details(works: Works) -> Iterator[Quantity]:
    for item in works.detailing.details:
        note = ", ".join(filter(None, (item.rule, item.name, item.material)))
        what = {"number": item.number, "kind": item.kind, "note": note}
        unit = "" if item.unit == "pieces" else item.unit
        yield Quantity("detail", item.body, "quantity", item.quantity, unit, **what)
        if item.length:
            yield Quantity("detail", item.body, "length", item.length, "m", **what)
            yield Quantity("detail", item.body, "size", item.size, "m", **what)
        if item.area:
            yield Quantity("detail", item.body, "area", item.area, "m2", **what)
        if item.place in {"edge", "cove", "joint"}:
            whole = Quantity("detail", item.body, "zone length", item.length, "m", **what)
            yield from in_zones(whole, item.zones)
    for corner in works.detailing.corners:
        place = corner.junction
        what = {"number": corner.number, "kind": f"{corner.sense} corner", "note": corner.rule,
                "zone": ZONES[place.zone]}  # fmt: skip
        yield Quantity("corner", place.body, "edges", corner.edges, "", **what)
        for axis, value in zip("xyz", place.point, strict=True):
            yield Quantity("corner", place.body, axis, value, "m", **what)


def _layers(works: Works) -> Iterator[Quantity]:
    for row in works.supply.coatings:
        for measure, value, unit in (
            ("area", row.area, "m2"),
            ("net volume", row.net, "m3"),
            ("gross volume", row.gross, "m3"),
        ):
            yield Quantity("layer", row.body, measure, value, unit, kind=row.kind, zone=row.zone,
                           note=f"{row.layer}, {row.material}")  # fmt: skip


def _materials(works: Works) -> Iterator[Quantity]:
    for order in works.supply.orders:
        unit = "" if order.unit == "pieces" else order.unit
        for measure, value in (
            ("net", order.net), ("gross", order.gross), ("ordered", order.ordered),
        ):  # fmt: skip
            yield Quantity("material", "", measure, value, unit, kind=order.material,
                           note=order.role)  # fmt: skip
        for pack in order.packs:
            yield Quantity("material", "", "packs", pack.count, "", kind=order.material,
                           note=pack.name)  # fmt: skip


def _rolls(works: Works) -> Iterator[Quantity]:
    for name, plan in works.supply.plans.items():
        yield Quantity("roll", "", "rolls", len(plan.rolls), "", kind=name)
        yield Quantity("roll", "", "no fewer than", plan.bound, "", kind=name)
        for k, roll in enumerate(plan.rolls, 1):
            for piece in roll.pieces:
                note = f"roll {k}, piece {piece.index} of {piece.of}"
                yield Quantity("roll", "", "piece", piece.length, "m", piece.name, name, note=note)
            yield Quantity("roll", "", "offcut", roll.offcut, "m", kind=name, note=f"roll {k}")


def _mixes(works: Works) -> Iterator[Quantity]:
    for mix in works.supply.mixes:
        for measure, value, unit in (
            ("wet film", mix.wet_film, "m"),
            ("mix", mix.volume, "m3"),
            ("mix area", mix.mix_area, "m2"),
            ("mixes", mix.batches, ""),
        ):
            yield Quantity("mix", "", measure, value, unit, kind=mix.layer,
                           note=f"coat {mix.coat}, limited by {mix.limit}")  # fmt: skip
    for check in works.supply.film_checks:
        yield Quantity("film reading", check.body, "spots", check.spots, "", kind=check.layer,
                       note=f"{check.each} readings at each")  # fmt: skip


def _bill(works: Works) -> Iterator[Quantity]:
    for row in works.measured:
        name, unit = row.name, "" if row.unit == "pieces" else row.unit
        yield Quantity("measured", "", "net", row.net, unit, kind=name)
        yield Quantity("measured", "", "measured", row.quantity, unit, kind=name, note=row.reason)
    bill = works.bill
    for line in bill.lines:
        figures: Figures = (("quantity", line.quantity, line.unit),)
        if line.rate is not None:
            figures += (("rate", line.rate, ""), ("amount", line.amount, ""))
        for measure, value, unit in figures:
            yield Quantity("bill", "", measure, value, unit, kind=line.item, note=line.part)
    for measure, value in (
        ("work", bill.subtotal("work")),
        ("materials", bill.subtotal("materials")),
        ("waste", bill.waste),
        ("tax", bill.taxes),
        ("total", bill.total),
    ):
        yield Quantity("bill", "", measure, value, "", note=bill.currency)
