"""Mortar under coves and fillets: what lies between their face and the bare wall and floor."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..model import Model
from ..plan.canal import Canal


@dataclass(frozen=True)
class Contacts:
    """The line that measures the cove of each of k triangles, where it is nearest to them.

    Args:
        start: (k, 3) a point of it [m].
        way: (k, 3) its unit direction there.
        at_wall: (k,) whether it lies on the wall; else on the floor, the wall's being hidden.
    """

    start: Floats
    way: Floats
    at_wall: Bools

    def of(self, rows: Ints) -> Contacts:
        """Return those of some triangles."""
        return Contacts(self.start[rows], self.way[rows], self.at_wall[rows])


def contacts_of(centres: Floats, which: Ints, lines: Sequence[Floats], at_wall: Bools) -> Contacts:
    """Return the contacts of triangles.

    Args:
        centres: (k, 3) of the triangles [m].
        which: (k,) the line that each belongs to.
        lines: (n, 3) points of each line [m].
        at_wall: Of each line.
    """
    start, way = np.zeros((len(which), 3)), np.zeros((len(which), 3))
    for i in np.unique(which).tolist():
        mine = np.flatnonzero(which == i)
        ends = np.stack([lines[i][:-1], lines[i][1:]], axis=1)
        tree = shapely.STRtree(shapely.linestrings(ends[..., :2]))
        near = ends[tree.nearest(shapely.points(centres[mine, :2]))]
        step = near[:, 1] - near[:, 0]
        start[mine], way[mine] = near[:, 0], step / np.linalg.norm(step, axis=1, keepdims=True)
    return Contacts(start, way, at_wall[which])


def under_coves(model: Model, triangles: Ints, contacts: Contacts) -> Floats:
    """Return the volume between triangles of coves and what is behind them (k,) [m3].

    Behind a cove stands the bare floor or, where it leans and is higher there, the bare wall; above
    each point of the plan is one of them. So no section need be known.

    Args:
        model: The model.
        triangles: (k,) triangles of its surface, all of coves or fillets along a wall.
        contacts: Of each triangle.
    """
    mesh = model.surface
    found = np.zeros(len(triangles))
    patch = mesh.patch[triangles]
    for i in np.unique(patch).tolist():
        label = mesh.patches[i]
        ball, mine = model.coves[label], np.flatnonzero(patch == i)
        corners = mesh.vertices[mesh.triangles[triangles[mine]]]
        # middles of sides: exact where the floor is a plane or bends quadratically
        middles = (corners + corners[:, [1, 2, 0]])[..., :2] / 2.0
        height = corners[..., 2].mean(axis=1) - ball.floor.height(middles).mean(axis=1)
        beside = contacts.of(mine)
        if ball.batter.lean:
            outline = shapely.linearrings(model.outlines[label.body, "water"])
            height -= _mean_above(_wall(ball, corners, beside, outline))
        normals = mesh.doubled_areas[triangles[mine]]
        found[mine] = np.maximum(height, 0.0) * np.abs(normals[:, 2]) / 2.0
        if not ball.straight:
            found[mine] -= _before_chords(ball, corners, normals, beside.way)
    return found


def _wall(ball: Canal, corners: Floats, beside: Contacts, outline: shapely.Geometry) -> Floats:
    """Return how much higher than the floor the leaning wall stands at corners (k, 3) [m]."""
    off = corners - beside.start[:, None]
    plan = np.hypot(*beside.way[:, :2].T)
    way = beside.way / plan[:, None]  # to the metre in plan
    along = np.einsum("kcx,kx->kc", off[..., :2], way[:, :2])
    across = np.hypot(*np.moveaxis(off[..., :2] - along[..., None] * way[:, None, :2], -1, 0))
    wall = beside.start[:, None, 2] + along * way[:, None, 2] - across / ball.batter.lean
    away = shapely.distance(shapely.points(corners[..., :2]), outline)
    hidden = ball.batter.top - away / ball.batter.lean
    wall = np.where(beside.at_wall[:, None], wall, hidden)
    found: Floats = wall - ball.floor.height(corners[..., :2])
    return found


def _mean_above(corners: Floats) -> Floats:
    """Return the mean over triangles of what of a plane is above 0, from its corners (k, 3)."""
    low, middle, high = np.sort(corners, axis=1).T
    with np.errstate(divide="ignore", invalid="ignore"):
        one = high**3 / (3.0 * (high - low) * (high - middle))
        other = -(low**3) / (3.0 * (high - low) * (middle - low))
    found: Floats = np.select(
        [low >= 0.0, high <= 0.0, middle <= 0.0],
        [(low + middle + high) / 3.0, np.zeros(len(low)), one],
        (low + middle + high) / 3.0 + other,
    )
    return found


def _before_chords(ball: Canal, corners: Floats, normals: Floats, way: Floats) -> Floats:
    """Return what triangles of a cove have before its true surface (k,) [m3].

    A facet is a chord w of the section's arc: w^2 / 12 r before it in the mean, to the third order.

    Args:
        ball: What made the cove.
        corners: (k, 3, 3) [m].
        normals: (k, 3) twice as long as the areas [m2].
        way: (k, 3) along the cove.
    """
    doubled = np.linalg.norm(normals, axis=1)
    across = np.cross(normals, way)
    across /= np.maximum(np.linalg.norm(across, axis=1, keepdims=True), 1e-12)
    width = np.ptp(np.einsum("kcx,kx->kc", corners, across), axis=1)
    radius = ball.radius_at(corners.mean(axis=1)[:, :2])[..., 0]
    found: Floats = doubled / 2.0 * np.minimum(width, radius) ** 2 / (12.0 * radius)
    return found
