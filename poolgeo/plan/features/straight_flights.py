"""Flights with straight nosings: down from a wall, or across the whole end of the water."""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..curves import unit
from ..shapes import part_at, polygons_only, within
from .flight_plan import IN_WATER, FlightPlan, axis_of, count_of, reach_of
from .site import Site

AT_END = 1e-5
"""[m] What of the outline lies no further ahead of its outermost point than this is its end: some
times what places rounded to the grid differ by."""


def side_flight(site: Site, flight: schema.SideFlight, key: Key) -> FlightPlan:
    """Return the plan of a flight of one width down from a wall."""
    origin, down = axis_of(site, flight, key)
    across = np.array([-down[1], down[0]]) * flight.width / 2.0
    back = origin - down * flight.width
    reach = reach_of(flight)
    behind = shapely.Polygon([back - across, origin - across, origin + across, back + across])
    inside = within(behind, site.ring.polygon)

    def region(k: int, _: int) -> shapely.Geometry:
        front = origin + down * reach(k)
        ahead = shapely.Polygon([origin - across, front - across, front + across, origin + across])
        return polygons_only(shapely.union(ahead, inside))

    def flanks(k: int, _: int) -> Floats:
        front = origin + down * reach(k)
        return np.array([[back - across, front - across], [back + across, front + across]])

    return FlightPlan(
        region,
        lambda k: origin + down * reach(k),
        flanks,
        origin + down * IN_WATER,
        clipped=True,
        count=count_of(flight),
    )


def end_flight(site: Site, flight: schema.EndFlight, key: Key) -> FlightPlan:
    """Return the plan of a flight from wall to wall down from an end of the water."""
    down = unit(flight.direction)
    across = np.array([-down[1], down[0]])
    u = site.ring.points @ down
    first = float(u.min())
    tips = site.ring.points[u < first + AT_END]
    size = float(np.ptp(site.ring.points, axis=0).sum()) + 1.0
    middle = site.ring.points.mean(axis=0) @ across
    reach = reach_of(flight)

    def region(k: int, _: int) -> shapely.Geometry:
        a, b = down * (first - 1.0), down * (first + reach(k))
        left, right = across * (middle + size), across * (middle - size)
        return shapely.Polygon([a + right, b + right, b + left, a + left])

    def foot(k: int) -> Floats:
        ends = [across * (middle - size), across * (middle + size)]
        line = shapely.LineString([down * (first + reach(k)) + end for end in ends])
        inside = shapely.intersection(line, site.ring.polygon)
        nearest = part_at(inside, tips.mean(axis=0))
        centre: Floats = tips.mean(axis=0)
        if nearest.length:
            centre = shapely.get_coordinates(shapely.centroid(nearest))[0]
        return centre

    def check(_: int) -> None:
        parts = shapely.get_parts(within(region(1, 1), site.ring.polygon))
        at = shapely.dwithin(parts[:, None], shapely.points(tips), AT_END)
        ends = [tips[item].mean(axis=0) for item in at if item.any()]
        if len(ends) > 1:
            site.findings.error(
                (*key, "direction"),
                f"must lead down from one end: the {site.body} has {len(ends)} that way",
                " and ".join(f"({x:.3f}, {y:.3f}) m" for x, y in ends),
                "use the shape 'side' at each, or 'outlines'",
            )

    return FlightPlan(
        region,
        foot,
        lambda *_: None,
        tips.mean(axis=0) + down * IN_WATER,
        clipped=False,
        count=count_of(flight),
        check=check,
    )
