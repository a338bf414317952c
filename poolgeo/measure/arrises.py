"""Arrises: which external edge is finished how, and what it comes to."""

from __future__ import annotations

from collections.abc import Sequence

from ..arris import ArrisRow, section_of
from ..design.arris import Arris
from ..errors import Finding, Key, PoolFileError
from ..model import Model
from ..quantities import Run
from ..surface.finishes import finish_of, group_of, is_said_of
from .arris_fit import misfits
from .arrises_in_solid import meshed_lengths
from .edges import Edges


def arrises_of(model: Model, edges: Edges, runs: Sequence[Run]) -> tuple[ArrisRow, ...]:
    """Return the arris of each external run; nothing where the pool file says nothing of them.

    Args:
        model: The model.
        edges: Its square edges.
        runs: The runs of these.

    Raises:
        PoolFileError: An arris does not fit its faces, or is asked for where no external edge is.
    """
    arris = model.design.pool.arris
    if arris is None:
        return ()
    external = [run for run in runs if run.sense == "external"]
    findings = _idle(arris, external)
    if model.arrises is None:  # else they were built, and checked before that
        findings += misfits(model, edges, arris)
    if findings:
        raise PoolFileError(model.design.placed(findings))
    rows = []
    for run, meshed in zip(external, meshed_lengths(model, external), strict=True):
        finish = finish_of(arris, run.kind, run.patches)
        section = section_of(finish.form, finish.size, run.angle)
        what = run.number, run.body, run.kind, finish.form, finish.size, run.length
        rows.append(ArrisRow(*what, section, run.zones, meshed))
    return tuple(rows)


def _idle(arris: Arris, external: Sequence[Run]) -> list[Finding]:
    """What is said of edges that are not there."""
    found = []
    for i, item in enumerate(arris.elsewhere):
        if any(is_said_of(item, group_of(run.kind), run.patches) for run in external):
            continue
        where = f" of '{item.feature}'" if item.feature is not None else ""
        rule = f"must name external edges that the pool has{where}"
        known = sorted({group_of(run.kind) for run in external})
        remedy = f"there are edges at: {', '.join(known)}" if known else "leave it out"
        key: Key = ("arris", "elsewhere", i, "at" if item.at is not None else "feature")
        found.append(Finding(key, rule, f"'{item.at or item.feature}'", remedy))
    return found
