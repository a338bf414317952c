r"""Troughs: what catches the water beyond a weir, a body of its own, basin or channel.

::

      pool      weir   trough      rim
               ______           _______
              |      |         |       |      solid: the pool with its walls and the weir, which
              |      |_________|       |      the trough stands against and leaves whole
                                              rim: the trough's own wall, where no solid is
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely

from ...arrays import Floats
from ...design import schema
from ..cells import Cells
from ..courses import feet_of
from ..layers import Layer, Underside
from ..shapes import polygons_only
from ..tolerances import GRID, WELD
from .catch import Catch
from .coping import with_return
from .cove import cove_layers
from .notches import check_notches
from .part import Block, Notch, Part, Role
from .site import Site
from .trough_base import check_footing, trough_undersides
from .trough_plan import trough_plan
from .wall_lines import joints_on
from .weir import weir_notch
from .weir_plan import WeirPlan
from .weir_top import weir_tops

ENDS = np.array([0.0, 1.0])
"""[-] Both ends of an arc."""


def trough_part(pool: Site, weir: WeirPlan, catch: Catch, coping: schema.Coping) -> Part:
    """Return a weir and the trough beyond it; what is wrong is left with the pool's findings.

    Args:
        pool: The pool.
        weir: What it spills over.
        catch: What catches the water.
        coping: From the pool file.
    """
    plan = trough_plan(pool, weir, catch)
    if plan is None:
        return Part()
    site, kind = plan.site, catch.kind
    outer = site.outer
    stands = shapely.union(site.ring.polygon, plan.solid, grid_size=GRID)
    rim = polygons_only(shapely.difference(outer, stands, grid_size=GRID))
    walled = polygons_only(shapely.union(outer, weir.region, grid_size=GRID))
    walls = shapely.difference(walled, pool.ring.polygon, grid_size=GRID)
    soffit = float(site.soffit.height(_border(plan.region)).min())
    check_footing(pool, weir, walled, catch.water.name)
    blocks = [Block(item, weir.lowest, "the pool's wall", "dam walls") for item in plan.holes]
    coves = []
    if catch.cove is not None:
        coves = cove_layers(site, catch.cove, blocks, (*catch.key, "cove"))
        face = shapely.LineString(weir.line(weir.thickness))
        check_notches(site, [Notch(face, weir.face, (*catch.key[:2], "crest"))], coves)
    own = pool.body if weir.inner <= weir.face else site.body
    top = Layer(
        site.body, "wall top", f"{kind} wall", catch.key, rim, catch.wall_top, "all", site.wall
    )
    layers = (
        *with_return(top, site.ring, pool.shell.wall, coping, 0.0),
        Layer(site.body, f"{kind} floor", f"{kind} floor", catch.key, plan.region, site.floor,
              wall=site.wall),
        *(replace(item, wall=site.wall) for item in coves),
        *weir_tops(weir, own, catch.key, f"weir of the {site.body}"),
    )  # fmt: skip
    floor = [] if site.floor.is_level else [
        Underside(plan.region, site.soffit, body=site.body, everywhere=True)
    ]  # fmt: skip
    outlines: dict[tuple[str, Role], Floats] = {
        (site.body, "water"): site.ring.points,
        (site.body, "shell"): _points(outer),
    }
    if plan.holes:
        outlines[site.body, "hole"] = _points(plan.holes[0])
    return Part(
        layers,
        (*trough_undersides(pool, walls, soffit, site.body), *floor),
        waters=(catch.water,),
        outlines=outlines,
        rings=(site.ring,),
        joints=_joints(pool, site, coves, {weir.thickness, weir.thickness + (catch.width or 0.0)}),
        footprint=polygons_only(shapely.difference(walled, plan.solid, grid_size=GRID)),
        notches=(weir_notch(weir, catch.key[:2]),),
    )


def _joints(pool: Site, site: Site, coves: Sequence[Layer], offs: set[float]) -> Floats:
    """Return where on the pool's curve (k, 2) a trough's cove has joints so far off [m].

    Its corner coves touch the curve itself, which the chords of walls and weir pass by.
    """
    cells = [item.height for item in coves if isinstance(item.height, Cells)]
    found = [joints_on(site.ring, item) for item in cells]
    points = np.concatenate([*found, np.zeros((0, 2))])
    ring, reach = pool.ring.bare, site.tolerance
    ends = np.concatenate([item.arc.at(ENDS) for item in site.ring.rounds] or [np.zeros((0, 2))])
    return np.concatenate(
        [feet_of(points, ring, off, reach) for off in sorted(offs)]
        + [feet_of(ends, ring, off, reach, WELD / 2.0) for off in sorted(offs)]
    )


def _border(region: shapely.Geometry) -> Floats:
    return np.asarray(shapely.get_coordinates(region))


def _points(shape: shapely.Polygon) -> Floats:
    """Return the outer border of a polygon without the repeated point (k, 2)."""
    return np.asarray(shapely.get_coordinates(shape.exterior)[:-1])
