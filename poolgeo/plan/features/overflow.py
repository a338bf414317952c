"""Overflowing edges: the pool spills over a weir into a catch basin."""

from __future__ import annotations

from ...design import schema
from ..floor import level_floor
from .catch import Catch
from .part import Part, Water, numbered_mark, numbered_name
from .site import Site
from .trough import trough_part
from .weir import weir_plan


def overflows(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the overflowing edges of the pool, each with its catch basin."""
    return [_overflow(site, item, k, pool) for k, item in enumerate(pool.overflows)]


def _overflow(site: Site, overflow: schema.Overflow, k: int, pool: schema.Pool) -> Part:
    basin, key = overflow.basin, ("overflows", k)
    weir = weir_plan(site, overflow, key, pool.batter)
    if weir is None:
        return Part()
    level = weir.crest - basin.drop
    if level >= weir.lowest:
        site.findings.error(
            (*key, "basin", "drop"),
            "must put the basin's water below the whole of the weir",
            f"{basin.drop:.3f} m; the weir's top falls by {weir.crest - weir.lowest:.3f} m",
            "use a larger drop, or let the weir's top fall less",
        )
    name = numbered_name("basin", k, overflow.name)
    catch = Catch(
        "basin",
        Water(name, level, numbered_mark("B", k), (*key, "basin")),
        level + basin.freeboard,
        lambda _: level_floor(level - basin.depth),
        basin.cove,
        basin.width,
        basin.outline,
    )
    return trough_part(site, weir, catch, pool.coping)
