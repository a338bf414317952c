"""Free-standing flights: blocks in the water, with treads round them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..curves import unit
from ..outline import outline_ring
from .flight_plan import FlightPlan, count_of, reach_of
from .site import Site

CLEAR = 1e-3
"""[m] An island nearer to the wall than this stands in it."""

AROUND: tuple[schema.Side, ...] = ("right", "front", "left", "back")
"""Sides of a rectangle from its lower left corner on, anticlockwise, before rotation."""


def island_flight(site: Site, flight: schema.IslandFlight, key: Key) -> FlightPlan:
    """Return the plan of a free-standing block."""
    ring = outline_ring(flight.landing, site.tolerance, (*key, "landing"))
    sums = reach_of(flight)
    water = site.ring.polygon

    def reach(k: int) -> float:
        return sums(k - 1)

    def grown(k: int) -> shapely.Polygon:
        if isinstance(flight.landing, schema.Rectangle) and flight.sides is not None:
            return _grown(flight.landing, flight.sides, reach(k))
        return ring.polygon if k == 1 else ring.thickened(reach(k))

    def check(n: int) -> None:
        whole = grown(n)
        if water.contains(whole) and shapely.distance(whole, water.exterior) >= CLEAR:
            return
        place = np.round(shapely.get_coordinates(shapely.centroid(whole))[0], 3) + 0.0
        site.findings.error(
            key,
            "must stand clear of the walls on all sides",
            f"{shapely.difference(whole, water).area:.3f} m2 of it, about "
            f"({place[0]:.3f}, {place[1]:.3f}) m, stand in a wall or touch it",
            "move it into the water, make it smaller, or use the shape 'side'",
        )

    def flanks(_k: int, n: int) -> Floats | None:
        if not isinstance(flight.landing, schema.Rectangle) or flight.sides is None:
            return None
        corners = np.array(grown(n).exterior.coords)[:-1]
        lines = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
        bare = [i for i, side in enumerate(AROUND) if side not in flight.sides]
        return lines[bare] if bare else None

    def foot(k: int) -> Floats:
        centre: Floats = shapely.get_coordinates(shapely.centroid(grown(k)))[0]
        return centre

    return FlightPlan(
        lambda k, _: grown(k),
        foot,
        flanks,
        None,
        clipped=False,
        count=count_of(flight),
        check=check,
    )


def _grown(landing: schema.Rectangle, sides: Sequence[schema.Side], by: float) -> shapely.Polygon:
    """Return a rectangle grown on some of its sides [m]."""
    more = {side: by if side in sides else 0.0 for side in AROUND}
    x, y = landing.length / 2.0, landing.width / 2.0
    low = [-x - more["back"], -y - more["right"]]
    high = [x + more["front"], y + more["left"]]
    corners = np.array([low, [high[0], low[1]], high, [low[0], high[1]]])
    c, s = unit(landing.rotation)
    return shapely.Polygon(corners @ np.array([[c, s], [-s, c]]) + np.array(landing.centre))
