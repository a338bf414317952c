"""Benches along the outline."""

from __future__ import annotations

import shapely

from ...design import schema
from ...errors import Key
from ..layers import Layer
from ..stretch import Stretch, band, station_of
from .site import Site


def stretch_on(
    site: Site, start: schema.Station | None, end: schema.Station | None, key: Key
) -> Stretch:
    """Return the stretch between two stations, or the whole outline."""
    if start is None or end is None:
        return Stretch(site.ring)
    found = Stretch(site.ring, station_of(site.ring, start), station_of(site.ring, end))
    if found.length < 1e-3:
        site.findings.error(
            (*key, "end"),
            "must differ from 'start'",
            "both are the same place of the outline",
            "leave both out for all round",
        )
    return found


def bench_layer(site: Site, bench: schema.Bench | schema.Seat, key: Key, name: str) -> Layer:
    """Return the layer of a bench, or of a spa's seat ring.

    Args:
        site: The body of water that it stands in.
        bench: From the pool file.
        key: Its key there.
        name: For labels and findings.
    """
    is_seat = isinstance(bench, schema.Seat)
    stretch = (
        Stretch(site.ring) if isinstance(bench, schema.Seat)
        else stretch_on(site, bench.start, bench.end, key)
    )  # fmt: skip
    whole = band(stretch, bench.width)
    region = site.clip(whole, (*key, "width"), name)
    lost = whole.area - region.area
    open_water = shapely.difference(site.ring.polygon, region)
    if lost > 0.05 * whole.area or open_water.area < 0.02 * site.ring.polygon.area:
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
    )
