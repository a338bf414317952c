"""Benches along the outline."""

from __future__ import annotations

import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer
from ..shapes import within
from ..stretch import band
from .on_outline import stretch_between_walls
from .part import Block, Part
from .site import Site
from .tops import check_depth, refuse_width

MOST_LOST = 0.05
"""[-] Share of a bench: one that loses more of itself to the outline has come to its other side."""


def benches(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the benches of the pool."""
    found = []
    for i, bench in enumerate(pool.bench):
        layer = bench_layer(site, bench, ("bench", i), bench.name or f"bench {i + 1}")
        block = Block(layer.region, layer.level, layer.feature, "bench faces")
        found.append(Part((layer,), blocks=(block,)))
    return found


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
        whole = shapely.Point(stretch.baseline()[0][0]).buffer(bench.width)  # refused already
    # all round it lies in the outline by its making
    region = whole if stretch.start is None else site.clip(whole, (*key, "width"), name)
    lost = whole.area - within(whole, site.ring.bare.polygon).area
    if lost > MOST_LOST * whole.area or site.is_filled_by(region):
        refuse_width(site, bench.width, (*key, "width"), name)
    layer = Layer(
        site.body,
        "seat top" if is_seat else "bench top",
        name,
        key,
        region,
        site.level - bench.depth,
        "floor",
        "seat face" if is_seat else "bench face",
        wall=site.wall,
    )
    check_depth(site, layer, (*key, "depth"), name)
    return layer
