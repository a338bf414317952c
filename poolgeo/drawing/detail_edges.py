"""Details of edges and coves: two legs of concrete, what is filled in or taken off, the layers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..arrays import Floats
from ..sections import Form
from . import contents
from .detail_frame import Arc, Callout, Measure, Picture
from .detail_parts import Film, about, lay, reach_of, sheet
from .detail_section import (
    Band,
    CornerPiece,
    Ground,
    Stack,
    break_line,
    corner_piece,
    directions,
    edge_ground,
)
from .plan_lines import Place

LEAST = 0.05
"""[m] Length of a leg that is shown at least."""

DEEP = 0.33
"""[-] Depth of concrete that is shown, to the length of its legs."""

LYING = ("wall top", "coping return")
"""Zones of faces that lie on top of a wall: of an edge below one, only the upper face is in it."""


@dataclass(frozen=True)
class Corner:
    """What is filled in at an edge, or taken off it.

    Args:
        text: What the list says of it.
        form: Straight across, or round.
        size: Leg, or radius [m].
    """

    text: str
    form: Form
    size: float


@dataclass(frozen=True)
class Edge:
    """An edge to draw.

    Args:
        angle: Through the water [deg].
        corner: What is filled in or taken off; None where it stays sharp.
        before: Layers under the strips.
        strips: Strips and coats along it.
        after: Layers over them.
        notes: To stand under it.
    """

    angle: float
    corner: Corner | None
    before: Sequence[Film] = ()
    strips: Sequence[Film] = ()
    after: Sequence[Film] = ()
    notes: tuple[str, ...] = ()


def edge_picture(edge: Edge, exaggeration: float) -> Picture:
    """Draw an edge.

    Args:
        edge: To draw.
        exaggeration: How many times thicker than they are layers are drawn.

    Returns:
        Its picture.
    """
    piece = None
    if edge.corner is not None:
        piece = corner_piece(edge.corner.form, edge.corner.size, edge.angle)
    films = [*edge.before, *edge.strips, *edge.after]
    thick = exaggeration * sum(film.dry for film in films)
    reach = _reach(edge, piece, films, thick)
    ground = edge_ground(edge.angle, piece, reach)
    stack, picture = Stack(ground), Picture(notes=edge.notes)
    _concrete(picture, edge.angle, piece, reach)
    if piece is not None and edge.corner is not None:
        picture.callouts.append(Callout(edge.corner.text, _named(piece, edge.angle, reach)))
    for film in films:
        drawn = sheet(reach) if film.is_sheet else exaggeration * film.dry
        lay(picture, stack, film, drawn, about(ground, film) or _top_only(ground, film, edge.angle))
    _measures(picture, edge, piece, reach, thick + 4.0 * sheet(reach))
    if piece is not None and piece.centre is not None:
        at = piece.points[len(piece.points) // 2]
        clear = thick + 4.0 * sheet(reach)
        if edge.angle < 180.0:  # past the corner of the concrete's back
            back = DEEP * reach / math.sin(math.radians(edge.angle / 2.0))
            clear = float(np.linalg.norm(at)) + back
        picture.arcs.append(Arc(piece.centre, _place(at), clear))
    a, _ = directions(edge.angle)
    top = stack.top(float(0.98 * reach * a[0]))
    return replace(picture, top=top)


def _reach(edge: Edge, piece: CornerPiece | None, films: Sequence[Film], thick: float) -> float:
    """Return how long a leg has to be to show all of it [m]."""
    half = piece.girth / 2.0 - piece.leg if piece is not None else 0.0
    wide = reach_of(films) - half
    leg = 0.0 if piece is None else piece.leg
    least = 2.5 * leg if wide <= 0.0 else 1.25 * leg
    return max(1.12 * wide, least, 1.6 * thick if edge.angle < 180.0 else thick, LEAST)


def _named(piece: CornerPiece, angle: float, reach: float) -> shapely.Polygon:
    """Return what a leader points to: the fillet, or the face of the arris."""
    if angle < 180.0:
        return piece.area
    return shapely.LineString(piece.points).buffer(reach * 0.002)


def _top_only(ground: Ground, film: Film, angle: float) -> list[Band]:
    """Return the upper face alone of a layer that only tops of walls take, at an external edge."""
    if angle <= 180.0 or film.zones is None or not set(film.zones) <= set(LYING):
        return []
    return [(ground.window[0] - 1.0, ground.middle)]


def _concrete(picture: Picture, angle: float, piece: CornerPiece | None, reach: float) -> None:
    """Draw two legs of concrete, cut off with breaks."""
    a, b = directions(angle)
    deep = DEEP * reach
    under_a, under_b = np.array([a[1], -a[0]]), np.array([-b[1], b[0]])
    ends = reach * a, reach * b
    backs = ends[0] + deep * under_a, ends[1] + deep * under_b
    taken = piece is not None and angle > 180.0
    face = piece.points if piece is not None and taken else np.zeros((1, 2))
    if angle < 180.0:
        phi = np.radians(angle)
        back = -(a + b) / np.linalg.norm(a + b) * deep / np.sin(phi / 2.0)
        cut = [break_line(backs[1], back, 0.04 * reach), break_line(back, backs[0], 0.04 * reach)]
    else:
        cut = [break_line(backs[1], backs[0], 0.04 * reach)]
    cut = [
        break_line(ends[1], backs[1], 0.04 * reach),
        *cut,
        break_line(backs[0], ends[0], 0.04 * reach),
    ]
    outline = np.concatenate([ends[0][None], face, ends[1][None]])
    picture.lines.append((contents.CONCRETE, outline, False))
    picture.lines.extend((contents.CONCRETE, line, False) for line in cut)
    ring = np.concatenate([outline, *cut])
    picture.areas.append((contents.HATCH, shapely.Polygon(ring).buffer(0)))
    if piece is not None and not taken:
        picture.lines.append((contents.COVE, piece.points, False))


def _measures(
    picture: Picture, edge: Edge, piece: CornerPiece | None, reach: float, thick: float
) -> None:
    """Dimension straight legs of what fills the edge, and how far strips reach on either leg."""
    a, b = directions(edge.angle)
    stops = [] if piece is None or piece.centre is not None else [piece.leg]
    half = piece.girth / 2.0 - piece.leg if piece is not None else 0.0
    wide = [film for film in edge.strips if film.width is not None and not film.is_bed]
    stops += [(film.width or 0.0) / 2.0 + film.offset - half for film in wide]
    stops = sorted({round(stop, 6) for stop in stops if stop > 1e-3})
    # at an external edge the list's leaders stand over leg A: the dimensions stand beside leg B
    legs = [(b, np.array([b[1], -b[0]]), thick)]
    if edge.angle < 180.0:
        deep = DEEP * reach
        legs = [(a, np.array([a[1], -a[0]]), deep), (b, np.array([-b[1], b[0]]), deep)]
    for way, side, clear in legs:
        ends = [_place(stop * way) for stop in stops]
        rows = [Measure((0.0, 0.0), end, _place(side), clear, k) for k, end in enumerate(ends)]
        picture.measures.extend(rows)


def _place(point: Floats) -> Place:
    return float(point[0]), float(point[1])
