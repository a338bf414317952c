"""Ledges: benches whose top may slope, or whose front runs down as a beach."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from ...design import schema
from ...errors import Key
from ..curves import unit
from ..layers import Height, Layer
from ..outline import outline_ring
from ..overlay import higher
from ..ramp import FoldedError, across, along
from ..shapes import polygons_only, within
from ..slope import Slope, facets_of, heights_on, plane_slope
from ..stretch import Stretch, band
from ..tolerances import GRID, SAME_HEIGHT
from .bench import MOST_FILLED, stretch_between_walls
from .part import Block, Part
from .site import STRAY, Site

OVERLAP = 0.05
"""[m] A beach runs on by this where it has met the floor, hidden by it."""

BESIDE = 1e-3
"""[m] What shows of a beach nearer to its ledge than this hangs together with it."""


@dataclass(frozen=True)
class _Piece:
    """One layer of a ledge before it is clipped to the pool.

    Args:
        region: Its plan.
        height: Of its top.
        suffix: What it is called beside the ledge's name.
        drawn: Whether it may stick out without a word: an outline is drawn across the wall.
    """

    region: shapely.Geometry
    height: Height
    suffix: str = ""
    drawn: bool = True


def ledges(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the ledges of the pool."""
    found = []
    for i, ledge in enumerate(pool.ledges):
        key, name = ("ledges", i), ledge.name or f"ledge {i + 1}"
        if isinstance(ledge, schema.FollowingLedge):
            pieces = _following(site, ledge, key, name)
        else:
            pieces = _outlined(site, ledge, key, name)
        layers = [_layer(site, item, key, name) for item in pieces]
        if not layers or any(item.region.area < GRID for item in layers):
            continue  # refused
        _check_heights(site, layers[-1], key, name)
        to_floor = ledge.beach is not None and ledge.beach.length is None
        first = layers[0]
        block = Block(
            first.region,
            first.lowest,
            first.feature,
            "bench faces",
            slope=first.height if isinstance(first.height, Slope) else None,
        )
        if to_floor and pool.cove is not None and "bench faces" in pool.cove.also_at:
            site.findings.warn(
                (*key, "beach"),
                f"takes no cove at the foot of the {name}: a beach has no face there",
                "",
                "at the sides of the beach the foot stays sharp",
            )
        found.append(Part(tuple(layers), blocks=() if to_floor else (block,)))
    return found


def _layer(site: Site, piece: _Piece, key: Key, name: str) -> Layer:
    """Clip a piece to the pool."""
    region = within(piece.region, site.ring.polygon)
    if not piece.drawn or region.area < STRAY:
        region = site.clip(piece.region, key, name)
    feature = f"{name} {piece.suffix}".rstrip()
    return Layer(site.body, "bench top", feature, key, region, piece.height, "floor", "bench face")


def _following(site: Site, ledge: schema.FollowingLedge, key: Key, name: str) -> list[_Piece]:
    stretch = stretch_between_walls(site, ledge.start, ledge.end, key)
    level = site.level - ledge.depth
    region = band(stretch, ledge.width)
    if region.is_empty:
        return []  # refused: of no length
    if region.area > MOST_FILLED * site.ring.polygon.area:
        site.findings.error(
            (*key, "width"),
            f"must leave open water in front of the {name}",
            f"{ledge.width:.3f} m reaches the other side of the {site.body}",
            "make it narrower",
        )
        return []
    baseline = stretch.baseline()
    if ledge.edge_depth is not None and ledge.edge_depth != ledge.depth:
        edge = site.level - ledge.edge_depth
        top = across(baseline, [0.0, ledge.width], [level, edge], _reached(stretch, region))
        return [_Piece(region, top, drawn=False)]
    if ledge.end_depth is not None and ledge.end_depth != ledge.depth:
        try:
            top = along(baseline, ledge.width, level, site.level - ledge.end_depth)
        except FoldedError as error:
            site.findings.error(
                (*key, "end_depth"),
                f"must not be given where the outline turns more tightly than the {name} is wide: "
                f"{error}",
                f"{ledge.width:.3f} m wide",
                "make it narrower, let it fall across ('edge_depth'), or part it there",
            )
            return []
        return [_Piece(region, top, drawn=False)]
    if ledge.beach is None:
        return [_Piece(region, level, drawn=False)]
    reach = _reach(site, ledge.beach, level)
    low = level - ledge.beach.slope * reach
    offsets = [0.0, ledge.width, ledge.width + reach]
    whole = band(stretch, ledge.width + reach)
    slope = across(baseline, offsets, [level, level, low], _reached(stretch, whole))
    whole = _to_the_floor(site, ledge, slope, whole, region, key, name)
    return [_Piece(whole, slope, "beach"), _Piece(region, level, drawn=False)]


def _reached(stretch: Stretch, region: shapely.Geometry) -> shapely.Geometry | None:
    """Return what a band covers within its walls; None of one that has no ends."""
    return None if stretch.start is None else within(region, stretch.ring.polygon)


def _outlined(site: Site, ledge: schema.OutlinedLedge, key: Key, name: str) -> list[_Piece]:
    ring = outline_ring(ledge.outline, site.tolerance, (*key, "outline"))
    level = site.level - ledge.depth
    region = ring.polygon
    if ledge.fall:
        at = shapely.get_coordinates(shapely.centroid(region))[0] if ledge.at is None else ledge.at
        a, b = -ledge.fall * unit(ledge.direction)
        plane = np.array([a, b, level - a * at[0] - b * at[1]])
        return [_Piece(region, plane_slope(region, plane))]
    if ledge.beach is None:
        return [_Piece(region, level)]
    reach = _reach(site, ledge.beach, level)
    baseline = Stretch(ring).baseline()
    slope = across(baseline, [0.0, -reach], [level, level - ledge.beach.slope * reach])
    whole = polygons_only(shapely.union_all([*slope.facets, ring.polygon], grid_size=GRID))
    whole = _to_the_floor(site, ledge, slope, whole, region, key, name)
    return [_Piece(whole, slope, "beach"), _Piece(region, level)]


def _reach(site: Site, beach: schema.Beach, level: float) -> float:
    """Return the length of a beach in plan, to its face or to a little beyond the floor [m]."""
    if beach.length is not None:
        return beach.length
    facets, planes, _ = facets_of(site.floor, site.ring.polygon)
    corners, of = shapely.get_coordinates(
        shapely.intersection(facets, site.ring.polygon), return_index=True
    )
    deepest = float(heights_on(planes[of], corners).min())
    return max(level - deepest, 0.0) / beach.slope + OVERLAP


def _to_the_floor(
    site: Site,
    ledge: schema.Ledge,
    slope: Slope,
    whole: shapely.Geometry,
    level_part: shapely.Geometry,
    key: Key,
    name: str,
) -> shapely.Geometry:
    """Return the plan of a beach as far as where it first meets the floor.

    Its plane goes on: beyond a drop it would stand above the floor again.

    Args:
        site: The pool.
        ledge: From the pool file.
        slope: The beach, and the ledge where it is level.
        whole: As far as it may reach.
        level_part: The ledge.
        key: Its key.
        name: For findings.
    """
    if ledge.beach is None or ledge.beach.length is not None:
        return whole
    beyond = shapely.difference(within(whole, site.water), within(level_part, site.water))
    parts = shapely.get_parts(higher(slope, site.floor, polygons_only(beyond)))
    own = shapely.dwithin(parts, level_part, BESIDE)
    if not own.any():
        site.findings.error(
            (*key, "beach"),
            f"must begin above the floor, which is as high as the {name} in front of it",
            f"{ledge.depth:.3f} m deep",
            f"raise the {name}, or leave 'beach' out",
        )
    again = parts[~own & (shapely.area(parts) > STRAY)]
    if not len(again) or not own.any():
        return whole
    gap = float(shapely.distance(shapely.union_all(parts[own]), again).min())
    margin = shapely.buffer(again, min(OVERLAP, gap / 2.0), join_style="mitre")
    return polygons_only(shapely.difference(whole, shapely.union_all(margin), grid_size=GRID))


def _check_heights(site: Site, layer: Layer, key: Key, name: str) -> None:
    """The top must lie under the water, and above the floor at least in places."""
    xy = shapely.get_coordinates(layer.region)
    top = np.full(len(xy), layer.level)
    if isinstance(layer.height, Slope):
        top = layer.height.height(xy)
    ground = site.floor.height(xy)
    if top.max() >= site.level - SAME_HEIGHT:
        x, y = xy[int(np.argmax(top))]
        site.findings.error(
            (*key, "depth"),
            f"must put the {name} under the water everywhere",
            f"{site.level - top.max():.3f} m deep at ({x:.3f}, {y:.3f}) m",
            "lower it, or reduce its fall",
        )
    if (top <= ground).all():
        site.findings.error(
            (*key, "depth"),
            f"must be less than the depth of the floor under the {name}",
            f"{site.level - top.max():.3f} m; the floor there is "
            f"{site.level - ground.min():.3f} m deep",
            f"raise the {name} or deepen the floor",
        )
    elif (top < ground).any():
        x, y = xy[int(np.argmin(top - ground))]
        site.findings.warn(
            (*key, "depth"),
            f"the {name} runs into the floor, which is higher than its top in places",
            f"up to {(ground - top).max():.3f} m higher, at ({x:.3f}, {y:.3f}) m",
        )
