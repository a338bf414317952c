"""Corner coves: what the pool file asks for in the upright inside corners of walls."""

from __future__ import annotations

from ...design import schema
from ...errors import Key
from ..rounding import Corners
from .site import Findings


def corners_in(cove: schema.Cove | None, key: Key) -> Corners | None:
    """Return what a cove asks for in inside plan corners; None for nothing.

    Args:
        cove: Of a body of water.
        key: Of that body in the pool file.
    """
    if cove is None or cove.corners is False:
        return None
    radius = cove.radius if cove.corners is True else cove.corners
    return Corners(radius, (*key, "cove", "corners"), cove.form == "fillet")


def check_corners(pool: schema.Pool, findings: Findings) -> None:
    """Note corner coves where none is made: at walls that lean."""
    if corners_in(pool.cove, ()) is not None and pool.batter is not None:
        rule = "must not be given beside 'batter': a corner cove stands upright"
        findings.error(("cove", "corners"), rule, "", "leave one of them out")
