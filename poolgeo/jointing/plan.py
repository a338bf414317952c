"""Plan the intermediate joints: the shortest loops that leave no bay longer than the limit.

What is optimal: among loops in planes of the frame on the candidates' lines, no choice is shorter
that leaves no bay too long on any section (or, where the search ends before that is shown, the
bound says by how much at most). What is heuristic: that loops lie in planes of the frame on those
lines, and which of the choices that are little longer has the evenest bays.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Ints
from .candidates import Candidate, Planes, planes_of
from .choice import FIXED, Choice, Line
from .cover import Cover
from .ground import Ground
from .sweep import Sweep, sweeps
from .tracks import Track, axis_track
from .windows import HAIR, Strip, long_strips

KEY = ("movement_joints",)
"""Of the pool file: what asks for the joints."""

ROUNDS = 40
"""How often joints are chosen again for what the last choice left too long, at most."""


@dataclass(frozen=True)
class Plan:
    """Joints over the structure and intermediate ones.

    Args:
        tracks: The joints, numbered.
        swept: How long bays are between them, along each axis.
        least: Length of the shortest choice of intermediate ones [m]; even bays may take more.
        bound: No choice among the candidates is shorter [m].
    """

    tracks: tuple[Track, ...]
    swept: tuple[Sweep, ...]
    least: float
    bound: float


def plan_joints(ground: Ground, fixed: Sequence[Track]) -> Plan:
    """Plan the joints of a finish: over the structure's, and intermediate ones.

    Args:
        ground: What they are planned on.
        fixed: The tracks over joints of the structure.

    Returns:
        The plan.
    """
    site = _Site(ground, ground.breaks(ground.edges), fixed)
    bare = site.laid([])
    if not bare.long:
        return Plan(bare.tracks, bare.swept, 0.0, 0.0)
    candidates: list[Candidate] = []
    planes = [planes_of(ground, axis, candidates) for axis in range(3)]
    choice = Choice(candidates, ground.rules.bays.longest)

    def settled(best: Cover, laid: _Laid, choose: Callable[[], Cover]) -> tuple[Cover, _Laid]:
        """Choose until nothing is left too long, or nothing more is learnt of what is."""
        for _ in range(ROUNDS):
            choice.learn(list(site.lines(planes, laid.long)))
            before, best = best, choose()
            if best.taken == before.taken:
                break
            laid = site.laid([candidates[number] for number in best.taken])
            if not laid.long:
                break
        return best, laid

    least, shortest = settled(Cover(np.zeros(len(candidates)), 0.0, 0.0), bare, choice.least)
    found = shortest
    if not shortest.long:
        _, even = settled(least, shortest, lambda: choice.evened(least, ground.asked.even_bays))
        found = shortest if even.long else even
    length = choice.length(least.taken)
    extra = least.cost - length  # of what comes too near, where nothing else does
    return Plan(found.tracks, found.swept, length, least.bound - extra)


@dataclass(frozen=True)
class _Laid:
    """Joints as they lie.

    Args:
        tracks: Those over the structure's, and intermediate ones.
        swept: How long bays are between them.
        long: Strips with bays that are too long.
    """

    tracks: tuple[Track, ...]
    swept: tuple[Sweep, ...]
    long: Sequence[Strip]


@dataclass(frozen=True)
class _Site:
    """Where joints are laid.

    Args:
        ground: The finish.
        breaks: Keys of the mesh edges at which a bay ends.
        fixed: Joints over the structure's.
    """

    ground: Ground
    breaks: Ints
    fixed: Sequence[Track]

    def laid(self, taken: Iterable[Candidate]) -> _Laid:
        """Lay intermediate joints."""
        tracks = (*self.fixed, *(
            axis_track(self.ground, item.section, f"M{k}", "intermediate", KEY)
            for k, item in enumerate(taken, 1)
        ))  # fmt: skip
        swept = sweeps(self.ground, self.breaks, tracks)
        limit = self.ground.rules.bays.longest + HAIR
        return _Laid(tracks, swept, long_strips(self.ground, self.breaks, tracks, swept, limit))

    def lines(self, planes: Sequence[Planes], strips: Iterable[Strip]) -> Iterator[Line]:
        """Yield strips with what crosses them."""
        for strip in strips:
            here = strip.places(self.fixed)
            found = [(here, np.full(len(here), FIXED))]
            found += [group.crossings(strip) for group in planes if group.axis != strip.axis]
            places, numbers = (np.concatenate(item) for item in zip(*found, strict=True))
            order = np.lexsort([numbers, places])
            yield Line(strip.length, strip.closed, places[order], numbers[order])
