"""Edges: where two labelled pieces of the surface meet.

An edge is an edge by its labels. Seen from the water it is **internal** where the two faces close
towards the water, **external** where they turn away. Tangent junctions (a cove with its own wall
and floor, facets of a flattened curve) are none.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..model import Bools, Floats, Ints, Mesh, Model
from ..plan.tolerances import WELD, among
from ..surface.kinds import KINDS
from ..surface.manifold import edge_keys

LEAST_BEND = 10.0
"""[deg] Faces of one label at a plan corner must turn by this as built: a corner of 15 degrees
does, facets of a flattened curve do not."""

SLIT = 178.0
"""[deg] Faces that turn by more than this touch: a slit as thin as the grid, and no edge."""

FLUSH = 1.0
"""[deg] Faces of different labels nearer to flat than this are flush: no edge."""

PLUMB = 1e-9
"""[m] An edge is upright when its ends are nearer than this in plan."""

LEAST_AREA = 1e-16
"""[m2] A triangle smaller than this faces nowhere; no angle is taken against it."""

UPRIGHT = frozenset(
    KINDS.index(kind)
    for kind in (
        "wall", "riser", "step side", "bench face", "spa wall", "seat face", "dam wall face",
    )
)  # fmt: skip
"""Numbers of the kinds that stand vertically."""


@dataclass(frozen=True)
class Edges:
    """Mesh edges of the inside surface that count, and the tangent lines of the coves.

    Args:
        ends: (e, 2) vertex numbers.
        patches: (e, 2) patches on both sides, smaller first.
        kinds: (e, 2) their kinds as numbers of `KINDS`, smaller first.
        angle: (e,) dihedral angle through the water [deg].
        external: (e,) sense; of a mitre by what made it, of others by the angle.
        counts: (e,) True for an edge, False for a tangent line of a cove.
        triangles: (e, 2) triangles on both sides, in the order of the patches.
        joined: (k, 2) triangles of one patch that share an edge.
    """

    ends: Ints
    patches: Ints
    kinds: Ints
    angle: Floats
    external: Bools
    counts: Bools
    triangles: Ints
    joined: Ints


def edges_of(model: Model) -> Edges:
    """Find the edges of a model's inside surface."""
    mesh = model.surface
    number = {kind: i for i, kind in enumerate(KINDS)}
    kind_of = np.array([number.get(item.kind, -1) for item in mesh.patches])
    ends, sides = _pairs(mesh.triangles, len(mesh.vertices))
    p = mesh.patch[sides]
    same = p[:, 0] == p[:, 1]
    joined = sides[same]
    # within one patch only an upright edge of a standing face may be one
    rows = np.flatnonzero(same & np.isin(kind_of, list(UPRIGHT))[p[:, 0]])
    x, y, _ = (mesh.vertices[ends[rows, 0]] - mesh.vertices[ends[rows, 1]]).T
    plumb = rows[(np.abs(x) < PLUMB) & (np.abs(y) < PLUMB)]
    kept = np.concatenate([np.flatnonzero(~same), plumb])
    ends, sides, p = ends[kept], sides[kept], p[kept]
    angle, sound = _angles(mesh, ends, sides)
    k = kind_of[p]
    tangent = _tangent(model, p, k, ends)
    bend = np.abs(180.0 - angle)
    crease = _creases(model, p)
    external = np.where(crease != 0, crease < 0, angle > 180.0)
    # where a level cuts a cove, a needle beside the cut may lie flat: its neighbours tell
    cut = ~tangent & _at_cove(k)
    weak = cut & (bend < FLUSH) & (crease == 0)
    external[weak] = _voted(p, external, cut & ~weak)[weak]
    counts = ~tangent & ((bend > FLUSH) | (crease != 0) | cut)
    within = np.flatnonzero(p[:, 0] == p[:, 1])
    counts[within] &= (bend[within] > LEAST_BEND) & _at_corner(model, ends[within, 0])
    counts &= bend < SLIT
    keep = sound & (counts | (tangent & _at_cove(k)))
    swap = (k[:, 0] > k[:, 1]) | ((k[:, 0] == k[:, 1]) & (p[:, 0] > p[:, 1]))
    for item in (k, p, sides):
        item[swap] = item[swap][:, ::-1]
    return Edges(
        ends[keep],
        p[keep],
        k[keep],
        angle[keep],
        external[keep],
        counts[keep],
        sides[keep],
        joined,
    )


def _pairs(triangles: Ints, count: int) -> tuple[Ints, Ints]:
    """Edges with a triangle on both sides: (e, 2) vertices along the first, (e, 2) triangles."""
    start = triangles.ravel()
    stop = triangles[:, [1, 2, 0]].ravel()
    owner = np.repeat(np.arange(len(triangles)), 3)
    key = edge_keys(triangles, count)
    order = np.argsort(key)
    first = np.flatnonzero(key[order][1:] == key[order][:-1])
    one, other = order[first], order[first + 1]
    ends = np.column_stack([start[one], stop[one]])
    return ends, np.column_stack([owner[one], owner[other]])


def _angles(mesh: Mesh, ends: Ints, sides: Ints) -> tuple[Floats, Bools]:
    """Dihedral angles through the water [deg], and whether both triangles have an area."""
    one, other = mesh.doubled_areas[sides[:, 0]].T, mesh.doubled_areas[sides[:, 1]].T
    a, b, c = (mesh.vertices[ends[:, 1]] - mesh.vertices[ends[:, 0]]).T
    # sine and cosine of the turn, both times the sizes of the normals and the edge's length
    sine = (one[1] * other[2] - one[2] * other[1]) * a
    sine += (one[2] * other[0] - one[0] * other[2]) * b
    sine += (one[0] * other[1] - one[1] * other[0]) * c
    cosine = (one * other).sum(axis=0) * np.sqrt(a * a + b * b + c * c)
    least = (2.0 * LEAST_AREA) ** 2
    sound = ((one * one).sum(axis=0) >= least) & ((other * other).sum(axis=0) >= least)
    turn: Floats = np.degrees(np.arctan2(sine, cosine))
    return 180.0 + turn, sound


def _voted(patches: Ints, external: Bools, voters: Bools) -> Bools:
    """Return for each edge the sense that most of its patches' other edges have."""
    low, high = patches.min(axis=1), patches.max(axis=1)
    _, pair = np.unique(low * (int(high.max(initial=0)) + 1) + high, return_inverse=True)
    votes = np.bincount(pair[voters], np.where(external[voters], 1.0, -1.0), minlength=len(pair))
    found: Bools = votes[pair] > 0.0
    return found


def _at_cove(kinds: Ints) -> Bools:
    found: Bools = (kinds == KINDS.index("cove")).any(axis=1)
    return found


def _creases(model: Model, patches: Ints) -> Ints:
    """For each edge 1 in an internal crease, -1 in an external one, 0 where none is designed."""
    names = {patch: i for i, patch in enumerate(model.surface.patches)}
    found = np.zeros(len(patches), dtype=np.int64)
    low, high = patches.min(axis=1), patches.max(axis=1)
    for pair, sense in model.creases.items():
        ids = sorted(names.get(patch, -1) for patch in pair)
        if len(ids) == 2 and ids[0] >= 0:
            found[(low == ids[0]) & (high == ids[1])] = 1 if sense == "internal" else -1
    return found


def _tangent(model: Model, patches: Ints, kinds: Ints, ends: Ints) -> Bools:
    """Return whether a cove runs on smoothly over each edge.

    Over its own lines along wall and floor it does; over another of its strips where they meet in
    no mitre.
    """
    both = (kinds == KINDS.index("cove")).all(axis=1)
    found: Bools = both & (_creases(model, patches) == 0)
    rows = np.flatnonzero(_at_cove(kinds) & ~both)
    found[rows] = among(model.surface.vertices[ends[rows], :2], model.smooth)
    return found


def _at_corner(model: Model, vertex: Ints) -> Bools:
    """Whether vertices stand at a plan corner."""
    if not len(model.corners) or not len(vertex):
        return np.zeros(len(vertex), dtype=bool)
    x, y, _ = model.surface.vertices[vertex].T
    near = np.abs(x[:, None] - model.corners[:, 0]) < 2.0 * WELD
    near &= np.abs(y[:, None] - model.corners[:, 1]) < 2.0 * WELD
    found: Bools = near.any(axis=1)
    return found
