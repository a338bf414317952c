"""Schedules on the drawing: runs, areas, fittings and joints as tables, in blocks that fit a sheet.

The rows are those of the takeoff, so the drawing cannot disagree with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ..design.lengths import Units
from ..design.numbers import Numbers
from ..jointing.rows import FinishJoints
from ..quantities import Takeoff
from . import contents
from .plan_lines import PlanLine, Projection
from .positions import text_width
from .sheet import Plot
from .view import Note, View

LINE = 1.8
"""Distance between two rows, in text heights."""

HEAD = 2.6
"""Room for the title, in text heights."""

PAD = 0.6
"""Left of a text in its column and right of it, in text heights."""


@dataclass(frozen=True)
class Schedule:
    """A table.

    Args:
        name: Of it.
        head: Names of the columns.
        rows: As many texts each.
        figures: How many columns at the end hold figures, which stand at the right.
        foot: Sums, in the same columns; empty where there are none.
    """

    name: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    figures: int
    foot: tuple[str, ...] = ()


def schedules(takeoff: Takeoff, joints: FinishJoints | None, units: Units) -> Iterator[Schedule]:
    """Yield the tables of a takeoff that have rows.

    Args:
        takeoff: Measured.
        joints: Movement joints of the finish, if any.
        units: Of the pool file.
    """
    numbers = Numbers(units)
    every = (
        _runs(takeoff, numbers, "external"), _runs(takeoff, numbers, "internal"),
        _coves(takeoff, numbers), _areas(takeoff, numbers), _fittings(takeoff, numbers),
        _joints(takeoff, numbers), _finish_joints(joints, numbers),
    )  # fmt: skip
    yield from (table for table in every if table.rows)


def _runs(takeoff: Takeoff, numbers: Numbers, sense: str) -> Schedule:
    runs = [run for run in takeoff.edges if run.sense == sense]
    rows = tuple(
        (run.number, run.body, run.kind, f"{run.angle:.1f}", numbers.length(run.length),
         numbers.length(run.wet_length))
        for run in runs
    )  # fmt: skip
    sums = (sum(run.length for run in runs), sum(run.wet_length for run in runs))
    head = ("No.", "Body", "Edge", "Angle, deg", "Length", "Under water")
    foot = ("Total", "", "", "", *map(numbers.length, sums))
    return Schedule(f"{sense.capitalize()} edges", head, rows, 3, foot)


def _coves(takeoff: Takeoff, numbers: Numbers) -> Schedule:
    rows = tuple(
        (run.number, run.body, run.kind, numbers.size(run.radius), numbers.length(run.length),
         numbers.area(run.area))
        for run in takeoff.coves
    )  # fmt: skip
    foot = ("Total", "", "", "", numbers.length(sum(run.length for run in takeoff.coves)),
            numbers.area(sum(run.area for run in takeoff.coves)))  # fmt: skip
    head = ("No.", "Body", "Kind", "Radius or leg", "Length", f"Area, {numbers.area_unit}")
    return Schedule("Coves and fillets", head, rows, 3, foot)


def _areas(takeoff: Takeoff, numbers: Numbers) -> Schedule:
    rows = tuple(
        (row.body, row.kind, *map(numbers.area, (row.area, row.wet_area, row.plan_area)))
        for row in takeoff.areas
    )
    sums = (sum(getattr(row, name) for row in takeoff.areas)
            for name in ("area", "wet_area", "plan_area"))  # fmt: skip
    head = ("Body", "Surface", "Area", "Under water", "In plan")
    foot = ("Total", "", *map(numbers.area, sums))
    return Schedule(f"Areas in {numbers.area_unit}", head, rows, 3, foot)


def _fittings(takeoff: Takeoff, numbers: Numbers) -> Schedule:
    rows = tuple(
        (item.number, item.kind, item.body, item.surface, numbers.length(item.depth),
         " x ".join(map(numbers.size, item.size[:1] if item.is_round else item.size)),
         numbers.size(item.collar))
        for item in takeoff.fittings
    )  # fmt: skip
    head = ("No.", "Kind", "Body", "Surface", "Depth", "Opening", "Collar")
    return Schedule("Fittings", head, rows, 3)


def _joints(takeoff: Takeoff, numbers: Numbers) -> Schedule:
    rows = tuple(
        (run.number, run.name, run.body, run.surface, numbers.size(run.width),
         numbers.length(run.length))
        for run in takeoff.joints
    )  # fmt: skip
    foot = ("Total", "", "", "", "", numbers.length(sum(run.length for run in takeoff.joints)))
    head = ("No.", "Joint", "Body", "Surface", "Width", "Length")
    return Schedule("Movement joints of the structure", head, rows, 2, foot)


def _finish_joints(joints: FinishJoints | None, numbers: Numbers) -> Schedule:
    found = () if joints is None else joints.joints
    rows = tuple(
        (item.number, item.kind, item.name, numbers.size(item.width), numbers.length(item.length))
        for item in found
    )
    foot = ("Total", "", "", "", numbers.length(sum(item.length for item in found)))
    head = ("No.", "Joint", "Name", "Width", "Length")
    return Schedule("Movement joints of the finish", head, rows, 2, foot)


def schedule_views(
    tables: Iterable[Schedule], projection: Projection, plot: Plot, tallest: float
) -> Iterator[View]:
    """Lay tables out, each in as many blocks as its rows take.

    Args:
        tables: To lay out.
        projection: To drawing units.
        plot: Scale and height of text.
        tallest: That a block may be, in drawing units.

    Yields:
        A view for each block, down from the origin.
    """
    height = projection.length(plot.text)
    most = max(int((tallest / height - HEAD) / LINE) - 3, 4)
    for table in tables:
        blocks = [table.rows[k : k + most] for k in range(0, len(table.rows), most)]
        widths = _widths(table, height)
        for number, rows in enumerate(blocks, 1):
            part = f"{number} of {len(blocks)}" if len(blocks) > 1 else ""
            every = [table.head, *rows]
            if number == len(blocks) and table.foot:
                every.append(table.foot)
            title = f"{table.name}, {part}" if part else table.name
            lines = _rules(widths, len(every), height, bool(table.foot) and number == len(blocks))
            notes = [Note(contents.TABLES, title, (0.0, -1.4 * height), 1.4)]
            notes += _cells(every, widths, table.figures, height)
            yield View(f"schedule of {title}".lower(), title, plot.ratio, plot.scale, height,
                       {contents.TABLES: lines}, notes=notes)  # fmt: skip


def _widths(table: Schedule, height: float) -> list[float]:
    """Return how wide each column is, in drawing units."""
    every = [table.head, *table.rows, *([table.foot] if table.foot else [])]
    columns = zip(*every, strict=True)
    return [
        max(text_width(text, height) for text in column) + 2.0 * PAD * height
        for column in columns
    ]  # fmt: skip


def _rules(widths: Sequence[float], rows: int, height: float, has_foot: bool) -> list[PlanLine]:
    """Return the lines of a table: about it, under its head, over its foot, between its columns."""
    wide, top = sum(widths), -HEAD * height
    low = top - rows * LINE * height
    levels = [top, top - LINE * height, low] + ([low + LINE * height] if has_foot else [])
    found = [PlanLine(((0.0, y), (wide, y))) for y in levels]
    x = 0.0
    for width in (0.0, *widths):
        x += width
        found.append(PlanLine(((x, top), (x, low))))
    return found


def _cells(
    rows: Sequence[Sequence[str]], widths: Sequence[float], figures: int, height: float
) -> Iterator[Note]:
    """Yield the texts of a table: words at the left of their columns, figures at the right."""
    words = len(widths) - figures
    for number, row in enumerate(rows):
        y = -HEAD * height - (number + 1) * LINE * height + (LINE - 1.0) / 2.0 * height
        x = 0.0
        for column, (text, width) in enumerate(zip(row, widths, strict=True)):
            is_right = column >= words
            start = x + width - PAD * height if is_right else x + PAD * height
            if text:
                yield Note(contents.TABLES, text, (start, y), is_right=is_right)
            x += width
