"""Corner coves: what the pool file asks for in the upright inside corners of the walls."""

from __future__ import annotations

from ...design import schema
from ...errors import Findings


def corner_radius(pool: schema.Pool) -> float:
    """Return the radius of the coves in the pool's inside plan corners; 0 for none [m]."""
    if pool.cove is None or pool.cove.corners is False:
        return 0.0
    return pool.cove.radius if pool.cove.corners is True else pool.cove.corners


def check_corners(pool: schema.Pool, findings: Findings) -> None:
    """Note corner coves where none is made: at walls that lean, in spas, basins and channels."""
    if corner_radius(pool) and pool.batter is not None:
        rule = "must not be given beside 'batter': a corner cove stands upright"
        findings.error(("cove", "corners"), rule, "", "leave one of them out")
    others = [
        *((("spas", i), item.cove) for i, item in enumerate(pool.spas)),
        *((("overflows", i, "basin"), item.basin.cove) for i, item in enumerate(pool.overflows)),
        *((("channels", i), item.cove) for i, item in enumerate(pool.channels)),
    ]
    for key, cove in others:
        if cove is not None and cove.corners is not False:
            rule = "must be given for the pool's own cove only"
            remedy = "leave it out, and round the corners of the outline itself"
            findings.error((*key, "cove", "corners"), rule, "", remedy)
