"""Plan the intermediate joints: the shortest loops that leave no bay longer than the limit.

What is optimal: among loops in planes of the frame on the candidates' lines, no choice is shorter
that holds one in each window of each strip looked at. What is heuristic: that loops lie in planes
of the frame, on those lines; and the strips, which are looked at beside vertices. Bays of the plan
are looked at again between these, and where one is too long its strip joins the others.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..arrays import Bools, Floats, Ints
from .candidates import Candidate, Planes, planes_of
from .cover import Cover, cover
from .ground import Ground
from .tracks import Track, axis_track, structural_tracks
from .windows import (
    FIXED,
    HAIR,
    Line,
    Strip,
    all_strips,
    at_ends,
    crowds_of,
    is_blind,
    windows_of,
)

PLANNED, LOOKED_AT = 1.0 / 25.0, 1.0 / 35.0
"""[-] How near to each other scans lie for the plan, and when it is looked at again, as a share of
the longest bay."""

ROUNDS = 6
"""How often strips are added."""

HALVINGS = 4
"""Of the span in which the longest, and the shortest, bay is looked for."""


@dataclass(frozen=True)
class Plan:
    """Joints over the structure and intermediate ones.

    Args:
        tracks: The joints, numbered.
        length: Of the intermediate ones [m].
        least: Length of the shortest choice [m]; even bays may take a little more.
        bound: No choice among the candidates is shorter [m].
        longest: Longest bay allowed [m].
        chosen: Longest bay of the choice [m]; 0 where no joint is needed.
        open: Strips that no candidate can part, a point on each (3,) [m].
    """

    tracks: tuple[Track, ...]
    length: float
    least: float
    bound: float
    longest: float
    chosen: float
    open: tuple[Floats, ...]


GROUPS = 4
"""Of strips: those that candidates of one axis cross, axis by axis, and the others."""

ONE_SORT = 0.95
"""[-] Strips belong to an axis where candidates of it make up so much of what crosses them."""


@dataclass(frozen=True)
class Bays:
    """Limits of the bays of each group of strips (GROUPS) [m]."""

    longest: tuple[float, ...]
    shortest: tuple[float, ...]

    def changed(self, which: str, group: int, value: float) -> Bays:
        """Return them with one of them changed."""
        own: tuple[float, ...] = getattr(self, which)
        return replace(self, **{which: (*own[:group], value, *own[group + 1 :])})


class _Choice:
    """Chooses candidates for the lines known so far.

    Args:
        candidates: To choose from.
        limit: Longest bay [m].
    """

    def __init__(self, candidates: Sequence[Candidate], limit: float) -> None:
        self._candidates = candidates
        self._costs = np.array([item.cost for item in candidates])
        self._limit = limit
        self._axis = np.array([item.section.axis for item in candidates], dtype=np.int64)
        self._lines: dict[object, tuple[Line, int]] = {}
        self._blind: set[object] = set()

    def learn(self, lines: Iterable[Line]) -> bool:
        """Take more lines into account; return whether any was new."""
        count = len(self._lines)
        for line in lines:
            key = line.key
            self._lines[key] = line, self._group(line)
            if is_blind(line, self._limit):
                self._blind.add(key)
        return len(self._lines) > count

    def _group(self, line: Line) -> int:
        own = self._axis[line.numbers[line.numbers != FIXED]]
        share = np.bincount(own, minlength=3) / max(len(own), 1)
        return int(share.argmax()) if share.max() >= ONE_SORT else GROUPS - 1

    def choose(self, bays: Bays, most: float = np.inf) -> Cover | None:
        """Return the shortest choice with bays within some limits, if there is one."""
        sets: dict[bytes, Ints] = {}
        apart: dict[bytes, Ints] = {}
        never = [np.zeros(0, dtype=np.int64)]
        for key, (line, group) in self._lines.items():
            for window in windows_of(line, bays.longest[group]):
                if len(window):
                    sets[window.tobytes()] = window
                elif key not in self._blind:
                    return None
            if shortest := bays.shortest[group]:
                apart |= {crowd.tobytes(): crowd for crowd in crowds_of(line, shortest)}
                never.append(at_ends(line, shortest))
        return cover(self._costs, [*sets.values()], [*apart.values()], np.concatenate(never), most)

    def length(self, choice: Cover) -> float:
        """Length of a choice [m]."""
        return sum(self._candidates[number].length for number in choice.taken)

    def best(self, slack: float) -> tuple[Cover, Cover, float]:
        """Return the shortest choice, and the one with the evenest bays.

        First the longest bay is made as short as it can be, then the shortest as long: direction
        after direction, as far as that takes no more length than allowed.

        Args:
            slack: Share by which it may be longer.

        Returns:
            Both, and the longest bay that the latter was made for [m].
        """
        bays = Bays((self._limit,) * GROUPS, (0.0,) * GROUPS)
        least = self.choose(bays)
        if least is None or not least.taken:
            none = Cover(frozenset(), 0.0, 0.0)
            return none, none, 0.0
        most = least.cost + slack * self.length(least) + HAIR
        best, axes = least, {self._candidates[k].section.axis for k in least.taken}
        for change, ends in (("longest", (0.5 * self._limit, self._limit)),
                             ("shortest", (self._limit, 0.0))):  # fmt: skip
            for axis in sorted(axes):
                bad, good = ends
                for _ in range(HALVINGS):
                    middle = (bad + good) / 2.0
                    tried = bays.changed(change, axis, middle)
                    found = self.choose(tried, most)
                    if found is None or found.cost > most:
                        bad = middle
                    else:
                        best, bays, good = found, tried, middle
        return least, best, max(bays.longest[axis] for axis in axes)


def plan_joints(ground: Ground) -> Plan:
    """Plan the joints of a finish: over the structure's, and intermediate ones.

    Args:
        ground: What they are planned on.

    Returns:
        The plan.
    """
    limit = ground.rules.bays.longest
    fixed = structural_tracks(ground)
    if not ground.asks.any():
        return Plan(tuple(fixed), 0.0, 0.0, 0.0, limit, 0.0, ())
    candidates: list[Candidate] = []
    planes = [planes_of(ground, axis, candidates) for axis in range(3)]
    masks = [track.mask(len(ground.mesh.triangles)) for track in fixed]
    breaks = ground.breaks(ground.edges)
    choice = _Choice(candidates, limit)
    blind = []
    for strip, line in _lines(ground, planes, fixed, masks, breaks, PLANNED):
        choice.learn([line])
        if is_blind(line, limit):
            blind.append(strip.point_at(strip.length / 2.0))
    again = {
        line.key: line
        for _, line in _lines(ground, planes, fixed, masks, breaks, LOOKED_AT, between=True)
    }
    for _ in range(ROUNDS):
        least, best, longest = choice.best(ground.asked.even_bays)
        taken = np.array(sorted(best.taken), dtype=np.int64)
        if not choice.learn(line for line in again.values() if not line.holds(taken, limit)):
            break
    tracks = [
        axis_track(ground, candidates[number].section, f"M{k}", "intermediate", ("finishes",))
        for k, number in enumerate(taken.tolist(), 1)
    ]
    extra = least.cost - choice.length(least)  # of what comes too near, where nothing else does
    return Plan(
        (*fixed, *tracks), choice.length(best), choice.length(least), least.bound - extra, limit,
        longest, tuple(blind),
    )  # fmt: skip


def _lines(
    ground: Ground, planes: Sequence[Planes], fixed: Sequence[Track], masks: Sequence[Bools],
    breaks: Ints, spacing: float, *, between: bool = False,
) -> Iterator[tuple[Strip, Line]]:  # fmt: skip
    """Yield the strips that are longer than a bay, with what crosses them."""
    limit = ground.rules.bays.longest
    for strip in all_strips(ground, breaks, spacing * limit, between=between):
        if strip.length <= limit:
            continue
        here = strip.places(fixed, masks)
        found = [(here, np.full(len(here), FIXED))]
        found += [group.crossings(strip) for group in planes if group.axis != strip.axis]
        places, numbers = (np.concatenate(item) for item in zip(*found, strict=True))
        order = np.lexsort([numbers, places])
        yield strip, Line(strip.length, strip.closed, places[order], numbers[order])
