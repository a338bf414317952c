"""Build: from a checked design to a model, stage by stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from .design.load import Design
from .errors import Finding, GeometryError, PoolFileError
from .model import Body, Floats, Model
from .plan.cells import Cells
from .plan.corners import corners_of
from .plan.features.bench import bench_layer
from .plan.features.cove import Block, cove_layer, joints_on, riser_coves
from .plan.features.site import Findings, Site
from .plan.features.spa import SpaPlan, spa_layers, spa_plan, spa_undersides
from .plan.features.steps import step_layers
from .plan.floor import floor_of
from .plan.layers import Layer, Underside
from .plan.outline import outline_ring
from .plan.planmap import plan_map
from .plan.ring import Ring
from .plan.shapes import polygons_only
from .surface.labels import creases_of
from .surface.lift import lift
from .surface.spots import spots_of
from .surface.water import with_free_surface

MOST_LAPS = 3
"""Most times that the plan is laid out: once more where the cove has put joints on the outline."""


@dataclass(frozen=True)
class _Layout:
    """Everything that is known in plan."""

    site: Site
    spa: SpaPlan | None
    layers: list[Layer]
    undersides: list[Underside]
    outlines: dict[str, Floats]
    rings: list[Ring]


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
    except PoolFileError as error:
        raise PoolFileError(_placed(design, [*findings.found, *error.findings])) from error
    waters = [("pool", 0.0)]
    if layout.spa is not None:
        waters.append(("spa", layout.spa.site.level))
    try:
        plan = plan_map(layout.layers, layout.undersides, waters)
        lifted = lift(plan, waters)
    except GeometryError as error:
        rule = f"must give a closed solid, and gives none {error}"
        remedy = "move what meets there by a few millimetres, and tell the developers"
        raise PoolFileError(_placed(design, [Finding((), rule, "", remedy)])) from error
    return Model(
        design,
        lifted.surface,
        lifted.wet,
        tuple(Body(name, level, lifted.wetted[name], with_free_surface) for name, level in waters),
        lifted.shell,
        layout.outlines,
        corners_of(layout.layers, layout.rings),
        creases_of(plan),
        plan.vertices[plan.smooth],
        {item.body: item.height.radius for item in layout.layers if isinstance(item.height, Cells)},
        spots_of(plan, dict(waters)),
        tuple(_placed(design, findings.found)),
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
    ring = outline_ring(pool.outline, pool.tolerance, ("outline",))
    for _ in range(MOST_LAPS):
        lap = Findings()
        found = _laid_out(design, ring, lap)
        lap.stop_on_error()
        joints = _joints(ring, found.layers) if _takes_feet(design) else np.zeros((0, 2))
        if not len(joints):
            break
        ring = ring.with_points(joints)
    findings.found += lap.found
    return found


def _laid_out(design: Design, ring: Ring, findings: Findings) -> _Layout:
    """Lay everything out on one outline."""
    pool = design.pool
    tolerance = pool.tolerance
    site = Site("pool", ring, floor_of(pool.floor), 0.0, pool.freeboard, findings)
    _check_floor(site)
    cove = None
    if pool.cove is not None and not _takes_feet(design):
        cove = cove_layer(site, pool.cove, [], ("cove",), tolerance)
        if cove is not None and len(joints := _joints(ring, [cove])):
            site = replace(site, ring=ring.with_points(joints))
    wall = site.ring.thickened(pool.shell.wall)
    spa = None
    if pool.spa is not None:
        spa = spa_plan(site, pool.spa, pool.shell.wall, tolerance)
    layers = [
        Layer("pool", "wall top", "wall", ("freeboard",), polygons_only(
            shapely.difference(wall, site.ring.polygon)), pool.freeboard),
        Layer("pool", "floor", "floor", ("floor",), site.ring.polygon, site.floor),
    ]  # fmt: skip
    layers += _standing(design, site, spa, cove)
    outlines = {
        "pool": site.ring.points,
        "pool shell": shapely.get_coordinates(wall.exterior)[:-1],
    }
    rings = [site.ring]
    undersides = [Underside(wall, site.floor.offset(-pool.shell.floor))]
    if spa is not None and pool.spa is not None:
        layers += spa_layers(site, spa, pool.spa, tolerance)
        undersides += spa_undersides(spa, undersides[0], pool.shell.floor)
        rings.append(spa.site.ring)
        outlines["spa"] = spa.site.ring.points
        outlines["spa shell"] = shapely.get_coordinates(spa.outer.exterior)[:-1]
    return _Layout(site, spa, layers, undersides, outlines, rings)


def _joints(ring: Ring, layers: Sequence[Layer]) -> Floats:
    """Points (k, 2) of the pool's cove that lie on its outline and are no vertices of it [m]."""
    found = [
        joints_on(ring, item.height)
        for item in layers
        if isinstance(item.height, Cells) and item.body == "pool" and item.over == "all"
    ]
    return np.concatenate([*found, np.zeros((0, 2))])


def _takes_feet(design: Design) -> bool:
    """Whether the pool's cove also runs along the feet of what stands on its floor."""
    pool = design.pool
    kinds = pool.cove.also_at if pool.cove is not None else ()
    stands = {"bench faces": pool.bench, "risers": pool.steps, "dam walls": pool.spa}
    return any(stands[kind] for kind in kinds)


def _standing(design: Design, site: Site, spa: SpaPlan | None, cove: Layer | None) -> list[Layer]:
    """Layers of the cove and of what stands on the floor.

    Args:
        design: The design.
        site: The pool.
        spa: The spa's regions.
        cove: The pool's cove, where it takes nothing that stands.

    Returns:
        In painting order.
    """
    pool = design.pool
    benches = [
        bench_layer(site, item, ("bench", i), item.name or f"bench {i + 1}")
        for i, item in enumerate(pool.bench)
    ]
    flights = [
        step_layers(site, item, ("steps", i), item.name or f"steps {i + 1}")
        for i, item in enumerate(pool.steps)
    ]
    foot_coves: list[Layer] = []
    if pool.cove is not None and _takes_feet(design):
        standing = []
        if "bench faces" in pool.cove.also_at:
            standing += [Block(item.region, item.level, item.feature) for item in benches]
        if "risers" in pool.cove.also_at:
            standing += [Block(item[0].region, item[0].level, item[0].feature) for item in flights]
            for treads in flights:
                foot_coves += riser_coves(site, pool.cove, treads, ("cove",), pool.tolerance)
        if "dam walls" in pool.cove.also_at and spa is not None:
            standing.append(Block(spa.footprint, spa.site.wall_top, "dam wall"))
        cove = cove_layer(site, pool.cove, standing, ("cove",), pool.tolerance)
    coves = [cove] if cove is not None else []
    return [*coves, *benches, *(item for treads in flights for item in treads), *foot_coves]


def _check_floor(site: Site) -> None:
    """The floor must lie under the water, and break lines must meet the pool."""
    depths = site.depth(site.ring.points)
    if depths.min() <= 0.0:
        x, y = site.ring.points[int(np.argmin(depths))]
        site.findings.error(
            ("floor",),
            "must lie below the water level everywhere",
            f"{depths.min():.3f} m deep at ({x:.3f}, {y:.3f}) m",
            "reduce the fall or deepen the floor",
        )
    u = site.floor.along(site.ring.points)
    for at in site.floor.breaks:
        if not u.min() < at < u.max():
            site.findings.warn(
                ("floor", "breaks"),
                "has a break line that misses the pool",
                f"at {at:.3f} m; the pool lies between {u.min():.3f} and {u.max():.3f} m",
                "check the floor's origin and direction",
            )
