"""Details where edges meet: a sketch of the corner with its strips and the piece that is set."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import shapely

from ..arrays import Floats
from ..detailing.rows import Detail, Joining
from ..system.details import CornerRule
from ..system.work import PieceWork
from ..works import Works
from . import contents
from .detail_frame import Callout, Picture
from .detail_rules import Job, Named

START = {"inside": -30.0, "outside": 30.0}
"""Sense of a corner -> direction in which its first edge is seen [deg]. With three edges at equal
angles that is the isometric view: into an inside corner, on to an outside one."""

PIECE = 0.9
"""[-] How far the piece is drawn along an edge, to the width of the strips there."""

BARE = 0.1
"""[m] Width that the sketch is made for where no strips are laid."""


def corner_details(job: Job) -> Iterator[Named]:
    """Yield the details of the rules for corners that are used."""
    works = job.works
    if works is None:
        return
    for rule in works.source.system.corners:
        rows = [
            row for row in works.detailing.details
            if row.place == "corner" and row.rule == rule.name
        ]  # fmt: skip
        if rows:
            numbers = {row.number for row in rows}
            mine = [item for item in works.detailing.corners if item.number in numbers]
            yield rule.name, _corner(job, works, rule, mine)


def _corner(job: Job, works: Works, rule: CornerRule, corners: Sequence[Joining]) -> Picture:
    """Draw one corner of those that a rule is for."""
    corner = corners[0]
    runs = set(corner.junction.runs)
    strips = [
        row for row in works.detailing.details
        if row.place == "edge" and row.do == "strip" and row.number in runs and row.size
    ]  # fmt: skip
    strip = max(strips, key=lambda row: row.size, default=None)
    width = BARE if strip is None else strip.size
    reach = 1.8 * width
    ways = _ways(corner.sense, corner.edges)
    sides = list(pairwise([*ways, ways[0]]))
    notes = [job.where("corner", [item.number for item in corners])]
    notes.append("Sketch; lengths along the edges are to scale, the piece is as it is supplied.")
    picture = Picture(notes=tuple(notes))
    for way in ways:
        line = np.array([(0.0, 0.0), reach * way])
        picture.lines.append((contents.CONCRETE, line, False))
    piece = _piece(sides, PIECE * width)
    if strip is not None:
        _strips(picture, sides, strip, reach, job, piece)
    picture.lines.append((contents.BUILD_UP, np.array(piece.exterior.coords[:-1]), True))
    picture.areas.append((contents.BUILD_UP, piece))
    for work in rule.work:
        if isinstance(work, PieceWork):
            count = f", {work.count} at each" if work.count > 1 else ""
            text = f"{work.name or work.do}: {work.material}{count}"
            picture.callouts.append(Callout(text, piece))
    return replace(picture, top=picture.reach[3])


def _ways(sense: str, edges: int) -> list[Floats]:
    first = START.get(sense, -30.0)
    turns = np.radians(first + 360.0 / edges * np.arange(edges))
    return [np.array([math.cos(turn), math.sin(turn)]) for turn in turns]


def _piece(sides: Sequence[tuple[Floats, Floats]], size: float) -> shapely.Polygon:
    """Return the outline of a piece that reaches along all edges."""
    points = [point for u, v in sides for point in (size * u, 0.6 * size * (u + v))]
    return shapely.Polygon(points)


def _strips(
    picture: Picture, sides: Sequence[tuple[Floats, Floats]], strip: Detail, reach: float,
    job: Job, piece: shapely.Polygon,
) -> None:  # fmt: skip
    """Draw strips along the edges, half of each on either face."""
    half = strip.size / 2.0
    parts = []
    for u, v in sides:
        for along, across in ((u, v), (v, u)):
            line = np.array([half * (u + v), reach * along + half * across])
            picture.lines.append((contents.BUILD_UP, line, False))
            parts.append(shapely.Polygon([0.0 * u, reach * along, line[1], line[0]]))
    for way in dict.fromkeys(tuple(u.tolist()) for u, _ in sides):
        ends = [
            part for part in parts if part.distance(shapely.Point(reach * np.array(way))) < 1e-9
        ]
        corners = [np.array(part.exterior.coords)[2] for part in ends]
        picture.lines.append((contents.BUILD_UP, np.array(corners), False))
    text = f"{strip.name}: {strip.material}, {job.frame.size(strip.size)} wide"
    area = shapely.union_all(parts).difference(piece.buffer(1e-6))
    picture.callouts.append(Callout(text, area))
