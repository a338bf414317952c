"""Rows of the CSV for the finish; `poolgeo.write.tables` says what stands in the columns."""

from __future__ import annotations

from collections.abc import Iterator

from ..finishing.finish import Finishing
from ..finishing.rows import FinishTakeoff
from ..jointing.rows import FinishJoints
from .quantity import Quantity, in_zones
from .works_rows import Figures


def rows_of_finish(finishing: Finishing) -> Iterator[Quantity]:
    """Yield the quantities of a pool's finish, in the order of its tables."""
    if finishing.joints is not None:
        yield from _joints(finishing.joints)
    if finishing.takeoff is not None:
        yield from _finishes(finishing.takeoff)


def _joints(joints: FinishJoints) -> Iterator[Quantity]:
    for joint in joints.joints:
        for run in joint.runs:
            note = f"{run.surface}, {joint.name}"
            for measure, value in (
                ("length", run.length),
                ("wet length", run.wet_length),
                ("width", joint.width),
                ("movement", joint.movement),
                ("sealant depth", joint.depth),
            ):
                yield Quantity("joint", run.body, measure, value, "m", run.number, joint.kind,
                               note=note)  # fmt: skip
            if joint.axis is not None:
                yield Quantity("joint", run.body, "from origin", joint.at, "m", run.number,
                               joint.kind, note=note)  # fmt: skip
            whole = Quantity("joint", run.body, "zone length", run.length, "m", run.number,
                             joint.kind, note=note)  # fmt: skip
            yield from in_zones(whole, run.zones)
    for row in joints.sealing:
        note = f"{row.width * 1000:.4g} x {row.depth * 1000:.4g} mm"
        for measure, value, unit in (
            ("length", row.length, "m"),
            ("rod diameter", row.rod, "m"),
            ("net", row.net, "m3"),
            ("gross", row.gross, "m3"),
        ):
            yield Quantity("sealant", "", measure, value, unit, kind=joints.sealant, note=note)
    if joints.packs is not None:
        yield Quantity("sealant", "", "packs", joints.packs, "", kind=joints.sealant)


def _finishes(takeoff: FinishTakeoff) -> Iterator[Quantity]:
    for row in takeoff.areas:
        for measure, value in (
            ("area", row.area), ("curved area", row.curved), ("sloping area", row.sloping),
        ):  # fmt: skip
            yield Quantity("finish", row.body, measure, value, "m2", kind=row.kind,
                           note=row.finish, zone=row.zone)  # fmt: skip
    for item in takeoff.supplies:
        figures: Figures = tuple(
            (measure, float(value), unit)
            for measure, value, unit in (
                ("tiles", item.modules, ""),
                ("waste", item.waste, ""),
                ("tiles to order", item.pieces, ""),
                ("sheets to order", item.sheets, ""),
                ("cut tiles", item.cut_tiles, ""),
                ("spacers", item.spacers, ""),
                ("adhesive net", item.adhesive_net, "m3"),
                ("adhesive gross", item.adhesive_gross, "m3"),
                ("adhesive mass", item.adhesive_mass, "kg"),
                ("grout net", item.grout_net, "m3"),
                ("grout gross", item.grout_gross, "m3"),
                ("volume net", item.plaster_net, "m3"),
                ("volume gross", item.plaster_gross, "m3"),
            )
            if value is not None
        )
        for measure, value, unit in figures:
            yield Quantity("finish supply", "", measure, value, unit, kind=item.finish,
                           note=item.type)  # fmt: skip
    for band in takeoff.bands:
        yield Quantity("finish", band.body, "band length", band.length, "m", note=band.finish,
                       zone="waterline band")  # fmt: skip
    for nosing in takeoff.nosings:
        for measure, value, unit in (
            ("length", nosing.length, "m"), ("pieces", nosing.pieces, ""),
        ):  # fmt: skip
            yield Quantity("nosing", nosing.body, measure, value, unit, nosing.run, nosing.kind,
                           note=nosing.finish)  # fmt: skip
    for stone in takeoff.coping:
        for measure, value, unit in (
            ("length", stone.length, "m"),
            ("curved length", stone.curved, "m"),
            ("length at the back", stone.outer_length, "m"),
            ("stones", stone.stones, ""),
            ("stones to order", stone.ordered, ""),
        ):
            yield Quantity("coping", stone.body, measure, value, unit, stone.run)
