"""Edge runs, with their stable numbers."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ..arrays import Floats, Ints
from ..mesh import Mesh
from ..model import Model
from ..plan.keys import numbered
from ..plan.tolerances import CORNER, GRID
from ..quantities import Run, Sense
from ..surface.kinds import KINDS
from .chains import chains_of
from .edges import UPRIGHT, Edges
from .lines import LEAST_RUN, Lines, levels_of
from .numbers import in_order, numbers_of
from .zones import zones_of


def runs_of(model: Model, edges: Edges) -> tuple[Run, ...]:
    """Chain the edges into numbered runs."""
    mesh = model.surface
    levels = levels_of(model)
    rows = np.flatnonzero(edges.counts)
    one, other = edges.patches[rows].T  # patches know their kinds
    _, sort = numbered((one * len(mesh.patches) + other) * 2 + edges.external[rows])
    chains = chains_of(edges.ends[rows], sort, mesh.vertices, CORNER)
    lines = Lines(mesh, chains)
    first = rows[lines.edges[lines.first]]  # an edge of each run tells what meets there
    kinds, patches = edges.kinds[first].tolist(), edges.patches[first].tolist()
    rank = {body: k for k, body in enumerate(levels)}
    bodies = [
        _body(rank, mesh.patches[i].body, mesh.patches[j].body, *pair)
        for (i, j), pair in zip(patches, kinds, strict=True)
    ]
    names = [f"{KINDS[i]}/{KINDS[j]}" for i, j in kinds]
    cuts = lines.of_steps([levels[body] for body in bodies])
    middle = lines.middle_heights
    wet = middle < cuts[:, 1] - GRID
    zone = zones_of(middle, cuts, model.zone[edges.triangles[rows[lines.edges]]])
    wet_length = lines.sums(lines.steps * wet).tolist()
    by_zone = lines.in_zones(zone).tolist()
    angles = edges.angle[rows[lines.edges]]
    angle = (lines.sums(angles * lines.steps) / lines.length).tolist()
    between = _between(mesh, edges.triangles[rows[lines.edges]])
    external, length = edges.external[first].tolist(), lines.length.tolist()
    runs = []
    for body in dict.fromkeys(bodies):
        mine = [i for i, item in enumerate(bodies) if item == body and length[i] > LEAST_RUN]
        numbers = numbers_of(model, body, [names[i] for i in mine], lines, mine)
        for i, number in zip(mine, numbers, strict=True):
            sense: Sense = "external" if external[i] else "internal"
            steps, zones = lines.steps_of(i), tuple(by_zone[i])
            what = number, body, sense, names[i], lines.points_of(i), wet[steps], zone[steps]
            meet = tuple(mesh.patches[k] for k in patches[i])
            sizes = length[i], wet_length[i], zones, angle[i]
            more = angles[steps], between[steps], chains[i].vertices
            runs.append(Run(*what, *sizes, meet, *more))
    return in_order(model, runs)


def _body(rank: Mapping[str, int], body: str, other_body: str, kind: int, other_kind: int) -> str:
    """A run belongs to the water of its standing face, or of the first of two."""
    if body == other_body:
        return body
    stands, other_stands = kind in UPRIGHT, other_kind in UPRIGHT
    if other_stands and not stands:
        return other_body
    return min(body, other_body, key=rank.__getitem__) if stands and other_stands else body


def _between(mesh: Mesh, sides: Ints) -> Floats:
    """Return unit vectors (s, 3) half way between the normals of two triangles (s, 2)."""
    one, other = (mesh.doubled_areas[side] / (2.0 * mesh.areas[side])[:, None] for side in sides.T)
    found: Floats = one + other
    size = np.linalg.norm(found, axis=1, keepdims=True)
    found /= np.where(size > 0.0, size, 1.0)
    return found
