"""The key figures of a pool, as lines that a person checks against the drawing board."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from poolgeo.jointing.rows import FinishJoints
    from poolgeo.model import Body, Model
    from poolgeo.quantities import Run, Takeoff

Figure = tuple[str, str]
"""What it is, and its value with its unit."""

FLOORS = frozenset({"floor", "spa floor", "basin floor", "channel floor"})
"""Kinds of surface that are the floor of a body of water."""

_FOOT = 0.3048
"""[m]"""
_US_GALLON = 231 * 0.0254**3
"""[m3] 231 cubic inches."""


def key_figures(
    model: Model, takeoff: Takeoff, joints: FinishJoints | None = None
) -> Iterator[Figure]:
    """Yield size, depths, volumes, surfaces and edges, in the units of the pool file."""
    from poolgeo.design.lengths import format_length

    units = model.design.pool.units
    outline = model.outlines["pool", "water"]
    across = outline.max(axis=0) - outline.min(axis=0)
    length, width = (format_length(float(side), units) for side in across)
    yield "size in plan", f"{length} along x, {width} along y"
    for body in model.bodies:
        yield from _of_body(body, model, takeoff)
    yield "shell, concrete", _concrete(takeoff.shell, units)
    for sense in ("internal", "external"):
        runs = [run for run in takeoff.edges if run.sense == sense]
        yield f"{sense} edges", _edges(runs, units)
    if takeoff.arrises:
        yield "arrises", _arrises(takeoff, units)
    if takeoff.coves:
        total = sum(run.length for run in takeoff.coves)
        yield "coves", f"{format_length(total, units)} in {_runs(len(takeoff.coves))}"
    if takeoff.joints:
        total = sum(row.length for row in takeoff.joints)
        yield (
            "joints of the structure",
            f"{format_length(total, units)} in {_runs(len(takeoff.joints))}",
        )
    if joints is not None:
        total = sum(joint.length for joint in joints.joints)
        bay = format_length(joints.bay, units)
        yield "movement joints", f"{format_length(total, units)}, longest bay {bay}"
    if takeoff.fittings:
        total = sum(item.collar_perimeter for item in takeoff.fittings)
        yield "fittings", f"{len(takeoff.fittings)}, {format_length(total, units)} round collars"


def _of_body(body: Body, model: Model, takeoff: Takeoff) -> Iterator[Figure]:
    from poolgeo.design.lengths import format_length

    units = model.design.pool.units
    low, high = _floor(body, model)
    text = format_length(low, units)
    if format_length(high, units) != text:
        text = f"{text} to {format_length(high, units)}"
    yield f"{body.name} floor, depth", text
    yield f"{body.name} water", _volume(takeoff.water[body.name], units)
    rows = [row for row in takeoff.areas if row.body == body.name]
    wet = sum(row.wet_area for row in rows)
    dry = sum(row.area for row in rows) - wet
    yield f"{body.name} surface", f"{_area(wet, units)} under water, {_area(dry, units)} above"
    if body.is_dry:
        return
    bottom, top = (format_length(abs(edge - body.level), units) for edge in body.band)
    yield f"{body.name} waterline band", f"from {bottom} below to {top} above the water"
    zones = [row for row in takeoff.zones if row.body == body.name and row.area]
    parts = [f"{row.zone} {_area(row.area, units)}" for row in zones]
    yield f"{body.name} zones", ", ".join(parts)


def _floor(body: Body, model: Model) -> tuple[float, float]:
    """Return the least and the greatest depth of a body's floor below its water level [m]."""
    import numpy as np

    mesh = model.surface
    wanted = [
        index
        for index, patch in enumerate(mesh.patches)
        if patch.body == body.name and patch.kind in FLOORS
    ]
    corners = mesh.triangles[np.isin(mesh.patch, wanted)]
    heights = (
        mesh.vertices[corners, 2]
        if len(corners)
        else body.wetted.vertices[body.wetted.triangles, 2].min()
    )
    # what is dry at rest lies below the pool's water
    level = body.level if len(body.wetted.triangles) else model.bodies[0].level
    return level - float(np.max(heights)), level - float(np.min(heights))


def _edges(runs: list[Run], units: str) -> str:
    from poolgeo.design.lengths import format_length

    total = format_length(sum(run.length for run in runs), units)
    wet = format_length(sum(run.wet_length for run in runs), units)
    return f"{total} in {_runs(len(runs))}, {wet} of it under water"


def _arrises(takeoff: Takeoff, units: str) -> str:
    from poolgeo.design.lengths import format_length

    parts = []
    for form in dict.fromkeys(row.form for row in takeoff.arrises):
        rows = [row for row in takeoff.arrises if row.form == form]
        length = format_length(sum(row.length for row in rows), units)
        own = "" if form == "square" else f", own face {_area(sum(r.area for r in rows), units)}"
        parts.append(f"{form} {length}{own}")
    return "; ".join(parts)


def _runs(number: int) -> str:
    return f"{number} run{'' if number == 1 else 's'}"


def _area(area: float, units: str) -> str:
    if units in {"ft", "in"}:
        return f"{area / _FOOT**2:.1f} ft2"
    return f"{area:.2f} m2"


def _volume(volume: float, units: str) -> str:
    if units in {"ft", "in"}:
        return f"{volume / _FOOT**3:.1f} ft3 ({volume / _US_GALLON:.0f} US gal)"
    return f"{volume:.2f} m3"


def _concrete(volume: float, units: str) -> str:
    if units in {"ft", "in"}:
        return f"{volume / _FOOT**3:.1f} ft3 ({volume / (3 * _FOOT) ** 3:.1f} yd3)"
    return _volume(volume, units)
