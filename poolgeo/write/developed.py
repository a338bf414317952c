"""Walls developed flat: unrolled along the outline of their body, heights as they are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from ..jointing.rows import FinishJoint, FinishJoints
from ..measure.chains import along_outline, step_lengths
from ..model import Body, Model
from ..placed import Placed, rim_of
from ..plan.features.part import Role
from ..quantities import JointRun, Takeoff
from ..surface.kinds import WALLS


@dataclass(frozen=True)
class Line:
    """A polyline on a developed wall: (k, 2) places along it and heights [m]."""

    points: Floats


@dataclass(frozen=True)
class Stretch(Line):
    """What of a movement joint lies on a wall, or at its edge.

    Args:
        joint: The joint.
        run: The stretch of it.
    """

    joint: FinishJoint
    run: JointRun


@dataclass(frozen=True)
class Development:
    """Walls unrolled as seen from the water, from the first point of their outline on to the right.

    Args:
        body: Whose they are.
        length: Of the outline [m].
        level: Height of its water [m].
        low: Height of the lowest place of the walls [m].
        high: Height of their top [m].
        corners: Places of the upright edges of the walls [m].
        rims: Where the walls end: top, foot, and what stands against them.
        joints: Movement joints on them.
        fittings: Collars on them, closed, with the numbers.
    """

    body: str
    length: float
    level: float
    low: float
    high: float
    corners: tuple[float, ...]
    rims: tuple[Line, ...]
    joints: tuple[Stretch, ...]
    fittings: tuple[tuple[str, Line], ...]


def developments(
    model: Model, takeoff: Takeoff, joints: FinishJoints | None
) -> Iterator[Development]:
    """Yield the developed walls, body after body: of its outline, then of what stands in it.

    Args:
        model: The pool.
        takeoff: Measured on it.
        joints: Movement joints of its finish, if any.
    """
    islands = [name for name, role in model.outlines if role == "island"]
    for body in model.bodies:
        wanted: list[tuple[str, Role]] = [(body.name, "water"), (body.name, "hole")]
        wanted += [(name, "island") for name in islands if body is model.bodies[0]]
        rings = [_Ring(*key, model.outlines[key]) for key in wanted if key in model.outlines]
        for k in range(len(rings)):
            found = _developed(model, takeoff, joints, body, rings, k)
            if found is not None:
                yield found


@dataclass(frozen=True)
class _Ring:
    """A closed outline (n, 2), anticlockwise [m], and what it is of."""

    name: str
    role: str
    line: Floats


def _developed(
    model: Model, takeoff: Takeoff, joints: FinishJoints | None, body: Body,
    rings: Sequence[_Ring], k: int,
) -> Development | None:  # fmt: skip
    """Develop the walls along one of the rings of a body: those that are nearest to it."""
    mesh = model.square.surface

    def is_mine(points: Floats) -> bool:
        off = [along_outline(ring.line, points[:, :2])[1].mean() for ring in rings]
        return int(np.argmin(off)) == k

    own = np.array([p.body == body.name and p.kind in WALLS for p in mesh.patches])
    triangles = mesh.triangles[own[mesh.patch]]
    if len(rings) > 1 and len(triangles):
        middles = mesh.vertices[triangles].mean(axis=1)[:, :2]
        off = np.stack([along_outline(ring.line, middles)[1] for ring in rings])
        triangles = triangles[off.argmin(axis=0) == k]
    if not len(triangles):
        return None
    flat = _Flat(rings[k].line, seen_from_inside=rings[k].role == "water")
    heights = mesh.vertices[triangles][..., 2]
    upright = [
        run for run in takeoff.edges
        if run.body == body.name and set(run.kind.split("/")) <= set(WALLS)
        and np.ptp(run.points[:, :2], axis=0).max() < OFF and is_mine(run.points)
    ]  # fmt: skip
    return Development(
        body.name if rings[k].name == body.name and k == 0 else f"{body.name}, {rings[k].name}",
        flat.length,
        body.level,
        float(heights.min()),
        float(heights.max()),
        tuple(sorted({round(float(flat.of(run.points)[0, 0]), 3) for run in upright})),
        tuple(Line(flat.of(segment)) for segment in _rims(mesh.vertices, triangles)),
        tuple(
            Stretch(flat.of(run.points), joint, run)
            for joint, run in _on_walls(joints, body.name) if is_mine(run.points)
        ),
        tuple(
            (item.number, Line(flat.of(_ring(item))))
            for item in takeoff.fittings
            if item.body == body.name and item.surface in WALLS
            and is_mine(np.array([item.point]))
        ),
    )  # fmt: skip


OFF = 0.02
"""[m] What stands upright moves less than this in plan."""


class _Flat:
    """Unrolls along an outline so that the wall is seen from the water, left to right.

    Seen from inside a ring that goes anticlockwise its stations run to the left.

    Args:
        outline: (n, 2) anticlockwise [m].
        seen_from_inside: Whether the water is inside.
    """

    def __init__(self, outline: Floats, *, seen_from_inside: bool) -> None:
        self._outline = outline
        self._way = -1.0 if seen_from_inside else 1.0
        self.length = float(step_lengths(np.concatenate([outline, outline[:1]])).sum())

    def of(self, points: Floats) -> Floats:
        """Return points (k, 3) as places along it and heights (k, 2) [m], running on at its end."""
        at = self._way * along_outline(self._outline, points[:, :2])[0]
        steps = np.diff(at)
        steps -= self.length * np.round(steps / self.length)
        stations = at[0] + np.concatenate([[0.0], np.cumsum(steps)])
        stations -= self.length * np.floor((stations.mean() + 1e-9) / self.length)
        return np.column_stack([stations, points[:, 2]])


def _rims(vertices: Floats, triangles: Floats) -> Iterator[Floats]:
    """Yield the sides (2, 3) that belong to one of some triangles only, but for upright ones."""
    sides = triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    _, first, count = np.unique(np.sort(sides, axis=1), axis=0, return_index=True,
                                return_counts=True)  # fmt: skip
    for a, b in sides[np.sort(first[count == 1])].tolist():
        yield vertices[[a, b]]


def _ring(item: Placed) -> Floats:
    rim = rim_of(item)
    return np.concatenate([rim, rim[:1]])


def _on_walls(joints: FinishJoints | None, body: str) -> Iterator[tuple[FinishJoint, JointRun]]:
    """Yield what of the joints lies on a wall of a body, or at an edge of one."""
    for joint in () if joints is None else joints.joints:
        for run in joint.runs:
            sides = set(run.surface.split("/"))
            if run.body == body and joint.kind != "round fitting" and sides & set(WALLS):
                yield joint, run
