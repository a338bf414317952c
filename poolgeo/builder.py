"""Build: from a checked design to a model, stage by stage."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from .design import schema
from .design.load import Design
from .errors import Finding, GeometryError, PoolFileError
from .model import Body, Floats, Model
from .plan.cells import Cells
from .plan.corners import corners_of
from .plan.features.bench import benches
from .plan.features.cove import cove_layer, foot_coves, joints_on, takes_feet
from .plan.features.ledge import ledges
from .plan.features.part import Part
from .plan.features.site import Findings, Site
from .plan.features.spa import spas
from .plan.features.steps import flights
from .plan.floor import floor_of
from .plan.layers import Layer, Underside
from .plan.limits import compare
from .plan.outline import outline_ring
from .plan.planmap import plan_map
from .plan.ring import Ring
from .plan.shapes import polygons_only
from .surface.labels import creases_of, joints_of
from .surface.lift import lift
from .surface.spots import spots_of
from .surface.water import with_free_surface

Maker = Callable[[Site, schema.Pool], list[Part]]

MOST_LAPS = 3
"""Most times that the plan is laid out: once more where the cove has put joints on the outline."""


STANDING: tuple[Maker, ...] = (benches, ledges, flights)
"""What stands on the pool's floor, in painting order."""

BESIDE: tuple[Maker, ...] = (spas,)
"""Other bodies of water in the pool or beside it, in painting order."""


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
    def waters(self) -> list[tuple[str, float]]:
        """Name and level of each body of water [m], the pool first."""
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
    waters, layers = layout.waters, layout.layers
    try:
        plan = plan_map(layers, layout.undersides, waters)
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
        {name: line for part in layout.parts for name, line in part.outlines.items()},
        corners_of(layers, [ring for part in layout.parts for ring in part.rings]),
        creases_of(plan),
        plan.vertices[plan.smooth],
        {item.body: item.height.radius for item in layers if isinstance(item.height, Cells)},
        spots_of(plan, dict(waters)),
        tuple(_placed(design, findings.found)),
        joints_of(plan),
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
        found = _laid_out(pool, ring, lap)
        lap.stop_on_error()
        joints = _joints(ring, found.layers) if takes_feet(pool) else np.zeros((0, 2))
        if not len(joints):
            break
        ring = ring.with_points(joints)
    findings.found += lap.found
    return found


def _laid_out(pool: schema.Pool, ring: Ring, findings: Findings) -> _Layout:
    """Lay everything out on one outline."""
    site = Site(
        "pool",
        ring,
        floor_of(pool.floor),
        0.0,
        pool.freeboard,
        pool.shell,
        pool.tolerance,
        findings,
    )
    _check_floor(site)
    cove = None
    if pool.cove is not None and not takes_feet(pool):
        cove = cove_layer(site, pool.cove, [], ("cove",))
        if cove is not None and len(joints := _joints(ring, [cove])):
            site = replace(site, ring=ring.with_points(joints))
    standing, beside = ([item for make in makers for item in make(site, pool)]
                        for makers in (STANDING, BESIDE))  # fmt: skip
    feet = []
    if pool.cove is not None and takes_feet(pool):
        blocks = [item for part in (*standing, *beside) for item in part.blocks]
        taken = [item for item in blocks if item.foot in pool.cove.also_at]
        cove = cove_layer(site, pool.cove, taken, ("cove",))
        feet = [foot_coves(site, pool.cove, standing, ("cove",))]
    coves = [Part((cove,))] if cove is not None else []
    return _Layout(site, [_basin(site), *coves, *standing, *feet, *beside])


def _basin(site: Site) -> Part:
    """Return the bare pool: its floor, the top of its wall, and what lies under both."""
    rim = polygons_only(shapely.difference(site.outer, site.ring.polygon))
    return Part(
        (
            Layer(site.body, "wall top", "wall", ("freeboard",), rim, site.wall_top),
            Layer(site.body, "floor", "floor", ("floor",), site.ring.polygon, site.floor),
        ),
        (Underside(site.outer, site.floor.offset(-site.shell.floor)),),
        waters=((site.body, site.level),),
        outlines={
            site.body: site.ring.points,
            f"{site.body} shell": shapely.get_coordinates(site.outer.exterior)[:-1],
        },
        rings=(site.ring,),
    )


def _joints(ring: Ring, layers: Sequence[Layer]) -> Floats:
    """Points (k, 2) of the pool's cove that lie on its outline and are no vertices of it [m]."""
    found = [
        joints_on(ring, item.height)
        for item in layers
        if isinstance(item.height, Cells) and item.body == "pool" and item.over == "all"
    ]
    return np.concatenate([*found, np.zeros((0, 2))])


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
