"""The takeoff: areas by kind, edge runs, coves and volumes, measured on the surface itself."""

from __future__ import annotations

import numpy as np

from ..model import AreaRow, Mesh, Model, Takeoff
from ..surface.kinds import KINDS
from .edges import edges_of
from .runs import cove_runs_of, runs_of


def measure(model: Model) -> Takeoff:
    """Measure a model.

    Args:
        model: From `poolgeo.build`.

    Returns:
        Typed rows (SI units) that every report reads.
    """
    edges = edges_of(model)
    return Takeoff(
        areas(model),
        runs_of(model, edges),
        cove_runs_of(model, edges),
        {body.name: volume(body.water) for body in model.bodies},
        volume(model.shell),
        model.warnings,
    )


def areas(model: Model) -> tuple[AreaRow, ...]:
    """Return the areas of the inside surface by body and kind, in the order of `KINDS`."""
    mesh = model.surface
    normals = mesh.doubled_areas
    true = np.sqrt(np.einsum("ij,ij->i", normals, normals)) / 2.0
    plan = np.abs(normals[:, 2]) / 2.0
    count = len(mesh.patches)
    sums = [
        np.bincount(mesh.patch, weights, minlength=count)
        for weights in (true, np.where(model.wet, true, 0.0), plan)
    ]
    rows = []
    for body in model.bodies:
        for kind in KINDS:
            mine = [item.body == body.name and item.kind == kind for item in mesh.patches]
            area, wet, seen = (float(item[mine].sum()) for item in sums)
            if area > 0.0:
                rows.append(AreaRow(body.name, kind, area, wet, seen))
    return tuple(rows)


def volume(mesh: Mesh) -> float:
    """Return the volume of a closed mesh by the divergence theorem [m3]."""
    centre = mesh.vertices.mean(axis=0) if len(mesh.vertices) else np.zeros(3)
    places = mesh.vertices[mesh.triangles[:, 0]] - centre
    return float(np.einsum("ij,ij", places, mesh.doubled_areas)) / 6.0
