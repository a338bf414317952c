"""Sheets of what is measured and done: areas, runs, details, rolls, mixes, readings."""

from __future__ import annotations

from ..design.scale import Scale
from ..mesh import ZONES
from ..quantities import Takeoff
from ..works import Works
from .sheets import Column, Formula, Sheet, letter

READING = 4
"""Column of the first reading."""


def area_columns(scale: Scale) -> list[Column]:
    """Return the columns of the sheet of areas."""
    names = ["Area", "under water", *ZONES]
    sizes = [Column(f"{name.capitalize()}, {scale.area}", 12, "#,##0.00") for name in names]
    return [Column("Body", 12), Column("Surface", 22), *sizes]


def write_areas(sheet: Sheet, takeoff: Takeoff, scale: Scale) -> None:
    """Write areas by body and kind, and by zone, with their sums."""
    sheet.head()
    first = sheet.row + 1
    rows = [(row.area, row.wet_area, *row.zones) for row in takeoff.areas]
    for row, sizes in zip(takeoff.areas, rows, strict=True):
        sheet.add(row.body, row.kind, *(size / scale.square_metres for size in sizes))
    sums = [
        Formula(f"=SUM({letter(k + 2)}{first}:{letter(k + 2)}{sheet.row})",
                sum(row[k] for row in rows) / scale.square_metres)
        for k in range(2 + len(ZONES))
    ]  # fmt: skip
    sheet.add("total", "", *sums, bold=True)


def run_columns(scale: Scale) -> list[Column]:
    """Return the columns of the sheet of runs."""
    return [
        Column("Number", 12), Column("Body", 12), Column("Edge", 30), Column("Sense", 11),
        Column("Angle, deg", 10, "0.0"), Column(f"Length, {scale.length}", 12, "#,##0.000"),
        Column(f"Under water, {scale.length}", 15, "#,##0.000"),
        Column(f"Radius or leg, {scale.size}", 12, "0.##"),
        Column(f"Mortar, {scale.volume}", 12, "#,##0.00"),
    ]  # fmt: skip


def write_runs(sheet: Sheet, takeoff: Takeoff, scale: Scale) -> None:
    """Write edge runs, coves and joints with the numbers that the drawing has."""
    sheet.head()
    for run in takeoff.edges:
        sheet.add(run.number, run.body, run.kind, run.sense, run.angle, run.length / scale.metres,
                  run.wet_length / scale.metres)  # fmt: skip
    for cove in takeoff.coves:
        sizes = cove.radius / scale.size_metres, cove.mortar / scale.cubic_metres
        sheet.add(cove.number, cove.body, cove.kind, "internal", None, cove.length / scale.metres,
                  None, *sizes)  # fmt: skip
    for joint in takeoff.joints:
        sheet.add(joint.number, joint.body, f"{joint.name}, {joint.surface}", "joint", None,
                  joint.length / scale.metres, joint.wet_length / scale.metres)  # fmt: skip


def detail_columns(scale: Scale) -> list[Column]:
    """Return the columns of the sheet of details."""
    return [
        Column("At", 9), Column("Number", 12), Column("What", 28), Column("Body", 10),
        Column("Detail", 30), Column("Work", 24), Column("Material", 20),
        Column(f"Length, {scale.length}", 11, "#,##0.000"),
        Column("Quantity", 11, "#,##0.000"), Column("Unit", 8),
        Column(f"Size, {scale.size}", 9, "0.##"),
    ]  # fmt: skip


def write_details(sheet: Sheet, works: Works, scale: Scale) -> None:
    """Write each operation, run by run."""
    sheet.head()
    for item in works.detailing.details:
        unit, size = scale.of(item.unit)
        sheet.add(item.place, item.number, item.kind, item.body, item.rule, item.name,
                  item.material, item.length / scale.metres or None, item.quantity / size, unit,
                  item.size / scale.size_metres or None)  # fmt: skip


def roll_columns(scale: Scale) -> list[Column]:
    """Return the columns of the cutting plan."""
    return [
        Column("Material", 40), Column("Roll", 7, "0"), Column("Run", 14), Column("Piece", 9),
        Column(f"Length, {scale.length}", 12, "#,##0.000"),
        Column(f"Left over, {scale.length}", 12, "#,##0.000"),
    ]  # fmt: skip


def write_rolls(sheet: Sheet, works: Works, scale: Scale) -> None:
    """Write what is cut from each roll, and how good the plan is."""
    sheet.head()
    for name, plan in works.supply.plans.items():
        for number, roll in enumerate(plan.rolls, 1):
            for k, piece in enumerate(roll.pieces):
                left = roll.offcut / scale.metres if k == len(roll.pieces) - 1 else None
                of = f"{piece.index} of {piece.of}" if piece.of > 1 else "whole"
                sheet.add(name, number, piece.name, of, piece.length / scale.metres, left)
        words = f"{name}: rolls {len(plan.rolls)}, no fewer than {plan.bound} would do"
        sheet.add(words, None, "", f"{plan.joins} joins", None,
                  sum(roll.offcut for roll in plan.rolls) / scale.metres, bold=True)  # fmt: skip
        sheet.gap()


def mix_columns(scale: Scale) -> list[Column]:
    """Return the columns of the sheet of mixes."""
    return [
        Column("Layer", 30), Column("Coat", 6, "0"), Column("Material", 20),
        Column(f"Area, {scale.area}", 11, "#,##0.00"),
        Column(f"Wet film to comb, {scale.film}", 11, "0.00"),
        Column("Pot life, min", 9, "0"), Column("Pack", 10),
        Column(f"One mix, {scale.volume}", 10, "0.00"),
        Column(f"One mix covers, {scale.area}", 11, "0.00"), Column("Limited by", 10),
        Column("Mixes", 8, "0"),
    ]  # fmt: skip


def write_mixes(sheet: Sheet, works: Works, scale: Scale) -> None:
    """Write how each coat is mixed."""
    sheet.head()
    for mix in works.supply.mixes:
        pot_life = None if mix.pot_life is None else mix.pot_life / 60.0
        sheet.add(mix.layer, mix.coat, mix.material, mix.area / scale.square_metres,
                  mix.wet_film / scale.film_metres, pot_life, mix.pack,
                  mix.volume / scale.cubic_metres, mix.mix_area / scale.square_metres, mix.limit,
                  mix.batches)  # fmt: skip


def record_columns(works: Works, scale: Scale) -> list[Column]:
    """Return the columns of the record of film readings."""
    film = scale.film
    return [
        Column("Layer", 30), Column("Body", 10), Column("Spot", 6, "0"), Column("Place", 26),
        *(Column(f"Reading {k}, {film}", 11, "0.00") for k in range(1, _readings(works) + 1)),
        Column(f"Mean, {film}", 12, "0.00"), Column(f"At least, {film}", 12, "0.00"),
        Column("Enough", 9), Column("Date, name", 20),
    ]  # fmt: skip


def _readings(works: Works) -> int:
    """Return how many readings are taken at a spot."""
    return max((check.each for check in works.supply.film_checks), default=1)


def write_record(sheet: Sheet, works: Works, scale: Scale) -> None:
    """Write a line for each spot, to be filled in on site."""
    sheet.head()
    each = _readings(works)
    first, last, mean, asked = (letter(READING + k) for k in (0, each - 1, each, each + 1))
    for check in works.supply.film_checks:
        least = None if check.dry_film is None else check.dry_film / scale.film_metres
        for spot in range(1, check.spots + 1):
            here = sheet.row + 1
            readings = f"{first}{here}:{last}{here}"
            middle = Formula(f'=IF(COUNT({readings})=0,"",AVERAGE({readings}))', "")
            enough = Formula(f'=IF(OR({mean}{here}="",{asked}{here}=""),"",'
                             f'IF({mean}{here}>={asked}{here},"yes","no"))', "")  # fmt: skip
            sheet.add(check.layer, check.body, spot, "", *[None] * each, middle, least, enough, "")
