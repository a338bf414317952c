"""Details at fittings and at the head of the wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..placed import Placed
from ..system.schema import System
from ..system.work import BeadWork, PieceWork, RodWork, Work
from . import contents
from .contents import Content
from .detail_edges import LYING, Corner
from .detail_flat import slab
from .detail_frame import Callout, Frame, Measure, Picture
from .detail_parts import Film, lay, sheet
from .detail_section import (
    Band,
    Ground,
    Stack,
    break_line,
    corner_piece,
    disc,
    edge_ground,
    flat_ground,
)


@dataclass(frozen=True)
class Through:
    """A fitting to draw.

    Args:
        item: The fitting.
        slab: Thickness of the concrete that it goes through [m].
        start: Where lengths are measured along, from its middle: opening or collar [m].
        work: What is done about it.
        before: Layers under strips and collars.
        strips: Strips and coats.
        after: Layers over them.
        notes: To stand under it.
    """

    item: Placed
    slab: float
    start: float
    work: Sequence[Work]
    before: Sequence[Film]
    strips: Sequence[Film]
    after: Sequence[Film]
    notes: tuple[str, ...]


def fitting_picture(fitting: Through, exaggeration: float, frame: Frame, system: System) -> Picture:
    """Draw a fitting through the shell, its surface laid level.

    Args:
        fitting: To draw.
        exaggeration: How many times thicker than they are layers are drawn.
        frame: Of all details.
        system: Of waterproofing.

    Returns:
        Its picture.
    """
    item = fitting.item
    side = item.size[0] / 2.0
    films = [*fitting.before, *fitting.strips, *fitting.after]
    thick = exaggeration * sum(film.dry for film in films)
    wide = max((film.width or 0.0 for film in fitting.strips), default=0.0)
    half = max(side + item.collar, fitting.start + wide) + max(0.4 * item.collar, 1.2 * thick, 0.04)
    picture = Picture(notes=fitting.notes)
    slab(picture, half, fitting.slab, 2.0 * side)
    picture.lines[:] = [
        (contents.FITTINGS if content is contents.JOINTS else content, points, closed)
        for content, points, closed in picture.lines
    ]
    for work in fitting.work:
        _set_in(picture, work, side, fitting.slab, frame, system)
    ground = flat_ground(-half, half)
    stack, hole = Stack(ground), shapely.box(-side, -1.0, side, 1.0)
    for film in fitting.before:
        lay(picture, stack, film, exaggeration * film.dry, [], hole)
    for text, width in _collars(fitting, half, frame):
        film = Film(text, 0.0, is_sheet=True)
        lay(picture, stack, film, sheet(half), _rings(ground, side, width), hole)
    for film in fitting.strips:
        drawn = sheet(half) if film.is_sheet else exaggeration * film.dry
        bands = _rings(ground, fitting.start, film.width) if film.width else []
        lay(picture, stack, film, drawn, bands, hole)
    for film in fitting.after:
        lay(picture, stack, film, exaggeration * film.dry, [], hole)
    top = stack.top(side + 1e-4)
    for sense in (-1.0, 1.0):
        line = np.array([(sense * side, 0.0), (sense * side, top)])
        picture.lines.append((contents.FITTINGS, line, False))
    picture.lines.append((contents.FITTINGS, np.array([(-side, top), (side, top)]), False))
    down = (0.0, -1.0)
    picture.measures.append(Measure((-side, -fitting.slab), (side, -fitting.slab), down, 0.0))
    if item.collar:
        ends = (-side - item.collar, -fitting.slab), (-side, -fitting.slab)
        picture.measures.append(Measure(*ends, down, 0.0))
    ends = (-half, -fitting.slab), (-half, 0.0)
    picture.measures.append(Measure(*ends, (-1.0, 0.0), 0.0))
    return replace(picture, top=stack.top(half * 0.99))


def _collars(fitting: Through, half: float, frame: Frame) -> Iterator[tuple[str, float]]:
    """Yield what lies about an opening: collars of the rule, else the fitting's own flange."""
    width = fitting.item.collar
    stated = f", {frame.size(width)} wide" if width else ""
    pieces = [work for work in fitting.work if isinstance(work, PieceWork)]
    for piece in pieces:
        text = f"{piece.name or piece.do}: {piece.material}{stated}"
        yield text, width or 4.0 * sheet(half)
    if width and not pieces:
        yield f"flange of the fitting{stated}", width


def _rings(ground: Ground, start: float, width: float) -> list[Band]:
    """Return the bands of a width at either side of an opening or a collar."""
    m = ground.middle
    return [(m - start - width, m - start), (m + start, m + start + width)]


def _set_in(
    picture: Picture, work: Work, side: float, deep: float, frame: Frame, system: System
) -> None:
    """Draw what is set in the concrete about a fitting: beads at its surface, strips inside."""
    if isinstance(work, BeadWork):
        width = work.width or 0.0
        depth = work.depth or system.sealant.depth_of(width)
        areas = [_bead(sense * side, sense * width, depth, work.section) for sense in (1.0, -1.0)]
        text = f"{work.name or work.do}: {work.material}, {frame.size(width)} wide"
        if work.section == "rectangular":
            text += f", {frame.size(depth)} deep"
    elif isinstance(work, RodWork):
        wide = system.roll(work.material).width or 0.0
        middles = side + wide / 2.0, -side - wide / 2.0
        areas = [disc((x, -deep / 2.0), wide, wide) for x in middles]
        text = f"{work.name or work.do}: {work.material}, {frame.size(wide)}"
    else:
        return
    for area in areas:
        points = np.array(area.exterior.coords[:-1])
        picture.lines.append((contents.FINISH_JOINTS, points, True))
        picture.areas.append((contents.FINISH_JOINTS, area))
    picture.callouts.append(Callout(text, areas[0]))


def _bead(x: float, width: float, depth: float, section: str) -> shapely.Polygon:
    """Return a bead in a groove about a fitting; a triangular one stands on the surface."""
    if section == "triangular":
        return shapely.Polygon([(x, 0.0), (x + width, 0.0), (x, abs(width))])
    return shapely.Polygon([(x, 0.0), (x + width, 0.0), (x + width, -depth), (x, -depth)])


@dataclass(frozen=True)
class Head:
    """The head of a wall, to draw.

    Args:
        wall: Width of its top [m].
        freeboard: Height of its top above the water [m].
        returns: Width of the membrane's return; 0 is none [m].
        stone: Width of a coping stone, 0 where there is none [m].
        overhang: What it stands out over the water [m].
        corner: How its inner edge is taken off.
        films: Layers, in their order.
        notes: To stand under it.
    """

    wall: float
    freeboard: float
    returns: float
    stone: float
    overhang: float
    corner: Corner | None
    films: Sequence[Film]
    notes: tuple[str, ...]


def coping_picture(head: Head, exaggeration: float, frame: Frame) -> Picture:
    """Draw the head of a wall: the water at its left, the coping on top.

    Args:
        head: To draw.
        exaggeration: How many times thicker than they are layers are drawn.
        frame: Of all details.

    Returns:
        Its picture.
    """
    corner = head.corner
    piece = None if corner is None else corner_piece(corner.form, corner.size, 270.0)
    low = -head.freeboard - max(0.5 * head.wall, 0.1)
    ground = edge_ground(270.0, piece, 1.0)
    mid = ground.middle
    leg = 0.0 if piece is None else piece.leg
    half = 0.0 if piece is None else piece.girth / 2.0
    # on the wall top the return ends; on the wall's face all is shown down to the break
    ends = mid - half - (head.returns - leg), mid + half + (-low - leg)
    shown = replace(ground, window=(mid - half - (head.wall - leg), ends[1]))
    picture, stack = Picture(notes=head.notes), Stack(shown)
    _wall(picture, head, None if piece is None else piece.points, low)
    if corner is not None and piece is not None:
        named = shapely.LineString(piece.points).buffer(0.002 * head.wall)
        picture.callouts.append(Callout(corner.text, named))
    first = mid - half if head.returns <= 0.0 else ends[0]
    for film in head.films:
        on_top = film.zones is None or bool(set(film.zones) & set(LYING))
        on_face = film.zones is None or bool(set(film.zones) - set(LYING))
        if not on_face and head.returns <= 0.0:
            continue
        band = (first if on_top else mid, FAR_DOWN + ends[1] if on_face else mid)
        lay(picture, stack, film, exaggeration * film.dry, [band])
    top = stack.top(max(0.5 * head.returns, leg + 1e-3))
    out = stack_out(stack, low)
    if head.stone:
        top = _stone(picture, head, top, frame)
    level = -head.freeboard
    left = min(-head.overhang, -out) - 0.25 * head.wall
    line = np.array([(left, level), (-out, level)])
    picture.lines.append((contents.WATER_LEVEL, line, False))
    _head_measures(picture, head, low, left)
    return replace(picture, top=top, level=(-out - 0.01 * head.wall, level))


FAR_DOWN = 1.0
"""[m] Layers on the wall's face go on beyond what is shown."""


def stack_out(stack: Stack, low: float) -> float:
    """Return how far layers stand out from the wall's face [m]."""
    y = low / 2.0
    xs = np.linspace(0.0, 0.5, 501)
    inside = [stack.top(-float(x)) >= y for x in xs[1:]]
    return float(xs[1 + inside.index(False)]) if False in inside else 0.5


def _wall(picture: Picture, head: Head, face: np.ndarray | None, low: float) -> None:
    """Draw the concrete of the wall's head, cut off below."""
    corner = np.zeros((1, 2)) if face is None else face
    right = [np.array((head.wall, low)), np.array((head.wall, 0.0))]
    outline = np.concatenate([np.array(right), corner, np.array([(0.0, low)])])
    cut = break_line(np.array((0.0, low)), np.array((head.wall, low)), 0.04 * head.wall)
    picture.lines.append((contents.CONCRETE, outline, False))
    picture.lines.append((contents.CONCRETE, cut, False))
    ring = np.concatenate([outline, cut[1:-1]])
    picture.areas.append((contents.HATCH, shapely.Polygon(ring).buffer(0)))


def _stone(picture: Picture, head: Head, low: float, frame: Frame) -> float:
    """Draw a coping stone, cut off above as its thickness is not given; return its top [m]."""
    left, right = -head.overhang, head.stone - head.overhang
    high = low + 0.2 * head.wall
    cut = break_line(np.array((right, high)), np.array((left, high)), 0.04 * head.wall)
    sides = np.array([(left, high), (left, low), (right, low), (right, high)])
    content: Content = contents.BUILD_UP
    picture.lines.extend((content, line, False) for line in (sides, cut))
    text = f"coping stone, {frame.size(head.stone)} wide; thickness not stated"
    start = max(head.returns, 0.4 * right)
    area = shapely.box(start, low, max(right, start + 1e-3), high)
    picture.callouts.append(Callout(text, area))
    if head.overhang:
        picture.measures.append(Measure((left, high), (0.0, high), (0.0, 1.0), 0.0))
    return high


def _head_measures(picture: Picture, head: Head, low: float, left: float) -> None:
    down = (0.0, -1.0)
    picture.measures.append(Measure((0.0, low), (head.wall, low), down, 0.0, 1))
    if head.returns > 0.0:
        picture.measures.append(Measure((0.0, low), (head.returns, low), down, 0.0))
    if head.freeboard > 0.0:
        ends = (0.0, -head.freeboard), (0.0, 0.0)
        picture.measures.append(Measure(*ends, (-1.0, 0.0), -left))
