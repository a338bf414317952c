"""What every plan of a flight of steps is, and the pieces that several of them share."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..curves import Arc, unit
from ..stretch import inward_at, point_at, station_of
from .on_outline import check_station
from .site import Site

FINER = 8.0
"""[-] Arcs stand so many times nearer to their chords than they might: a half-moon is shallow, and
loses more of its area to them than a disc."""


IN_WATER = 1e-3
"""[m] A flight is looked for so far into the water from where it starts on the wall."""


def nothing(_: int) -> None:
    """Find nothing wrong with a plan."""


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
        check: Leaves findings on the plan, of how many treads it has.
    """

    region: Callable[[int, int], shapely.Geometry]
    foot: Callable[[int], Floats]
    flanks: Callable[[int, int], Floats | None]
    seed: Floats | None
    clipped: bool
    count: int | None
    size: str = "going"
    check: Callable[[int], None] = nothing


def reach_of(flight: schema.Flight) -> Callable[[int], float]:
    """Return how far nosing k stands from where the flight starts [m]."""
    going = flight.going
    if not isinstance(going, tuple):
        return lambda k: k * going
    sums = np.concatenate([[0.0], np.cumsum(going)])
    return lambda k: float(sums[min(k, len(sums) - 1)])


def count_of(flight: schema.Flight) -> int | None:
    """Return how many treads the list of goings stands for; None where there is none."""
    return len(flight.going) + flight.beyond if isinstance(flight.going, tuple) else None


def disc_of(site: Site, centre: Floats, radius: float) -> shapely.Polygon:
    """Return what a circle holds."""
    return shapely.Polygon(
        Arc(centre, radius, 0.0, 2.0 * math.pi).flatten(site.tolerance / FINER).points[:-1]
    )


def axis_of(
    site: Site, flight: schema.SideFlight | schema.ArcFlight, key: Key
) -> tuple[Floats, Floats]:
    """Return where a flight starts on the outline, and its unit way down."""
    check_station(site, flight.at, (*key, "at"))
    ring = site.ring.bare
    at = station_of(ring, flight.at)
    down = inward_at(ring, at) if flight.direction is None else unit(flight.direction)
    return point_at(ring, at), down
