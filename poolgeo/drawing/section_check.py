"""Checks of the lines along which a pool file asks for sections."""

from __future__ import annotations

import numpy as np

from ..arrays import Floats
from ..errors import Finding, Findings, PoolFileError
from ..model import Model
from ..surface.slices import Straight, slice_at

INSIDE = 1e-3
"""[m] An end that lies farther inside the concrete than this lies in the pool."""


def cut_findings(model: Model) -> list[Finding]:
    """Return what is wrong with the sections that the pool file asks for, in its place there.

    A line that cuts no concrete is an error. One that ends in the concrete or in the water is
    warned of: the section ends there, in mid-air.

    Args:
        model: The pool.
    """
    findings = Findings()
    for k, asked in enumerate(model.design.pool.drawings.sections or ()):
        key, line = ("drawings", "sections", k), Straight.of(asked.start, asked.end)
        spans = _spans(model, line)
        if not ((spans[:, 1] > INSIDE) & (spans[:, 0] < line.length - INSIDE)).any():
            findings.error(
                key,
                "must cut the pool",
                f"no concrete lies between {_place(asked.start)} and {_place(asked.end)}",
                "move its points to either side of the pool",
            )
            continue
        ends = ("start", asked.start, 0.0), ("end", asked.end, line.length)
        for name, point, t in ends:
            if _is_over(spans, t - INSIDE) and _is_over(spans, t + INSIDE):
                findings.warn(
                    (*key, name),
                    "should lie outside the shell: the section ends there",
                    f"{_place(point)}, in the concrete or the water",
                    "move it beyond the outer face of the wall",
                )
    return model.design.placed(findings.found)


def checked_cuts(model: Model) -> list[Finding]:
    """Return what to warn of in the sections that the pool file asks for.

    Args:
        model: The pool.

    Raises:
        PoolFileError: One of them cuts no concrete.
    """
    found = cut_findings(model)
    if any(finding.severity == "error" for finding in found):
        raise PoolFileError(found)
    return found


def _spans(model: Model, line: Straight) -> Floats:
    """Return from where to where along a line each face of the shell is cut (k, 2) [m]."""
    cut = slice_at(model.shell, line.off(model.shell.vertices))
    spans: Floats = np.sort(line.along(cut.points[cut.ends]).reshape(-1, 2), axis=1)
    return spans


def _is_over(spans: Floats, t: float) -> bool:
    """Tell whether a place along a line lies over some span: over concrete."""
    return bool(((spans[:, 0] < t) & (spans[:, 1] > t)).any())


def _place(point: tuple[float, float]) -> str:
    return f"({point[0]:.3f}, {point[1]:.3f}) m"
