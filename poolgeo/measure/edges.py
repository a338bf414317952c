"""Edges: where two labelled pieces of the surface meet.

An edge is an edge by its labels. Seen from the water it is **internal** where the two faces close
towards the water, **external** where they turn away. Tangent junctions (a cove with its own wall
and floor, facets of a flattened curve) are none.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..mesh import Mesh, Patch
from ..model import Model
from ..plan.keys import among, pair_keys
from ..plan.tolerances import WELD
from ..surface.bends import FLUSH, LEAST_BEND, turns
from ..surface.kinds import KINDS, ROUNDED, STANDING

SLIT = 178.0
"""[deg] Faces that turn by more than this touch: a slit as thin as the grid, and no edge."""

PLUMB = 1e-9
"""[m] An edge is upright when its ends are nearer than this in plan."""

TANGENT = 2
"""Stands for a smooth junction among creases."""

DRAWN_OFF = 3e-4
"""[m] At the side of a flight that follows a curve the ends of coves on its treads draw the line of
the floor's cove off by less than this."""

LONG = 3e-3
"""[m] Only longer edges are looked for so far off: chords of a section are short in plan where it
leaves the wall."""

AT_WALL, AT_FLOOR = 1, 2
"""Where a cove runs along an edge: at its wall, or on its floor."""

LOFTED = tuple(KINDS.index(kind) for kind in ROUNDED)
"""Numbers of the kinds that run along the foot of a wall in place of its sharp edge."""

UPRIGHT = frozenset(i for i, kind in enumerate(KINDS) if kind in STANDING)
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
        along: (e,) whether a cove that it borders runs along it: `AT_WALL`, `AT_FLOOR`, or 0.
        triangles: (e, 2) triangles on both sides, in the order of the patches.
        joined: (k, 2) triangles of one patch of a cove that share an edge.
    """

    ends: Ints
    patches: Ints
    kinds: Ints
    angle: Floats
    external: Bools
    counts: Bools
    along: Ints
    triangles: Ints
    joined: Ints


def edges_of(model: Model) -> Edges:
    """Find the edges of a model's inside surface."""
    mesh = model.surface
    kind_of = np.array([KINDS.index(p.kind) if p.kind in KINDS else -1 for p in mesh.patches])
    ends, sides = mesh.pairs
    patches = mesh.patch.take(sides)
    same = patches[0] == patches[1]
    joined = sides[:, same & is_lofted(kind_of)[patches[0]]]
    # within one patch only an upright edge of a standing face may be one
    rows = np.flatnonzero(same & is_upright(kind_of)[patches[0]])
    x, y, _ = (mesh.vertices[ends[0, rows]] - mesh.vertices[ends[1, rows]]).T
    plumb = rows[(np.abs(x) < PLUMB) & (np.abs(y) < PLUMB)]
    kept = np.concatenate([np.flatnonzero(~same), plumb])
    ends, sides, patches = ends[:, kept], sides[:, kept], patches[:, kept]
    kinds = kind_of[patches]
    at_cove = is_lofted(kinds).any(axis=0)
    pair = pair_keys(patches[0], patches[1], len(mesh.patches))
    crease = _creases(model, pair)
    in_floor = np.array([item in model.floors for item in mesh.patches])
    breaks = np.flatnonzero((crease != 0) & (crease != TANGENT) & in_floor[patches].all(axis=0))
    angle, sound = turns(mesh, ends, sides, model.lies)
    for fillets, bend_of in model.bends.items():
        angle[pair == _pair_key(mesh, fillets)] = bend_of
    # a break between curved pieces may be a toe here and a brow there
    crease[breaks] = np.where(angle[breaks] > 180.0, -1, 1)
    along, smooth = _along(model, kinds, patches, ends)
    # a cove runs on over another of its strips where they meet in no mitre
    tangent = smooth | (is_lofted(kinds).all(axis=0) & (crease == 0)) | (crease == TANGENT)
    crease[crease == TANGENT] = 0
    bend = np.abs(180.0 - angle)
    told = (crease != 0) & (at_cove | in_floor[patches].all(axis=0))
    external = np.where(told, crease < 0, angle > 180.0)
    stands = np.abs(mesh.vertices[ends[0]] - mesh.vertices[ends[1]])[:, :2].max(axis=1) < PLUMB
    flush = np.where(stands & is_upright(kinds).all(axis=0), LEAST_BEND, FLUSH)
    # the upright end of a cove may be flush with its wall
    counts = ~tangent & ((bend > flush) | (crease != 0) | (at_cove & ~(stands & (bend < FLUSH))))
    within = np.flatnonzero(patches[0] == patches[1])
    counts[within] &= (bend[within] > LEAST_BEND) & _at_corner(model, ends[0, within])
    counts &= bend < SLIT
    keep = sound & (counts | (along > 0) | (tangent & at_cove))
    swap = (kinds[0] > kinds[1]) | ((kinds[0] == kinds[1]) & (patches[0] > patches[1]))
    kinds, patches, sides = (
        np.where(swap, item[::-1], item)[:, keep].T for item in (kinds, patches, sides)
    )
    return Edges(
        ends[:, keep].T,
        patches,
        kinds,
        angle[keep],
        external[keep],
        counts[keep],
        along[keep],
        sides,
        joined.T,
    )


def _pair_key(mesh: Mesh, patches: frozenset[Patch]) -> int:
    """Return what stands for two patches among those of edges; -1 where one does not show."""
    ids = sorted(mesh.patches.index(item) if item in mesh.patches else -1 for item in patches)
    return ids[0] * len(mesh.patches) + ids[1] if ids[0] >= 0 else -1


def is_lofted(kinds: Ints) -> Bools:
    """Return which kinds (numbers of `KINDS`) are coves or fillets."""
    found: Bools = np.isin(kinds, LOFTED)
    return found


def is_upright(kinds: Ints) -> Bools:
    """Return which kinds (numbers of `KINDS`; -1 is none) stand vertically."""
    stands = np.array([i in UPRIGHT for i in range(len(KINDS))] + [False])
    return stands[kinds]


def _creases(model: Model, pair: Ints) -> Ints:
    """For each edge 1 in an internal crease, -1 in an external one, `TANGENT` or 0 in none."""
    names = {patch: i for i, patch in enumerate(model.surface.patches)}
    sense_of = np.zeros(len(names) ** 2, dtype=np.int64)
    designed = {pair: 1 if sense == "internal" else -1 for pair, sense in model.creases.items()}
    for patches, sense in (designed | dict.fromkeys(model.tangents, TANGENT)).items():
        ids = sorted(names.get(patch, -1) for patch in patches)
        if len(ids) == 2 and ids[0] >= 0:
            sense_of[ids[0] * len(names) + ids[1]] = sense
    return sense_of[pair]


def _along(model: Model, kinds: Ints, patches: Ints, ends: Ints) -> tuple[Ints, Bools]:
    """Return where coves run along edges, and where they do so smoothly.

    One plan line may be the foot of one cove and the end of another that stands above it: each
    is asked for its own lines.

    Args:
        model: The model.
        kinds: (2, e) kinds on both sides.
        patches: (2, e) the patches.
        ends: (2, e) vertices.

    Returns:
        (e,) `AT_WALL`, `AT_FLOOR` or 0, and (e,) whether the cove leaves wall or floor smoothly.
    """
    found = np.zeros(ends.shape[1], dtype=np.int64)
    smooth = np.zeros(ends.shape[1], dtype=bool)
    is_cove = is_lofted(kinds)
    rows = np.flatnonzero(is_cove[0] != is_cove[1])
    cove, other = np.where(is_cove[0, rows], patches[:, rows], patches[::-1, rows])
    segments = model.surface.vertices[ends[:, rows].T, :2]
    for contact in model.contacts:
        own = np.array([item in contact.patches for item in model.surface.patches])
        mine = np.flatnonzero(own[cove])
        for lines, place in ((contact.floors, AT_FLOOR), (contact.walls, AT_WALL)):
            on = among(segments[mine], lines)
            rest = np.flatnonzero(~on & (found[rows[mine]] == 0))
            on[rest] = _lie_on(segments[mine[rest]], lines)
            if place == AT_WALL:  # its own wall, where that leans, is lofted with it
                on |= own[other[mine]]
            found[rows[mine[on]]] = place
            smooth[rows[mine[on]]] = contact.is_tangent
    return found, smooth


def _lie_on(segments: Floats, lines: Floats) -> Bools:
    """Return which plan segments (k, 2, 2) lie on several of some lines (m, 2, 2), end to end.

    Where nothing but the end of another cove cuts a line, the surface keeps it whole.
    """
    found: Bools = np.hypot(*(segments[:, 1] - segments[:, 0]).T) > LONG
    if not found.any() or not len(lines):
        return np.zeros_like(found)
    tree = shapely.STRtree(shapely.linestrings(lines))
    for places in (segments[:, 0], segments.mean(axis=1), segments[:, 1]):
        near, _ = tree.query(shapely.points(places), predicate="dwithin", distance=DRAWN_OFF)
        found &= np.isin(np.arange(len(segments)), near)
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
