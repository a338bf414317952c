"""Symbols of fittings on the plan: strokes about the place, in text heights.

On a face that stands, x points out of the wall into the water; on one that lies, along the
opening's width.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from poolgeo.design.fittings import FittingKind
from poolgeo.design.lengths import Units, format_length
from poolgeo.placed import SLANT, Placed, rim_of

from .plan_lines import Place, PlanLine, Projection

REACH = 0.6
"""Half of a symbol's size, in text heights."""


@dataclass(frozen=True)
class Symbol:
    """Strokes of one symbol.

    Args:
        lines: Polylines.
        rings: Circles: middle and radius.
        closed: Whether the polylines are closed.
    """

    lines: tuple[tuple[Place, ...], ...] = ()
    rings: tuple[tuple[float, float, float], ...] = ()
    closed: bool = False


_SQUARE = ((-0.6, -0.6), (0.6, -0.6), (0.6, 0.6), (-0.6, 0.6))
_DIAMOND = ((-0.6, 0.0), (0.0, -0.6), (0.6, 0.0), (0.0, 0.6))
_DOT = (0.0, 0.0, 0.3)

SYMBOLS: Mapping[FittingKind, Symbol] = MappingProxyType(
    {
        "main drain": Symbol((_SQUARE,), (_DOT,), closed=True),
        "return inlet": Symbol((((0.0, -0.45), (0.6, 0.0), (0.0, 0.45)),), closed=True),
        "light niche": Symbol(
            (((-0.42, -0.42), (0.42, 0.42)), ((-0.42, 0.42), (0.42, -0.42))), ((0.0, 0.0, 0.6),)
        ),
        "skimmer": Symbol(
            (((-0.6, -0.6), (0.0, -0.6), (0.0, 0.6), (-0.6, 0.6)), ((0.0, 0.0), (-0.6, 0.0))),
            closed=True,
        ),
        "relief valve": Symbol(
            (((-0.42, -0.42), (0.42, -0.42), (0.0, 0.6)),), ((0.0, 0.0, 0.6),), closed=True
        ),
        "cleaner point": Symbol((), (_DOT, (0.0, 0.0, 0.6))),
        "spa jet": Symbol(
            (((0.0, 0.0), (0.6, 0.0)), ((0.0, 0.0), (0.5, 0.4)), ((0.0, 0.0), (0.5, -0.4)))
        ),
        "rail socket": Symbol((((-0.6, 0.0), (0.6, 0.0)), ((0.0, -0.6), (0.0, 0.6))), (_DOT,)),
        "ladder": Symbol((((-0.6, -0.3), (-0.6, 0.3)), ((0.6, -0.3), (0.6, 0.3))), (_DOT,)),
        "overflow drain": Symbol((_SQUARE, ((-0.6, 0.0), (0.6, 0.0))), closed=True),
        "fitting": Symbol((_DIAMOND,), closed=True),
    }
)
"""Kind of fitting -> its symbol."""


@dataclass(frozen=True)
class Insert:
    """A symbol on the plan, in drawing units.

    Args:
        kind: Of fitting.
        place: Where.
        angle: Turn of the symbol [deg].
        texts: What the drawing knows of the fitting, by tag.
    """

    kind: FittingKind
    place: Place
    angle: float
    texts: Mapping[str, str] = field(default_factory=dict)


TAGS = ("NUMBER", "KIND", "NAME", "BODY", "SURFACE", "DEPTH", "OPENING", "COLLAR")
"""What a drawing knows of each fitting."""


def block_name(kind: str) -> str:
    """Return the name of a kind's block: ``POOL-MAIN-DRAIN``."""
    return "POOL-" + kind.upper().replace(" ", "-")


def inserts(fittings: Iterable[Placed], projection: Projection, units: Units) -> Iterator[Insert]:
    """Yield the symbols of fittings."""
    for item in fittings:
        way = item.across if item.normal[2] > SLANT else item.normal
        angle = float(np.degrees(np.arctan2(way[1], way[0])))
        sizes = item.size[:1] if item.is_round else item.size
        opening = " x ".join(format_length(size, units) for size in sizes)
        lengths = format_length(item.depth, units), opening, format_length(item.collar, units)
        texts = (item.number, item.kind, item.name, item.body, item.surface, *lengths)
        yield Insert(
            item.kind,  # type: ignore[arg-type]
            projection.place(item.point),
            angle,
            dict(zip(TAGS, texts, strict=True)),
        )


def collar_lines(fittings: Iterable[Placed], projection: Projection) -> Iterator[PlanLine]:
    """Yield collars, and openings in what lies, as seen from above: a line on an upright wall."""
    for item in fittings:
        rim = rim_of(item)
        if item.normal[2] > SLANT:
            opening = projection.line(rim_of(item, of_opening=True), closed=True)
            if opening is not None:
                yield opening
        if abs(item.normal[2]) < 1e-6:  # upright: seen on edge
            middle, across = np.array(item.point), np.array(item.across)
            rim = np.array([middle - item.half[0] * across, middle + item.half[0] * across])
            line = projection.line(rim)
        else:
            line = projection.line(rim, closed=True)
        if line is not None:
            yield line


def mark_radius(height: float) -> float:
    """Return the radius of the mark of a vertical run, for a text height."""
    return 0.35 * height


def mark_ring(place: Place, height: float) -> PlanLine:
    """Return a square as large as a mark, for labels to keep clear of."""
    (x, y), r = place, mark_radius(height)
    return PlanLine(((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)), closed=True)
