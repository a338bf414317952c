"""Stations of the pool file on the outline of a body of water, and the stretches between them."""

from __future__ import annotations

import numpy as np

from ...design import schema
from ...errors import Key
from ..ring import Ring
from ..stretch import CRUMB, SHORTEST, Stretch, note_long_way, station_of
from .site import Site


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
