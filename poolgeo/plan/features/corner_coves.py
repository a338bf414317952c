"""What only the pool's own cove has: coves in upright corners, and feet besides the walls'."""

from __future__ import annotations

from collections.abc import Iterator

from ...design import schema
from ...errors import Findings, Key

BODIES = {"spas": "spa", "overflows": "basin", "channels": "channel"}
"""What the entries of a list of the pool file describe."""


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
    for key, cove in _others(pool):
        if cove.corners is not False:
            rule = "must be given for the pool's own cove only"
            remedy = "leave it out, and round the corners of the outline itself"
            findings.error((*key, "corners"), rule, "", remedy)


def check_feet(pool: schema.Pool, findings: Findings) -> None:
    """Note feet that a spa, basin or channel has not: a spa has seats, the others nothing."""
    for key, cove in _others(pool):
        body = BODIES[str(key[0])]
        for i, foot in enumerate(cove.also_at):
            if body == "spa" and foot == "bench faces":
                continue
            findings.error(
                (*key, "also_at", i),
                f"must name what stands in the {body}: "
                + ("only 'bench faces', its seats" if body == "spa" else "nothing does"),
                foot,
                "leave it out; the pool's own 'cove' takes the feet in the pool",
            )


def check_stations(pool: schema.Pool, findings: Findings) -> None:
    """Note lengths along a trough's outline: it follows the pool's, and no file says its start."""
    for key, cove in _others(pool):
        body = BODIES[str(key[0])]
        if body == "spa":
            continue
        for i, item in enumerate(cove.stretches):
            for name, place in (("start", item.start), ("end", item.end)):
                if not isinstance(place, tuple):
                    findings.error(
                        (*key, "stretches", i, name),
                        f"must be a plan point: the outline of a {body} has no first point",
                        f"{place:.3f} m",
                        "write the point as [x, y]",
                    )


def _others(pool: schema.Pool) -> Iterator[tuple[Key, schema.Cove]]:
    """Yield the coves that are not the pool's, with their keys."""
    found: list[tuple[Key, schema.Cove | None]] = [
        *((("spas", i), item.cove) for i, item in enumerate(pool.spas)),
        *((("overflows", i, "basin"), item.basin.cove) for i, item in enumerate(pool.overflows)),
        *((("channels", i), item.cove) for i, item in enumerate(pool.channels)),
    ]
    for key, cove in found:
        if cove is not None:
            yield (*key, "cove"), cove
