"""Compare a laid out pool with a table of limits; where it passes one, a warning says so."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ..arrays import Floats
from ..design import schema
from ..design.rules import RuleTable
from ..errors import Key
from .asked import Asked
from .cove_limits import cove_radius
from .features.last_riser import last_riser
from .features.part import Part
from .features.site import Site
from .floor import Floor
from .layers import Layer
from .slope import Slope, facets_of, heights_on

CORNER_CUT = 1e-4
"""[m2] A piece of the floor smaller than this is none."""


def compare(table: RuleTable, pool: schema.Pool, site: Site, parts: Sequence[Part]) -> None:
    """Leave a warning for every limit that a pool passes.

    Args:
        table: The limits.
        pool: From the pool file.
        site: The pool as a body of water; its findings take the warnings.
        parts: What stands on its floor.
    """
    layers = [layer for part in parts for layer in part.layers]
    for limit in table.limits:
        asked = Asked(table, limit, site)
        match limit.of:
            case "floor slope":
                _steepest(asked, ("floor",), "the floor", site.floor, site.water)
                for layer in layers:  # beaches and sloping ledges are walked on like the floor
                    if isinstance(layer.height, Slope):
                        what = f"the {layer.feature}"
                        _steepest(asked, layer.key, what, layer.height, layer.region)
            case "cove radius":
                cove_radius(asked, pool)
            case "bench depth":
                _bench_depth(asked, pool, layers)
            case "tread":
                _goings(asked, pool, layers)
            case "riser" | "top step":
                _risers(asked, pool, layers)


def _steepest(
    asked: Asked, key: Key, what: str, height: Slope | Floor, region: shapely.Geometry
) -> None:
    """Warn of the steepest piece of a top that passes the limit where that holds."""
    facets, planes, _ = facets_of(height, region)
    inside = shapely.intersection(facets, region)
    worst: tuple[float, Floats, float] | None = None
    for facet, plane in zip(inside, planes, strict=True):
        slope = float(np.hypot(*plane[:2]))
        if not asked.is_too_steep(slope) or facet.area < CORNER_CUT:
            continue
        xy = shapely.get_coordinates(facet)
        depth = asked.site.level - heights_on(np.broadcast_to(plane, (len(xy), 3)), xy)
        at = int(np.argmin(depth))
        if asked.holds(float(depth[at])) and (worst is None or slope > worst[0]):
            worst = slope, xy[at], float(depth[at])
    if worst is not None:
        slope, (x, y), depth_at = worst
        value = f"1:{1.0 / slope:.1f}, {depth_at:.3f} m deep at ({x:.3f}, {y:.3f}) m"
        bound = f"no steeper than 1:{1.0 / (asked.limit.steepest or slope):g}"
        asked.warn(key, what, value, bound)


def _bench_depth(asked: Asked, pool: schema.Pool, layers: Sequence[Layer]) -> None:
    """Benches, and ledges without their beaches: a top that falls at its two ends."""
    for i, bench in enumerate(pool.bench):
        name = bench.name or f"bench {i + 1}"
        _water_over(asked, ("bench", i, "depth"), name, [bench.depth])
    for i, ledge in enumerate(pool.ledges):
        for layer in layers:
            if layer.key != ("ledges", i):
                continue
            if not isinstance(layer.height, Slope):
                heights = np.array([layer.level])
            elif ledge.beach is None:
                heights = layer.height.height(shapely.get_coordinates(layer.region))
            else:
                continue
            depths = asked.site.level - np.array([heights.max(), heights.min()])
            _water_over(asked, ("ledges", i, "depth"), layer.feature, depths.tolist())


def _water_over(asked: Asked, key: Key, name: str, depths: Sequence[float]) -> None:
    """Ask a limit of the water over a top, which is as deep as this."""
    at = asked.worst(depths, [min(depths)] * len(depths))
    if at is not None:
        what, value = f"the water over the {name}", f"{depths[at]:.3f} m"
        asked.warn(key, what, value, asked.bound(depths[at]))


def _treads(site: Site, layers: Sequence[Layer], i: int) -> tuple[list[Layer], list[float]]:
    """Return the treads of a flight, the deepest first, and the water over each [m]."""
    own = [item for item in layers if item.key == ("steps", i) and item.kind == "tread"]
    return own, [site.level - item.level for item in own]


def _goings(asked: Asked, pool: schema.Pool, layers: Sequence[Layer]) -> None:
    for i, flight in enumerate(pool.steps):
        name, key = flight.name or f"steps {i + 1}", ("steps", i)
        depths = _treads(asked.site, layers, i)[1][::-1]
        if not depths:
            continue
        if not isinstance(flight, schema.Flight):
            if asked.holds(depths[0]):
                value = "not compared: its treads have no 'going'"
                asked.warn(key, f"each tread of the {name}", value, _wanted(asked))
            continue
        depths = depths[flight.beyond :]
        is_list = isinstance(flight.going, tuple)
        goings = flight.going if isinstance(flight.going, tuple) else (flight.going,)
        for k, (going, depth) in enumerate(zip(goings, depths, strict=False)):
            if asked.worst([going], [depth]) is not None:
                what = f"the going of tread {k + 1 + flight.beyond} of the {name}" if is_list else (
                    f"the goings of the {name}")  # fmt: skip
                asked.warn((*key, "going"), what, f"{going:.3f} m", asked.bound(going))


def _wanted(asked: Asked) -> str:
    """Return what a length should be."""
    if asked.limit.most is not None:
        return f"at most {asked.limit.most:.3f} m"
    return f"at least {asked.limit.least:.3f} m"


def _risers(asked: Asked, pool: schema.Pool, layers: Sequence[Layer]) -> None:
    """Warn of the riser that passes the limit furthest, of those whose treads it holds on."""
    site = asked.site
    for i, flight in enumerate(pool.steps):
        own, depths = _treads(site, layers, i)
        if not own:
            continue
        name = flight.name or f"steps {i + 1}"
        if asked.limit.of == "top step":
            heights, depths = [site.wall_top - own[-1].level], depths[-1:]
            what = [f"the step from the wall's top to the top tread of the {name}"]
        else:
            found, places = last_riser(site, own[0], layers)
            end = 0 if asked.limit.most is None else 1
            x, y = places[end]
            heights = [float(found[end]), *np.diff([item.level for item in own]).tolist()]
            what = [f"the riser under tread {len(own) - k} of the {name}" for k in range(len(own))]
            what[0] = f"the last riser of {name}, at ({x:.3f}, {y:.3f}) m,"
        at = asked.worst(heights, depths)
        if at is not None:
            value = f"{heights[at]:.3f} m"
            asked.warn(("steps", i), what[at], value, asked.bound(heights[at]))
