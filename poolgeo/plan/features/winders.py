"""Winders: wedges of equal angle about a pivot."""

from __future__ import annotations

import math

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ..curves import Arc, unit
from .flight_plan import FlightPlan
from .site import Site

AT_PIVOT = 1.5e-4
"""[m] The side along which winders begin starts so far off their pivot: crumbs of risers beyond
this are no part of it."""

NO_RIM = 1e-3
"""[m] Nearer to the pivot than this winders have no rim; this far from it they are looked for."""


def winding_flight(site: Site, flight: schema.WindingFlight) -> FlightPlan:
    """Return the plan of winders."""
    pivot, turn = np.array(flight.pivot), math.radians(flight.turn)
    start = math.radians(flight.direction)

    def sector(first: float, sweep: float) -> Floats:
        arc = Arc(pivot, flight.reach, first, sweep).flatten(site.tolerance)
        return np.vstack([pivot, arc.points])

    def region(k: int, n: int) -> shapely.Geometry:
        # wedge by wedge, so that all regions share the vertices of their arcs
        wedges = [sector(start + i * turn / n, turn / n)[1:] for i in range(k)]
        line = np.vstack([pivot, wedges[0], *(item[1:] for item in wedges[1:])])
        return shapely.orient_polygons(shapely.Polygon(line))

    def flanks(k: int, n: int) -> Floats:
        line = np.array(region(k, n).exterior.coords)
        first = unit(flight.direction)
        ends = pivot + AT_PIVOT * first, pivot + flight.reach * first
        steps = np.stack([line[:-1], line[1:]], axis=1)
        rim = np.hypot(*(steps - pivot).reshape(-1, 2).T).reshape(-1, 2).min(axis=1) > NO_RIM
        return np.concatenate([[ends], steps[rim]])

    foot = pivot + flight.reach / 2.0 * unit(flight.direction + flight.turn)
    middle = pivot + NO_RIM * unit(flight.direction + flight.turn / 2.0)
    seed = middle if site.ring.polygon.contains(shapely.Point(middle)) else None
    return FlightPlan(region, lambda _: foot, flanks, seed, clipped=False, count=None, size="reach")
