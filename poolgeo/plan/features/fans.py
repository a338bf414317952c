"""Flights whose nosings are arcs: fans in a corner, and curved nosings before a wall."""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..ring import Ring
from ..shapes import polygons_only, within
from ..stretch import inward_at, point_at, station_of
from ..tolerances import CORNER
from .flight_plan import IN_WATER, FlightPlan, axis_of, count_of, disc_of, reach_of
from .on_outline import check_station
from .site import Site

AT_CORNER = 1e-3
"""[m] A station nearer to a corner of the outline than this is in it."""

TIGHTEST = 1e-3
"""[m] A nosing that is refused, as its arc would have less than no radius, is drawn with this."""


def corner_flight(site: Site, flight: schema.CornerFlight, key: Key) -> FlightPlan:
    """Return the plan of a fan in a corner."""
    check_station(site, flight.at, (*key, "at"))
    ring = site.ring.bare
    at = station_of(ring, flight.at)
    corner, inward = point_at(ring, at), inward_at(ring, at)
    centre = corner if flight.centre is None else np.array(flight.centre)
    reach = reach_of(flight)
    off = float(np.hypot(*(corner - centre)))
    sides = _sides_at(ring, corner)

    def check(n: int) -> None:
        if sides and flight.centre is None and reach(n) > min(sides) + AT_CORNER:
            site.findings.warn(
                (*key, "going"),
                "makes the fan wider than a side at its corner: nosings end on the walls beyond",
                f"{reach(n):.3f} m; the sides are {sides[0]:.3f} m and {sides[1]:.3f} m long",
                "use a shorter going or fewer treads",
            )

    return FlightPlan(
        lambda k, _: disc_of(site, centre, off + reach(k)),
        lambda k: corner + inward * reach(k),
        lambda *_: None,
        corner + inward * IN_WATER,
        clipped=False,
        count=count_of(flight),
        check=check,
    )


def _sides_at(ring: Ring, corner: Floats) -> tuple[float, float] | None:
    """Return how far it is from a corner to the corners before and after it; None of no corner."""
    near = np.hypot(*(ring.points - corner).T)
    own = int(np.argmin(near))
    bends = np.flatnonzero(np.abs(ring.turns) >= CORNER)
    if near[own] > AT_CORNER or own not in bends or len(bends) < 2:
        return None
    i = int(np.searchsorted(bends, own))
    at = ring.stations[bends]
    back, ahead = at[i] - at[i - 1], at[(i + 1) % len(bends)] - at[i]
    return float(back % ring.perimeter), float(ahead % ring.perimeter)


def arc_flight(site: Site, flight: schema.ArcFlight, key: Key) -> FlightPlan:
    """Return the plan of a flight with curved nosings."""
    origin, down = axis_of(site, flight, key)
    aside = np.array([-down[1], down[0]])
    reach = reach_of(flight)
    first, sign = reach(1), 1.0 if flight.bend == "convex" else -1.0
    centre = origin + down * (first - sign * flight.radius)
    width, far = flight.width, flight.radius + 2.0 * first

    def strip(front: float) -> shapely.Geometry:
        half = aside * (width or 0.0) / 2.0
        back, ahead = origin - down * far, origin + down * front
        return shapely.Polygon([back - half, ahead - half, ahead + half, back + half])

    behind = within(strip(0.0), site.ring.polygon) if width is not None else shapely.Polygon()

    def radius_of(k: int) -> float:
        return flight.radius + sign * (reach(k) - first)

    def check(n: int) -> None:
        left = radius_of(n)
        if sign < 0.0 and left <= (width or 0.0) / 2.0:
            site.findings.error(
                (*key, "radius"),
                "must leave the last nosing of a concave flight as wide as the flight",
                f"{flight.radius:.3f} m; {left:.3f} m is left for a width of {width or 0.0:.3f} m",
                "use a larger radius, a smaller width or fewer treads",
            )

    def region(k: int, _: int) -> shapely.Geometry:
        radius = radius_of(k)
        if sign > 0.0:
            disc = disc_of(site, centre, radius)
            if width is None:
                return disc
            # behind the arc's own chord the flight goes back to the wall
            filled = shapely.union(disc, strip(first - flight.radius))
            return polygons_only(shapely.intersection(filled, strip(reach(k) + 1.0)))
        ahead = shapely.difference(strip(first + flight.radius), shapely.union(behind, strip(0.0)))
        hollow = shapely.difference(ahead, disc_of(site, centre, max(radius, TIGHTEST)))
        return polygons_only(shapely.union(hollow, behind))

    def flanks(k: int, _: int) -> Floats | None:
        if width is None:
            return None
        half, ahead = aside * width / 2.0, origin + down * (reach(k) + flight.radius)
        back = origin - down * far
        return np.array([[back - half, ahead - half], [back + half, ahead + half]])

    return FlightPlan(
        region,
        lambda k: origin + down * reach(k),
        flanks,
        origin + down * IN_WATER,
        clipped=flight.bend == "concave",
        count=count_of(flight),
        check=check,
    )
