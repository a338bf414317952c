"""Facts that hold for the waterproofing of any pool."""

from __future__ import annotations

import csv
import io
import json
import math
from collections import defaultdict
from collections.abc import Callable

import pytest

from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.supply.orders import is_mixed_whole
from poolgeo.works import Works
from poolgeo.write.tables import csv_text, json_text


def every_run_is_decided_on(_: Model, takeoff: Takeoff, works: Works) -> None:
    """What is worked on has the run's length; the rest has a rule without work, or stands bare."""
    system = works.source.system
    idle = {rule.name for rule in system.edges if not rule.work}
    lengths: dict[str, float] = defaultdict(float)
    for item in works.detailing.details:
        if item.place == "edge" and item.name == first_work(works, item.rule):
            lengths[item.number] += item.length
    bare = {number for _, number, _ in works.detailing.bare}
    for run in takeoff.edges:
        if run.number in lengths and not idle:
            assert lengths[run.number] == pytest.approx(run.length, abs=1e-9)
        assert lengths[run.number] < run.length + 1e-9
        assert run.number in lengths or idle or run.number in bare


def first_work(works: Works, rule: str) -> str:
    """Return the name of the first work of a detail."""
    work = next(item for item in works.source.system.edges if item.name == rule).work[0]
    return work.name or work.do


def what_is_cut_is_what_is_laid(_: Model, __: Takeoff, works: Works) -> None:
    """Rolls hold what the details lay and the laps of joins, and no more than their length."""
    laid: dict[str, float] = defaultdict(float)
    for item in works.detailing.details:
        if item.unit == "m" and item.material:
            laid[item.material] += item.quantity
    assert set(laid) == set(works.supply.plans)
    for name, plan in works.supply.plans.items():
        pieces = [piece.length for roll in plan.rolls for piece in roll.pieces]
        uncut = math.fsum(need.length for need in plan.uncut)
        assert math.fsum(pieces) - plan.laps + uncut == pytest.approx(laid[name], abs=1e-6)
        assert len(plan.rolls) <= plan.bound + 1
        least = works.source.system.roll(name).least_piece or 0.0
        for roll in plan.rolls:
            assert math.fsum(piece.length for piece in roll.pieces) <= plan.length + 1e-6
            assert all(piece.length > least - 1e-6 for piece in roll.pieces if piece.of > 1)


def a_membrane_covers_all_but_the_openings(_: Model, takeoff: Takeoff, works: Works) -> None:
    """Its area is that of the surface, less openings, with what fillets and arrises change."""
    openings = math.fsum(item.void_area for item in takeoff.fittings)
    whole = math.fsum(row.area for row in takeoff.areas) - openings
    changes = {"arrises and fillets"}
    rows = [row for row in works.supply.coatings if row.layer == "membrane"]
    assert math.fsum(row.area for row in rows if row.kind not in changes) == pytest.approx(whole)
    stated = {row.number for row in takeoff.arrises}
    widened = math.fsum(
        item.widens for item in works.detailing.details
        if not (item.do == "arris" and item.number in stated)
    ) + math.fsum(row.net_area * row.left for row in takeoff.arrises)  # fmt: skip
    found = math.fsum(row.area for row in rows if row.kind in changes)
    assert found == pytest.approx(widened, abs=1e-9)


def orders_hold_what_is_used(_: Model, __: Takeoff, works: Works) -> None:
    """Uses are those of layers and details; packs hold them, with less than one pack left over."""
    used: dict[str, float] = defaultdict(float)
    for row in works.supply.coatings:
        used[row.material] += row.net
    for item in works.detailing.details:
        if item.material:
            used[item.material] += item.quantity
    for order in works.supply.orders:
        assert order.net == pytest.approx(used[order.material], rel=1e-9, abs=1e-12)
        assert order.gross >= order.net - 1e-9
        assert order.ordered > order.gross - 1e-5 * order.ordered
        material = works.source.system.materials[order.material]
        if order.material not in works.supply.plans and not is_mixed_whole(material):
            assert order.ordered - order.gross < max(pack.size for pack in order.packs)
    assert {order.material for order in works.supply.orders} == {name for name in used if name}


def mixes_cover_their_coats(_: Model, __: Takeoff, works: Works) -> None:
    """Batches cover the area, and one less would not."""
    for mix in works.supply.mixes:
        assert mix.batches * mix.mix_area > mix.area * (1.0 - 1e-5)
        assert (mix.batches - 1) * mix.mix_area < mix.area


def the_bill_adds_up(_: Model, __: Takeoff, works: Works) -> None:
    """Its total is that of its lines, each rounded to hundredths, with tax."""
    bill = works.bill
    lines = math.fsum(line.quantity * (line.rate or 0.0) for line in bill.lines)
    rounded = 0.005 * (len(bill.lines) + 1) * (1.0 + bill.tax)
    assert bill.total == pytest.approx(lines * (1.0 + bill.tax), abs=rounded)
    assert all(line.amount * 100.0 == pytest.approx(round(line.amount * 100.0))
               for line in bill.lines)  # fmt: skip
    assert 0.0 <= bill.waste <= bill.subtotal("materials")


def tables_can_be_read(_: Model, takeoff: Takeoff, works: Works) -> None:
    """JSON holds finite numbers only; the CSV has one width."""
    text = json_text(takeoff, works)
    assert json.loads(text, parse_constant=pytest.fail)["system"] == works.source.system.name
    assert {len(row) for row in csv.reader(io.StringIO(csv_text(takeoff, works)))} == {10}


Fact = Callable[[Model, Takeoff, Works], None]
FACTS: tuple[Fact, ...] = (
    every_run_is_decided_on,
    what_is_cut_is_what_is_laid,
    a_membrane_covers_all_but_the_openings,
    orders_hold_what_is_used,
    mixes_cover_their_coats,
    the_bill_adds_up,
    tables_can_be_read,
)
