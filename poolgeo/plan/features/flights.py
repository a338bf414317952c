"""The plans of flights of steps, before their heights are known.

Every plan is a nest of regions: the one down to nosing k holds all treads up to k.
"""

from __future__ import annotations

import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..outline import outline_ring
from ..shapes import polygons_only, within
from ..stretch import band, flanks_of, inward_at, point_at
from .fans import arc_flight, corner_flight
from .flight_plan import IN_WATER, FlightPlan, count_of, reach_of
from .island_flight import island_flight
from .on_outline import stretch_between_walls
from .site import Site
from .straight_flights import end_flight, side_flight
from .winders import winding_flight


def flight_plan(site: Site, flight: schema.Steps, key: Key) -> FlightPlan:
    """Return the plan of a flight.

    Args:
        site: The body of water that it stands in.
        flight: From the pool file.
        key: Its key there.
    """
    match flight:
        case schema.SideFlight():
            return side_flight(site, flight, key)
        case schema.EndFlight():
            return end_flight(site, flight, key)
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
