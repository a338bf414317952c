"""What an overflow or a channel asks of the trough that catches its water."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ...arrays import Floats
from ...design import schema
from ...errors import Key
from ..floor import Floor
from .part import Water


@dataclass(frozen=True)
class Catch:
    """What a trough is to be.

    Args:
        kind: ``basin`` or ``channel``: its surfaces are called after it.
        water: It as a body of water.
        wall_top: Height of its own walls [m].
        floor: Makes its floor from the places (k, 2) of its border.
        cove: Its cove.
        width: Clear width all along the weir [m], or
        outline: its own outline.
    """

    kind: str
    water: Water
    wall_top: float
    floor: Callable[[Floats], Floor]
    cove: schema.Cove | None
    width: float | None = None
    outline: schema.Outline | None = None

    @property
    def key(self) -> Key:
        """Its key in the pool file."""
        return self.water.key
