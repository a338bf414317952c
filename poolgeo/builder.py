"""Build: from a checked design to a model, stage by stage."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from .design import schema
from .design.load import Design
from .errors import Finding, GeometryError, PoolFileError
from .fittings.place import place
from .model import Body, Floats, Model
from .plan.cells import Cells
from .plan.corners import corners_of
from .plan.features.apart import check_apart
from .plan.features.basin import check_floor
from .plan.features.bench import benches
from .plan.features.channel import channels
from .plan.features.cove import cove_layers, foot_coves, joints_on, takes_feet
from .plan.features.islands import (
    blocks_of,
    check_places,
    check_standing,
    holes_of,
    islands,
    islands_of,
)
from .plan.features.leaning import check_plumb
from .plan.features.ledge import ledges
from .plan.features.overflow import overflows
from .plan.features.part import Part, Water
from .plan.features.shell import bare_pools
from .plan.features.site import Findings, Island, Site
from .plan.features.spa import spas
from .plan.features.steps import flights
from .plan.features.wall import check_recesses
from .plan.features.waterline import levels_of
from .plan.floors.made import floor_of
from .plan.keys import grid_keys, numbered
from .plan.layers import Gap, Layer, Underside
from .plan.limits import compare
from .plan.outline import outline_of
from .plan.planmap import plan_map
from .plan.ring import Ring
from .plan.shapes import polygons_only
from .surface.labels import canals_of, creases_of, floors_of, tangents_of
from .surface.lift import lift
from .surface.spots import spots_of
from .surface.water import with_free_surface

Maker = Callable[[Site, schema.Pool], list[Part]]

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

    def with_joints(self, layers: Sequence[Layer]) -> _Walls | None:
        """Return them with the joints of coves as vertices; None where they have them all."""
        rings = [self.ring, *(item.ring for item in self.islands)]
        joints = [_joints(ring, layers) for ring in rings]
        if not any(len(item) for item in joints):
            return None
        first, *more = (
            ring.with_points(points) if len(points) else ring
            for ring, points in zip(rings, joints, strict=True)
        )
        changed = zip(self.islands, more, strict=True)
        return _Walls(first, tuple(replace(item, ring=ring) for item, ring in changed))


@dataclass(frozen=True)
class _Layout:
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
    def waters(self) -> list[Water]:
        """The bodies of water, the pool first."""
        return [water for part in self.parts for water in part.waters]


def build(design: Design) -> Model:
    """Build the geometry of a pool.

    Args:
        design: From `poolgeo.load` or `poolgeo.design.load.design_from`.

    Returns:
        The model; its warnings carry file and line.

    Raises:
        PoolFileError: What the file asks for cannot be built; with everything found.

    Example:
        >>> from poolgeo.design.load import design_from
        >>> pool = {"name": "tank", "units": "m", "outline": {"shape": "rectangle",
        ...     "length": 10, "width": 5}, "floor": {"shape": "level", "depth": 1.5}}
        >>> model = build(design_from(pool))
        >>> round(float(model.bodies[0].water.trimesh().volume), 6)
        75.0
    """
    findings = Findings()
    try:
        layout = _layout(design, findings)
        findings.stop_on_error()
        if design.rules is not None:
            site = replace(layout.site, findings=findings)
            compare(design.rules, design.pool, site, layout.parts)
    except PoolFileError as error:
        raise PoolFileError(_placed(design, [*findings.found, *error.findings])) from error
    layers = layout.layers
    waters = {item.name: item.level for item in layout.waters}
    levels = levels_of(design.pool, layout.waters, layers, findings)
    try:
        plan = plan_map(layers, layout.undersides, levels, layout.gaps)
        lifted = lift(plan, levels)
    except GeometryError as error:
        rule = f"must give a closed solid, and gives none {error}"
        remedy = "move what meets there by a few millimetres, and tell the developers"
        raise PoolFileError(_placed(design, [Finding((), rule, "", remedy)])) from error
    fittings = place(lifted.surface, waters, layout.outlines, design.pool, findings)
    if any(item.severity == "error" for item in findings.found):
        raise PoolFileError(_placed(design, findings.found))
    return Model(
        design,
        lifted.surface,
        lifted.wet,
        lifted.zone,
        tuple(
            Body(
                item.name,
                at.water,
                (at.bottom, at.top),
                lifted.wetted[item.name],
                with_free_surface,
                item.mark,
            )
            for item, at in zip(layout.waters, levels, strict=True)
        ),
        lifted.shell,
        {name: line for part in layout.parts for name, line in part.outlines.items()},
        np.concatenate(
            [
                corners_of(layers, [ring for part in layout.parts for ring in part.rings]),
                *(part.corners for part in layout.parts),
            ]
        ),
        creases_of(plan),
        tangents_of(plan),
        floors_of(plan),
        plan.vertices[plan.smooth],
        canals_of(plan),
        spots_of(plan, {item.name: 0.0 if item.is_dry else item.level for item in layout.waters}),
        tuple(_placed(design, findings.found)),
        fittings,
    )


def _placed(design: Design, found: list[Finding]) -> list[Finding]:
    """Give each finding its file and line, each once, in the order of the file."""
    once = dict.fromkeys(design.origin.place(item) for item in found)
    return sorted(once, key=lambda item: item.line or 0)


def _layout(design: Design, findings: Findings) -> _Layout:
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
        jointed = walls.with_joints(found.layers) if takes_feet(pool) else None
        if jointed is None:
            break
        walls = jointed
    findings.found += lap.found
    return found


def _walls(pool: schema.Pool, findings: Findings) -> _Walls:
    """Return the walls as the file has them, with everything that is wrong with their outlines."""
    of_islands = Findings()
    islands = islands_of(pool, of_islands)
    try:
        outline = outline_of(pool.outline, pool.tolerance, ("outline",))
    except PoolFileError as error:
        raise PoolFileError([*error.findings, *of_islands.found]) from None
    of_islands.stop_on_error()
    for key, note in outline.notes:
        findings.warn(key, note)
    return _Walls(outline.ring, (*islands, *holes_of(pool, outline, len(islands))))


def _laid_out(pool: schema.Pool, walls: _Walls, findings: Findings) -> _Layout:
    """Lay everything out between walls."""
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
    findings.stop_on_error()
    coves: list[Layer] = []
    key = ("cove",) if pool.cove is not None else ("batter",)
    if (pool.cove is not None or pool.batter is not None) and not takes_feet(pool):
        coves = cove_layers(site, pool.cove, blocks_of(site), key, pool.batter)
        if (jointed := walls.with_joints(coves)) is not None:
            site = replace(site, ring=jointed.ring, islands=jointed.islands)
    standing, beside = ([item for make in makers for item in make(site, pool)]
                        for makers in (STANDING, BESIDE))  # fmt: skip
    check_standing(site, standing)
    check_apart(beside, findings)
    feet = []
    if pool.cove is not None and takes_feet(pool):
        blocks = [item for part in (*standing, *beside) for item in part.blocks]
        taken = [item for item in blocks if item.foot in (None, *pool.cove.also_at)]
        coves = cove_layers(site, pool.cove, taken, key, pool.batter)
        feet = [foot_coves(site, pool.cove, standing, ("cove",))]
    bare = bare_pools(site, pool)
    check_recesses(site, bare, standing)
    return _Layout(site, [*bare, Part(tuple(coves)), *standing, *feet, *beside])


def _joints(ring: Ring, layers: Sequence[Layer]) -> Floats:
    """Points (k, 2) of the pool's cove that lie on a ring and are no vertices of it [m]."""
    found = [
        joints_on(ring, item.height)
        for item in layers
        if isinstance(item.height, Cells) and item.body == "pool" and not item.flight
    ]
    points = np.concatenate([*found, np.zeros((0, 2))])
    return points[numbered(grid_keys(points))[0]]
