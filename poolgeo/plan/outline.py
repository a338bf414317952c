"""From the outline of a pool file to its ring, and to the rings of its holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..arrays import Floats
from ..design import schema
from ..errors import Finding, Key, PoolFileError
from .combine import Operand, TornError, combined, without_effect
from .curves import Piece
from .ring import Ring, ring_of
from .rounding import Corners, rounded
from .sides import loops_of

LEAST_AREA = 0.01
"""[m2] An outline that encloses less is a slip, or a unit mistaken."""

CLEAR = 1e-3
"""[m] Outlines that come nearer to each other than this touch, for whoever builds them."""

FARTHEST_ACROSS = 1000.0
"""[m] The largest outline; guards the geometry from a unit mistaken."""


@dataclass(frozen=True)
class Outline:
    """An outline with its holes.

    Args:
        ring: The outline.
        holes: Rings within it, anticlockwise like the outline.
        notes: What to know about the files that it was read from, as the rules of warnings.
    """

    ring: Ring
    holes: tuple[Ring, ...] = ()
    notes: tuple[tuple[Key, str], ...] = ()


def outline_of(
    outline: schema.Outline,
    tolerance: float,
    key: Key,
    corners: Corners | None = None,
    *,
    is_island: bool = False,
) -> Outline:
    """Return an outline with its holes.

    It is refused with a `PoolFileError` where it crosses or touches itself, lists a point twice,
    encloses nothing or consists of several parts, or where a corner radius does not fit its sides.

    Args:
        outline: From the pool file.
        tolerance: Largest distance of a chord from the curve [m].
        key: Where the outline stands in the file, for findings.
        corners: What is wanted in its inside corners.
        is_island: Whether the water lies round it.
    """
    if isinstance(outline, schema.Combined):
        loops, notes = _combined(outline, tolerance, key)
        remedy = "join the parts by a shape between them, or subtract less"
    else:
        loops, notes = loops_of(outline, key), _notes(outline, key)
        remedy = "keep other curves off its layer"
    rings = [ring_of(loop, tolerance) for loop in loops]
    for ring in rings:
        _check_simple(ring, key)
    order = sorted(range(len(rings)), key=lambda k: -rings[k].polygon.area)
    if corners:
        rings = [
            with_rounds(
                rings[k], loops[k], corners, tolerance, is_hole=(k != order[0]) != is_island
            )
            for k, ring in enumerate(rings)
        ]
    ring, *holes = (rings[k] for k in order)
    _check_holes(ring, holes, key, remedy)
    return Outline(ring, tuple(holes), tuple(notes))


def pieces_of(outline: schema.Outline, tolerance: float, key: Key) -> list[list[Piece]]:
    """Return the true curves of an outline and of its holes, as closed chains of pieces.

    Args:
        outline: From the pool file; one that `outline_of` does not refuse.
        tolerance: Largest distance of a chord from the curve [m].
        key: Where it stands in the file.
    """
    if isinstance(outline, schema.Combined):
        return _combined(outline, tolerance, key)[0]
    return loops_of(outline, key)


def with_rounds(
    ring: Ring, loop: Sequence[Piece], corners: Corners, tolerance: float, *, is_hole: bool = False
) -> Ring:
    """Return a ring with its inside corners rounded by corner coves.

    Args:
        ring: The ring.
        loop: The pieces that it was made of.
        corners: What is wanted in its corners.
        tolerance: Largest distance of a chord from the curve [m].
        is_hole: Whether the water lies outside the ring.

    Returns:
        The ring; itself where it has no such corner.
    """
    pieces, whole, rounds = rounded(loop, corners, tolerance, is_hole=is_hole)
    if not rounds:
        return ring
    return replace(ring_of(pieces, tolerance), rounds=rounds, sharp=ring_of(whole, tolerance))


def outline_ring(
    outline: schema.Outline,
    tolerance: float,
    key: Key,
    corners: Corners | None = None,
    *,
    is_island: bool = False,
) -> Ring:
    """Return an outline that may have no holes as a ring; see `outline_of`.

    Args:
        outline: From the pool file.
        tolerance: Largest distance of a chord from the curve [m].
        key: Where the outline stands in the file, for findings.
        corners: What is wanted in its inside corners, seen from the water.
        is_island: Whether the water lies round it.

    Returns:
        The ring.

    Raises:
        PoolFileError: It has holes, or something else is wrong with it.
    """
    found = outline_of(outline, tolerance, key, corners, is_island=is_island)
    if found.holes:
        x, y = found.holes[0].points[0]
        rule = "must have no holes: only the pool's own outline may have islands"
        raise PoolFileError(
            [Finding(key, rule, f"a hole near ({x:.3f}, {y:.3f}) m", "fill it, or open it")]
        )
    return found.ring


def _combined(
    outline: schema.Combined, tolerance: float, key: Key
) -> tuple[list[list[Piece]], list[tuple[Key, str]]]:
    """Return the loops that shapes leave together."""
    shapes, keys, notes = [], [], []
    for i, part in enumerate(outline.parts):
        adds = part.add is not None
        shape = part.shape
        here = (*key, "parts", i, "add" if adds else "subtract")
        loops = loops_of(shape, here)
        for loop in loops:
            _check_simple(ring_of(loop, tolerance), here)
        shapes.append(Operand(adds, loops))
        keys.append(here)
        notes += _notes(shape, here)
    is_left, idle = without_effect(shapes)
    if not is_left:
        rule, remedy = "must leave some water", "subtract less"
        came = "what is subtracted covers all that is added"
        raise PoolFileError([Finding((*key, "parts"), rule, came, remedy)])
    if idle:
        raise PoolFileError([_idle(keys[k], adds=shapes[k].adds) for k in idle])
    try:
        return combined(shapes), notes
    except TornError as error:
        raise PoolFileError([_torn(error, (*key, "parts"))]) from None


def _idle(key: Key, *, adds: bool) -> Finding:
    rule = "must change the outline"
    came = "it lies within the others, or is wholly taken away again" if adds else (
        "it takes nothing away that stays"
    )  # fmt: skip
    return Finding(key, rule, came, "move it, or leave it out")


def _torn(error: TornError, key: Key) -> Finding:
    x, y = error.place
    where = f"near ({x:.3f}, {y:.3f}) m"
    if error.touches:
        rule = "must leave an outline that does not touch itself"
        return Finding(key, rule, f"it does {where}", "let the shapes overlap, or keep them apart")
    rule = "must cross each other plainly, run along each other or keep apart"
    remedy = "move one of the shapes by a few millimetres"
    return Finding(key, rule, f"two nearly touch {where}", remedy)


def _notes(shape: schema.Outline, key: Key) -> list[tuple[Key, str]]:
    if not isinstance(shape, schema.Traced):
        return []
    return [((*key, "file"), note) for note in shape.tracing.notes]


def _check_simple(ring: Ring, key: Key) -> None:
    polygon = ring.polygon
    if not polygon.is_valid:
        reason = shapely.is_valid_reason(polygon)
        place = reason[reason.find("[") + 1 : -1].split()
        where = f" near ({float(place[0]):.3f}, {float(place[1]):.3f}) m" if len(place) > 1 else ""
        rule, remedy = (
            "must not cross or touch itself",
            "check the order of the points and the size of the bulges",
        )
        raise PoolFileError([Finding(key, rule, f"a crossing{where}", remedy)])
    if polygon.area < LEAST_AREA:
        rule, remedy = f"must enclose at least {LEAST_AREA} m2", "check the units and the points"
        raise PoolFileError([Finding(key, rule, f"{polygon.area:.6f} m2", remedy)])
    across = float(np.ptp(ring.points, axis=0).max())
    if across > FARTHEST_ACROSS:
        rule = f"must be at most {FARTHEST_ACROSS:.0f} m across"
        raise PoolFileError([Finding(key, rule, f"{across:.0f} m", "check the units")])


def _check_holes(ring: Ring, holes: Sequence[Ring], key: Key, remedy: str) -> None:
    """All other rings must lie in the largest, clear of it and of each other."""
    findings = []
    for k, hole in enumerate(holes):
        if not shapely.contains_xy(ring.polygon, *_inner(hole)):
            rule, came = "must be one closed curve, and its islands within it", "another part"
            findings.append(Finding(key, rule, f"{came} {_place(hole)}", remedy))
        elif any(shapely.contains_xy(other.polygon, *_inner(hole)) for other in holes[:k]):
            rule, came = "must have no water within its islands", "a curve within another"
            findings.append(Finding(key, rule, f"{came} {_place(hole)}", remedy))
        for other in (ring, *holes[:k]):
            gap = float(shapely.distance(hole.polygon.exterior, other.polygon.exterior))
            if gap < CLEAR:
                (x, y), *_ = shapely.get_coordinates(
                    shapely.shortest_line(hole.polygon.exterior, other.polygon.exterior)
                )
                rule = f"must have curves at least {CLEAR * 1000.0:.0f} mm clear of each other"
                came = f"{gap * 1000.0:.3f} mm near ({x:.3f}, {y:.3f}) m"
                apart = "let the shapes overlap, or keep them apart"
                findings.append(Finding(key, rule, came, apart))
    if findings:
        raise PoolFileError(findings)


def _inner(ring: Ring) -> Floats:
    point: Floats = shapely.get_coordinates(shapely.point_on_surface(ring.polygon))[0]
    return point


def _place(ring: Ring) -> str:
    x, y = ring.points[0]
    return f"near ({x:.3f}, {y:.3f}) m"
