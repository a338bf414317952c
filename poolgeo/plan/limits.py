"""Compare a laid out pool with a table of limits; where it passes one, a warning says so."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ..design import schema
from ..design.rules import Limit, RuleTable
from ..errors import Key
from .curves import Floats
from .features.part import Part
from .features.site import Site
from .layers import Layer
from .shapes import segments_of
from .slope import Slope, facets_of, heights_on

EQUAL = 1e-6
"""[-] A value passes a limit when it does by more than this share of it."""

CORNER_CUT = 1e-4
"""[m2] A piece of the floor smaller than this is none."""

BESIDE = 1e-3
"""[m] What runs nearer to a wall or to a flank than this runs along it."""

REMEDY = "the code that holds at the site decides"


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
        match limit.of:
            case "floor slope":
                _floor_slope(table, limit, site)
                _ledge_slopes(table, limit, site, layers)
            case "cove radius":
                _cove_radius(table, limit, pool, site)
            case "bench depth":
                _bench_depth(table, limit, pool, site)
            case "tread":
                _goings(table, limit, pool, site)
            case "riser" | "top step":
                _risers(table, limit, pool, site, layers)


def _warn(
    table: RuleTable, limit: Limit, site: Site, key: Key, what: str, value: str, bound: str
) -> None:
    where = f" where it is less than {limit.shallower_than:.3f} m deep" if (
        limit.shallower_than is not None) else ""  # fmt: skip
    memory = ", from memory" if limit.from_memory else ""
    site.findings.warn(
        key,
        f"{what} should be {bound}{where} [{table.name}: {limit.source}{memory}]",
        value,
        REMEDY,
    )


def _passes(limit: Limit, value: float) -> str:
    """Return what a length should be if it passes a limit, else nothing."""
    if limit.most is not None and value > limit.most * (1.0 + EQUAL):
        return f"at most {limit.most:.3f} m"
    if limit.least is not None and value < limit.least * (1.0 - EQUAL):
        return f"at least {limit.least:.3f} m"
    return ""


def _holds(limit: Limit, depth: float) -> bool:
    return limit.shallower_than is None or depth < limit.shallower_than


def _floor_slope(table: RuleTable, limit: Limit, site: Site) -> None:
    """The steepest piece of the floor where the limit holds."""
    facets, planes, _ = facets_of(site.floor, site.ring.polygon)
    steepest = limit.steepest or 0.0
    worst: tuple[float, Floats, float] | None = None
    for facet, plane in zip(facets, planes, strict=True):
        inside = shapely.intersection(facet, site.ring.polygon)
        if inside.area < CORNER_CUT:
            continue
        xy = shapely.get_coordinates(inside)
        depth = site.level - heights_on(np.broadcast_to(plane, (len(xy), 3)), xy)
        slope, at = float(np.hypot(*plane[:2])), int(np.argmin(depth))
        passes = slope > steepest * (1.0 + EQUAL) and _holds(limit, depth[at] + EQUAL)
        if passes and (worst is None or slope > worst[0]):
            worst = slope, xy[at], float(depth[at])
    if worst is not None:
        slope, (x, y), depth_at = worst
        value = f"1:{1.0 / slope:.1f}, {depth_at:.3f} m deep at ({x:.3f}, {y:.3f}) m"
        bound = f"no steeper than 1:{1.0 / steepest:g}"
        _warn(table, limit, site, ("floor",), "the floor", value, bound)


def _ledge_slopes(table: RuleTable, limit: Limit, site: Site, layers: Sequence[Layer]) -> None:
    """Beaches and sloping ledges are walked on like the floor."""
    steepest = limit.steepest or 0.0
    for layer in layers:
        if not isinstance(layer.height, Slope):
            continue
        slope = float(np.hypot(*layer.height.planes[:, :2].T).max())
        xy = shapely.get_coordinates(layer.region)
        depth = site.level - layer.height.height(xy)
        at = int(np.argmin(depth))
        if slope > steepest * (1.0 + EQUAL) and _holds(limit, depth[at] + EQUAL):
            x, y = xy[at]
            value = f"1:{1.0 / slope:.1f}, {depth[at]:.3f} m deep at ({x:.3f}, {y:.3f}) m"
            bound = f"no steeper than 1:{1.0 / steepest:g}"
            _warn(table, limit, site, layer.key, f"the {layer.feature}", value, bound)


def _cove_radius(table: RuleTable, limit: Limit, pool: schema.Pool, site: Site) -> None:
    if pool.cove is None:
        return
    depths = site.depth(site.ring.points)
    at = int(np.argmin(depths))
    bound = _passes(limit, pool.cove.radius)
    if bound and _holds(limit, float(depths[at])):
        x, y = site.ring.points[at]
        value = f"{pool.cove.radius:.3f} m; at ({x:.3f}, {y:.3f}) m {depths[at]:.3f} m deep"
        _warn(table, limit, site, ("cove", "radius"), "the cove", value, bound)


def _bench_depth(table: RuleTable, limit: Limit, pool: schema.Pool, site: Site) -> None:
    for i, bench in enumerate(pool.bench):
        bound = _passes(limit, bench.depth)
        if bound:
            name = bench.name or f"bench {i + 1}"
            value = f"{bench.depth:.3f} m"
            _warn(
                table,
                limit,
                site,
                ("bench", i, "depth"),
                f"the water over the {name}",
                value,
                bound,
            )


def _goings(table: RuleTable, limit: Limit, pool: schema.Pool, site: Site) -> None:
    for i, flight in enumerate(pool.steps):
        if not isinstance(flight, schema.Flight):
            continue
        goings = flight.going if isinstance(flight.going, tuple) else (flight.going,)
        for k, going in enumerate(goings):
            bound = _passes(limit, going)
            if bound:
                name = flight.name or f"steps {i + 1}"
                what = f"the going of tread {k + 1} of the {name}" if len(goings) > 1 else (
                    f"the goings of the {name}")  # fmt: skip
                _warn(table, limit, site, ("steps", i, "going"), what, f"{going:.3f} m", bound)


def _risers(
    table: RuleTable, limit: Limit, pool: schema.Pool, site: Site, layers: Sequence[Layer]
) -> None:
    for i, flight in enumerate(pool.steps):
        own = [item for item in layers if item.key == ("steps", i) and item.kind == "tread"]
        if not own:
            continue
        name = flight.name or f"steps {i + 1}"
        top = site.wall_top - own[-1].level
        if limit.of == "top step":
            heights, what = [top], [f"the step from the wall's top to the top tread of the {name}"]
        else:
            levels = [item.level for item in own]
            foot, (x, y) = _last_riser(site, own[0])
            heights = [*np.diff(levels), foot]
            what = [f"the riser under tread {len(own) - 1 - k} of the {name}"
                    for k in range(len(levels) - 1)]  # fmt: skip
            what.append(f"the last riser of the {name}, at ({x:.3f}, {y:.3f}) m,")
        found = [(abs(h), w) for h, w in zip(heights, what, strict=True) if _passes(limit, h)]
        if found:
            height, words = max(found)
            _warn(
                table, limit, site, ("steps", i), words, f"{height:.3f} m", _passes(limit, height)
            )


def _last_riser(site: Site, deepest: Layer) -> tuple[float, Floats]:
    """Return how high a flight's last riser is where it is highest [m], and where that is (2,)."""
    middles = segments_of(shapely.boundary(deepest.region)).mean(axis=1)
    away = shapely.distance(shapely.points(middles), site.ring.polygon.exterior)
    front = away > BESIDE
    if deepest.flanks is not None:
        flanks = shapely.multilinestrings(shapely.linestrings(deepest.flanks))
        front &= shapely.distance(shapely.points(middles), flanks) > BESIDE
    if not front.any():
        return float("nan"), middles[0]
    heights = deepest.level - site.floor.height(middles[front])
    at = int(np.argmax(heights))
    return float(heights[at]), middles[front][at]
