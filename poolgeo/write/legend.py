"""Words of the drawing: the legend, made from what the plan holds, and the notes under it."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, replace
from typing import Literal

from poolgeo.design.lengths import format_length
from poolgeo.errors import Finding
from poolgeo.jointing.rows import FinishJoints
from poolgeo.model import Model
from poolgeo.quantities import Takeoff

from . import layers
from .plan_view import PlanView
from .sheet import Plot, UnitSystem

_COLUMNS = 84
"""Characters in a line of notes."""


@dataclass(frozen=True)
class LegendRow:
    """One row of the legend.

    Args:
        layer: Whose look is explained.
        sample: What stands in front: a line, the ring of a vertical run, the cross of a spot,
            a text, or the symbol of a kind of fitting.
        says: The explanation.
        text: The sample where it is a text; the kind where it is a symbol.
    """

    layer: layers.DrawingLayer
    sample: Literal["line", "ring", "cross", "text", "symbol"]
    says: str
    text: str = ""


def legend_rows(view: PlanView) -> list[LegendRow]:
    """Return a row for each kind of thing that the plan holds, in the order of the layers."""
    rows = []
    for layer in layers.LAYERS:
        if view.lines.get(layer.name):
            rows.append(LegendRow(layer, "line", layer.holds))
        if view.marks.get(layer.name):
            what = layer.holds.partition(",")[0]
            rows.append(LegendRow(layer, "ring", f"{what} that stands upright"))
        if layer == layers.FITTINGS:
            kinds = dict.fromkeys(item.kind for item in view.inserts)
            rows += [LegendRow(layer, "symbol", kind.capitalize(), kind) for kind in kinds]
        texts = sorted(text.text for text in view.texts if text.layer == layer)
        if layer == layers.SET_OUT:
            if view.origin is not None:
                rows.append(LegendRow(layer, "ring", layer.holds))
        elif texts:
            sample: Literal["cross", "text"] = "cross" if layer == layers.DEPTHS else "text"
            rows.append(LegendRow(layer, sample, layer.holds, min(texts, key=len)))
    return rows


def notes(
    model: Model,
    takeoff: Takeoff,
    system: UnitSystem,
    plot: Plot,
    joints: FinishJoints | None = None,
) -> list[str]:
    """Return the notes under the title, line by line, with every warning of the takeoff."""
    level = "Depths are below the water level"
    if len(model.bodies) > 1:
        level += ", each body's below its own"
    if not all(len(body.wetted.triangles) for body in model.bodies):
        level += ", or below the pool's where it is dry at rest"
    units = model.design.pool.units
    found = [
        f"Plan. One drawing unit is 1 {units}; lengths are in {system.name}.",
        f"{level}.",
        "Faces close towards the water at an internal edge and turn away at an external one.",
        f"Text is sized for plotting at {plot.scale} on {plot.paper}.",
    ]
    found += [_without_file(finding) for finding in takeoff.warnings]
    if joints is not None:
        rules = joints.rules
        bay = format_length(joints.bay, units)
        limit = format_length(rules.bays.longest, units)
        found.append(
            f"Movement joints of the finish by '{rules.name}' ({rules.bays.cited}): longest bay"
            f" {bay} of {limit}. Distances are from the set-out origin, in plan. Joints are formed"
            " while tiling. Never cut through the finish: the membrane lies under it."
        )
        found += [_without_file(remark.finding) for remark in joints.remarks]
    return [
        line for note in found for line in textwrap.wrap(note, _COLUMNS, subsequent_indent="  ")
    ]


def _without_file(finding: Finding) -> str:
    """Write a warning without the file that it is about: the drawing may travel alone."""
    text = str(replace(finding, file="", line=None))
    return text[0].upper() + text[1:]
