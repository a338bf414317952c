"""Splines by control points (NURBS), evaluated exactly.

Source: de Boor's recurrence and the derivatives of rational curves, as in L. Piegl and W. Tiller,
The NURBS Book, 2nd ed., eqs. 2.5, 3.3 and 4.8 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Floats
from .curves import Parametric

SAME_KNOT = 1e-12
"""[-] Knots that differ by less than this share of their range are one."""


@dataclass(frozen=True)
class Nurbs(Parametric):
    """A spline by control points.

    Args:
        degree: Of its polynomials.
        all_knots: (n + degree + 1,) rising.
        controls: (n, 2) [m].
        weights: (n,) above 0.
    """

    degree: int
    all_knots: Floats
    controls: Floats
    weights: Floats
    least: int = 2

    @cached_property
    def knots(self) -> Floats:
        """Parameters between which it is one polynomial."""
        p = self.degree
        return np.unique(self.all_knots[p : len(self.all_knots) - p])

    @cached_property
    def _derived(self) -> tuple[tuple[Floats, Floats], ...]:
        """Knots and homogeneous control points of the curve and of its first two derivatives."""
        points = np.column_stack([self.controls * self.weights[:, None], self.weights])
        found = [(self.all_knots, points)]
        knots, p = self.all_knots, self.degree
        while len(found) < 3 and p > 0:
            spans = knots[p + 1 : -1] - knots[1 : -p - 1]
            steps = np.diff(points, axis=0)
            spans = np.where(spans > 0.0, spans, np.inf)
            points = p * steps / spans[:, None]
            knots, p = knots[1:-1], p - 1
            found.append((knots, points))
        return tuple(found)

    def at(self, t: Floats, order: int = 0) -> Floats:
        """Return points, or derivatives; beyond its ends it stays in them."""
        t = np.clip(t, *self.domain)
        whole = [self._sum(k, t) for k in range(order + 1)]
        point, weight = whole[0][:, :2], whole[0][:, 2:]
        found: Floats = point / weight
        if order == 0:
            return found
        first: Floats = (whole[1][:, :2] - whole[1][:, 2:] * found) / weight
        if order == 1:
            return first
        second = whole[2][:, :2] - 2.0 * whole[1][:, 2:] * first - whole[2][:, 2:] * found
        return second / weight

    def _sum(self, order: int, t: Floats) -> Floats:
        """Homogeneous points (k, 3) of a derivative, by de Boor's recurrence."""
        if order > self.degree:
            return np.zeros((len(t), 3))
        knots, controls = self._derived[order]
        p = self.degree - order
        last = len(controls) - 1
        while last > p and knots[last] >= knots[last + 1]:
            last -= 1
        span = np.clip(np.searchsorted(knots, t, side="right") - 1, p, last)
        points = controls[span[:, None] + np.arange(-p, 1)]
        for r in range(1, p + 1):
            i = span[:, None] + np.arange(r - p, 1)
            low, high = knots[i], knots[i + p - r + 1]
            share = ((t[:, None] - low) / (high - low))[..., None]
            points = (1.0 - share) * points[:, :-1] + share * points[:, 1:]
        found: Floats = points[:, 0]
        return found

    def smooth_parts(self) -> list[Nurbs]:
        """Return it cut where it may turn: at inner knots as many as its degree."""
        p, knots = self.degree, self.all_knots
        start, end = self.domain
        gap = SAME_KNOT * (end - start)
        inner = self.knots[(self.knots > start + gap) & (self.knots < end - gap)]
        parts, head, first = [], knots[:0], 0
        begin = 0
        for knot in inner.tolist():
            (same,) = np.nonzero(np.abs(knots - knot) <= gap)
            if len(same) < p or same[0] < begin:
                continue
            ends, stop = np.full(p + 1, knot), int(same[0])
            own = np.concatenate([head, knots[begin:stop], ends])
            parts.append(Nurbs(p, own, self.controls[first:stop], self.weights[first:stop]))
            head, begin = ends, int(same[-1]) + 1
            first = begin - 1 - p
        own = np.concatenate([head, knots[begin:]])
        return [*parts, Nurbs(p, own, self.controls[first:], self.weights[first:])]
