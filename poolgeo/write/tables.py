"""The takeoff for other programs: as CSV and as JSON, in SI units always.

CSV: one row for each quantity of each thing, so that a spreadsheet can filter and add up.

===========  =====================================================================================
``section``  ``area``, ``edge``, ``arris``, ``cove``, ``joint``, ``fitting``, ``void``, ``outside``,
             ``outside edge``, ``water``, ``shell`` or ``warning``; of the waterproofing
             ``detail``, ``corner``, ``layer``, ``material``, ``roll``, ``mix``, ``film reading``,
             ``measured``, ``bill`` or ``finding``; of the finish ``joint``, ``sealant``,
             ``finish``, ``finish supply``, ``nosing``, ``coping``
``number``   number of the run or fitting, as in the drawing; empty for what has none
``body``     ``pool``, ``spa``, ``basin``, ``channel``, ``spa 2`` ... or a given name
``kind``     kind of surface or of fitting, or what meets what; of a warning the key in the pool
             file; of the waterproofing the layer, the material or the item
``sense``    ``internal`` or ``external``; edges only
``measure``  what was measured: ``area``, ``wet area``, ``plan area``, ``length``, ``wet length``,
             ``angle``, ``radius``, ``width``, ``volume``, ``mortar`` behind a cove;
             ``zone area`` and ``zone length`` are the parts of ``area`` and ``length`` in one zone,
             and ``band bottom`` and ``band top`` the heights between which the waterline band lies;
             of fittings ``x``, ``y``, ``z``,
             ``depth``, ``diameter`` or ``width`` and ``height``, ``collar``,
             ``collar perimeter``, ``void area``, ``count``; of arrises ``size``, ``leg``,
             ``girth``, ``taken area``, ``net area``, ``removed volume``, and ``length in the
             solid``, on which areas and volumes hold it already; of materials ``net`` (in place),
             ``gross`` (with loss), ``ordered`` (in whole ``packs``); of items of work ``net`` and
             ``measured`` (by the rules)
``value``    number, to six decimals
``unit``     ``m``, ``m2``, ``m3`` or ``deg``; empty for a count or money; in the bill the pack
``note``     the text of a warning; of a fitting its surface, ``wet`` or ``dry``, and its name; of
             a joint the surface that it crosses, and its name; of a detail its rule, work and
             material
``zone``     ``below band``, ``waterline band``, ``freeboard``, ``wall top`` or ``coping return``
===========  =====================================================================================
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator

from poolgeo.errors import key_text
from poolgeo.finishing.finish import Finishing
from poolgeo.placed import voids_of
from poolgeo.quantities import Takeoff
from poolgeo.works import Works

from .finish_rows import rows_of_finish
from .quantity import Quantity, in_zones
from .works_rows import rows_of

COLUMNS = ("section", "number", "body", "kind", "sense", "measure", "value", "unit", "note", "zone")


def quantities(takeoff: Takeoff) -> Iterator[Quantity]:
    """Yield every quantity of a takeoff, in the order of its tables."""
    for row in takeoff.areas:
        for measure, value in (
            ("area", row.area),
            ("wet area", row.wet_area),
            ("plan area", row.plan_area),
        ):
            yield Quantity("area", row.body, measure, value, "m2", kind=row.kind)
        whole = Quantity("area", row.body, "zone area", row.area, "m2", kind=row.kind)
        yield from in_zones(whole, row.zones)
    for run in takeoff.edges:
        for measure, value, unit in (
            ("length", run.length, "m"),
            ("wet length", run.wet_length, "m"),
            ("angle", run.angle, "deg"),
        ):
            yield Quantity("edge", run.body, measure, value, unit, run.number, run.kind, run.sense)
        parts = "zone length", run.length, "m", run.number, run.kind, run.sense
        yield from in_zones(Quantity("edge", run.body, *parts), run.zones)
    yield from _arrises(takeoff)
    for cove in takeoff.coves:
        for measure, value, unit in (
            ("length", cove.length, "m"),
            ("area", cove.area, "m2"),
            ("radius", cove.radius, "m"),
            ("mortar", cove.mortar, "m3"),
        ):
            yield Quantity("cove", cove.body, measure, value, unit, cove.number, cove.kind)
        for measure, value, unit, zones in (
            ("zone length", cove.length, "m", cove.length_zones),
            ("zone area", cove.area, "m2", cove.area_zones),
        ):
            whole = Quantity("cove", cove.body, measure, value, unit, cove.number, cove.kind)
            yield from in_zones(whole, zones)
    yield from _of_joints(takeoff)
    yield from _of_fittings(takeoff)
    yield from _outside(takeoff)
    for body, volume in takeoff.water.items():
        yield Quantity("water", body, "volume", volume, "m3")
        if body not in takeoff.bands:
            continue
        bottom, top = takeoff.bands[body]
        yield Quantity("water", body, "band bottom", bottom, "m", zone="waterline band")
        yield Quantity("water", body, "band top", top, "m", zone="waterline band")
    yield Quantity("shell", "", "volume", takeoff.shell, "m3")


def _arrises(takeoff: Takeoff) -> Iterator[Quantity]:
    """Yield the quantities of the arrises of external edges; their form is the note."""
    for row in takeoff.arrises:
        for measure, value, unit in (
            ("size", row.size, "m"),
            ("length", row.length, "m"),
            ("length in the solid", row.meshed, "m"),
            ("leg", row.section.leg, "m"),
            ("girth", row.section.girth, "m"),
            ("area", row.area, "m2"),
            ("taken area", row.taken_area, "m2"),
            ("net area", row.net_area, "m2"),
            ("removed volume", row.removed, "m3"),
        ):
            what = row.number, row.kind, "external", row.form
            yield Quantity("arris", row.body, measure, value, unit, *what)
            if measure in {"length", "area"}:
                parts = row.zones if measure == "length" else row.area_zones
                whole = Quantity("arris", row.body, f"zone {measure}", value, unit, *what)
                yield from in_zones(whole, parts)


def _of_joints(takeoff: Takeoff) -> Iterator[Quantity]:
    """Yield the quantities of movement joints of the structure."""
    for row in takeoff.joints:
        note = f"{row.surface}, {row.name}"
        parts = row.number, "structural joint"
        for measure, value in (
            ("length", row.length),
            ("wet length", row.wet_length),
            ("width", row.width),
        ):
            yield Quantity("joint", row.body, measure, value, "m", *parts, note=note)
        whole = Quantity("joint", row.body, "zone length", row.length, "m", *parts, note=note)
        yield from in_zones(whole, row.zones)


def _of_fittings(takeoff: Takeoff) -> Iterator[Quantity]:
    """Yield what belongs to fittings: of each, then by surface."""
    for item in takeoff.fittings:
        width, height = item.size
        sizes = [("diameter", width)] if item.is_round else [("width", width), ("height", height)]
        note = f"{item.surface}, {'wet' if item.wet else 'dry'}, {item.name}"
        for measure, value, unit in (
            *zip("xyz", item.point, "mmm", strict=True),
            ("depth", item.depth, "m"),
            *((measure, value, "m") for measure, value in (*sizes, ("collar", item.collar))),
            ("collar perimeter", item.collar_perimeter, "m"),
            ("void area", item.void_area, "m2"),
        ):
            yield Quantity(
                "fitting", item.body, measure, value, unit, item.number, item.kind, note=note
            )
    for row in voids_of(takeoff.fittings):
        for measure, value, unit in (
            ("count", row.count, ""),
            ("collar perimeter", row.collar_perimeter, "m"),
            ("void area", row.void_area, "m2"),
        ):
            yield Quantity("void", row.body, measure, value, unit, kind=row.surface)


def _outside(takeoff: Takeoff) -> Iterator[Quantity]:
    """Yield the quantities of the outside of the shell."""
    for outer in takeoff.outside:
        for measure, value in (("area", outer.area), ("plan area", outer.plan_area)):
            yield Quantity("outside", outer.body, measure, value, "m2", kind=outer.kind)
    for run in takeoff.outside_edges:
        for measure, value, unit in (("length", run.length, "m"), ("angle", run.angle, "deg")):
            yield Quantity(
                "outside edge", run.body, measure, value, unit, run.number, run.kind, run.sense
            )


def csv_text(
    takeoff: Takeoff, works: Works | None = None, finishing: Finishing | None = None
) -> str:
    """Return the takeoff as CSV (columns: see the top of this module), lines ending in LF.

    With the waterproofing worked out, and the finish, these too.
    """
    finishing = finishing or Finishing()
    sheet = io.StringIO()
    rows = csv.writer(sheet, lineterminator="\n")
    rows.writerow(COLUMNS)
    more = () if works is None else rows_of(works)
    for item in (*quantities(takeoff), *more, *rows_of_finish(finishing)):
        value = f"{item.value:.6f}".rstrip("0").rstrip(".")
        rows.writerow(
            [
                item.section,
                item.number,
                item.body,
                item.kind,
                item.sense,
                item.measure,
                "0" if value == "-0" else value,
                item.unit,
                item.note,
                item.zone,
            ]
        )
    for finding in takeoff.warnings:
        key = key_text(finding.key)
        rows.writerow(["warning", "", "", key, "", "", "", "", str(finding), ""])
    for remark in (*(() if works is None else works.remarks), *finishing.remarks):
        key = key_text(remark.finding.key)
        rows.writerow(["finding", "", "", key, "", "", "", "", str(remark), ""])
    return sheet.getvalue()


def json_text(
    takeoff: Takeoff, works: Works | None = None, finishing: Finishing | None = None
) -> str:
    """Return the takeoff as JSON, the documented contract of `Takeoff.as_dict`, in SI units.

    With the waterproofing worked out, that of `Works.as_dict` too; with the finish, that of
    `Finishing.as_dict`, its joints behind those of the structure.
    """
    found = takeoff.as_dict() | ({} if works is None else works.as_dict())
    if finishing is not None:
        found |= finishing.as_dict()
        found["joints"] += finishing.joint_dicts()
    return json.dumps(found, indent=2, ensure_ascii=False) + "\n"
