"""Mortar under coves and fillets: what lies between their face and the bare wall and floor."""

from __future__ import annotations

import numpy as np
import shapely

from ..arrays import Floats, Ints
from ..model import Model
from ..plan.canal import Canal


def under_coves(model: Model, triangles: Ints) -> Floats:
    """Return the volume between triangles of coves and what is behind them (k,) [m3].

    Behind a cove stands the bare floor or, where it leans and is higher there, the bare wall; above
    each point of the plan is one of them. So no section need be known.

    Args:
        model: The model.
        triangles: (k,) triangles of its surface, all of coves or fillets along a wall.
    """
    mesh = model.surface
    found = np.zeros(len(triangles))
    patch = mesh.patch[triangles]
    for i in np.unique(patch).tolist():
        label = mesh.patches[i]
        mine = np.flatnonzero(patch == i)
        corners = mesh.vertices[mesh.triangles[triangles[mine]]]
        # middles of sides: exact where what is behind is a plane or bends quadratically
        middles = (corners + corners[:, [1, 2, 0]]) / 2.0
        behind = _behind(model, model.coves[label], label.body, middles[..., :2])
        height = np.maximum(middles[..., 2] - behind, 0.0).mean(axis=1)
        normals = mesh.doubled_areas[triangles[mine]]
        found[mine] = height * np.abs(normals[:, 2]) / 2.0
        if not model.coves[label].straight:
            found[mine] -= _before_chords(model.coves[label], corners, normals)
    return found


def _before_chords(ball: Canal, corners: Floats, normals: Floats) -> Floats:
    """Return what triangles of a cove have before its true surface (k,) [m3].

    A facet is a chord w of the section's arc: w^2 / 12 r before it in the mean, to the third order.

    Args:
        ball: What made the cove.
        corners: (k, 3, 3) [m].
        normals: (k, 3) twice as long as the areas [m2].
    """
    doubled = np.linalg.norm(normals, axis=1)
    rise = corners[..., 2].max(axis=1) - corners[..., 2].min(axis=1)
    slant = np.hypot(normals[:, 0], normals[:, 1]) / doubled
    width = rise / np.maximum(slant, 1e-9)
    radius = ball.radius_at(corners.mean(axis=1)[:, :2])[..., 0]
    found: Floats = doubled / 2.0 * np.minimum(width, radius) ** 2 / (12.0 * radius)
    return found


def _behind(model: Model, ball: Canal, body: str, places: Floats) -> Floats:
    """Return the height of bare floor or wall at plan points (..., 2) [m]."""
    floor: Floats = ball.floor.height(places)
    if not ball.batter.lean:
        return floor
    outline = shapely.linearrings(model.outlines[body, "water"])
    away = shapely.distance(shapely.points(places), outline)
    found: Floats = np.maximum(floor, ball.batter.top - away / ball.batter.lean)
    return found
