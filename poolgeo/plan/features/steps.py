"""Flights of steps: the treads of a plan, each at its depth.

The plan of a flight is a nest of regions: the one down to nosing k holds all treads up to k. They
are painted from the deepest to the top, so each tread covers what the deeper ones left behind it.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import shapely

from ...design import schema
from ...design.steps import MOST_TREADS
from ...errors import Key
from ..layers import Layer
from ..shapes import part_at, within
from .flight_plan import FlightPlan
from .flights import flight_plan
from .part import Block, Part
from .site import STRAY, Site

LEAST_WATER = 0.02
"""[-] Share of the plan: a flight that leaves less of it open has filled its water."""

SAME_RISE = 1e-6
"""[m] Two risers that differ by less are as high."""


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
    plan = flight_plan(site, flight, key)
    depths = _depths(site, flight, plan, key, name)
    n = len(depths)
    plan.check(n)
    layers: list[Layer] = []
    for k in range(n, 0, -1):
        whole = plan.region(k, n)
        if plan.clipped and k == n:
            region = site.clip(whole, (*key, plan.size), name)
        else:
            region = within(whole, site.ring.polygon)
        layers.append(
            Layer(
                site.body,
                "tread",
                f"{name} tread {k}",
                key,
                region if plan.seed is None else part_at(region, plan.seed),
                site.level - depths[k - 1],
                "floor",
                "riser",
                plan.flanks(k, n),
                name,
            )
        )
    if not (plan.clipped and layers[0].region.area < STRAY):  # else that has been said
        _check_room(site, layers, (*key, plan.size), name)
    return layers


def _depths(
    site: Site, flight: schema.Descent, plan: FlightPlan, key: Key, name: str
) -> list[float]:
    """Depths of the treads below the water, top first."""
    rise, top = flight.rise, flight.top_tread
    if isinstance(rise, tuple):
        steps = np.concatenate([[rise[0] if top is None else top], rise])
        depths: list[float] = np.cumsum(steps).tolist()
        _check_foot(site, plan, depths, (*key, "rise"), name)
        return depths
    count = flight.risers if flight.risers is not None else plan.count
    if rise is None:
        return _equal(site, plan, count or 1, top, key, name)
    first = rise if top is None else top
    if count is not None:
        depths = [first + k * rise for k in range(count)]
        _check_foot(site, plan, depths, (*key, "rise"), name)
        left = float(site.depth(plan.foot(count))) - depths[-1]
        if left > rise + SAME_RISE:
            site.findings.warn(
                (*key, "rise"),
                f"leaves a last riser of the {name} that is higher than the others",
                f"{left:.3f} m down to the floor, the others {rise:.3f} m",
                "give more treads, or leave 'rise' out for equal risers",
            )
        return depths
    depths = [first]
    while (left := float(site.depth(plan.foot(len(depths)))) - depths[-1]) > rise + SAME_RISE:
        if len(depths) == MOST_TREADS:
            site.findings.error(
                (*key, "rise"),
                f"must lead the {name} down to the floor in at most {MOST_TREADS} treads",
                f"{rise:.3f} m; {left:.3f} m are left below the last of them",
                "use a larger rise",
            )
            break
        depths.append(depths[-1] + rise)
    _check_foot(site, plan, depths, (*key, "rise"), name)
    return depths


def _equal(
    site: Site, plan: FlightPlan, count: int, top: float | None, key: Key, name: str
) -> list[float]:
    """Depths of treads at equal steps down to the floor."""
    foot = float(site.depth(plan.foot(count)))
    rise = (foot - top) / count if top is not None else foot / (count + 1)
    if rise <= 0.0:
        site.findings.error(
            (*key, "top_tread"),
            f"must be less than the depth of the floor at the foot of the {name}",
            f"{top or 0.0:.3f} m; the floor there is {foot:.3f} m deep",
            "raise the top tread",
        )
        rise = 0.1
    first = top if top is not None else rise
    return [first + k * rise for k in range(count)]


def _check_foot(site: Site, plan: FlightPlan, depths: list[float], key: Key, name: str) -> None:
    """The last tread must lie above the floor at its foot."""
    foot = float(site.depth(plan.foot(len(depths))))
    if foot <= depths[-1]:
        site.findings.error(
            key,
            f"must put every tread of the {name} above the floor",
            f"tread {len(depths)} at {depths[-1]:.3f} m, floor at {foot:.3f} m",
            "use a smaller rise or a higher top tread",
        )


def _check_room(site: Site, layers: list[Layer], key: Key, name: str) -> None:
    """Each tread must show, and water must be left in front of the flight."""
    shorter = "use fewer treads or a shorter going"
    if key[-1] == "treads":
        shorter = "let each tread reach beyond the higher ones"
    if layers[-1].region.area < STRAY:
        site.findings.error(
            key,
            f"must put the {name} into the {site.body}'s outline",
            f"nothing of '{layers[-1].feature}' lies there",
            "move it into the outline",
        )
        return
    for deeper, higher in pairwise(layers):
        if shapely.difference(deeper.region, higher.region).area < STRAY:
            site.findings.error(
                key,
                f"must leave every tread of the {name} some room in the {site.body}",
                f"'{deeper.feature}' has none",
                shorter,
            )
            return
    left = shapely.difference(site.ring.polygon, layers[0].region)
    if left.area < LEAST_WATER * site.ring.polygon.area:
        site.findings.error(
            key,
            f"must leave open water in front of the {name}",
            f"{len(layers)} treads fill the {site.body}",
            "use fewer treads or a shorter going",
        )
