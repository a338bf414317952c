"""Layout: everything that is known of a pool in plan, feature by feature."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from .arrays import Floats
from .design import schema
from .design.load import Design
from .errors import Findings, PoolFileError
from .plan.cells import Cells
from .plan.features.apart import check_apart
from .plan.features.bench import benches
from .plan.features.channel import channels
from .plan.features.coping import check_coping
from .plan.features.corner_coves import check_corners, corners_in
from .plan.features.cove import cove_layers, takes_feet
from .plan.features.floor_checks import check_floor
from .plan.features.islands import (
    blocks_of,
    check_places,
    check_standing,
    holes_of,
    islands,
    islands_of,
)
from .plan.features.last_riser import check_last_risers
from .plan.features.leaning import check_plumb
from .plan.features.ledge import ledges
from .plan.features.notches import check_notches
from .plan.features.other_coves import check_feet, check_stations
from .plan.features.overflow import overflows
from .plan.features.overtopped import check_crests
from .plan.features.part import Part, Water
from .plan.features.recess import check_recesses
from .plan.features.riser_coves import foot_coves
from .plan.features.shell import bare_pools, check_setting
from .plan.features.site import Island, Site
from .plan.features.spa import spas
from .plan.features.steps import flights
from .plan.features.taken import check_thickness
from .plan.features.wall import wall_of
from .plan.features.wall_lines import joints_on
from .plan.floors.made import floor_of
from .plan.keys import grid_keys, numbered
from .plan.layers import Gap, Layer, Underside
from .plan.outline import outline_of
from .plan.ring import Ring
from .plan.rounds import Round
from .plan.shapes import polygons_only

Maker = Callable[[Site, schema.Pool], list[Part]]

NONE = np.zeros((0, 2))
"""No points."""

MOST_LAPS = 3
"""Most times that the plan is laid out: once more where the cove has put joints on the outline."""


STANDING: tuple[Maker, ...] = (benches, ledges, flights)
"""What stands on the pool's floor, in painting order."""

BESIDE: tuple[Maker, ...] = (islands, overflows, channels, spas)
"""Islands, and other bodies of water in the pool or beside it, in painting order."""


@dataclass(frozen=True)
class _Walls:
    """The walls round the pool's water."""

    ring: Ring
    islands: tuple[Island, ...]

    def with_joints(self, layers: Sequence[Layer], more: Floats = NONE) -> _Walls | None:
        """Return them with the joints of coves as vertices; None where they have them all.

        Args:
            layers: Those of them that are coves of the pool have such joints.
            more: (k, 2) further places for vertices on the outline [m].
        """
        rings = [self.ring, *(item.ring for item in self.islands)]
        joints = [_joints(ring, layers) for ring in rings]
        joints[0] = np.concatenate([joints[0], more])
        if not any(len(item) for item in joints):
            return None
        first, *others = (
            ring.with_points(points) if len(points) else ring
            for ring, points in zip(rings, joints, strict=True)
        )
        changed = zip(self.islands, others, strict=True)
        return _Walls(first, tuple(replace(item, ring=ring) for item, ring in changed))


@dataclass(frozen=True)
class Layout:
    """Everything that is known in plan: the pool and its parts, in painting order."""

    site: Site
    parts: list[Part]

    @property
    def layers(self) -> list[Layer]:
        """All layers, in painting order."""
        return [layer for part in self.parts for layer in part.layers]

    @property
    def undersides(self) -> list[Underside]:
        """All undersides, in painting order."""
        return [item for part in self.parts for item in part.undersides]

    @property
    def outlines(self) -> dict[str, Ring]:
        """The outline of each body of water."""
        return {
            water.name: ring
            for part in self.parts
            for water, ring in zip(part.waters, part.rings, strict=False)
        }

    @property
    def gaps(self) -> list[Gap]:
        """Ground between pieces of concrete, less what later parts build on it."""
        found = []
        for i, part in enumerate(self.parts):
            taken = [item.region for later in self.parts[i + 1 :] for item in later.undersides]
            for gap in part.gaps:
                region = polygons_only(shapely.difference(gap.region, shapely.union_all(taken)))
                found.append(replace(gap, region=region))
        return [item for item in found if not item.region.is_empty]

    @property
    def rounds(self) -> tuple[Round, ...]:
        """Where corner coves stand."""
        rings = [("pool", ring) for ring in self.site.rings]
        rings += [item for item in self.outlines.items() if item[0] != "pool"]
        return tuple(replace(item, body=name) for name, ring in rings for item in ring.rounds)

    @property
    def waters(self) -> list[Water]:
        """The bodies of water, the pool first."""
        return [water for part in self.parts for water in part.waters]

    @property
    def levels(self) -> dict[str, float]:
        """Height from which each body's depths count [m]: of a dry one the pool's water."""
        return {item.name: 0.0 if item.is_dry else item.level for item in self.waters}


def layout_of(design: Design, findings: Findings) -> Layout:
    """Lay everything out in plan.

    The joints of the cove fall where they do on the true outline. They become vertices of the
    outline first, so that all that follows it shares them.

    Returns:
        Everything that is known in plan.
    """
    pool = design.pool
    walls = _walls(pool, findings)
    for _ in range(MOST_LAPS):
        lap = Findings()
        found = _laid_out(pool, walls, lap)
        lap.stop_on_error()
        layers = found.layers if takes_feet(pool) else ()
        jointed = walls.with_joints(layers, np.concatenate([item.joints for item in found.parts]))
        if jointed is None:
            break
        walls = jointed
    findings.found += lap.found
    check_thickness(pool, findings)
    return found


def _walls(pool: schema.Pool, findings: Findings) -> _Walls:
    """Return the walls as the file has them, with everything that is wrong with their outlines."""
    of_islands = Findings()
    islands = islands_of(pool, of_islands)
    corners = corners_in(pool.cove, ())
    try:
        outline = outline_of(pool.outline, pool.tolerance, ("outline",), corners)
    except PoolFileError as error:
        raise PoolFileError([*error.findings, *of_islands.found]) from None
    of_islands.stop_on_error()
    for key, note in outline.notes:
        findings.warn(key, note)
    return _Walls(outline.ring, (*islands, *holes_of(pool, outline, len(islands))))


def _laid_out(pool: schema.Pool, walls: _Walls, findings: Findings) -> Layout:
    """Lay everything out between walls."""
    check_feet(pool, findings)
    check_stations(pool, findings)
    site = Site(
        "pool",
        walls.ring,
        floor_of(pool, walls.ring),
        0.0,
        pool.freeboard,
        pool.shell,
        pool.tolerance,
        findings,
        islands=walls.islands,
    )
    check_floor(site, pool)
    check_places(site)
    check_plumb(site, pool)
    check_corners(site, pool)
    findings.stop_on_error()
    coves: list[Layer] = []
    key = ("cove",) if pool.cove is not None else ("batter",)
    if (pool.cove is not None or pool.batter is not None) and not takes_feet(pool):
        coves = cove_layers(site, pool.cove, blocks_of(site), key, pool.batter)
        if (jointed := walls.with_joints(coves)) is not None:
            site = replace(site, ring=jointed.ring, islands=jointed.islands)
    wall, raised = wall_of(site, pool)
    site = replace(site, concrete=wall)
    check_coping(site, pool)
    check_setting(site, pool)
    standing, beside = ([item for make in makers for item in make(site, pool)]
                        for makers in (STANDING, BESIDE))  # fmt: skip
    check_standing(site, standing)
    check_last_risers(site, standing)
    check_apart(beside, findings)
    feet = []
    if pool.cove is not None and takes_feet(pool):
        blocks = [item for part in (*standing, *beside) for item in part.blocks]
        taken = [item for item in blocks if item.foot in (None, *pool.cove.also_at)]
        coves = cove_layers(site, pool.cove, taken, key, pool.batter)
        feet = [foot_coves(site, pool.cove, standing, ("cove",))]
    bare = bare_pools(site, pool, wall, raised)
    check_recesses(site, bare, standing)
    check_crests(site, beside, standing)
    check_notches(site, [item for part in (*bare, *beside) for item in part.notches], coves)
    return Layout(site, [*bare, Part(tuple(coves)), *standing, *feet, *beside])


def _joints(ring: Ring, layers: Sequence[Layer]) -> Floats:
    """Points (k, 2) of the pool's cove that lie on a ring and are no vertices of it [m]."""
    found = [
        joints_on(ring, item.height)
        for item in layers
        if isinstance(item.height, Cells) and item.body == "pool" and not item.flight
    ]
    points = np.concatenate([*found, np.zeros((0, 2))])
    return points[numbered(grid_keys(points))[0]]
