"""Plan the intermediate joints: the shortest loops that leave no bay longer than the limit.

What is optimal: among loops in planes of the frame on the candidates' lines, no choice is shorter
that leaves no bay too long on any strip (or, where the search ends before that is shown, the bound
says by how much at most). What is heuristic: that loops lie in planes of the frame
on those lines, and that bays are measured on strips, beside vertices and between them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ..arrays import Floats
from .candidates import Candidate, Planes, planes_of
from .choice import FIXED, Choice, Line, laid_out
from .ground import Ground
from .tracks import Bundle, Track, axis_track, structural_tracks
from .windows import HAIR, Strip, bays_of, strips, strips_beside

KEY = ("movement_joints",)
"""Of the pool file: what asks for the joints."""

SETTLED, EVENED, PATCHED = 3, 2, 60
"""How often it is looked beside the joints of the shortest choice, and chosen again; how often so
beside those of the even one; how often joints are added to that. Beside curves bays change fast
from section to section, and each choice has other joints."""


@dataclass(frozen=True)
class Plan:
    """Joints over the structure and intermediate ones.

    Args:
        tracks: The joints, numbered.
        strips: That bays were measured on.
        length: Of the intermediate ones [m].
        least: Length of the shortest choice [m]; even bays may take a little more.
        bound: No choice among the candidates is shorter [m].
        added: How many joints were added to it, where a bay beside a curve was too long.
        open: Strips that no candidate can part, a point on each (3,) [m].
    """

    tracks: tuple[Track, ...]
    strips: tuple[Strip, ...]
    length: float
    least: float
    bound: float
    added: int
    open: tuple[Floats, ...]


def plan_joints(ground: Ground) -> Plan:
    """Plan the joints of a finish: over the structure's, and intermediate ones.

    Args:
        ground: What they are planned on.

    Returns:
        The plan.
    """
    limit, breaks = ground.rules.bays.longest, ground.breaks(ground.edges)
    fixed = structural_tracks(ground)
    found = strips(ground, breaks)
    long = [strip for strip in found if strip.length > limit]
    if not long:
        return Plan(tuple(fixed), tuple(found), 0.0, 0.0, 0.0, 0, ())
    candidates: list[Candidate] = []
    planes = [planes_of(ground, axis, candidates) for axis in range(3)]
    choice = Choice(candidates, limit)
    taken: set[int] = set()
    added, steps = 0, ["least"] * SETTLED + ["even"] * EVENED + ["patch"] * PATCHED
    while steps:
        step = steps.pop(0)
        if step == "patch":
            more = _patches(_lines(ground, planes, fixed, long), taken, candidates, limit)
            if not more:
                break  # what is left is blind
            taken |= more
            added += len(more)
        else:
            choice.learn(list(_lines(ground, planes, fixed, long)))
            least = choice.least()
            even = step == "even"
            best = choice.evened(least, ground.asked.even_bays) if even else least
            taken = set(best.taken)
        tracks = [
            axis_track(ground, candidates[number].section, f"M{k}", "intermediate", KEY)
            for k, number in enumerate(sorted(taken), 1)
        ]
        beside = strips_beside(ground, breaks, [*fixed, *tracks])
        found += beside
        long = _too_long(ground, [*long, *beside], [*fixed, *tracks])
        if not long:
            if step != "least":
                break
            steps = [item for item in steps if item != "least"]
    shortest = choice.length(least.taken)
    extra = least.cost - shortest  # of what comes too near, where nothing else does
    return Plan(
        (*fixed, *tracks), tuple(found), choice.length(taken), shortest, least.bound - extra,
        added, tuple(choice.blind),
    )  # fmt: skip


def _patches(
    lines: Iterable[Line], taken: AbstractSet[int], candidates: Sequence[Candidate], limit: float
) -> set[int]:
    """Return the shortest candidates that part bays which are too long, one for each bay.

    Args:
        lines: Strips with such bays.
        taken: Numbers of the candidates that are joints already.
        candidates: All of them.
        limit: Longest bay [m].
    """
    found: set[int] = set()
    for line in lines:
        places, numbers = laid_out(line)
        is_there = np.isin(numbers, [FIXED, *taken, *found])
        there = np.flatnonzero(is_there)
        for i, j in pairwise(there.tolist()):
            if places[j] - places[i] <= limit + HAIR:
                continue
            inner = numbers[i + 1 : j]
            near = inner[(places[i + 1 : j] <= places[i] + limit)]
            if len(near):
                found.add(min(near.tolist(), key=lambda number: candidates[number].cost))
    return found


def _too_long(ground: Ground, beside: Iterable[Strip], tracks: Sequence[Track]) -> list[Strip]:
    """Return the strips on which some joints leave a bay that is too long."""
    limit = ground.rules.bays.longest
    joints = Bundle.of(ground, tracks)
    return [
        strip for strip in beside
        if strip.length > limit
        and bays_of(strip.length, strip.places(joints), closed=strip.closed).max()
        > limit + HAIR
    ]  # fmt: skip


def _lines(
    ground: Ground, planes: Sequence[Planes], fixed: Sequence[Track], strips: Iterable[Strip]
) -> Iterator[Line]:
    """Yield strips with what crosses them."""
    joints = Bundle.of(ground, fixed)
    for strip in strips:
        here = strip.places(joints)
        found = [(here, np.full(len(here), FIXED))]
        found += [group.crossings(strip) for group in planes if group.axis != strip.axis]
        places, numbers = (np.concatenate(item) for item in zip(*found, strict=True))
        order = np.lexsort([numbers, places])
        middle = strip.point_at(strip.length / 2.0)
        yield Line(strip.length, strip.closed, places[order], numbers[order], middle)
