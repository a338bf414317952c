"""Build: from a checked design to a model, stage by stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely

from .design import schema
from .design.load import Design
from .errors import Finding, Findings, GeometryError, PoolFileError
from .fittings.place import place
from .layout import Layout, layout_of
from .measure.arris_fit import misfits
from .measure.edges import edges_of
from .model import Arrises, Body, Model
from .plan.corners import corners_of
from .plan.features.waterline import levels_of
from .plan.hidden import check_hidden
from .plan.layers import Layer
from .plan.levels import Levels
from .plan.limits import compare
from .plan.planmap import PlanMap, plan_map
from .surface.arrises import arrised, flush
from .surface.joints import check_fittings, joint_cuts
from .surface.labels import (
    bends_of,
    canals_of,
    contacts_of,
    corner_tangents,
    creases_of,
    floors_of,
    tangents_of,
)
from .surface.lies import lies_of
from .surface.lift import Lifted, lift
from .surface.spots import spots_of
from .surface.water import with_free_surface

MEETS = 5e-3
"""[m] What ends nearer than this to a place meets others there."""


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
        layout = layout_of(design, findings)
        findings.stop_on_error()
        if design.rules is not None:
            site = replace(layout.site, findings=findings)
            compare(design.rules, design.pool, site, layout.parts)
    except PoolFileError as error:
        raise PoolFileError(design.placed([*findings.found, *error.findings])) from error
    layers = layout.layers
    levels = levels_of(design.pool, layout.waters, layers, findings)
    try:
        plan = plan_map(layers, layout.undersides, levels, layout.gaps)
        check_hidden(plan.hidden, findings)
        lifted = lift(plan, levels, layout.rounds)
        found = _model(design, layout, plan, lifted, levels)
    except GeometryError as error:
        raise PoolFileError(design.placed([_not_closed(error, layers)])) from error
    if design.pool.arris is not None and design.pool.arris.mesh:
        found = _with_arrises(found, layout, plan, levels, design.pool.arris)
    # what lies behind the edge of a wall top, and how far off an edge, is known of square ones
    square = found.square.surface, found.square.lies
    fittings = place(*square, layout.levels, layout.outlines, design.pool, findings)
    joints = joint_cuts(found.surface, design.pool.joints, layout.outlines, findings)
    check_fittings(design.pool.joints, joints, fittings, findings)
    said = design.placed(findings.found)
    if any(item.severity == "error" for item in said):
        raise PoolFileError(said)
    warnings, notes = (
        tuple(item for item in said if item.severity == severity)
        for severity in ("warning", "note")
    )
    return replace(found, warnings=warnings, notes=notes, fittings=fittings, joints=joints)


def _not_closed(error: GeometryError, layers: Sequence[Layer]) -> Finding:
    """Say where a solid does not close, and what meets there: a fault of poolgeo."""
    place = shapely.Point(error.place)
    near = [item for item in layers if shapely.dwithin(item.region.boundary, place, MEETS)]
    if not near:
        near = [item for item in layers if shapely.dwithin(item.region, place, MEETS)][-2:]
    names = dict.fromkeys(item.feature or item.kind for item in near)
    return Finding(
        near[-1].key if near else (),
        f"must give a closed solid, and gives none {error}",
        f"there meet {', '.join(names)}" if names else "",
        "move what meets there by a few millimetres, and tell the developers",
    )


def _with_arrises(
    square: Model, layout: Layout, plan: PlanMap, levels: Sequence[Levels], arris: schema.Arris
) -> Model:
    """Build a pool once more, with the arrises of its tops."""
    if unfit := misfits(square, edges_of(square), arris):
        raise PoolFileError(square.design.placed(unfit))
    try:
        found = arrised(plan, levels, layout.rounds, arris, layout.site.tolerance)
        layers = [*plan.layers, *found.layers]
        whole = flush(plan_map(layers, layout.undersides, levels, layout.gaps))
        solid = _model(square.design, layout, whole, lift(whole, levels, layout.rounds), levels)
    except GeometryError as error:
        rule = f"must give a closed solid with the arrises in it, and gives none {error}"
        remedy = "leave 'mesh' out, and tell the developers"
        finding = Finding(("arris", "mesh"), rule, "true", remedy)
        raise PoolFileError(square.design.placed([finding])) from error
    arrises = Arrises(square, found.middles, found.share, found.why)
    return replace(solid, spots=square.spots, arrises=arrises)


def _model(
    design: Design, layout: Layout, plan: PlanMap, lifted: Lifted, levels: Sequence[Levels]
) -> Model:
    """Put a model together of what the stages have made."""
    layers = layout.layers
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
                item.is_dry,
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
        tangents_of(plan) | corner_tangents(layout.rounds),
        floors_of(plan),
        contacts_of(plan),
        canals_of(plan),
        spots_of(plan, layout.levels),
        (),
        rounds=layout.rounds,
        bends=bends_of(plan),
        lies=lies_of(plan),
    )
