"""The net area of each finish, by body, kind and zone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from ..design.finishes import Finish
from ..detailing.detail import zone_of_fitting
from ..jointing.regions import finish_at, regions_of
from ..mesh import ZONES
from ..model import Model
from ..placed import Placed
from ..surface.kinds import KINDS
from .rows import FinishArea
from .shape import curved_share, is_sloping

Key = tuple[int, int, int, int]
"""Finish, body, kind, zone: numbers, in the order of the reports."""


def areas_of(
    model: Model, fittings: Iterable[Placed], finishes: Sequence[Finish]
) -> dict[Key, FinishArea]:
    """Return what each finish covers, less the openings of fittings, in the order of reports.

    Args:
        model: The pool.
        fittings: In their places.
        finishes: In the order of the pool file.
    """
    rows = _whole_areas(model, finishes)
    bodies = [body.name for body in model.bodies]
    for item in fittings:
        _open(rows, model, item, finishes, bodies)
    return {key: rows[key] for key in sorted(rows)}


def _whole_areas(model: Model, finishes: Sequence[Finish]) -> dict[Key, FinishArea]:
    mesh = model.surface
    region = regions_of(mesh, model.wet, model.zone, finishes)
    owner = (region * len(mesh.patches) + mesh.patch) * len(ZONES) + model.zone
    rows = np.flatnonzero(region >= 0)
    unique, place = np.unique(owner[rows], return_inverse=True)
    true = mesh.areas[rows]
    sizes = np.column_stack(
        [
            np.bincount(place.ravel(), true * flag[rows], len(unique))
            for flag in (np.ones(len(region)), curved_share(model), is_sloping(mesh))
        ]
    )
    bodies = [body.name for body in model.bodies]
    found: dict[Key, FinishArea] = {}
    for number, (area, curved, sloping) in zip(unique.tolist(), sizes.tolist(), strict=True):
        patch = mesh.patches[number // len(ZONES) % len(mesh.patches)]
        if patch.kind not in KINDS or area <= 0.0:
            continue
        i, zone = number // len(ZONES) // len(mesh.patches), number % len(ZONES)
        key = i, bodies.index(patch.body), KINDS.index(patch.kind), zone
        item = finishes[i]
        old = found.get(key) or FinishArea(
            item.name, item.type, patch.body, patch.kind, ZONES[zone], 0.0, 0.0, 0.0
        )
        found[key] = replace(
            old, area=old.area + area, curved=old.curved + curved, sloping=old.sloping + sloping
        )
    return found


def _open(
    rows: dict[Key, FinishArea], model: Model, item: Placed, finishes: Sequence[Finish],
    bodies: Sequence[str],
) -> None:  # fmt: skip
    """Take the opening of a fitting off the finish that holds where its middle is.

    What is larger than the finish has there, as a skimmer that reaches out of the band, is taken
    off its other zones, and those of other finishes on this kind of surface.
    """
    zone = int(np.argmax(zone_of_fitting(model, item)))
    number = finish_at(finishes, item.surface, item.body, ZONES[zone], wet=item.depth > 0.0)
    if number < 0 or item.surface not in KINDS:
        return
    place = bodies.index(item.body), KINDS.index(item.surface)
    near = [key for key in rows if key[1:3] == place]
    near.sort(key=lambda key: (key[0] != number, key[3] != zone, abs(key[3] - zone), key))
    left = item.void_area
    for key in near:
        row = rows[key]
        taken = min(left, row.area)
        if taken > 0.0:
            kept = 1.0 - taken / row.area
            rows[key] = replace(
                row, area=row.area * kept, curved=row.curved * kept, sloping=row.sloping * kept
            )
            left -= taken
