"""How near joints come to fittings, to edges, and to each other."""

from __future__ import annotations

import math

import numpy as np

from ..arrays import Floats
from ..placed import Placed

AT_A_JOINT = 5e-3
"""[m] What is nearer to a joint than this is at it."""

MOST_AT_ONCE = 2_000_000
"""Distances that are computed together."""

_STEPS = np.linspace(-2.0, 2.0, 161)


def distance_to(segments: Floats, points: Floats) -> Floats:
    """Return how far points lie from the nearest of some segments.

    Args:
        segments: (k, 2, 3) [m].
        points: (p, 3) [m].

    Returns:
        (p,) distances [m]; infinite where there are no segments.
    """
    if not len(segments):
        return np.full(len(points), np.inf)
    start, way = segments[:, 0], segments[:, 1] - segments[:, 0]
    square = np.maximum(np.einsum("ij,ij->i", way, way), 1e-18)
    found = [np.zeros(0)]
    for some in np.array_split(points, len(points) * len(segments) // MOST_AT_ONCE + 1):
        gap = some[:, None, :] - start
        share = np.clip(np.einsum("pij,ij->pi", gap, way) / square, 0.0, 1.0)
        gap -= share[..., None] * way
        off = np.einsum("pij,pij->pi", gap, gap)
        found.append(np.sqrt(off.min(axis=1, initial=np.inf)))
    return np.concatenate(found)


def fitting_distance(segments: Floats, item: Placed) -> float:
    """Return how far a joint stays from a fitting's collar [m]; below 0 where it goes through.

    Args:
        segments: (k, 2, 3) Of the joint [m].
        item: The fitting. What lies farther off its plane than its collar is wide is not near.
    """
    point, frame = np.array(item.point), np.array([item.across, item.upward, item.normal])
    half = np.array(item.half)
    size = float(np.hypot(*half))
    near = segments[distance_to_each(segments, point) < 3.0 * size]
    if not len(near):
        return math.inf
    start, way = near[:, 0], near[:, 1] - near[:, 0]
    length = np.maximum(np.linalg.norm(way, axis=1), 1e-9)
    foot = np.einsum("ij,ij->i", point - start, way) / length
    along = np.clip(foot[:, None] + size * _STEPS, 0.0, length[:, None])
    places = start[:, None] + along[..., None] * (way / length[:, None])[:, None]
    local = (places.reshape(-1, 3) - point) @ frame.T
    if item.is_round:
        return float(np.linalg.norm(local, axis=1).min()) - float(half[0])
    gap = np.abs(local[:, :2]) - half
    off = np.linalg.norm(np.column_stack([np.maximum(gap, 0.0), local[:, 2]]), axis=1)
    inside = (gap.max(axis=1) < 0.0) & (np.abs(local[:, 2]) < size / 2.0)
    return float(np.where(inside, gap.max(axis=1), off).min())


def reach_along(item: Placed, way: Floats) -> float:
    """Return how far a fitting's collar reaches from its middle along a unit vector (3,) [m]."""
    across, up = (abs(float(way @ np.array(v))) for v in (item.across, item.upward))
    if item.is_round:
        return item.half[0] * math.hypot(across, up)
    return item.half[0] * across + item.half[1] * up


def distance_to_each(segments: Floats, point: Floats) -> Floats:
    """Return how far a point (3,) lies from each of some segments (k, 2, 3): (k,) [m]."""
    start, way = segments[:, 0], segments[:, 1] - segments[:, 0]
    square = np.maximum(np.einsum("ij,ij->i", way, way), 1e-18)
    share = np.clip(np.einsum("ij,ij->i", point - start, way) / square, 0.0, 1.0)
    found: Floats = np.linalg.norm(start + share[:, None] * way - point, axis=1)
    return found
