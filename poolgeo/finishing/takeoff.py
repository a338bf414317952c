"""Take the finishes of a pool off: areas, what they take, nosings, coping stones."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ..design.finishes import Finish, Sheet, Tile
from ..model import Model
from ..quantities import Takeoff
from ..supply.finish import grout
from .areas import Key, areas_of
from .coping import coping_of
from .edges import bands_of, nosings_of, whole
from .rows import BandRow, FinishArea, FinishTakeoff, Supplies
from .tiles import cut_tiles_of


def take_off_finishes(model: Model, takeoff: Takeoff) -> FinishTakeoff | None:
    """Take the finishes of a pool off.

    Areas are those of the solid; cut tiles, nosings and coping follow its square edges.

    Args:
        model: The pool.
        takeoff: Measured on it.

    Returns:
        Typed rows; None where the pool file has neither finishes nor coping stones.
    """
    pool = model.design.pool
    finishes, stones = pool.finishes or (), pool.coping.stones
    if not finishes and stones is None:
        return None
    areas = areas_of(model, takeoff.fittings, finishes)
    cut = cut_tiles_of(model, finishes)
    bands = tuple(bands_of(areas, finishes, takeoff.bands))
    coping = () if stones is None else tuple(coping_of(takeoff.edges, stones, pool.tolerance))
    return FinishTakeoff(
        tuple(areas.values()),
        _supplies(finishes, areas, cut, bands),
        tuple(nosings_of(takeoff.edges, finishes)),
        coping,
        bands,
    )


def _supplies(
    finishes: Sequence[Finish],
    areas: Mapping[Key, FinishArea],
    cut: Mapping[int, int],
    bands: Sequence[BandRow],
) -> tuple[Supplies, ...]:
    """Return what each finish takes."""
    found = []
    for i, item in enumerate(finishes):
        mine = [row for key, row in areas.items() if key[0] == i]
        area = math.fsum(row.area for row in mine)
        if item.tile is None or item.joint is None:
            net = area * (item.thickness or 0.0)
            row = Supplies(
                item.name, item.type, area, plaster_net=net, plaster_gross=_gross(net, item.loss)
            )
        else:
            mine_in_band = [band for band in bands if band.finish == item.name]
            row = _laid(item, item.tile, item.joint, mine, cut.get(i), mine_in_band)
        found.append(row)
    return tuple(found)


def _laid(
    item: Finish,
    tile: Tile,
    joint: float,
    areas: Sequence[FinishArea],
    cut: int | None,
    bands: Sequence[BandRow],
) -> Supplies:
    """Return what a finish takes that is laid piece by piece.

    Args:
        item: The finish.
        tile: Its tile.
        joint: Its joint [m].
        areas: Where it is laid.
        cut: How many tiles are cut; None where that is not told.
        bands: Waterline bands that it is laid in and nowhere else.
    """
    area = math.fsum(row.area for row in areas)
    waste = waste_of(item, areas)
    modules = area / ((tile.length + joint) * (tile.width + joint))
    on_sheets = item.sheet is not None
    if cut is not None:
        cut = min(cut, whole(modules))
    sheets = None
    if item.sheet is not None:
        covered = max(area, sum(_sheeted(band, item.sheet, tile.width + joint) for band in bands))
        sheets = whole(covered * (1.0 + waste) / (item.sheet.length * item.sheet.width))
    bed = area * item.bed.thickness
    bought = _gross(bed, item.loss)
    mortar = area * grout(tile.length, tile.width, tile.thickness, joint)
    return Supplies(
        item.name,
        item.type,
        area,
        modules,
        waste,
        None if on_sheets else whole(modules * (1.0 + waste)),
        sheets,
        cut,
        None if on_sheets else whole(modules),
        bed,
        bought,
        None if item.bed.density is None else bought * item.bed.density,
        mortar,
        _gross(mortar, item.loss),
    )


def _sheeted(band: BandRow, sheet: Sheet, module: float) -> float:
    """Return the area of sheets that a band takes, cut between rows [m2].

    Args:
        band: The band.
        sheet: The sheets.
        module: Height of a row [m].
    """
    rows = math.ceil(band.height / module - 1e-6)
    strips = math.floor(sheet.width / module + 1e-6) // rows
    return band.length * (sheet.width / strips if strips else rows * module)


def waste_of(item: Finish, areas: Sequence[FinishArea]) -> float:
    """Return the mean share that is bought more, by area; where nothing is laid the straight one.

    Curved surface takes the curved share in place of the straight one; what slopes takes the
    sloping one as well.
    """
    area = math.fsum(row.area for row in areas)
    if area <= 0.0:
        return item.waste.straight
    curved = math.fsum(row.curved for row in areas) / area
    sloping = math.fsum(row.sloping for row in areas) / area
    waste = item.waste
    return waste.straight + curved * (waste.curved - waste.straight) + sloping * waste.sloping


def _gross(net: float, loss: float) -> float:
    """Return what is bought so that a volume ends up in place."""
    return net / (1.0 - loss)
