"""The cove: strips of cells lofted along wall lines.

A **strip** is the cove along one roll of one side over one piece of the floor: a grid of
columns (sections) by rings (equal shares of the section's angle). Strips join smoothly, or in the
mitre of an inside corner or of a break of the floor. A **group** is a chain of strips that joins
smoothly over one piece of floor along one side; a change of group is where a cove run ends.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

import numpy as np
import shapely

from ..arrays import Floats, Ints
from .canal import PLUMB, Batter, Canal, PiecesOverlapError, Size
from .cells import Cells
from .floor import Floor
from .loft import Loft
from .ring import signed_area
from .roll_groups import number_groups, number_walls, part_single_mitre
from .rolled import (
    CoveMisfitError,
    Roll,
    WallLine,
    bends_of,
    rolls_of,
    set_swings,
)
from .shapes import crossings
from .strips import Strip, join
from .tolerances import GRID, SECTION_TURN

THINNEST = 0.1
"""[-] Share of the tolerance by which the first ring of a cove stands off its wall at least,
however small the radius is."""

CROSSED = 1e-7
"""[m2] More area than this on the wrong side of a line is no rounding."""


FREE = 0.985
"""[-] Share of its radius that a ball's centre must keep from all walls: chords of its own wall, on
the inside of a curve, come nearer than that by themselves."""

FREE_GROWING = 0.85
"""[-] The same where the radius grows along the wall: the ball touches it a little ahead of, or
behind, where it is asked."""

STILL = 4.0 * GRID
"""[m] A ball in a corner cove of its own radius stands still, but for rounding."""


BESIDE_FLOOR = 1e-3
"""[m] More than this, and the tolerance, a cove does not stand off the floor that it meets: on a
floor that slopes by 1 in 1 so far is beside a break line what welding may move."""


WITHIN = (0.0, 0.25, 0.5, 0.75, 1.0)
"""[-] Shares of a foot's chord at which it is compared with the floor, among others."""


def ring_count(radius: float, tolerance: float) -> int:
    """Return the parts of a section: chords within the tolerance and the turn of a section."""
    turn = min(2.0 * math.acos(max(0.0, 1.0 - tolerance / radius)), SECTION_TURN)
    turn = max(turn, math.sqrt(2.0 * THINNEST * tolerance / radius))
    return math.ceil(math.pi / 2.0 / turn)


def _rings(size: Size, tolerance: float, *, straight: bool) -> int:
    """Return the parts of a section: none without a cove, one in a fillet."""
    if size.largest == 0.0:
        return 0
    return 1 if straight else ring_count(size.largest, tolerance)


def cove_cells(
    lines: Sequence[WallLine],
    floor: Floor,
    size: Size,
    tolerance: float,
    *,
    closed: bool = True,
    straight: bool = False,
    batter: Batter = PLUMB,
    touches: shapely.Geometry | None = None,
    run_on: tuple[float, float] = (0.0, 0.0),
) -> Cells:
    """Loft the cove along wall lines.

    Args:
        lines: Water on the left; a closed line does not repeat its first point.
        floor: The floor under them.
        size: Of the ball.
        tolerance: Largest distance of a chord from the surface [m].
        closed: Whether the lines are closed. Open ones end in plain sections.
        straight: Whether the section is straight from contact to contact: a fillet.
        batter: How the walls lean.
        touches: What the ball must not touch elsewhere; the lines themselves where not given.
        run_on: How far an open line runs on into other walls at its start and at its end [m].

    Returns:
        The cells of all lines.

    Raises:
        CoveMisfitError: The ball does not fit somewhere.
    """
    try:
        canal = Canal.on(floor, size, batter, straight=straight)
    except PiecesOverlapError as error:
        raise CoveMisfitError(str(error), lines[0].points[0]) from error
    rings = _rings(size, tolerance, straight=straight)
    chains = [_chain(canal, line, tolerance, closed=closed) for line in lines]
    strips = [join(canal, item, rings, closed=closed) for item in chains]
    groups = _number(strips, closed=closed)
    room = touches
    if room is None:
        shape = shapely.LinearRing if closed else shapely.LineString
        room = shapely.union_all([shape(line.points) for line in lines])
    for line, chain in zip(lines, chains, strict=True):
        ends = shapely.points(line.points[[0, -1]])
        in_walls = shapely.union_all(shapely.buffer(ends, 2.0 * np.array(run_on)))
        _check_room(canal, room, in_walls, chain, tolerance)
    cells = Loft(canal, rings, groups, closed=closed).run(strips)
    if closed and rings:
        feet = [cells.vertices[ids, :2] for ids in cells.floors]
        for foot in feet:
            _check_foot(foot)
        _check_apart(feet)
    _check_rests(cells, tolerance + BESIDE_FLOOR)
    return cells


def _chain(canal: Canal, line: WallLine, tolerance: float, *, closed: bool) -> list[Roll]:
    """Cut a wall line into rolls."""
    rolls = rolls_of(canal, line, closed=closed)
    if closed:
        rolls = part_single_mitre(rolls)
    if not canal.floor.is_level and not canal.batter.lean:
        set_swings(canal, rolls, tolerance)
    for item in rolls:
        item.touches += bends_of(canal, item, tolerance)
    return rolls


def _number(chains: list[list[Strip]], *, closed: bool) -> int:
    """Number the rolls of strips; return how many groups of coves they make."""
    groups = 0
    for chain in chains:
        groups = number_groups([strip.roll for strip in chain], groups, closed=closed)
    walls = groups
    for chain in chains:
        walls = number_walls([strip.roll for strip in chain], walls, closed=closed)
    return groups


def _check_rests(cells: Cells, least: float) -> None:
    """Check that the cove meets the floor where it is, and not where a piece of it would go on.

    Args:
        cells: The cove.
        least: How far off the floor it must not be [m].

    Raises:
        CoveMisfitError: Its ball has not noticed that the floor breaks.
    """
    lines = [cells.vertices[line] for line in cells.floors]
    chords = np.concatenate([np.stack([line[:-1], line[1:]], axis=1) for line in lines])
    which, share = _compared(cells.canal.floor, chords[..., :2])
    feet = chords[which, 0] + share[:, None] * (chords[which, 1] - chords[which, 0])
    off = np.abs(feet[:, 2] - cells.canal.floor.height(feet[:, :2]))
    if off.max(initial=0.0) > least:
        reason = "a break line of the floor runs too close to the wall for it"
        raise CoveMisfitError(reason, feet[int(np.argmax(off)), :2])


def _compared(floor: Floor, chords: Floats) -> tuple[Ints, Floats]:
    """Return where a foot's chords (k, 2, 2) are compared with the floor.

    At shares of their length, where they cross breaks, and half way between all these: a curved
    piece that comes under one in its middle is found, too.

    Returns:
        Which chord, and the share of its length.
    """
    breaks, _ = floor.breaks
    tree = shapely.STRtree(shapely.linestrings(breaks))
    on, other = tree.query(shapely.linestrings(chords), predicate="intersects")
    (a, b), (p, q) = (item.transpose(1, 0, 2) for item in (chords[on], breaks[other]))
    meet, at, _ = crossings(a, b - a, p, q - p)
    which = np.concatenate([on[meet], np.tile(np.arange(len(chords)), len(WITHIN))])
    share = np.concatenate([at[meet], np.repeat(WITHIN, len(chords))])
    order = np.lexsort((share, which))
    which, share = which[order], share[order]
    follows = np.flatnonzero(which[1:] == which[:-1])
    middle = (share[follows] + share[follows + 1]) / 2.0
    return np.concatenate([which, which[follows]]), np.concatenate([share, middle])


def _check_foot(line: Floats) -> None:
    """Check that the line along which the cove meets the floor touches itself at most.

    Raises:
        CoveMisfitError: It crosses itself, and so runs the wrong way round part of its inside.
    """
    if len(line) < 4 or shapely.LineString(line).is_simple:
        return
    area = abs(signed_area(line))
    parts = shapely.get_parts(shapely.make_valid(shapely.Polygon(line)))
    areas = shapely.area(parts)
    if areas.sum() - area > CROSSED:
        reason = "a break line of the floor runs too close to a corner for it"
        raise CoveMisfitError(reason, shapely.get_coordinates(parts[int(np.argmin(areas))])[0])


def _check_apart(feet: Sequence[Floats]) -> None:
    """Check that no cove meets the floor within another, as beside an island.

    Raises:
        CoveMisfitError: One does: over a break of the floor a cove reaches farther than its ball.
    """
    lines = [shapely.LineString(foot) for foot in feet if len(foot) > 1]
    for one, other in combinations(lines, 2):
        if shapely.crosses(one, other):
            reason = "the water is too narrow for it"
            place = shapely.get_coordinates(shapely.intersection(one, other))[0]
            raise CoveMisfitError(reason, place)


def _check_room(
    canal: Canal,
    walls: shapely.Geometry,
    in_walls: shapely.Geometry,
    chain: list[Roll],
    tolerance: float,
) -> None:
    """Check that the ball touches the walls it rolls along and no other.

    Args:
        canal: The ball on its floor.
        walls: The walls.
        in_walls: Where it runs on into other walls.
        chain: The rolls of one line.
        tolerance: How far the walls' chords may be from their curves [m].

    Raises:
        CoveMisfitError: It does not.
    """
    shapely.prepare(walls)
    for item in chain:
        inner = item.side.s[(item.side.s > item.start) & (item.side.s < item.stop)]
        s = np.concatenate([[item.start], inner, [item.stop]])
        p, n = item.side.at(s)
        o, radii = canal.over(p, n, item.piece), canal.radius_at(p)[..., 0]
        if not item.side.pivot:
            along = np.diff(p, axis=0)
            steps = np.sum(np.diff(o, axis=0) * along, axis=1)
            if np.any(steps < -STILL * np.hypot(*along.T)):
                reason = "the plan curve is tighter than its radius"
                if canal.batter.lean:
                    reason = "the plan curve is too tight for a wall that leans so"
                raise CoveMisfitError(reason, p[int(np.argmin(steps))])
        heights = canal.points(p, n, item.piece, np.zeros(1))[:, 2]
        if canal.batter.lean and heights.max() >= canal.batter.top:
            reason = "the wall is lower than it"
            raise CoveMisfitError(reason, p[int(np.argmax(heights))])
        room = radii * (FREE if canal.is_even else FREE_GROWING) - tolerance
        tight = shapely.dwithin(walls, shapely.points(o), room)
        tight &= ~shapely.intersects(in_walls, shapely.points(p))
        if tight.any():
            tightest = np.argmin(shapely.distance(walls, shapely.points(o)))
            reason = "the water is too narrow for it"
            raise CoveMisfitError(reason, p[int(tightest)])
