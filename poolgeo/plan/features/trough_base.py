"""What lies under a trough and the wall that it shares with the pool; no footing beside it."""

from __future__ import annotations

import shapely

from ..layers import Underside
from ..shapes import polygons_only
from ..tolerances import GRID
from .footing import footing_floor
from .site import STRAY, Site
from .thickened_edge import under_walls
from .weir_plan import WeirPlan


def trough_undersides(
    pool: Site, walls: shapely.Geometry, soffit: float, body: str
) -> list[Underside]:
    """Return the undersides of a trough and of the walls round it.

    The pool's wall beside it goes down to the pool's soffit where that is deeper. Beyond that wall
    the trough's own concrete stands; where the pool has a footing, that ends there.
    """
    wall = pool.own_wall
    if wall.base is wall.outer:
        return under_walls(pool, polygons_only(walls), soffit, body)
    beside, beyond = (
        polygons_only(act(walls, wall.outer, grid_size=GRID))
        for act in (shapely.intersection, shapely.difference)
    )
    edge = pool.shell.thickened_edge
    below = pool.soffit, soffit + (0.0 if edge is None else edge.depth)
    passes = (below, *((item, soffit) for item in (footing_floor(pool),) if item is not None))
    return [
        *under_walls(pool, beside, soffit, body),
        Underside(beyond, None, soffit, body=body, passes=passes),
    ]


def check_footing(pool: Site, weir: WeirPlan, walled: shapely.Geometry, name: str) -> None:
    """The footing of the pool's wall ends where a trough stands, and must not go on beyond it."""
    wall, footing = pool.own_wall, pool.shell.footing
    if footing is None:
        return
    reach = pool.shell.wall + footing.projection
    reach = max([reach, *(thick + footing.projection for _, thick in wall.stretches)])
    along = shapely.intersection(weir.band(weir.thickness, reach), wall.base, grid_size=GRID)
    over = shapely.difference(polygons_only(along), walled, grid_size=GRID)
    if over.area > STRAY:
        place = shapely.point_on_surface(over)
        pool.findings.error(
            ("shell", "footing", "projection"),
            f"must end under the '{name}', beside which no footing can stand",
            f"{footing.projection:.3f} m; it comes out beyond, near"
            f" ({place.x:.3f}, {place.y:.3f}) m",
            f"let it run out less, or make the '{name}' wider",
        )
