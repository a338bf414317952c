"""Flights of steps: the treads of a plan, each at its depth.

The plan of a flight is a nest of regions: the one down to nosing k holds all treads up to k. They
are painted from the deepest to the top, so each tread covers what the deeper ones left behind it.
"""

from __future__ import annotations

from itertools import pairwise

import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer
from ..shapes import part_at, within
from .flight_depths import depths_of
from .flights import flight_plan
from .part import Block, Part
from .site import STRAY, Site


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
    depths = depths_of(site, flight, plan, key, name)
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
    if site.is_filled_by(layers[0].region):
        site.findings.error(
            key,
            f"must leave open water in front of the {name}",
            f"{len(layers)} treads fill the {site.body}",
            "use fewer treads or a shorter going",
        )
