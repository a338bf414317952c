"""Details on level ground: the build-up itself, joints of the structure and of the finish."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely

from ..design.finishes import LAID, Finish
from ..design.sealant import SealantDepth
from ..jointing.rows import FinishJoint
from ..system.schema import System
from ..system.work import BeadWork, RodWork, Work
from . import contents
from .detail_frame import Callout, Frame, Measure, Picture
from .detail_parts import Film, about, lay, reach_of, sheet
from .detail_section import Stack, break_line, disc, flat_ground

DEEP = 0.5
"""[-] Depth of concrete that is shown, to half of the picture's width."""

LEAST = 0.04
"""[m] Half of the width that is shown at least."""


def slab(picture: Picture, half: float, deep: float, gap: float = 0.0) -> None:
    """Draw level concrete, cut off with breaks, with a gap in its middle where one is.

    Args:
        picture: It is drawn there.
        half: Half of the width that is shown [m].
        deep: Depth that is shown [m].
        gap: Width of the gap [m].
    """
    for sense in (-1.0, 1.0) if gap else (1.0,):
        near, far = (sense * gap / 2.0, sense * half) if gap else (-half, half)
        ends = [(near, 0.0), (far, 0.0), (far, -deep), (near, -deep)]
        cut = [break_line(np.array(ends[1]), np.array(ends[2]), 0.03 * half),
               break_line(np.array(ends[2]), np.array(ends[3]), 0.03 * half)]  # fmt: skip
        edge = [np.array(ends[3]), np.array(ends[0])]
        cut.append(np.array(edge) if gap else break_line(edge[0], edge[1], 0.03 * half))
        ring = np.concatenate([np.array(ends[:2]), *cut])
        picture.lines.append((contents.CONCRETE, np.array(ends[:2]), False))
        content = [contents.CONCRETE, contents.CONCRETE, contents.JOINTS if gap else None]
        for line, which in zip(cut, content, strict=True):
            picture.lines.append((which or contents.CONCRETE, line, False))
        picture.areas.append((contents.HATCH, shapely.Polygon(ring).buffer(0)))


def joint_picture(
    gap: float, work: Sequence[Work], films: tuple[Sequence[Film], Sequence[Film], Sequence[Film]],
    exaggeration: float, frame: Frame, system: System | None, notes: tuple[str, ...],
) -> Picture:  # fmt: skip
    """Draw a movement joint of the structure.

    Args:
        gap: Its width [m].
        work: What is done along it.
        films: Layers before the strips, strips, layers after.
        exaggeration: How many times thicker than they are layers are drawn.
        frame: Of all details.
        system: Of waterproofing, where there is one.
        notes: To stand under it.

    Returns:
        Its picture.
    """
    before, strips, after = films
    thick = exaggeration * sum(film.dry for film in (*before, *strips, *after))
    half = max(1.12 * reach_of(strips), 1.2 * thick, 2.5 * gap, LEAST)
    picture = Picture(notes=notes)
    ground = flat_ground(-half, half)
    stack = Stack(ground)
    hole = shapely.box(-gap / 2.0, -1.0, gap / 2.0, 1.0)
    for film in before:
        lay(picture, stack, film, exaggeration * film.dry, [], hole)
    depth, filled = _filling(picture, gap, work, system, frame)
    if not work:
        text = f"gap between two parts of the structure, {frame.size(gap)} wide"
        area = shapely.box(-gap / 2.0, -0.5 * half, gap / 2.0, 0.0)
        picture.callouts.append(Callout(text, area))
    deep = max(DEEP * half, 1.5 * filled, 2.0 * gap)
    slab(picture, half, deep, gap)
    for film in (*strips, *after):
        drawn = sheet(half) if film.is_sheet else exaggeration * film.dry
        lay(picture, stack, film, drawn, about(ground, film), None if work else hole)
    _joint_measures(picture, gap, depth, strips, half, deep)
    top = max(stack.top(0.0), stack.top(0.9 * half))
    return replace(picture, top=top, one_side=False)


def _joint_measures(
    picture: Picture, gap: float, depth: float, strips: Sequence[Film], half: float, deep: float
) -> None:
    """Dimension gap, depth of the sealant, and strips."""
    side, down = gap / 2.0, (0.0, -1.0)
    picture.measures.append(Measure((-side, -deep), (side, -deep), down, 0.0))
    if depth:
        ends = (-side, 0.0), (-side, -depth)
        picture.measures.append(Measure(*ends, (-1.0, 0.0), half - side))
    wide = [film for film in strips if film.width is not None and film.is_sheet]
    for row, film in enumerate(wide, 1):
        reach = (film.width or 0.0) / 2.0
        ends = (film.offset - reach, 0.0), (film.offset + reach, 0.0)
        picture.measures.append(Measure(*ends, down, deep, row))


def _filling(
    picture: Picture, gap: float, work: Sequence[Work], system: System | None, frame: Frame
) -> tuple[float, float]:
    """Draw beads and rods in a gap, and return how deep the beads and all of it reach [m]."""
    rule = SealantDepth() if system is None else system.sealant
    beads = [item for item in work if isinstance(item, BeadWork)]
    depth = max((item.depth or rule.depth_of(gap) for item in beads), default=0.0)
    filled = depth
    for item in work:
        if isinstance(item, BeadWork | RodWork):
            filled = max(filled, _fill(picture, item, gap, depth, system, frame))
    return depth, filled


def _fill(
    picture: Picture, item: BeadWork | RodWork, gap: float, depth: float, system: System | None,
    frame: Frame,
) -> float:  # fmt: skip
    """Draw a bead or a rod in a gap, and return how deep it reaches [m]."""
    name = item.name or item.do
    if isinstance(item, BeadWork):
        reach = item.depth or depth
        area = shapely.box(-gap / 2.0, -reach, gap / 2.0, 0.0)
        text = f"{name}: {item.material}, {frame.size(gap)} wide, {frame.size(reach)} deep"
        picture.areas.append((contents.FINISH_JOINTS, area))
    else:
        width = (system.roll(item.material).width if system else None) or gap
        tall = width * width / gap if width > gap else width  # squeezed, its area stays
        reach = depth + tall
        area = disc((0.0, -depth - tall / 2.0), min(gap, width), tall)
        text = f"{name}: {item.material}, {frame.size(width)}"
    points = np.array(area.exterior.coords[:-1])
    picture.lines.append((contents.FINISH_JOINTS, points, True))
    picture.callouts.append(Callout(text, area))
    return reach


def finish_parts(finish: Finish, frame: Frame) -> Iterator[tuple[str, float]]:
    """Yield what a finish is made of, from the membrane on: a text, and its thickness [m]."""
    if finish.type in LAID and finish.tile is not None:
        bed, tile = finish.bed.thickness, finish.tile
        yield f"adhesive bed, {frame.size(bed)}", bed
        of = f"{frame.size(tile.length)} by {frame.size(tile.width)} by "
        yield f"{finish.name}: {of}{frame.size(tile.thickness)}", tile.thickness
    elif finish.thickness is not None:
        name = finish.name if finish.name == finish.type else f"{finish.name}: {finish.type}"
        yield f"{name}, {frame.size(finish.thickness)}", finish.thickness


def build_up_picture(
    films: Sequence[Film], finish: Finish | None, exaggeration: float, frame: Frame,
    notes: tuple[str, ...],
) -> Picture:  # fmt: skip
    """Draw the build-up on level ground, all of it thicker than it is.

    Args:
        films: Layers, in their order.
        finish: What lies on them.
        exaggeration: How many times thicker than they are they are drawn.
        frame: Of all details.
        notes: To stand under it.

    Returns:
        Its picture.
    """
    more = [Film(text, size) for text, size in finish_parts(finish, frame)] if finish else []
    thick = exaggeration * sum(film.dry for film in (*films, *more))
    half = max(1.1 * thick, LEAST)
    picture, stack = Picture(notes=notes), Stack(flat_ground(-half, half))
    slab(picture, half, DEEP * half)
    for film in (*films, *more):
        lay(picture, stack, film, exaggeration * film.dry, [])
    joint = finish.joint if finish is not None and finish.tile is not None else None
    if joint:
        _grouted(picture, joint * exaggeration)
    return replace(picture, top=stack.top(0.0))


def _grouted(picture: Picture, joint: float) -> None:
    """Draw a grout joint through the tile, which was laid last."""
    _, low, _, high = picture.callouts[-1].area.bounds
    half = picture.callouts[-1].area.bounds[2]
    for x in (-half / 2.0, -half / 2.0 + min(joint, half / 2.0)):
        picture.lines.append((contents.BUILD_UP, np.array([(x, low), (x, high)]), False))


def finish_joint_picture(
    joint: FinishJoint, finish: Finish, films: Sequence[Film], exaggeration: float, frame: Frame,
    sealant: str, notes: tuple[str, ...], gap: float = 0.0,
) -> Picture:  # fmt: skip
    """Draw a movement joint of the finish: bed, tile and sealant to scale, over the membrane.

    Args:
        joint: Of the finish.
        finish: That it is in.
        films: Layers of the membrane.
        exaggeration: How many times thicker than they are those are drawn.
        frame: Of all details.
        sealant: Name of the sealant.
        notes: To stand under it.
        gap: Of the joint of the structure under it; 0 where there is none [m].

    Returns:
        Its picture.
    """
    parts = list(finish_parts(finish, frame))
    thick = exaggeration * sum(film.dry for film in films)
    total = sum(size for _, size in parts)
    half = max(3.0 * joint.width, 2.5 * gap, 1.2 * thick, 2.0 * total, 0.03)
    picture, stack = Picture(notes=notes), Stack(flat_ground(-half, half))
    slab(picture, half, DEEP * half, gap)
    for film in films:
        lay(picture, stack, film, exaggeration * film.dry, [])
    side = joint.width / 2.0
    hole = shapely.box(-side, -1.0, side, 1.0)
    low = stack.top(0.0)
    for text, size in parts:
        lay(picture, stack, Film(text, size), size, [], hole)
    high = low + total
    depth = min(joint.depth, total)
    seal = shapely.box(-side, high - depth, side, high)
    _backing(picture, joint, (low, high - depth), frame)
    text = f"{sealant}: {frame.size(joint.width)} wide, {frame.size(depth)} deep"
    _filled(picture, text, seal)
    picture.areas.append((contents.FINISH_JOINTS, seal))
    base = DEEP * half
    across = (-side, low), (side, low)
    picture.measures.append(Measure(*across, (0.0, -1.0), base + low))
    down = (-side, high), (-side, high - depth)
    picture.measures.append(Measure(*down, (-1.0, 0.0), half - side))
    return replace(picture, top=high, one_side=False)


def _backing(picture: Picture, joint: FinishJoint, room: tuple[float, float], frame: Frame) -> None:
    """Draw the rod under a joint's sealant, or a bond breaker where there is no room for one."""
    low, high = room
    side, tall = joint.width / 2.0, joint.rod**2 / joint.width
    if high - low >= tall:
        text = f"backer rod, {frame.size(joint.rod)}"
        _filled(picture, text, disc((0.0, high - tall / 2.0), joint.width, tall))
        return
    text = f"bond breaker: there is no room for a rod of {frame.size(joint.rod)}"
    top = max(high, low + sheet(side))
    _filled(picture, text, shapely.box(-side, low, side, top))


def _filled(picture: Picture, text: str, area: shapely.Polygon) -> None:
    points = np.array(area.exterior.coords[:-1])
    picture.lines.append((contents.FINISH_JOINTS, points, True))
    picture.callouts.append(Callout(text, area))
