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
from ..ramp import FoldedError, across, along
from ..shapes import polygons_only, within
from ..slope import Slope, plane_slope
from ..stretch import Stretch, band
from ..tolerances import GRID
from .beach import reach_of, to_the_floor
from .on_outline import stretch_between_walls
from .part import Block, Part
from .site import STRAY, Site
from .tops import check_depth, refuse_width


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
        check_depth(site, layers[-1], (*key, "depth"), name)
        if ledge.beach is None or ledge.beach.length is not None:
            found.append(Part(tuple(layers), blocks=(_block(layers[0]),)))
            continue
        if pool.cove is not None and "bench faces" in pool.cove.also_at:
            site.findings.warn(
                (*key, "beach"),
                f"takes no cove at the foot of the {name}: a beach has no face there",
                "",
                "at the sides of the beach the foot stays sharp",
            )
        found.append(Part(tuple(layers)))  # it has no face at its foot
    return found


def _block(layer: Layer) -> Block:
    """Return a ledge, with its beach, as what may take the cove at its foot."""
    slope = layer.height if isinstance(layer.height, Slope) else None
    return Block(layer.region, layer.lowest, layer.feature, "bench faces", slope=slope)


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
    if site.is_filled_by(region):
        refuse_width(site, ledge.width, (*key, "width"), name)
        return []
    baseline = stretch.baseline()
    top: Height = level
    if ledge.edge_depth is not None and ledge.edge_depth != ledge.depth:
        heights = [level, site.level - ledge.edge_depth]
        top = across(baseline, [0.0, ledge.width], heights, _reached(stretch, region))
    elif ledge.end_depth is not None and ledge.end_depth != ledge.depth:
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
    own = _Piece(region, top, drawn=False)
    if ledge.beach is None:
        return [own]
    reach = reach_of(site, ledge.beach, level)
    offsets = [0.0, ledge.width, ledge.width + reach]
    heights = [level, level, level - ledge.beach.slope * reach]
    whole = band(stretch, offsets[-1])
    slope = across(baseline, offsets, heights, _reached(stretch, whole))
    return [_Piece(to_the_floor(site, ledge, slope, whole, region, key, name), slope, "beach"), own]


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
    reach = reach_of(site, ledge.beach, level)
    baseline = Stretch(ring).baseline()
    slope = across(baseline, [0.0, -reach], [level, level - ledge.beach.slope * reach])
    whole = polygons_only(shapely.union_all([*slope.facets, ring.polygon], grid_size=GRID))
    whole = to_the_floor(site, ledge, slope, whole, region, key, name)
    return [_Piece(whole, slope, "beach"), _Piece(region, level)]
