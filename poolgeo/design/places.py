"""Where something holds: kinds of surface, zones, bodies, under water or not."""

from __future__ import annotations

from collections.abc import Sequence
from fnmatch import fnmatchcase
from typing import Annotated, Literal

from pydantic import Field

from .outlines import Part
from .values import Name, WhenLeftOut

Zone = Literal["below band", "waterline band", "freeboard", "wall top", "coping return"]
"""Zones of a surface, as `poolgeo.mesh.ZONES` has them."""

Kinds = Annotated[tuple[Name, ...], Field(max_length=200)]
Zones = Annotated[tuple[Zone, ...], Field(min_length=1, max_length=5)]
Bodies = Annotated[tuple[Name, ...], Field(min_length=1, max_length=100)]


class Held(Part):
    """Zones, bodies, under water or not: everywhere, if nothing is said."""

    zones: Annotated[Zones | None, WhenLeftOut("all")] = Field(
        default=None, description="Zones of the surface."
    )
    bodies: Annotated[Bodies | None, WhenLeftOut("all")] = Field(
        default=None, description="Bodies of water by their names, such as pool or spa."
    )
    wet: Annotated[bool | None, WhenLeftOut("both")] = Field(
        default=None, description="Only what is under water, or only what is not."
    )


class Places(Held):
    """Where something holds: everywhere, if nothing is said."""

    kinds: Annotated[Kinds | None, WhenLeftOut("all")] = Field(
        default=None,
        description="Kinds of surface such as floor, or of edge such as floor/wall; * stands for"
        " any word.",
    )


def holds_at(where: Held, body: str, zone: str, *, wet: bool) -> bool:
    """Whether something holds in a body, a zone, and under water or not."""
    return (
        (where.bodies is None or body in where.bodies)
        and (where.zones is None or zone in where.zones)
        and (where.wet is None or where.wet == wet)
    )


def is_one_of(kind: str, patterns: Sequence[str] | None) -> bool:
    """Whether a kind is one of several; of an edge its two sides may stand either way round."""
    if patterns is None:
        return True
    one, _, other = kind.partition("/")
    turned = f"{other}/{one}" if other else kind
    return any(fnmatchcase(name, item) for item in patterns for name in (kind, turned))
