"""Connected pieces of the inside surface, and how wide each is as a strip."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from ..mesh import Patch, Zones
from ..model import Model
from ..plan.arrangement import components
from ..surface.kinds import KINDS
from .zones import in_zones

TINY = 1e-12
"""[m] Guards a division: a piece without area may have no border."""


@dataclass(frozen=True)
class Piece:
    """A connected piece of surface of one patch.

    Args:
        patch: Its body, kind and feature.
        area: True area [m2].
        wet_area: Area under water [m2].
        zones: Area in each zone [m2].
        width: Of a strip as large, with as long a border [m].
    """

    patch: Patch
    area: float
    wet_area: float
    zones: Zones
    width: float

    @property
    def length(self) -> float:
        """Of that strip [m]."""
        return self.area / self.width


def pieces_of(model: Model) -> tuple[Piece, ...]:
    """Return the connected pieces of each patch, in the order of `KINDS` body by body.

    The width is that of a rectangle of the same area and border, as that of a strip about a curve
    is; a strip that closes on itself has no ends, and half the border is its length.
    """
    mesh = model.surface
    _, (one, other) = mesh.pairs
    same = mesh.patch[one] == mesh.patch[other]
    piece = components(len(mesh.triangles), one[same], other[same])
    border = _border(model, piece)
    count = int(piece.max(initial=-1)) + 1
    area: Floats = np.bincount(piece, mesh.areas, count).astype(float)
    wet = np.bincount(piece, mesh.areas * model.wet, count)
    zones = in_zones(piece, model.zone, mesh.areas, count)
    patch = np.zeros(count, dtype=np.int64)
    patch[piece] = mesh.patch
    width = np.where(
        _is_ring(model, piece), 2.0 * area / np.maximum(border, TINY), _width(area, border)
    )
    bodies = {body.name: i for i, body in enumerate(model.bodies)}
    rows = []
    for i in np.flatnonzero(area > 0.0).tolist():
        label = mesh.patches[patch[i]]
        if label.kind in KINDS:
            row = Piece(
                label, float(area[i]), float(wet[i]), tuple(zones[i].tolist()), float(width[i])
            )
            rows.append(((bodies.get(label.body, 0), KINDS.index(label.kind), patch[i], i), row))
    return tuple(row for _, row in sorted(rows, key=lambda item: item[0]))


def _border(model: Model, piece: np.ndarray) -> Floats:
    """Return the length of the border of each piece [m]."""
    mesh = model.surface
    corners = mesh.vertices[mesh.triangles]
    sides = np.linalg.norm(corners[:, [1, 2, 0]] - corners, axis=2).sum(axis=1)
    count = int(piece.max(initial=-1)) + 1
    found: Floats = np.bincount(piece, sides, count).astype(float)
    ends, (one, other) = mesh.pairs
    within = piece[one] == piece[other]
    inner = np.linalg.norm(mesh.vertices[ends[0]] - mesh.vertices[ends[1]], axis=1)
    found -= 2.0 * np.bincount(piece[one[within]], inner[within], count)
    return found


def _is_ring(model: Model, piece: np.ndarray) -> np.ndarray:
    """Return which pieces close on themselves: vertices less edges plus triangles are none."""
    mesh = model.surface
    count = int(piece.max(initial=-1)) + 1
    corners = np.unique(np.column_stack([np.repeat(piece, 3), mesh.triangles.ravel()]), axis=0)
    _, (one, other) = mesh.pairs
    inner = np.bincount(piece[one[piece[one] == piece[other]]], minlength=count)
    triangles = np.bincount(piece, minlength=count)
    edges = 3 * triangles - inner  # an inner edge is one of two triangles
    found: np.ndarray = np.bincount(corners[:, 0], minlength=count) - edges + triangles == 0
    return found


def _width(area: Floats, border: Floats) -> Floats:
    """Return the shorter side of rectangles of an area [m2] and a border [m]."""
    half = border / 2.0
    # what is rounder than a square is taken as a square
    root = np.sqrt(np.maximum(half * half - 4.0 * area, 0.0))
    found: Floats = np.where(root > 0.0, 2.0 * area / np.maximum(half + root, TINY), np.sqrt(area))
    return found
