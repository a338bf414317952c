"""The plans of flights of steps, before their heights are known.

Every plan is a nest of regions: the one down to nosing k holds all treads up to k.
"""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..curves import unit
from ..outline import outline_ring
from ..shapes import part_at, polygons_only, within
from ..stretch import band, flanks_of, inward_at, point_at
from .fans import arc_flight, corner_flight, winding_flight
from .flight_plan import IN_WATER, FlightPlan, axis_of, count_of, reach_of
from .island_flight import island_flight
from .site import Site
from .stations import stretch_between_walls

AT_END = 1e-5
"""[m] What of the outline lies no further ahead of its outermost point than this is its end: some
times what places rounded to the grid differ by."""


def flight_plan(site: Site, flight: schema.Steps, key: Key) -> FlightPlan:
    """Return the plan of a flight.

    Args:
        site: The body of water that it stands in.
        flight: From the pool file.
        key: Its key there.
    """
    match flight:
        case schema.SideFlight():
            return _side(site, flight, key)
        case schema.EndFlight():
            return _end(site, flight, key)
        case schema.FollowingFlight():
            return _following(site, flight, key)
        case schema.CornerFlight():
            return corner_flight(site, flight, key)
        case schema.ArcFlight():
            return arc_flight(site, flight, key)
        case schema.IslandFlight():
            return island_flight(site, flight, key)
        case schema.WindingFlight():
            return winding_flight(site, flight)
        case schema.OutlinedFlight():
            return _outlined(site, flight, key)


def _side(site: Site, flight: schema.SideFlight, key: Key) -> FlightPlan:
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


def _end(site: Site, flight: schema.EndFlight, key: Key) -> FlightPlan:
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


def _following(site: Site, flight: schema.FollowingFlight, key: Key) -> FlightPlan:
    stretch = stretch_between_walls(site, flight.start, flight.end, key)
    start = stretch.start or 0.0
    middle = (start + stretch.length / 2.0) % stretch.ring.perimeter
    origin, down = point_at(stretch.ring, middle), inward_at(stretch.ring, middle)
    reach = reach_of(flight)

    return FlightPlan(
        lambda k, _: band(stretch, reach(k)),
        lambda k: origin + down * reach(k),
        lambda k, _: flanks_of(stretch, reach(k)),
        origin + down * IN_WATER,
        clipped=True,
        count=count_of(flight),
    )


def _outlined(site: Site, flight: schema.OutlinedFlight, key: Key) -> FlightPlan:
    rings = [
        outline_ring(item, site.tolerance, (*key, "treads", i))
        for i, item in enumerate(flight.treads)
    ]
    nest = [rings[0].polygon]
    for ring in rings[1:]:
        nest.append(polygons_only(shapely.union(nest[-1], ring.polygon)))

    def foot(k: int) -> Floats:
        own = within(nest[k - 1], site.ring.polygon)
        if k > 1:
            own = polygons_only(shapely.difference(own, nest[k - 2]))
        whole = own if not own.is_empty else nest[k - 1]
        centre: Floats = shapely.get_coordinates(shapely.centroid(whole))[0]
        return centre

    return FlightPlan(
        lambda k, _: nest[k - 1],
        foot,
        lambda *_: None,
        None,
        clipped=True,
        count=len(rings),
        size="treads",
    )
