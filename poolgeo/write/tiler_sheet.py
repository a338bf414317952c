"""The tiler's sheet: one page that says where the movement joints are, before the first tile.

The page is drawn in millimetres of paper as a drawing of its own, and made a PDF of.
"""

from __future__ import annotations

import os
import textwrap
from collections import defaultdict
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from ..arrays import Floats
from ..design.lengths import Units, format_length
from ..design.numbers import Numbers
from ..drawing import contents
from ..drawing.contents import Content
from ..drawing.developed import Development, developments
from ..drawing.developed_view import Strip
from ..drawing.labels import Label, placed
from ..drawing.plan_labels import named_runs
from ..drawing.plan_lines import Place, PlanLine, Projection
from ..drawing.plan_view import lines_of
from ..drawing.positions import along, around, text_width, upright
from ..drawing.set_out import frame_of, ordinates
from ..drawing.sheet import UNIT_SYSTEMS, scales_of
from ..drawing.sheets import Box
from ..errors import OutputError
from ..jointing.rows import ACROSS_FINISH, FinishJoint, FinishJoints, length_of
from ..model import Model
from ..quantities import Takeoff
from .atomic import whole_file
from .finish_terminal import kind_rows, place_of, said_of
from .page import Page

TEXT = 2.2
"""[mm] Height of text."""

RULES = (
    "NEVER cut, saw or grind through the finish: the membrane lies under it.",
    "Set every joint out from the origin before the first tile, and have it looked at.",
    "Form each joint while tiling: free of mortar through tile and bed down to the membrane.",
    "Backer rod or bond breaker under the sealant, so that it holds on two sides only.",
    "A joint over one of the structure lies exactly over it and is never narrower.",
    "Loops run on without dead ends: down the wall, over floor, steps and benches, up again.",
    "Tell the waterproofer before any joint is moved.",
    "Extract dust and vapours from the empty basin; nobody works in it alone.",
)
"""What the tiler has to know."""

PLAN = (
    contents.SHELL, contents.OUTLINE, contents.STEPS, contents.BENCHES, contents.SPA,
    contents.OVERFLOW, contents.RECESSES, contents.BREAKS, contents.FITTINGS,
)  # fmt: skip
"""What of the plan stands behind the joints."""

THIN, EDGE, THICK = 0.13, 0.25, 0.6
"""[mm] Width of a line of the pool, of a joint at an edge, and of one across the finish."""


def write_tiler_sheet(
    model: Model, takeoff: Takeoff, joints: FinishJoints, path: str | os.PathLike[str]
) -> None:
    """Write the tiler's sheet as PDF: plan, developed walls, table of joints, rules.

    Args:
        model: The pool.
        takeoff: Measured on it.
        joints: Movement joints of its finish.
        path: File to write; its name ends in ``.pdf``.

    Raises:
        OutputError: The name does not end in ``.pdf``, or the file cannot be written.
    """
    if Path(path).suffix.lower() != ".pdf":
        msg = f"'{os.fspath(path)}' must end in .pdf; name another file"
        raise OutputError(msg)
    page = tiler_page(model, takeoff, joints)
    with whole_file(path) as beside:
        page.save(beside, model.design.pool.name)


def tiler_page(model: Model, takeoff: Takeoff, joints: FinishJoints) -> Page:
    """Lay the page out."""
    units = model.design.pool.units
    page = Page.of(metric=UNIT_SYSTEMS[units].metric, height=TEXT)
    whole = page.inside
    title = "Movement joints, to be set out before tiling"
    page.text(model.design.pool.name, (whole.left, whole.top - 5.0), 5.0)
    page.text(title, (whole.left, whole.top - 10.0), 3.5)
    right = Box(whole.right - 118.0, whole.bottom, whole.right, whole.top)
    walls = list(developments(model, takeoff, joints))
    low = whole.bottom + 0.34 * (whole.top - whole.bottom)
    plan = Box(whole.left, low, right.left - 6.0, whole.top - 14.0)
    scale = _plan(page, plan, model, takeoff, joints)
    under = Box(whole.left, whole.bottom, right.left - 6.0, low - 4.0)
    _walls(page, under, walls, units)
    _column(page, right, joints, units, scale)
    return page


def _plan(page: Page, box: Box, model: Model, takeoff: Takeoff, joints: FinishJoints) -> str:
    """Draw the plan with joints, numbers and distances; return the name of its scale."""
    units = model.design.pool.units
    concrete = np.concatenate([
        line for (_, role), line in model.outlines.items() if role in {"shell", "base"}
    ])  # fmt: skip
    low, high = concrete.min(axis=0), concrete.max(axis=0)
    margin = 9.0 * TEXT
    room = box.right - box.left - margin, box.top - box.bottom - margin
    need = float(max((high - low) / (np.array(room) / 1000.0)))
    ratio, name = scales_of(units, need)
    projection = Projection(1000.0 / ratio, 4)
    shift = (
        box.left + margin + (room[0] - (high - low)[0] * 1000.0 / ratio) / 2.0
        - projection.length(float(low[0])),
        box.bottom + margin + (room[1] - (high - low)[1] * 1000.0 / ratio)
        - projection.length(float(low[1])),
    )  # fmt: skip
    page.shift = shift
    lines = lines_of(model, takeoff, projection, joints)
    for content in PLAN:
        for line in lines.get(content, ()):
            page.line(line.points, THIN, grey=content != contents.OUTLINE, closed=line.closed)
    for line in lines.get(contents.FINISH_EDGES, ()):
        page.line(line.points, EDGE, joint=True, closed=line.closed)
    for line in lines.get(contents.FINISH_JOINTS, ()):
        page.line(line.points, THICK, joint=True, closed=line.closed)
    _numbers(page, lines, joints, takeoff, projection)
    _distances(page, joints, concrete, projection, units)
    page.shift = (0.0, 0.0)
    return name


def _numbers(
    page: Page, lines: dict[Content, list[PlanLine]], joints: FinishJoints, takeoff: Takeoff,
    projection: Projection,
) -> None:  # fmt: skip
    """Write the numbers of joints and of fittings beside them."""
    found = [
        (run.number, line) for run in named_runs(joints, *ACROSS_FINISH)
        if (line := projection.line(run.points)) is not None
    ]  # fmt: skip
    wanted = [
        Label(number, tuple(along(line, text_width(number, TEXT), TEXT))) for number, line in found
    ]
    at_places: dict[Place, list[str]] = defaultdict(list)
    for item in takeoff.fittings:
        at_places[projection.place(item.point)].append(item.number)
    for place, numbers in at_places.items():
        text = ", ".join(numbers)
        wanted.append(Label(text, tuple(around(place, text_width(text, TEXT), TEXT))))
    obstacles = [line for content in (*PLAN, contents.FINISH_JOINTS)
                 for line in lines.get(content, ())]  # fmt: skip
    for label, at in zip(wanted, placed(wanted, obstacles, TEXT), strict=True):
        if at.leader:
            page.line(at.leader, THIN, grey=True)
        page.text(label.text, at.centre, TEXT, angle=at.angle, middle=True, joint=True)


def _distances(
    page: Page, joints: FinishJoints, concrete: Floats, projection: Projection, units: Units
) -> None:
    """Write how far joints lie from the origin, and mark that."""
    frame, per = frame_of(joints), projection.per_metre
    origin = np.array(joints.origin)

    def place(along_rows: float, across: float) -> tuple[float, float]:
        x, y = origin + np.array([along_rows, across]) @ frame.axes[:2, :2]
        return float(x) * per, float(y) * per

    for item in ordinates(joints, concrete, TEXT / per, units):
        start, end = (item.at, item.start), item.end
        turn = joints.direction + (90.0 if item.axis == 0 else 0.0)
        if item.axis == 1:
            start, end = start[::-1], end[::-1]
        away = (text_width(item.text, TEXT) / 2.0 + 0.6 * TEXT) / per
        middle = (end[0], end[1] - away) if item.axis == 0 else (end[0] - away, end[1])
        page.line([place(*start), place(*end)], THIN, joint=True)
        page.text(item.text, place(*middle), TEXT, angle=upright(turn), middle=True, joint=True)
    page.target(place(0.0, 0.0), joints.direction)


def _walls(page: Page, box: Box, walls: list[Development], units: Units) -> None:
    """Draw the developed walls, body after body, in rows as long as the box is wide."""
    title = (
        "Walls developed, seen from the water, from the first point of the outline on to the right;"
        " heights are true"
    )
    page.text(title, (box.left, box.top - 2.5), TEXT)
    if not walls:
        return
    width, room = box.right - box.left, box.top - box.bottom - 5.0
    ratio, rows = _fit(walls, width, room)
    per, top = 1000.0 / ratio, box.top - 6.0
    for number, (wall, start) in enumerate(rows):
        tall = (wall.high - wall.low) * per
        base = top - TEXT - 1.5 - tall
        page.shift = (box.left - start * per, base - wall.low * per)
        _wall(page, wall, start, min(start + width / per, wall.length), per)
        page.shift = (0.0, 0.0)
        first = number == 0 or rows[number - 1][0] is not wall
        name = wall.body if first else f"{wall.body}, from {format_length(start, units)} on"
        page.text(name, (box.left, base + tall + 1.3), TEXT)
        top = base - 3.0 - 1.5 * TEXT
    note = f"1:{ratio:g}"
    page.text(note, (box.right - text_width(note, TEXT), box.top - 2.5), TEXT)


def _fit(
    walls: list[Development], width: float, room: float
) -> tuple[float, list[tuple[Development, float]]]:
    """Return the largest round scale at which all walls fit, and the rows that they stand in."""
    for ratio in (20, 25, 40, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 2000):
        long, per = width * ratio / 1000.0, 1000.0 / ratio
        rows = [(wall, k * long) for wall in walls
                for k in range(int(np.ceil(wall.length / long - 1e-6)))]  # fmt: skip
        tall = sum((wall.high - wall.low) * per + 4.5 + 2.5 * TEXT for wall, _ in rows)
        if tall <= room:
            break
    return float(ratio), rows


def _wall(page: Page, wall: Development, start: float, end: float, per: float) -> None:
    """Draw what of a developed wall lies between two places [m]."""
    strip = Strip(wall, start, end, 1, 1)

    def draw(points: Floats, width: float, **look: bool) -> None:
        for part in strip.clipped(points):
            page.line([(float(x) * per, float(y) * per) for x, y in part], width, **look)

    water = np.array([[0.0, wall.level], [wall.length, wall.level]])
    draw(water, THIN, grey=True, dashed=True)
    for line in (*wall.rims, *(ring for _, ring in wall.fittings)):
        draw(line.points, THIN)
    for place in wall.corners:
        draw(np.array([[place, wall.low], [place, wall.high]]), THIN, grey=True)
    for stretch in sorted(wall.joints, key=lambda item: item.joint.is_across):
        draw(stretch.points, THICK if stretch.joint.is_across else EDGE, joint=True)
    _wall_numbers(page, strip, per)


def _wall_numbers(page: Page, strip: Strip, per: float) -> None:
    """Number fittings on a strip of a wall, and below it joints where they cross it."""
    for number, ring in strip.wall.fittings:
        for part in strip.clipped(ring.points):
            right, middle = float(part[:, 0].max()) * per, float(part[:, 1].mean()) * per
            page.text(number, (right + 0.5 * TEXT, middle - 0.5 * TEXT), TEXT)
    crossed = dict.fromkeys(
        (stretch.joint.number, round(float(part[:, 0].mean()), 1))
        for stretch in strip.wall.joints if stretch.joint.is_across
        for part in strip.clipped(stretch.points)
    )  # fmt: skip
    for number, x in crossed:
        below = (x * per, strip.wall.low * per - 1.2 * TEXT)
        page.text(number, below, TEXT, middle=True, joint=True)


def _column(page: Page, box: Box, joints: FinishJoints, units: Units, scale: str) -> None:
    """Write the tables and the rules down the right side."""
    numbers, y = Numbers(units), box.top - 3.0
    x0, y0 = (format_length(value, units) for value in joints.origin)
    head = f"Plan {scale}. Origin {x0}, {y0}; rows along {joints.direction:g} degrees"
    page.text(head, (box.left, y), TEXT)
    lines = [
        (joint.number, place_of(joint, units), numbers.size(joint.width),
         format_length(joint.length, units))
        for joint in joints.of_kind(*ACROSS_FINISH)
    ]  # fmt: skip
    edges = [
        (row[0].kind, named(row), numbers.size(row[0].width), format_length(length_of(row), units))
        for row in kind_rows(joints)
    ]
    sealing = [
        (f"{numbers.size(row.width)} x {numbers.size(row.depth)}", numbers.size(row.rod), "",
         format_length(row.length, units))
        for row in joints.sealing
    ]  # fmt: skip
    for head_row, rows, columns, most in (
        (("no.", "from the origin", "width", "length"), lines, (0.0, 14.0, 66.0, 84.0), 26),
        (("joint", "at", "width", "length"), edges, (0.0, 32.0, 66.0, 84.0), 20),
        (("sealant, wide x deep", "rod", "", "length"), sealing, (0.0, 40.0, 66.0, 84.0), 8),
    ):
        if rows:
            y = _table(page, (box.left, y - 2.4 * TEXT), columns, [head_row, *rows], most)
    _words(page, box, y - 2.4 * TEXT, joints, units)


def named(row: Sequence[FinishJoint]) -> str:
    """Return what meets at joints of one kind, or how many there are."""
    if row[0].kind == "change of plane":
        return row[0].name
    return "1 joint" if len(row) == 1 else f"{len(row)} joints"


def _words(page: Page, box: Box, y: float, joints: FinishJoints, units: Units) -> None:
    """Write the rules, and what is to be known of the plan, as far as there is room."""
    wide = int((box.right - box.left) / (0.68 * TEXT))
    said = (*RULES, *said_of(joints, units), *(str(item) for item in joints.remarks))
    for number, line in enumerate(said):
        size = TEXT if number else 1.3 * TEXT
        for words in textwrap.wrap(line, wide if number else int(wide / 1.4)):
            if y < box.bottom + 2.0 * TEXT:
                page.text("... more in poolgeo takeoff", (box.left, y), TEXT)
                return
            page.text(words, (box.left, y), size, joint=not number)
            y -= 1.6 * size
        y -= 0.5 * TEXT


def _table(
    page: Page, corner: Place, columns: tuple[float, ...], rows: list[tuple[str, ...]], most: int
) -> float:
    """Write a table, its head first, down from its upper left corner; return where it ends."""
    x, y = corner
    if len(rows) > most + 1:
        rows = [*rows[:most], (f"... {len(rows) - most} more", "", "", "")]
    for number, row in enumerate(rows):
        for column, text in zip(columns, row, strict=True):
            page.text(text, (x + column, y), TEXT)
        if not number:
            page.line([(x, y - 0.7 * TEXT), (x + columns[-1] + 30.0, y - 0.7 * TEXT)], THIN)
        y -= (1.65 if number else 2.2) * TEXT
    return y + 1.65 * TEXT
