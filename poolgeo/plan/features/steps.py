"""Flights of steps: straight from a side, across an end, or following the outline.

The plan of a flight is a nest of regions: the one down to nosing k holds all treads up to k. They
are painted from the deepest to the top, so each tread covers what the deeper ones left behind it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import cast

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..curves import Floats
from ..layers import Layer
from ..shapes import part_at, polygons_only, within
from ..stretch import band, inward_at, point_at, station_of
from .bench import check_station, stretch_on
from .part import Block, Part
from .site import Site

MOST_TREADS = 100


@dataclass(frozen=True)
class _Plan:
    """The plan of a flight, before its heights are known.

    Args:
        region: Region from the wall down to a distance along the flight [m], not clipped.
        foot: Middle point of the flight at a distance along it [m].
        flanks: Side lines down to a distance [m].
        seed: A plan point that the flight must hold: of the clipped parts that one is meant.
        clipped: Whether to say so when the outline cuts something off.
    """

    region: Callable[[float], shapely.Geometry]
    foot: Callable[[float], Floats]
    flanks: Callable[[float], Floats | None]
    seed: Floats
    clipped: bool


def flights(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the flights of steps of the pool."""
    found = []
    for i, flight in enumerate(pool.steps):
        layers = step_layers(site, flight, ("steps", i), flight.name or f"steps {i + 1}")
        first = layers[0]
        block = Block(first.region, first.level, first.feature, "risers")
        found.append(Part(tuple(layers), blocks=(block,)))
    return found


def step_layers(site: Site, flight: schema.Steps, key: Key, name: str) -> list[Layer]:
    """Return the layers of a flight, deepest tread first.

    Args:
        site: The body of water that it stands in.
        flight: From the pool file.
        key: Its key there.
        name: For labels and findings.
    """
    match flight:
        case schema.SideFlight():
            plan = _side(site, flight, key)
        case schema.EndFlight():
            plan = _end(site, flight)
        case schema.FollowingFlight():
            plan = _following(site, flight, key)
    depths = _depths(site, flight, plan, key, name)
    layers: list[Layer] = []
    for k in range(len(depths), 0, -1):
        reach = k * flight.going
        whole = plan.region(reach)
        if plan.clipped and k == len(depths):
            region = site.clip(whole, (*key, "going"), name)
        else:
            region = within(whole, site.ring.polygon)
        layers.append(
            Layer(
                site.body,
                "tread",
                f"{name} tread {k}",
                key,
                part_at(region, plan.seed),
                site.level - depths[k - 1],
                "floor",
                "riser",
                plan.flanks(reach),
                name,
            )
        )
    _check_room(site, layers, key, name)
    return layers


def _depths(site: Site, flight: schema.Flight, plan: _Plan, key: Key, name: str) -> list[float]:
    """Depths of the treads below the water, top first."""
    if flight.risers is not None:
        foot = float(site.depth(plan.foot(flight.risers * flight.going)))
        top = flight.top_tread
        rise = (foot - top) / flight.risers if top is not None else foot / (flight.risers + 1)
        if rise <= 0.0:
            site.findings.error(
                (*key, "top_tread"),
                f"must be less than the depth of the floor at the foot of the {name}",
                f"{top or 0.0:.3f} m; the floor there is {foot:.3f} m deep",
                "raise the top tread",
            )
            rise = 0.1
        first = top if top is not None else rise
        return [first + k * rise for k in range(flight.risers)]
    rise = cast("float", flight.rise)  # the schema lets no flight pass without either
    depths = [flight.top_tread if flight.top_tread is not None else rise]
    while len(depths) < MOST_TREADS:
        foot = float(site.depth(plan.foot(len(depths) * flight.going)))
        if foot - depths[-1] <= rise + 1e-6:
            if foot <= depths[-1]:
                site.findings.error(
                    (*key, "rise"),
                    f"must put every tread of the {name} above the floor",
                    f"tread {len(depths)} at {depths[-1]:.3f} m, floor at {foot:.3f} m",
                    "use a smaller rise or a higher top tread",
                )
            return depths
        depths.append(depths[-1] + rise)
    return depths


def _check_room(site: Site, layers: list[Layer], key: Key, name: str) -> None:
    """Each tread must show, and water must be left in front of the flight."""
    for deeper, higher in pairwise(layers):
        if shapely.difference(deeper.region, higher.region).area < 1e-4:
            site.findings.error(
                (*key, "going"),
                f"must leave every tread of the {name} some room in the {site.body}",
                f"'{deeper.feature}' has none",
                "use fewer treads or a shorter going",
            )
            return
    left = shapely.difference(site.ring.polygon, layers[0].region)
    if left.area < 0.02 * site.ring.polygon.area:
        site.findings.error(
            (*key, "going"),
            f"must leave open water in front of the {name}",
            f"{len(layers)} treads fill the {site.body}",
            "use fewer treads or a shorter going",
        )


def _side(site: Site, flight: schema.SideFlight, key: Key) -> _Plan:
    check_station(site, flight.at, (*key, "at"))
    at = station_of(site.ring, flight.at)
    origin = point_at(site.ring, at)
    if flight.direction is None:
        down = inward_at(site.ring, at)
    else:
        angle = math.radians(flight.direction)
        down = np.array([math.cos(angle), math.sin(angle)])
    across = np.array([-down[1], down[0]]) * flight.width / 2.0
    back = origin - down * flight.width

    behind = shapely.Polygon([back - across, origin - across, origin + across, back + across])
    inside = within(behind, site.ring.polygon)

    def region(reach: float) -> shapely.Geometry:
        front = origin + down * reach
        ahead = shapely.Polygon([origin - across, front - across, front + across, origin + across])
        return polygons_only(shapely.union(ahead, inside))

    def flanks(reach: float) -> Floats:
        front = origin + down * reach
        return np.array([[back - across, front - across], [back + across, front + across]])

    return _Plan(
        region, lambda reach: origin + down * reach, flanks, origin + down * 1e-3, clipped=True
    )


def _end(site: Site, flight: schema.EndFlight) -> _Plan:
    angle = math.radians(flight.direction)
    down = np.array([math.cos(angle), math.sin(angle)])
    across = np.array([-down[1], down[0]])
    u = site.ring.points @ down
    first = float(u.min())
    tips = site.ring.points[u < first + 1e-6]
    size = float(np.ptp(site.ring.points, axis=0).sum()) + 1.0
    middle = site.ring.points.mean(axis=0) @ across

    def region(reach: float) -> shapely.Geometry:
        a, b = down * (first - 1.0), down * (first + reach)
        left, right = across * (middle + size), across * (middle - size)
        return shapely.Polygon([a + right, b + right, b + left, a + left])

    def foot(reach: float) -> Floats:
        ends = [across * (middle - size), across * (middle + size)]
        line = shapely.LineString([down * (first + reach) + end for end in ends])
        inside = shapely.intersection(line, site.ring.polygon)
        nearest = part_at(inside, tips.mean(axis=0))
        centre: Floats = tips.mean(axis=0)
        if nearest.length:
            centre = shapely.get_coordinates(shapely.centroid(nearest))[0]
        return centre

    return _Plan(region, foot, lambda _: None, tips.mean(axis=0) + down * 1e-3, clipped=False)


def _following(site: Site, flight: schema.FollowingFlight, key: Key) -> _Plan:
    stretch = stretch_on(site, flight.start, flight.end, key)
    start = stretch.start or 0.0
    middle = (start + stretch.length / 2.0) % site.ring.perimeter
    origin, down = point_at(site.ring, middle), inward_at(site.ring, middle)

    def flanks(reach: float) -> Floats | None:
        if stretch.start is None or stretch.end is None:
            return None
        points, before, after = stretch.course()
        ends = [[at, at + n * reach] for at, n in ((points[0], after[0]), (points[-1], before[-1]))]
        return np.array(ends)

    return _Plan(
        lambda reach: band(stretch, reach),
        lambda reach: origin + down * reach,
        flanks,
        origin + down * 1e-3,
        clipped=True,
    )
