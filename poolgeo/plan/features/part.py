"""What a feature hands to the builder: its part of the plan."""

from __future__ import annotations

from dataclasses import dataclass, field

import shapely

from ...design import schema
from ..curves import Floats
from ..layers import Layer, Underside
from ..ring import Ring


@dataclass(frozen=True)
class Block:
    """Concrete that stands on the floor and may take the cove at its foot.

    Args:
        region: Its plan.
        top: Height of its top [m].
        name: For findings.
        foot: Which feet it has, as a cove's ``also_at`` names them; None for walls, which always
            take the cove.
        ring: Its outline where the true curve is known.
    """

    region: shapely.Geometry
    top: float
    name: str
    foot: schema.Foot | None
    ring: Ring | None = None


@dataclass(frozen=True)
class Part:
    """One feature.

    Args:
        layers: In painting order.
        undersides: What lies under the concrete, in painting order.
        blocks: What of it stands on the floor of the body that it is built in.
        waters: Bodies of water that it brings: name and water level [m].
        outlines: Plan curves to draw, by name, as closed polylines (n, 2) without the repeated
            point [m].
        rings: The rings of those of them that are walls.
    """

    layers: tuple[Layer, ...] = ()
    undersides: tuple[Underside, ...] = ()
    blocks: tuple[Block, ...] = ()
    waters: tuple[tuple[str, float], ...] = ()
    outlines: dict[str, Floats] = field(default_factory=dict)
    rings: tuple[Ring, ...] = ()
