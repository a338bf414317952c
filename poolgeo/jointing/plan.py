"""Plan intermediate joints: the shortest loops that leave no bay longer than the limit."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from ..model import Model
from ..plan.arrangement import components
from .cover import Cover, cover
from .planes import UP, Frame, Section, section_at
from .windows import Hit, Line, Planes, lines_of, windows_of

GAP = 1e-3
"""[m] Scans lie this much beside the vertices that they are taken at."""


@dataclass(frozen=True)
class Loop:
    """An intermediate joint: a connected part of a section of the surface by a plane.

    Args:
        axis: Which coordinate of the frame it holds.
        at: Its value [m].
        points: (n, 3) in the frame [m].
        ends: (k, 2) segments between these.
        length: [m].
    """

    axis: int
    at: float
    points: Floats
    ends: Ints
    length: float


@dataclass(frozen=True)
class Plan:
    """Intermediate joints.

    Args:
        loops: The joints.
        length: Of all of them [m].
        bound: No choice among the candidates is shorter [m].
        open: Stretches that no candidate can part.
    """

    loops: tuple[Loop, ...]
    length: float
    bound: float
    open: int


def faces_of(model: Model, least_turn: float) -> Ints:
    """Return the face of each triangle: what lies between changes of plane.

    Args:
        model: The pool.
        least_turn: Faces that turn by more are parted [rad].
    """
    mesh = model.surface
    normals = mesh.doubled_areas / (2.0 * mesh.areas)[:, None]
    _, (one, other) = mesh.pairs
    turn = np.arccos(np.clip(np.einsum("ij,ij->i", normals[one], normals[other]), -1.0, 1.0))
    same = turn < least_turn
    # a cove ends where it leaves its wall: there the plane has changed
    upright = np.abs(normals[:, 2]) < math.sin(math.radians(10.0))
    kinds = np.array([patch.kind for patch in mesh.patches])
    is_cove = np.char.find(kinds.astype(str), "cove")[mesh.patch] >= 0
    same &= ~((is_cove[one] != is_cove[other]) & (upright[one] | upright[other]))
    return components(len(mesh.triangles), one[same], other[same])


def planes_of(model: Model, points: Floats, axis: int, at: Floats) -> tuple[Planes, list[Section]]:
    """Return planes that may hold joints, with their sections."""
    sections = [section_at(model.surface, points, axis, float(value)) for value in at]
    parts = [
        dict(zip(item.triangles.tolist(), item.part.tolist(), strict=True)) for item in sections
    ]
    return Planes(axis, at, parts), sections


def scans_of(points: Floats, axis: int, spacing: float) -> Floats:
    """Return where the surface is looked at: beside its vertices, none nearer than a spacing."""
    values = np.unique(np.round(points[:, axis], 4))
    beside = np.sort(np.concatenate([values - GAP, values + GAP]))
    _, first = np.unique(np.floor(beside / spacing), return_index=True)
    return beside[first]


def plan_joints(
    model: Model, frame: Frame, limit: float, steps: Sequence[Floats], least_turn: float
) -> Plan:
    """Plan the intermediate joints of a pool.

    Args:
        model: The pool.
        frame: Of the tile grid.
        limit: Longest bay [m].
        steps: For each axis the values at which a joint may lie [m].
        least_turn: A change of plane by more takes a joint of its own [rad].
    """
    points = frame.of(model.surface.vertices)
    face = faces_of(model, least_turn)
    found = [planes_of(model, points, axis, steps[axis]) for axis in (0, 1, UP)]
    planes, sections = [item[0] for item in found], [item[1] for item in found]
    numbers: dict[Hit, int] = {}
    costs: dict[int, float] = {}
    sets, still = set(), 0
    for line in _lines(model, points, face, planes):
        for window in windows_of(line, limit):
            if not window:
                still += 1
                continue
            for hit in window:
                if hit not in numbers:
                    numbers[hit] = len(numbers)
                    axis, k, part = hit
                    section = sections[axis][k]
                    costs[numbers[hit]] = float(section.lengths[section.part == part].sum())
            sets.add(frozenset(numbers[hit] for hit in window))
    done: Cover = cover(costs, sets)
    hits = {number: hit for hit, number in numbers.items()}
    loops = tuple(_loop(sections, hits[number]) for number in sorted(done.taken))
    return Plan(loops, done.cost, done.bound, still)


def _lines(model: Model, points: Floats, face: Ints, planes: Sequence[Planes]) -> Iterator[Line]:
    for axis in (0, 1, UP):
        others = [group for group in planes if group.axis != axis]
        for at in scans_of(points, axis, 0.1).tolist():
            yield from lines_of(section_at(model.surface, points, axis, at), face, others)


def _loop(sections: Sequence[Sequence[Section]], hit: Hit) -> Loop:
    axis, k, part = hit
    section = sections[axis][k]
    mine = section.part == part
    return Loop(axis, section.at, section.points, section.ends[mine],
                float(section.lengths[mine].sum()))  # fmt: skip
