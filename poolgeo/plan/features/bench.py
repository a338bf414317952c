"""Benches along the outline."""

from __future__ import annotations

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer
from ..ring import Ring
from ..shapes import within
from ..stretch import CRUMB, SHORTEST, Stretch, band, note_long_way, station_of
from .part import Block, Part
from .site import Site

MOST_LOST = 0.05
"""[-] Share of a bench: one that loses more of itself to the outline has come to its other side."""

MOST_FILLED = 0.98
"""[-] Share of the plan: what takes more of it leaves no water in front of it."""


def benches(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the benches of the pool."""
    found = []
    for i, bench in enumerate(pool.bench):
        layer = bench_layer(site, bench, ("bench", i), bench.name or f"bench {i + 1}")
        block = Block(layer.region, layer.level, layer.feature, "bench faces")
        found.append(Part((layer,), blocks=(block,)))
    return found


def stretch_on(
    site: Site,
    start: schema.Station | None,
    end: schema.Station | None,
    key: Key,
    ring: Ring | None = None,
) -> Stretch:
    """Return the stretch between two stations, or the whole outline.

    Args:
        site: The body of water.
        start: Where it starts, and
        end: where it ends; None for all round.
        key: Of its part in the pool file.
        ring: On which it is laid out; the site's own where None.
    """
    ring = site.ring if ring is None else ring
    if start is None or end is None:
        return Stretch(ring)
    for name, place in (("start", start), ("end", end)):
        check_station(site, place, (*key, name))
    found = Stretch(ring, station_of(ring, start), station_of(ring, end))
    if not SHORTEST < found.length < ring.perimeter - SHORTEST:
        site.findings.error(
            (*key, "end"),
            "must differ from 'start'",
            "both are the same place of the outline",
            "leave both out for all round",
        )
    note_long_way(site.findings, key, (start, end), found.length, ring)
    return found


def stretch_between_walls(
    site: Site, start: schema.Station | None, end: schema.Station | None, key: Key
) -> Stretch:
    """Return the stretch between two stations, for what stands on the floor along the walls.

    In a corner it ends at the other wall, as if there were no cove in that corner.
    """
    ring, bare = site.ring, site.ring.bare
    if ring.rounds and start is not None and end is not None:
        at = np.array([station_of(bare, start), station_of(bare, end)])
        ring = ring.without(ring.rounds_behind(at, CRUMB))
    return stretch_on(site, start, end, key, ring)


def check_station(site: Site, place: schema.Station, key: Key) -> None:
    """A station given as a length must lie on the outline."""
    perimeter = site.ring.bare.perimeter
    if not isinstance(place, tuple) and place > perimeter:
        site.findings.error(
            key,
            "must be no longer than the outline",
            f"{place:.3f} m; the outline is {perimeter:.3f} m long",
            "count from the outline's first point, anticlockwise",
        )


def bench_layer(site: Site, bench: schema.Bench, key: Key, name: str) -> Layer:
    """Return the layer of a bench, or of a spa's seat.

    Args:
        site: The body of water that it stands in.
        bench: From the pool file.
        key: Its key there.
        name: For labels and findings.
    """
    is_seat = isinstance(bench, schema.Seat)
    stretch = stretch_between_walls(site, bench.start, bench.end, key)
    whole = band(stretch, bench.width)
    if whole.is_empty:
        whole = shapely.Point(stretch.course()[0][0]).buffer(bench.width)  # refused already
    # all round it lies in the outline by its making
    region = whole if stretch.start is None else site.clip(whole, (*key, "width"), name)
    lost = whole.area - within(whole, site.ring.bare.polygon).area
    if lost > MOST_LOST * whole.area or region.area > MOST_FILLED * site.ring.polygon.area:
        site.findings.error(
            (*key, "width"),
            f"must leave open water in front of the {name}",
            f"{bench.width:.3f} m reaches the other side of the {site.body}",
            "make it narrower",
        )
    level = site.level - bench.depth
    ground = site.floor.height(shapely.get_coordinates(region))
    if len(ground) and ground.min() >= level:
        site.findings.error(
            (*key, "depth"),
            f"must be less than the depth of the floor under the {name}",
            f"{bench.depth:.3f} m; the floor there is {site.level - ground.min():.3f} m deep",
            f"raise the {name} or deepen the floor",
        )
    elif len(ground) and ground.max() >= level:
        site.findings.warn(
            (*key, "depth"),
            f"the {name} runs into the floor, which is higher than its top in places",
            f"{bench.depth:.3f} m; the floor there is from {site.level - ground.max():.3f} m deep",
        )
    return Layer(
        site.body,
        "seat top" if is_seat else "bench top",
        name,
        key,
        region,
        level,
        "floor",
        "seat face" if is_seat else "bench face",
        wall=site.wall,
    )
