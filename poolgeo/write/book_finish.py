"""Sheets of the finish: movement joints, what finishes take, nosings and coping."""

from __future__ import annotations

from ..design.lengths import Units
from ..design.scale import Scale
from ..finishing.finish import Finishing
from ..finishing.rows import FinishTakeoff, Supplies
from ..jointing.rows import FinishJoints
from .finish_terminal import place_of, said_of
from .sheets import Column, Formula, Input, Sheet, Sheets, letter

JOINTS, FINISHES = "Movement joints", "Finishes"
"""Names of the sheets."""


def write_finishing(sheets: Sheets, finishing: Finishing, units: Units, scale: Scale) -> None:
    """Write the sheets of a finish, as far as there is one."""
    if (joints := finishing.joints) is not None:
        note = "Formed while tiling: never cut through the finish, the membrane lies under it."
        _joints(sheets.add(JOINTS, note, _joint_columns(scale)), joints, units, scale)
    if (takeoff := finishing.takeoff) is not None:
        note = "Yellow figures may be changed; what hangs on them is calculated again."
        _finishes(sheets.add(FINISHES, note, _finish_columns(scale)), takeoff, scale)


def _joint_columns(scale: Scale) -> list[Column]:
    return [
        Column("Number", 12), Column("Joint", 20), Column("What meets there, name", 28),
        Column("From the set-out origin", 26), Column(f"Width, {scale.size}", 9, "0.0##"),
        Column(f"Movement, {scale.size}", 10, "0.00#"),
        Column(f"Sealant depth, {scale.size}", 9, "0.0##"),
        Column(f"Rod, {scale.size}", 9, "0.0##"),
        Column(f"Length, {scale.length}", 12, "#,##0.000"),
        Column(f"Sealant, {scale.volume}", 11, "#,##0.000"),
    ]  # fmt: skip


def _joints(sheet: Sheet, joints: FinishJoints, units: Units, scale: Scale) -> None:
    """Write each joint; its sealant follows from width, depth and length."""
    sheet.head()
    first = sheet.row + 1
    size, per = scale.size_metres, scale.size_metres**2 * scale.metres / scale.cubic_metres
    for joint in joints.joints:
        row = sheet.row + 1
        volume = Formula(f"=E{row}*G{row}*I{row}*{per!r}", joint.volume / scale.cubic_metres)
        sheet.add(joint.number, joint.kind, joint.name, place_of(joint, units),
                  Input(joint.width / size), joint.movement / size, Input(joint.depth / size),
                  joint.rod / size, joint.length / scale.metres, volume)  # fmt: skip
    length = sum(joint.length for joint in joints.joints) / scale.metres
    net = sum(joint.volume for joint in joints.joints) / scale.cubic_metres
    last = sheet.row
    sheet.add("total", "", "", "", None, None, None, None,
              Formula(f"=SUM(I{first}:I{last})", length),
              Formula(f"=SUM(J{first}:J{last})", net), bold=True)  # fmt: skip
    gross = sum(row.gross for row in joints.sealing) / scale.cubic_metres
    loss = round(1.0 - net / gross, 9) if gross else 0.0
    sheet.add("loss", "", "", "", None, None, None, None, None, Input(loss, "0 %"))
    sheet.add("to buy", "", joints.sealant, "", None, None, None, None, None,
              Formula(f"=J{last + 1}/(1-J{last + 2})", gross), bold=True)  # fmt: skip
    sheet.gap()
    for line in said_of(joints, units):
        sheet.gap(line)


def _finish_columns(scale: Scale) -> list[Column]:
    area = scale.area
    return [
        Column("Finish, run", 22), Column("Body", 12), Column("What", 26), Column("Zone", 16),
        Column("Net", 12, "#,##0.00"), Column("Unit", 10),
        Column(f"Curved, {area}", 12, "#,##0.00"), Column(f"Sloping, {area}", 12, "#,##0.00"),
        Column("Waste or loss", 10, "0.0 %"), Column("To order", 12, "#,##0.00"),
    ]  # fmt: skip


def _finishes(sheet: Sheet, takeoff: FinishTakeoff, scale: Scale) -> None:
    sheet.head()
    first, area = sheet.row + 1, scale.square_metres
    for row in takeoff.areas:
        sheet.add(row.finish, row.body, row.kind, row.zone, row.area / area, scale.area,
                  row.curved / area, row.sloping / area)  # fmt: skip
    if takeoff.areas:
        net, *slow = (
            Formula(f"=SUM({letter(k)}{first}:{letter(k)}{sheet.row})",
                    sum(getattr(row, of) for row in takeoff.areas) / area)
            for k, of in ((4, "area"), (6, "curved"), (7, "sloping"))
        )  # fmt: skip
        sheet.add("total", "", "", "", net, scale.area, *slow, bold=True)
        sheet.gap("What the finishes take")
    for item in takeoff.supplies:
        _supplies(sheet, item, scale)
    _runs(sheet, takeoff, scale)


def _supplies(sheet: Sheet, item: Supplies, scale: Scale) -> None:
    """Write what one finish takes; what is ordered follows from what is laid."""
    if item.pieces is not None and item.modules is not None and item.waste is not None:
        at = sheet.row + 1
        ordered = Formula(f"=ROUNDUP(E{at}*(1+I{at})-1E-9,0)", item.pieces)
        sheet.add(item.finish, "", "tiles", "", item.modules, "pieces", None, None,
                  Input(item.waste), ordered)  # fmt: skip
    if item.sheets is not None:
        sheet.add(item.finish, "", "sheets", "", None, "sheets", None, None, item.waste,
                  float(item.sheets))  # fmt: skip
    for what, count in (("tiles cut along borders", item.cut_tiles), ("spacers", item.spacers)):
        if count is not None:
            sheet.add(item.finish, "", what, "", float(count), "pieces")
    for what, net, gross in (
        ("adhesive", item.adhesive_net, item.adhesive_gross),
        ("grout", item.grout_net, item.grout_gross),
        (item.type, item.plaster_net, item.plaster_gross),
    ):
        if net is not None and gross:
            at, per = sheet.row + 1, scale.cubic_metres
            bought = Formula(f"=E{at}/(1-I{at})", gross / per)
            sheet.add(item.finish, "", what, "", net / per, scale.volume, None, None,
                      Input(round(1.0 - net / gross, 9)), bought)  # fmt: skip
    if item.adhesive_mass is not None:
        sheet.add(item.finish, "", "adhesive, with loss", "", None, "kg", None, None, None,
                  item.adhesive_mass)  # fmt: skip


def _runs(sheet: Sheet, takeoff: FinishTakeoff, scale: Scale) -> None:
    """Write bands, nosings and coping stones with their lengths."""
    length, metres = scale.length, scale.metres
    if takeoff.bands:
        sheet.gap("Waterline band")
    for band in takeoff.bands:
        sheet.add(band.finish, band.body, "band", "waterline band", band.length / metres, length)
    if takeoff.nosings:
        sheet.gap("Nosings")
    for nosing in takeoff.nosings:
        sheet.add(nosing.run, nosing.body, f"{nosing.finish}, {nosing.kind}", "",
                  nosing.length / metres, length, None, None, None, nosing.pieces)  # fmt: skip
    if takeoff.coping:
        sheet.gap("Coping stones, along the inner edge")
    for stone in takeoff.coping:
        sheet.add(stone.run, stone.body, f"coping, {stone.stones} laid", "", stone.length / metres,
                  length, None, None, None, stone.ordered)  # fmt: skip
