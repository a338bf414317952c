"""Movement joints of the finish, tiles and coping as tables on a terminal."""

from __future__ import annotations

import io
from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from poolgeo.design.lengths import Units, format_length
from poolgeo.finishing.finish import Finishing

from ..design.numbers import Numbers
from ..design.scale import Scale, scale_of
from ..finishing.rows import FinishTakeoff, Supplies
from ..jointing.rows import ACROSS_FINISH, HOLDS, KINDS, FinishJoint, FinishJoints, length_of
from .table_parts import table_of, total
from .works_terminal import STYLES

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table


def finish_text(finishing: Finishing, units: Units, width: int = 100) -> str:
    """Return joints, tiles and coping as plain text.

    Args:
        finishing: Of the pool.
        units: Units of the pool file.
        width: Of the text, in characters.

    Returns:
        Tables, and what the check of the joints finds; empty where there is nothing.
    """
    from rich.console import Console

    paper = io.StringIO()
    print_finish(finishing, units, Console(file=paper, width=width, no_color=True))
    lines = [line.rstrip() for line in paper.getvalue().splitlines()]
    return "\n".join([*lines, ""]) if lines else ""


def print_finish(finishing: Finishing, units: Units, console: Console) -> None:
    """Print joints, tiles and coping on a console."""
    numbers, scale = Numbers(units), scale_of(units)
    if (joints := finishing.joints) is not None:
        for table in _joint_tables(joints, units, numbers, scale):
            console.print(table)
        for line in said_of(joints, units):
            console.print(line, markup=False, highlight=False)
    if finishing.takeoff is not None:
        for table in _finish_tables(finishing.takeoff, numbers, scale):
            console.print(table)
    for remark in finishing.remarks:
        style = STYLES[remark.finding.severity]
        console.print(str(remark), style=style, markup=False, soft_wrap=True)


def said_of(joints: FinishJoints, units: Units) -> Iterator[str]:
    """Yield what is to be known of a plan of joints, sentence by sentence."""
    rules = joints.rules
    bay, limit = (format_length(size, units) for size in (joints.bay, rules.bays.longest))
    by = "drawn by hand" if joints.drawn else "planned"
    yield f"Joints {by}, by '{rules.name}' ({rules.bays.cited}): longest bay {bay} of {limit}."
    x, y = (format_length(value, units) for value in joints.origin)
    yield f"Set out from {x}, {y}; rows of tiles along {joints.direction:g} degrees from x."
    if joints.least is not None and joints.bound is not None and joints.least:
        own, least, bound = (
            format_length(size, units)
            for size in (length_of(joints.of_kind("intermediate")), joints.least, joints.bound)
        )
        yield (
            f"Intermediate joints {own}; the shortest layout on these lines takes {least},"
            f" and none takes less than {bound}."
        )
    packs = "" if joints.packs is None else f", {joints.packs} packs"
    yield f"Sealant: {joints.sealant}{packs}."
    low, high = joints.temperatures
    scale = scale_of(units)
    yield (
        f"Widths: the finish moves {joints.strain * 1000:.2g} mm/m between"
        f" {scale.temperature(low)} dry and {scale.temperature(high)} wet;"
        f" the sealant bears {joints.capability:.0%} of its width."
    )


def _joint_tables(
    joints: FinishJoints, units: Units, numbers: Numbers, scale: Scale
) -> Iterator[Table]:
    lines = joints.of_kind(*ACROSS_FINISH)
    if lines:
        yield _lines(lines, units, numbers)
    yield _by_kind(joints, numbers)
    if joints.sealing:
        yield _sealing(joints, numbers, scale)


def _lines(lines: Sequence[FinishJoint], units: Units, numbers: Numbers) -> Table:
    words = ("no.", "joint", "distance from the set-out origin")
    table = table_of("Movement joints across the finish", words, ("width", "length"))
    for joint in lines:
        table.add_row(joint.number, joint.kind, place_of(joint, units),
                      numbers.size(joint.width), numbers.length(joint.length))  # fmt: skip
    total(table, numbers.length(length_of(lines)))
    return table


def place_of(joint: FinishJoint, units: Units) -> str:
    """Return where a joint lies, from the set-out origin."""
    if joint.axis is None:
        if not joint.is_across or not joint.runs:
            return "-"
        ends = joint.runs[0].points[0], joint.runs[-1].points[-1]
        return " to ".join(
            f"({', '.join(format_length(float(value), units) for value in end[:2])})"
            for end in ends
        )
    if HOLDS[joint.axis] == "height":
        side = "below" if joint.at <= 0.0 else "above"
        return f"{format_length(abs(joint.at), units)} {side} the water level"
    return f"{format_length(joint.at, units)} {HOLDS[joint.axis]}"


def _by_kind(joints: FinishJoints, numbers: Numbers) -> Table:
    words = ("joint", "what meets there", "number")
    figures = ("width", "movement", "sealant", "length")
    table = table_of("Movement joints of the finish by kind", words, figures)
    for row in kind_rows(joints):
        one = row[0]
        name = one.name if one.kind == "change of plane" else ""
        sizes = numbers.size(one.width), numbers.fine_size(one.movement)
        deep, length = f"{numbers.size(one.depth)} deep", numbers.length(length_of(row))
        table.add_row(one.kind, name, str(len(row)), *sizes, deep, length)
    total(table, numbers.length(length_of(joints.joints)))
    return table


def kind_rows(joints: FinishJoints) -> list[list[FinishJoint]]:
    """Return the joints in groups: of one kind, of one name at changes of plane, of one width."""
    groups: dict[tuple[int, str, float], list[FinishJoint]] = defaultdict(list)
    for joint in joints.joints:
        name = joint.name if joint.kind == "change of plane" else ""
        groups[KINDS.index(joint.kind), name, round(joint.width, 6)].append(joint)
    return [groups[key] for key in sorted(groups)]


def _sealing(joints: FinishJoints, numbers: Numbers, scale: Scale) -> Table:
    words = ("width x depth", "backer rod")
    figures = ("length", f"net, {scale.volume}", f"with loss, {scale.volume}")
    title = f"Sealant: {joints.sealant}"
    if joints.packs is not None:
        title += f", {joints.packs} packs"
    table = table_of(title, words, figures)
    for row in joints.sealing:
        volumes = (f"{size / scale.cubic_metres:.2f}" for size in (row.net, row.gross))
        table.add_row(f"{numbers.size(row.width)} x {numbers.size(row.depth)}",
                      numbers.size(row.rod), numbers.length(row.length), *volumes)  # fmt: skip
    total(table, numbers.length(sum(row.length for row in joints.sealing)),
          *(f"{sum(size) / scale.cubic_metres:.2f}" for size in zip(
              *((row.net, row.gross) for row in joints.sealing), strict=True)))  # fmt: skip
    return table


def _finish_tables(takeoff: FinishTakeoff, numbers: Numbers, scale: Scale) -> Iterator[Table]:
    if takeoff.areas:
        yield _areas(takeoff, numbers)
        yield _supplies(takeoff.supplies, numbers, scale)
    if takeoff.bands:
        table = table_of("Waterline band", ("body", "finish"), ("height", "length", "area"))
        for band in takeoff.bands:
            table.add_row(band.body, band.finish, numbers.length(band.height),
                          numbers.length(band.length), numbers.area(band.area))  # fmt: skip
        yield table
    if takeoff.nosings:
        table = table_of("Nosings", ("run", "finish", "body", "edge"), ("length", "pieces"))
        for item in takeoff.nosings:
            table.add_row(item.run, item.finish, item.body, item.kind,
                          numbers.length(item.length), str(item.pieces))  # fmt: skip
        total(table, numbers.length(sum(item.length for item in takeoff.nosings)),
              str(sum(item.pieces for item in takeoff.nosings)))  # fmt: skip
        yield table
    if takeoff.coping:
        yield _coping(takeoff, numbers)


def _areas(takeoff: FinishTakeoff, numbers: Numbers) -> Table:
    title = f"Finishes, areas in {numbers.area_unit}"
    figures = ("area", "curved", "sloping")
    table = table_of(title, ("finish", "body", "surface", "zone"), figures)
    for row in takeoff.areas:
        sizes = map(numbers.area, (row.area, row.curved, row.sloping))
        table.add_row(row.finish, row.body, row.kind, row.zone, *sizes)
    sums = ([getattr(row, of) for row in takeoff.areas] for of in ("area", "curved", "sloping"))
    total(table, *(numbers.area(sum(own)) for own in sums))
    return table


def _supplies(rows: Sequence[Supplies], numbers: Numbers, scale: Scale) -> Table:
    """What each finish takes, one figure below the other."""
    table = table_of("What the finishes take", ("finish", "what"), ("net", "to order"))
    for row in rows:
        name = row.finish
        for what, net, ordered in supply_lines(row, numbers, scale):
            table.add_row(name, what, net, ordered)
            name = ""
    return table


def supply_lines(row: Supplies, numbers: Numbers, scale: Scale) -> Iterator[tuple[str, str, str]]:
    """Yield what a finish takes as text: what, in place, to order."""

    def volume(size: float) -> str:
        return f"{size / scale.cubic_metres:.1f} {scale.volume}"

    yield "area", f"{numbers.area(row.area)} {numbers.area_unit}", ""
    if row.modules is not None and row.waste is not None:
        waste = f"waste {row.waste:.1%}"
        if row.pieces is not None:
            yield f"tiles, {waste}", f"{row.modules:.1f}", str(row.pieces)
        if row.sheets is not None:
            yield f"sheets, {waste}", "", str(row.sheets)
    if row.cut_tiles is not None:
        yield "of them cut along borders", str(row.cut_tiles), ""
    if row.spacers is not None:
        yield "spacers, one a tile", "", str(row.spacers)
    if row.adhesive_net is not None and row.adhesive_gross is not None:
        mass = "" if row.adhesive_mass is None else f", {row.adhesive_mass:.0f} kg"
        yield "adhesive", volume(row.adhesive_net), volume(row.adhesive_gross) + mass
    if row.grout_net is not None and row.grout_gross is not None:
        yield "grout", volume(row.grout_net), volume(row.grout_gross)
    if row.plaster_net is not None and row.plaster_gross is not None:
        yield row.type, volume(row.plaster_net), volume(row.plaster_gross)


def _coping(takeoff: FinishTakeoff, numbers: Numbers) -> Table:
    figures = ("inner edge", "curved", "backs", "joint behind", "stones", "to order")
    table = table_of("Coping stones", ("run", "body"), figures)
    for row in takeoff.coping:
        behind = "-" if row.joint_outside is None else numbers.size(row.joint_outside)
        if row.joint_outside is not None and row.joint_outside < 0.0:
            behind = "tapered"
        table.add_row(row.run, row.body, numbers.length(row.length), numbers.length(row.curved),
                      numbers.length(row.outer_length), behind, str(row.stones),
                      str(row.ordered))  # fmt: skip
    lengths = (sum(getattr(row, of) for row in takeoff.coping)
               for of in ("length", "curved", "outer_length"))  # fmt: skip
    stones = (sum(getattr(row, of) for row in takeoff.coping) for of in ("stones", "ordered"))
    total(table, *map(numbers.length, lengths), "", *map(str, stones))
    return table
