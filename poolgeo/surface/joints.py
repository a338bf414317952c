"""Movement joints of the structure on the surface: where upright planes cut it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from ..arrays import Bools, Floats
from ..design.schema import Joint
from ..errors import Findings
from ..mesh import Mesh
from ..model import JointCut
from ..placed import Placed
from ..plan.ring import Ring
from ..plan.tolerances import GRID
from .slices import Slice, Straight, slice_at

IN_WATER = 1e-3
"""[m] An end that lies farther inside the outline than this lies in the pool."""


def joint_cuts(
    mesh: Mesh, joints: Sequence[Joint], rings: Mapping[str, Ring], findings: Findings
) -> tuple[JointCut, ...]:
    """Return where movement joints cut a surface.

    A joint parts the structure: it is carried on through the wall, a channel and all else that
    hangs together with what lies under its line.

    Args:
        mesh: The surface.
        joints: From the pool file.
        rings: Outline of each body.
        findings: Where to leave findings.
    """
    found = []
    for k, joint in enumerate(joints):
        key, line = ("joints", k), Straight.of(joint.start, joint.end)
        if not _ends_outside(joint, rings, key, findings):
            continue
        cut = slice_at(mesh, line.off(mesh.vertices))
        kept = under(cut, line)
        if not kept.any():
            findings.error(
                key,
                "must run across the pool",
                f"nothing of it lies between {_place(joint.start)} and {_place(joint.end)}",
                "move its points",
            )
            continue
        _check_faces(mesh, line, key, findings)
        _, rows = np.unique(cut.ends[kept], return_inverse=True)
        points = cut.points[np.unique(cut.ends[kept])]
        name = joint.name or ("movement joint" if k == 0 else f"movement joint {k + 1}")
        triangles = cut.triangles[kept]
        place = line.along(cut.points[cut.ends[kept]]).mean(axis=1)
        found.append(
            JointCut(f"J{k + 1}", name, joint.width, points, rows.reshape(-1, 2), triangles, place)
        )
    return tuple(found)


def under(cut: Slice, line: Straight) -> Bools:
    """Return which segments (k,) hang together, in plan, with what lies between a line's ends."""
    t = np.sort(line.along(cut.points[cut.ends]), axis=1)
    order = np.argsort(t[:, 0], kind="stable")
    far = np.maximum.accumulate(t[order, 1])
    begins = np.concatenate([[True], t[order[1:], 0] > far[:-1] + GRID])
    piece = np.empty(len(t), dtype=np.int64)
    piece[order] = np.cumsum(begins) - 1
    inner = (t[:, 0] < line.length - GRID) & (t[:, 1] > GRID)
    found: Bools = np.isin(piece, piece[inner])
    return found


def _ends_outside(
    joint: Joint, rings: Mapping[str, Ring], key: tuple[str, int], findings: Findings
) -> bool:
    """Check that a joint does not end in the pool."""
    polygon, right = rings["pool"].polygon, True
    for end in ("start", "end"):
        point = shapely.Point(getattr(joint, end))
        if polygon.contains(point) and polygon.exterior.distance(point) > IN_WATER:
            right = False
            findings.error(
                (*key, end),
                "must lie in the pool's wall or beyond it: a joint parts the whole structure",
                f"{_place(getattr(joint, end))}, in the pool",
                "move it on to the wall",
            )
    return right


def _check_faces(mesh: Mesh, line: Straight, key: tuple[str, int], findings: Findings) -> None:
    """Warn where an upright face lies in a joint's plane."""
    flat = (np.abs(line.off(mesh.vertices)) <= GRID)[mesh.triangles].all(axis=1)
    rows = np.flatnonzero(flat)
    if not len(rows):
        return
    t = line.along(mesh.vertices[mesh.triangles[rows]])
    rows = rows[(t.max(axis=1) > 0.0) & (t.min(axis=1) < line.length)]
    if len(rows):
        patch = mesh.patches[mesh.patch[rows[0]]]
        x, y, _ = mesh.vertices[mesh.triangles[rows[0], 0]]
        findings.warn(
            key,
            "should not run along an upright face: its length is taken just beside that",
            f"the {patch.kind} of the {patch.body} at {_place((x, y))} lies in it",
            "move its points by a few millimetres to the side that is meant",
        )


def check_fittings(
    joints: Sequence[Joint],
    cuts: Sequence[JointCut],
    fittings: Sequence[Placed],
    findings: Findings,
) -> None:
    """Warn of fittings that stand on a movement joint, or where it is carried on.

    Args:
        joints: From the pool file.
        cuts: Those of them that cut the surface.
        fittings: In their places.
        findings: Where to leave findings.
    """
    own = {cut.number: cut for cut in cuts}
    for k, joint in enumerate(joints):
        if (cut := own.get(f"J{k + 1}")) is None:
            continue
        line = Straight.of(joint.start, joint.end)
        square = np.array([-line.way[1], line.way[0], 0.0])
        for item in fittings:
            point = np.array(item.point)
            across, up = (abs(float(square @ way)) for way in (item.across, item.upward))
            half = item.half
            reach = half[0] * across + half[1] * up
            size = float(np.hypot(*half))
            if item.is_round:
                reach, size = half[0] * float(np.hypot(across, up)), half[0]
            if abs(float(line.off(point))) >= reach + joint.width / 2.0:
                continue
            if _distance(cut.points[cut.ends], point) < size + joint.width / 2.0:
                x, y, _ = item.point
                findings.warn(
                    item.key,
                    "should stand clear of movement joints",
                    f"{item.number} at {_place((x, y))} reaches over joint J{k + 1}",
                    "move the fitting or the joint",
                )


def _distance(segments: Floats, point: Floats) -> float:
    """Return how far a point lies from the nearest of some segments (k, 2, 3) [m]."""
    start, way = segments[:, 0], segments[:, 1] - segments[:, 0]
    square = np.maximum(np.einsum("ij,ij->i", way, way), GRID**2)
    share = np.clip(np.einsum("ij,ij->i", point - start, way) / square, 0.0, 1.0)
    return float(np.linalg.norm(start + share[:, None] * way - point, axis=1).min())


def _place(point: Sequence[float]) -> str:
    return f"({point[0]:.3f}, {point[1]:.3f}) m"
