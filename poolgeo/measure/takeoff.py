"""The takeoff: areas by kind, edge runs, coves and volumes, measured on the surface itself."""

from __future__ import annotations

import numpy as np

from ..mesh import Mesh
from ..model import Model
from ..quantities import AreaRow, Takeoff
from ..surface.kinds import KINDS
from .arrises import arrises_of
from .arrises_in_solid import left_square
from .corner_coves import corner_coves_of
from .cove_runs import cove_runs_of
from .edges import edges_of
from .joints import joint_runs
from .outside import outside_areas, outside_runs
from .runs import runs_of
from .zones import in_zones


def measure(model: Model) -> Takeoff:
    """Measure a model.

    Areas and volumes are those of the solid. Runs are those of its square edges, which arrises
    follow where they are in it.

    Args:
        model: From `poolgeo.build`.

    Returns:
        Typed rows (SI units) that every report reads.
    """
    square = model.square
    edges = edges_of(square)
    runs = runs_of(square, edges)
    arrises = arrises_of(model, edges, runs)
    return Takeoff(
        areas(model),
        runs,
        (*cove_runs_of(square, edges), *corner_coves_of(model)),
        {body.name: volume(body.wetted, body.level) for body in model.bodies},
        volume(model.shell, 0.0),
        {body.name: body.band for body in model.bodies if not body.is_dry},
        (*model.warnings, *left_square(model, runs, arrises)),
        model.fittings,
        outside_areas(model),
        outside_runs(square),
        joint_runs(model),
        arrises,
    )


def areas(model: Model) -> tuple[AreaRow, ...]:
    """Return the areas of the inside surface by body and kind, in the order of `KINDS`."""
    mesh = model.surface
    true, plan = mesh.areas, np.abs(mesh.doubled_areas[:, 2]) / 2.0
    count = len(mesh.patches)
    sums = [
        np.bincount(mesh.patch, weights, minlength=count)
        for weights in (true, np.where(model.wet, true, 0.0), plan)
    ]
    sums += list(in_zones(mesh.patch, model.zone, true, count).T)
    found = {(body.name, kind): np.zeros(len(sums)) for body in model.bodies for kind in KINDS}
    for patch, sizes in zip(mesh.patches, np.transpose(sums), strict=True):
        if patch.kind in KINDS:
            found[patch.body, patch.kind] += sizes
    return tuple(
        AreaRow(*row, area, wet, seen, tuple(zones))
        for row, (area, wet, seen, *zones) in ((row, item.tolist()) for row, item in found.items())
        if area > 0.0
    )


def volume(mesh: Mesh, level: float) -> float:
    """Return the volume of a mesh that is closed, or open in one level plane only [m3].

    As prisms between its triangles and that level, to which an opening there adds nothing.

    Args:
        mesh: Normals outwards.
        level: Height of the plane [m].
    """
    z = mesh.vertices[:, 2].take(mesh.triangles).sum(axis=1) / 3.0
    return float((z - level) @ mesh.doubled_areas[:, 2]) / 2.0
