"""A plan of joints that somebody drew, as tracks over the ground."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..design.movement import Drawn
from ..design.places import is_one_of
from ..surface.slices import Straight
from .ground import EdgeLine, Ground
from .tracks import Track, level_track, straight_track

DRAWN = ("movement_joints", "drawn")
"""Key of the pool file."""


def drawn_tracks(ground: Ground, drawn: Drawn) -> Iterator[Track]:
    """Yield the tracks of the joints that were drawn; some may have no segments.

    Args:
        ground: What they run over.
        drawn: As the pool file has them.
    """
    for k, item in enumerate(drawn.lines):
        line, number = Straight.of(item.start, item.end), f"M{k + 1}"
        key = (*DRAWN, "lines", k)
        yield straight_track(ground, line, number, item.name or f"joint {number}", key, item.width)
    for k, ring in enumerate(drawn.rings):
        number = f"M{len(drawn.lines) + k + 1}"
        name = ring.name or f"joint {number}"
        key = (*DRAWN, "rings", k)
        yield level_track(ground, -ring.depth, number, name, key, ring.width)


def drawn_edges(lines: Sequence[EdgeLine], drawn: Drawn) -> list[EdgeLine]:
    """Return those of the lines along edges that the drawn plan has a joint at."""
    return [line for line in lines if is_one_of(line.kind, drawn.edges)]
