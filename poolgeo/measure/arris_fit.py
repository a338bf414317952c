"""Whether arrises fit their faces."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints
from ..arris import section_of
from ..design.arris import Arris
from ..errors import Finding, Key
from ..mesh import Mesh, Patch
from ..model import Model
from ..surface.finishes import Finish, finish_of
from ..surface.kinds import KINDS
from .edges import Edges

TOUCH = 1e-5
"""[m] A ray that leaves an edge hits that edge itself nearer than this; rounding of the plan."""

FLAT = 1e-4
"""[m] What lies farther than this off a face's plane is not its border."""

ACUTE = 0.25
"""[-] Sides of a face that close by less (tangent) run along with each other: if one arris does not
fit between others, it does so four times its width on."""

SLACK = 1e-6
"""[m] An arris that wants no more than this beyond a face fits it: rounding of the plan."""


def misfits(model: Model, edges: Edges, arris: Arris) -> list[Finding]:
    """Return the arrises that reach farther into a face than it is wide, each once.

    There is one for each key and kind of face. Faces are measured square to the middle of each
    straight part of an edge. Where an arris stands at the other side as well, there must be room
    for both.

    Args:
        model: The model, its edges square.
        edges: Its edges.
        arris: From the pool file.

    Returns:
        The findings.
    """
    mesh = model.surface
    rows = np.flatnonzero(edges.counts & edges.external)
    pair_of = edges.patches[rows]
    legs, finishes = np.zeros(len(rows)), {}
    for k, (a, b) in enumerate(pair_of.tolist()):
        kind = f"{KINDS[edges.kinds[rows[k], 0]]}/{KINDS[edges.kinds[rows[k], 1]]}"
        if (a, b) not in finishes:
            finishes[a, b] = finish_of(arris, kind, (mesh.patches[a], mesh.patches[b]))
        finish = finishes[a, b]
        legs[k] = section_of(finish.form, finish.size, float(edges.angle[rows[k]])).leg
    border, owner = _borders(mesh)
    leg_at = _legs_at(mesh, edges.ends[rows], legs, border)
    worst: dict[tuple[Key, str], tuple[float, Finding]] = {}
    cut = np.flatnonzero(legs > 0.0)
    for side in (0, 1):
        for patch in np.unique(pair_of[cut, side]).tolist():
            mine = cut[pair_of[cut, side] == patch]
            on = owner == patch
            room, other = _room(mesh, edges.ends[rows[mine]], border[on], leg_at[on],
                                mesh.doubled_areas[edges.triangles[rows[mine], side]])  # fmt: skip
            lack = legs[mine] + other - room
            k = int(np.argmax(lack))
            if lack[k] <= SLACK:
                continue
            a, b = pair_of[mine[k]].tolist()
            place = mesh.vertices[edges.ends[rows[mine[k]]]].mean(axis=0)
            found = _misfit(finishes[a, b], mesh.patches[patch], place, float(room[k]),
                            float(legs[mine[k]] + other[k]))  # fmt: skip
            name = (found.key, mesh.patches[patch].kind)
            if name not in worst or worst[name][0] < lack[k]:
                worst[name] = float(lack[k]), found
    return [finding for _, finding in worst.values()]


def _misfit(finish: Finish, face: Patch, place: Floats, room: float, wanted: float) -> Finding:
    name = f"{face.kind} of '{face.feature}'" if face.feature else face.kind
    x, y, _ = place
    fits = np.floor(finish.size * room / wanted * 1000.0 + SLACK) / 1000.0
    remedy = f"use at most {fits:.3f} m there" if fits > 0.0 else "leave those edges square"
    return Finding(
        (*finish.key, "size"),
        f"must fit the {name} near ({x:.3f}, {y:.3f}) m, which is {room:.3f} m wide there",
        f"{finish.size:.3f} m; its arrises take {wanted:.3f} m of it",
        remedy,
    )


def _borders(mesh: Mesh) -> tuple[Ints, Ints]:
    """Return the borders of all patches.

    Returns:
        (k, 2) vertices, (k,) the patch that ends there.
    """
    keys = mesh.edge_keys()
    half = np.arange(len(keys)) // 3
    order = np.lexsort((mesh.patch[half], keys))
    same = (keys[order][1:] == keys[order][:-1]) & (
        mesh.patch[half[order]][1:] == mesh.patch[half[order]][:-1]
    )
    inner = np.zeros(len(keys), dtype=bool)
    inner[order[1:][same]] = True
    inner[order[:-1][same]] = True
    kept = np.flatnonzero(~inner)
    ends = np.stack(np.divmod(keys[kept], len(mesh.vertices)), axis=1)
    return ends, mesh.patch[half[kept]]


def _legs_at(mesh: Mesh, ends: Ints, legs: Floats, border: Ints) -> Floats:
    """Return the leg of the arris on each border (k,); 0 where none stands [m]."""
    count = len(mesh.vertices)
    mine = ends.min(axis=1) * count + ends.max(axis=1)
    order = np.argsort(mine)
    wanted = border.min(axis=1) * count + border.max(axis=1)
    if not len(mine):
        return np.zeros(len(border))
    at = order[np.minimum(np.searchsorted(mine[order], wanted), len(mine) - 1)]
    return np.where(mine[at] == wanted, legs[at], 0.0)


def _room(
    mesh: Mesh, ends: Ints, border: Ints, leg_at: Floats, normals: Floats
) -> tuple[Floats, Floats]:
    """Measure a face across, from the middles of some of its edges to its border.

    Args:
        mesh: The surface.
        ends: (k, 2) vertices of the edges.
        border: (b, 2) vertices of the face's border.
        leg_at: (b,) leg of the arris that stands there [m].
        normals: (k, 3) normal of the face at each edge.

    Only sides that run along with the edge count: into a corner every face gets narrow.

    Returns:
        (k,) how wide it is, infinite where it bends away, and (k,) the leg of the arris at its
        other side [m].
    """
    a, b = mesh.vertices[ends[:, 0]], mesh.vertices[ends[:, 1]]
    along = (b - a) / np.linalg.norm(b - a, axis=1)[:, None]
    normal = normals / np.linalg.norm(normals, axis=1)[:, None]
    across = np.cross(normal, along)
    p, q = (mesh.vertices[border[:, i]][None] - ((a + b) / 2.0)[:, None] for i in (0, 1))
    (u, v), (s, t), (high, higher) = (
        tuple(np.einsum("kbi,ki->kb", item, axis) for item in (p, q))
        for axis in (along, across, normal)
    )
    crosses = (u * v <= 0.0) & (u != v) & (np.maximum(abs(high), abs(higher)) < FLAT)
    share = np.where(crosses, u / np.where(u == v, 1.0, u - v), 0.0)
    reach = abs(s + share * (t - s))  # the face lies on one side of its edge
    opposite = abs(t - s) < ACUTE * abs(v - u)
    hit = np.where(crosses & (reach > TOUCH) & opposite, reach, np.inf)
    nearest = np.argmin(hit, axis=1)
    rows = np.arange(len(ends))
    room = hit[rows, nearest]
    return room, np.where(np.isfinite(room), leg_at[nearest], 0.0)
