"""What an outline taken from another file holds: closed curves of plain numbers, in metres.

Words: a **side** is a line, an arc, a spline by its control points, or a smooth closed curve
through points; a **loop** is a closed chain of sides, each starting where the one before ends.
"""

from __future__ import annotations

from dataclasses import dataclass

XY = tuple[float, float]


@dataclass(frozen=True)
class BulgedSide:
    """A line, or an arc where ``bulge`` is not 0: tan(included angle / 4), positive anticlockwise.

    Args:
        start: [m].
        end: [m].
        bulge: [-].
    """

    start: XY
    end: XY
    bulge: float = 0.0


@dataclass(frozen=True)
class NurbsSide:
    """A spline by control points.

    Args:
        degree: Of its polynomials.
        knots: Its knots, as many as control points and degree and one more.
        controls: Control points [m].
        weights: One for each control point; all 1 where it is not rational.
    """

    degree: int
    knots: tuple[float, ...]
    controls: tuple[XY, ...]
    weights: tuple[float, ...]


@dataclass(frozen=True)
class ThroughPoints:
    """The smooth closed curve through points (periodic cubic): a loop by itself.

    Args:
        points: Not repeated at the end [m].
    """

    points: tuple[XY, ...]


Side = BulgedSide | NurbsSide | ThroughPoints
Loop = tuple[Side, ...]


def points_of(side: Side) -> tuple[XY, ...]:
    """Return the points by which a side is given [m]."""
    match side:
        case BulgedSide():
            return side.start, side.end
        case NurbsSide():
            return side.controls
    return side.points


@dataclass(frozen=True)
class Tracing:
    """What was read.

    Args:
        loops: The closed curves.
        notes: What to know about the file, as the rules of warnings.
    """

    loops: tuple[Loop, ...] = ()
    notes: tuple[str, ...] = ()
