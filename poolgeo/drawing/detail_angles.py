"""At which angles the edges of a rule are drawn: at those that most of their length has."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Bools, Floats
from ..detailing.spans import Span

CLASS = 10.0
"""[deg] Angles of one class differ by no more."""

FLAT = np.nextafter(180.0, 0.0)
"""[deg] The greatest angle of an internal edge."""

ANOTHER = 0.25
"""[-] Share of the length from which on another class has a detail of its own."""

SPREAD = 1.0
"""[deg] Angles that differ by more are named with a detail."""


@dataclass(frozen=True)
class AngleClass:
    """The parts of some edges whose angles are alike.

    Args:
        spans: Edges that have such a part.
        angle: Median over their length, which is one of theirs [deg].
        length: Of the parts [m].
        note: How much of the edges is at that angle, and how the rest is; none where all are alike.
    """

    spans: tuple[Span, ...]
    angle: float
    length: float
    note: tuple[str, ...]


def angle_classes(spans: Sequence[Span]) -> list[AngleClass]:
    """Return the classes of angles that have a detail: the commonest one, then large ones.

    Args:
        spans: Edges of one rule.
    """
    angles = np.concatenate([span.angles for span in spans])
    sizes = np.concatenate([_sizes(span) for span in spans])
    found: list[AngleClass] = []
    left = np.ones(len(angles), dtype=bool)
    while left.any():
        low, high = _commonest(angles[left], sizes[left])
        mine = left & (low <= angles) & (angles <= high)
        length = float(sizes[mine].sum())
        if found and length <= ANOTHER * sizes.sum():
            break
        having = (s for s in spans if ((low <= s.angles) & (s.angles <= high)).any())
        angle = _median(angles[mine], sizes[mine])
        found.append(AngleClass(tuple(having), angle, length, _note(angle, angles, sizes, mine)))
        left &= ~mine
    return found


def _sizes(span: Span) -> Floats:
    """Return the lengths of the segments of an edge (k,) [m]."""
    sizes: Floats = np.linalg.norm(np.diff(span.points, axis=0), axis=1)
    return sizes


def _commonest(angles: Floats, sizes: Floats) -> tuple[float, float]:
    """Return the least and the greatest angle of the class that has the greatest length.

    What is internal and what is external are never in one.
    """
    order = np.argsort(angles, kind="stable")
    rising, total = angles[order], np.concatenate([[0.0], np.cumsum(sizes[order])])
    ends = np.where(rising < 180.0, np.minimum(rising + CLASS, FLAT), rising + CLASS)
    last = np.searchsorted(rising, ends, side="right")
    first = np.searchsorted(rising, rising, side="left")
    most = int(np.argmax(np.round(total[last] - total[first], 6)))
    return float(rising[most]), float(rising[last[most] - 1])


def _median(angles: Floats, sizes: Floats) -> float:
    """Return the angle that half of the length has at most: one that there is, unlike the mean."""
    order = np.argsort(angles, kind="stable")
    total = np.cumsum(sizes[order])
    return float(angles[order][np.searchsorted(total, total[-1] / 2.0)])


def _note(angle: float, angles: Floats, sizes: Floats, mine: Bools) -> tuple[str, ...]:
    """Return what is to be said of the angle that a detail is drawn at."""
    if np.ptp(angles) <= SPREAD:
        return ()
    drawn = f"Drawn at {angle:.0f} deg"
    if mine.all():
        return (f"{drawn}; they are {_range(angles)}.",)
    share = np.clip(round(100.0 * float(sizes[mine].sum() / sizes.sum())), 1, 99)
    text = f"{drawn}: {share} % of the length is {_range(angles[mine])}"
    return (f"{text}, the rest {_range(angles[~mine])}.",)


def _range(angles: Iterable[float]) -> str:
    """Return angles as text."""
    low, high = (f"{end:.0f}" for end in (min(angles), max(angles)))
    return f"{low} deg" if low == high else f"{low} to {high} deg"
