"""Benches along the outline."""

from __future__ import annotations

import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer
from ..stretch import SHORTEST, Stretch, band, station_of
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
    site: Site, start: schema.Station | None, end: schema.Station | None, key: Key
) -> Stretch:
    """Return the stretch between two stations, or the whole outline."""
    if start is None or end is None:
        return Stretch(site.ring)
    for name, place in (("start", start), ("end", end)):
        check_station(site, place, (*key, name))
    found = Stretch(site.ring, station_of(site.ring, start), station_of(site.ring, end))
    if not SHORTEST < found.length < site.ring.perimeter - SHORTEST:
        site.findings.error(
            (*key, "end"),
            "must differ from 'start'",
            "both are the same place of the outline",
            "leave both out for all round",
        )
    return found


def check_station(site: Site, place: schema.Station, key: Key) -> None:
    """A station given as a length must lie on the outline."""
    if not isinstance(place, tuple) and place > site.ring.perimeter:
        site.findings.error(
            key,
            "must be no longer than the outline",
            f"{place:.3f} m; the outline is {site.ring.perimeter:.3f} m long",
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
    stretch = stretch_on(site, bench.start, bench.end, key)
    whole = band(stretch, bench.width)
    if whole.is_empty:
        whole = shapely.Point(stretch.course()[0][0]).buffer(bench.width)  # refused already
    # all round it lies in the outline by its making
    region = whole if stretch.start is None else site.clip(whole, (*key, "width"), name)
    lost = whole.area - region.area
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
