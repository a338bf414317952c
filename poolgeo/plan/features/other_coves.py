"""What a cove in a spa, basin or channel has not, and the pool's own has."""

from __future__ import annotations

from collections.abc import Iterator

from ...design import schema
from ...errors import Findings, Key

BODIES = {"spas": "spa", "overflows": "basin", "channels": "channel"}
"""What the entries of a list of the pool file describe."""


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
