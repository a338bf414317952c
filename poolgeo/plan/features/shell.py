"""The bare pool: its floor, its wall, and what lies under both: slab, footing, thickened edge."""

from __future__ import annotations

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ..layers import Gap, Layer, Underside
from ..shapes import polygons_only, rings_of
from ..stretch import CRUMB
from ..tolerances import SHARP_TURN
from ..turning import corners_in
from .beam import beam_undersides
from .concrete import Wall
from .coping import with_strips
from .footing import check_heights, footing_top, footing_undersides
from .part import Notch, Part, Role, Water
from .recess import recesses
from .site import Site
from .thickened_edge import thickened_edge
from .wall import top_layers


def bare_pools(site: Site, pool: schema.Pool, wall: Wall, notches: tuple[Notch, ...]) -> list[Part]:
    """Return the bare pool.

    Args:
        site: The pool as a body of water.
        pool: The pool file.
        wall: The pool's wall, and
        notches: where it has a height of its own.
    """
    footing = footing_top(site, wall)
    check_heights(site, pool.shell, wall, footing)
    over, free = (shapely.Polygon(), wall.overhang)
    if footing is not None:
        over, free = (polygons_only(act(free, wall.base))
                      for act in (shapely.intersection, shapely.difference))  # fmt: skip
    beams, above = (beam_undersides(wall, pool.shell.beam, item) for item in (free, over))
    recessed = recesses(site, pool, wall)
    layers = [
        *([] if footing is None else [footing]),
        *with_strips(top_layers(site, wall), site, pool.coping),
        *(item for item, _ in recessed),
        Layer(site.body, "floor", "floor", ("floor",), site.ring.polygon, site.floor),
    ]
    lines: dict[tuple[str, Role], Floats] = {
        (site.body, "water"): site.ring.points,
        (site.body, "shell"): _border(wall.head),
    }
    for k, hole in enumerate(wall.head.interiors):
        lines[f"ground {k + 1}", "ground"] = shapely.get_coordinates(hole)[:-1]
    if wall.base is not wall.head:
        lines[site.body, "base"] = _border(wall.base)
    edge = thickened_edge(site, pool.shell.thickened_edge, wall)
    return [
        Part(
            tuple(layers),
            (Underside(wall.base, site.soffit), *footing_undersides(site, wall), *edge, *beams),
            waters=(Water(site.body, site.level, "P"),),
            outlines=lines,
            rings=(site.ring,),
            gaps=tuple(Gap(item.region, footing, item) for item in above if footing is not None),
            corners=_ends(site, [item for item, _ in recessed]),
            notches=(*notches, *(item for _, item in recessed)),
        )
    ]


def check_setting(site: Site, pool: schema.Pool) -> None:
    """Say of a shell in the ground that it can float, of another that no blinding lies under it."""
    if pool.setting == "in ground":
        site.findings.warn(
            ("setting",),
            "means that the shell can float: ground water lifts an emptied pool and breaks it",
            "",
            "before anybody drains it, a qualified person has to know the ground water level and "
            "what relieves it",
        )
    elif "blinding" in pool.shell.model_fields_set:
        site.findings.warn(
            ("shell", "blinding"),
            "counts for nothing: only a shell in the ground has blinding under it",
            f"setting {pool.setting or 'not stated'}",
            "give 'setting: in ground', or leave it out",
        )


def _border(shape: shapely.Polygon) -> Floats:
    found: Floats = shapely.get_coordinates(shape.exterior)[:-1]
    return found


def _ends(site: Site, recessed: list[Layer]) -> Floats:
    """Plan points (k, 2) of the outline at which a recess ends, and the wall turns with it [m]."""
    border = shapely.boundary(site.ring.polygon)
    found = [np.zeros((0, 2))]
    for points in rings_of([item.region for item in recessed]) if recessed else ():
        at = shapely.dwithin(border, shapely.points(points), CRUMB)
        sharp = corners_in(points, np.array([len(points) - 1]), CRUMB, SHARP_TURN)
        found.append(points[sharp[at[sharp]]])
    return np.concatenate(found)
