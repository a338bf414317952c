"""The plans of flights of steps, before their heights are known.

Every plan is a nest of regions: the one down to nosing k holds all treads up to k.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..curves import Arc, Floats
from ..outline import outline_ring
from ..ring import Ring
from ..shapes import part_at, polygons_only, within
from ..stretch import band, inward_at, point_at, station_of
from ..tolerances import CORNER
from .bench import check_station, stretch_on
from .site import Site

CLEAR = 1e-3
"""[m] An island nearer to the wall than this stands in it."""

AT_CORNER = 1e-3
"""[m] A station nearer to a corner of the outline than this is in it."""


@dataclass(frozen=True)
class FlightPlan:
    """The plan of a flight.

    Args:
        region: Region from the top down to nosing k of n, not clipped.
        foot: Plan point at the foot of tread k, where the floor's depth counts.
        flanks: Side lines (s, 2, 2) down to nosing k of n, None where it goes from wall to wall.
        seed: A plan point that the flight must hold: of the clipped parts that one is meant; None
            where all of them are.
        clipped: Whether to say so when the outline cuts something off.
        count: How many treads the plan has, where it tells.
        size: Key of what makes it large or small, for findings.
    """

    region: Callable[[int, int], shapely.Geometry]
    foot: Callable[[int], Floats]
    flanks: Callable[[int, int], Floats | None]
    seed: Floats | None
    clipped: bool
    count: int | None
    size: str = "going"


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
            return _end(site, flight)
        case schema.FollowingFlight():
            return _following(site, flight, key)
        case schema.CornerFlight():
            return _corner(site, flight, key)
        case schema.ArcFlight():
            return _arc(site, flight, key)
        case schema.IslandFlight():
            return _island(site, flight, key)
        case schema.WindingFlight():
            return _winding(site, flight)
        case schema.OutlinedFlight():
            return _outlined(site, flight, key)


def _reach(flight: schema.Flight) -> Callable[[int], float]:
    """Return how far nosing k stands from where the flight starts [m]."""
    going = flight.going
    if not isinstance(going, tuple):
        return lambda k: k * going
    sums = np.concatenate([[0.0], np.cumsum(going)])
    return lambda k: float(sums[min(k, len(sums) - 1)])


def _count(flight: schema.Flight) -> int | None:
    return len(flight.going) + flight.beyond if isinstance(flight.going, tuple) else None


def _direction(degrees: float) -> Floats:
    return np.array([math.cos(math.radians(degrees)), math.sin(math.radians(degrees))])


def _disc(site: Site, centre: Floats, radius: float) -> shapely.Polygon:
    return shapely.Polygon(
        Arc(centre, radius, 0.0, 2.0 * math.pi).flatten(site.tolerance).points[:-1]
    )


def _axis(
    site: Site, flight: schema.SideFlight | schema.ArcFlight, key: Key
) -> tuple[Floats, Floats]:
    """Return where a flight starts on the outline, and its unit way down."""
    check_station(site, flight.at, (*key, "at"))
    at = station_of(site.ring, flight.at)
    down = inward_at(site.ring, at) if flight.direction is None else _direction(flight.direction)
    return point_at(site.ring, at), down


def _side(site: Site, flight: schema.SideFlight, key: Key) -> FlightPlan:
    origin, down = _axis(site, flight, key)
    across = np.array([-down[1], down[0]]) * flight.width / 2.0
    back = origin - down * flight.width
    reach = _reach(flight)
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
        origin + down * 1e-3,
        clipped=True,
        count=_count(flight),
    )


def _end(site: Site, flight: schema.EndFlight) -> FlightPlan:
    down = _direction(flight.direction)
    across = np.array([-down[1], down[0]])
    u = site.ring.points @ down
    first = float(u.min())
    tips = site.ring.points[u < first + 1e-6]
    size = float(np.ptp(site.ring.points, axis=0).sum()) + 1.0
    middle = site.ring.points.mean(axis=0) @ across
    reach = _reach(flight)

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

    return FlightPlan(
        region,
        foot,
        lambda *_: None,
        tips.mean(axis=0) + down * 1e-3,
        clipped=False,
        count=_count(flight),
    )


def _following(site: Site, flight: schema.FollowingFlight, key: Key) -> FlightPlan:
    stretch = stretch_on(site, flight.start, flight.end, key)
    start = stretch.start or 0.0
    middle = (start + stretch.length / 2.0) % site.ring.perimeter
    origin, down = point_at(site.ring, middle), inward_at(site.ring, middle)
    reach = _reach(flight)

    def flanks(k: int, _: int) -> Floats | None:
        if stretch.start is None or stretch.end is None:
            return None
        points, before, after = stretch.course()
        ends = [
            [at, at + n * reach(k)] for at, n in ((points[0], after[0]), (points[-1], before[-1]))
        ]
        return np.array(ends)

    return FlightPlan(
        lambda k, _: band(stretch, reach(k)),
        lambda k: origin + down * reach(k),
        flanks,
        origin + down * 1e-3,
        clipped=True,
        count=_count(flight),
    )


def _corner(site: Site, flight: schema.CornerFlight, key: Key) -> FlightPlan:
    check_station(site, flight.at, (*key, "at"))
    at = station_of(site.ring, flight.at)
    corner, inward = point_at(site.ring, at), inward_at(site.ring, at)
    centre = corner if flight.centre is None else np.array(flight.centre)
    reach = _reach(flight)
    off = float(np.hypot(*(corner - centre)))
    sides = _sides_at(site.ring, corner)

    def region(k: int, n: int) -> shapely.Geometry:
        if k == n and sides and flight.centre is None and reach(n) > min(sides) + AT_CORNER:
            site.findings.warn(
                (*key, "going"),
                "makes the fan wider than a side at its corner: nosings end on the walls beyond",
                f"{reach(n):.3f} m; the sides are {sides[0]:.3f} m and {sides[1]:.3f} m long",
                "use a shorter going or fewer treads",
            )
        return _disc(site, centre, off + reach(k))

    return FlightPlan(
        region,
        lambda k: corner + inward * reach(k),
        lambda *_: None,
        corner + inward * 1e-3,
        clipped=False,
        count=_count(flight),
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


def _arc(site: Site, flight: schema.ArcFlight, key: Key) -> FlightPlan:
    origin, down = _axis(site, flight, key)
    aside = np.array([-down[1], down[0]])
    reach = _reach(flight)
    first, sign = reach(1), 1.0 if flight.bend == "convex" else -1.0
    centre = origin + down * (first - sign * flight.radius)
    width, far = flight.width, flight.radius + 2.0 * first

    def strip(front: float) -> shapely.Geometry:
        half = aside * (width or 0.0) / 2.0
        back, ahead = origin - down * far, origin + down * front
        return shapely.Polygon([back - half, ahead - half, ahead + half, back + half])

    behind = within(strip(0.0), site.ring.polygon) if width is not None else shapely.Polygon()

    def region(k: int, n: int) -> shapely.Geometry:
        radius = flight.radius + sign * (reach(k) - first)
        if sign > 0.0:
            disc = _disc(site, centre, radius)
            if width is None:
                return disc
            # behind the arc's own chord the flight goes back to the wall
            filled = shapely.union(disc, strip(first - flight.radius))
            return polygons_only(shapely.intersection(filled, strip(reach(k) + 1.0)))
        if radius <= (width or 0.0) / 2.0:
            if k == n:
                _refuse_arc(site, key, flight, radius)
            radius = max(radius, 1e-3)
        ahead = shapely.difference(strip(first + flight.radius), shapely.union(behind, strip(0.0)))
        hollow = shapely.difference(ahead, _disc(site, centre, radius))
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
        origin + down * 1e-3,
        clipped=flight.bend == "concave",
        count=_count(flight),
    )


def _refuse_arc(site: Site, key: Key, flight: schema.ArcFlight, radius: float) -> None:
    site.findings.error(
        (*key, "radius"),
        "must leave the last nosing of a concave flight as wide as the flight",
        f"{flight.radius:.3f} m; {radius:.3f} m is left for a width of {flight.width or 0.0:.3f} m",
        "use a larger radius, a smaller width or fewer treads",
    )


def _island(site: Site, flight: schema.IslandFlight, key: Key) -> FlightPlan:
    ring = outline_ring(flight.landing, site.tolerance, (*key, "landing"))
    sums = _reach(flight)
    water = site.ring.polygon

    def reach(k: int) -> float:
        return sums(k - 1)

    def grown(k: int) -> shapely.Polygon:
        if isinstance(flight.landing, schema.Rectangle) and flight.sides is not None:
            return _grown(flight.landing, flight.sides, reach(k))
        return ring.polygon if k == 1 else ring.thickened(reach(k))

    def region(k: int, n: int) -> shapely.Geometry:
        found = grown(k)
        if k == n:
            shore = shapely.distance(found, water.exterior)
            if not water.contains(found) or shore < CLEAR:
                place = shapely.get_coordinates(shapely.centroid(found))[0]
                site.findings.error(
                    key,
                    "must stand clear of the walls on all sides",
                    f"{shapely.difference(found, water).area:.3f} m2 of it, about "
                    f"({place[0]:.3f}, {place[1]:.3f}) m, stand in a wall or touch it",
                    "move it into the water, make it smaller, or use the shape 'side'",
                )
        return found

    def flanks(_k: int, n: int) -> Floats | None:
        if not isinstance(flight.landing, schema.Rectangle) or flight.sides is None:
            return None
        corners = np.array(grown(n).exterior.coords)[:-1]
        lines = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
        bare = [i for i, side in enumerate(AROUND) if side not in flight.sides]
        return lines[bare] if bare else None

    def foot(k: int) -> Floats:
        return shapely.get_coordinates(shapely.centroid(grown(k)))[0]

    return FlightPlan(region, foot, flanks, None, clipped=False, count=_count(flight))


AROUND: tuple[schema.Side, ...] = ("right", "front", "left", "back")
"""Sides of a rectangle from its lower left corner on, anticlockwise, before rotation."""


def _grown(landing: schema.Rectangle, sides: Sequence[schema.Side], by: float) -> shapely.Polygon:
    """Return a rectangle grown on some of its sides [m]."""
    more = {side: by if side in sides else 0.0 for side in AROUND}
    x, y = landing.length / 2.0, landing.width / 2.0
    low = [-x - more["back"], -y - more["right"]]
    high = [x + more["front"], y + more["left"]]
    corners = np.array([low, [high[0], low[1]], high, [low[0], high[1]]])
    c, s = _direction(landing.rotation)
    return shapely.Polygon(corners @ np.array([[c, s], [-s, c]]) + np.array(landing.centre))


def _winding(site: Site, flight: schema.WindingFlight) -> FlightPlan:
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
        ends = pivot + flight.reach * np.array([math.cos(start), math.sin(start)])
        steps = np.stack([line[:-1], line[1:]], axis=1)
        rim = np.hypot(*(steps - pivot).reshape(-1, 2).T).reshape(-1, 2).min(axis=1) > 1e-3
        return np.concatenate([[[pivot, ends]], steps[rim]])

    last = start + turn
    foot = pivot + flight.reach / 2.0 * np.array([math.cos(last), math.sin(last)])
    middle = pivot + 1e-3 * np.array([math.cos(start + turn / 2), math.sin(start + turn / 2)])
    seed = middle if site.ring.polygon.contains(shapely.Point(middle)) else None
    return FlightPlan(region, lambda _: foot, flanks, seed, clipped=False, count=None, size="reach")


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
        return shapely.get_coordinates(shapely.centroid(whole))[0]

    return FlightPlan(
        lambda k, _: nest[k - 1],
        foot,
        lambda *_: None,
        None,
        clipped=True,
        count=len(rings),
        size="treads",
    )
