"""Coves, as the pool file writes them."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from .outlines import Part
from .values import Positive

Foot = Literal["risers", "bench faces", "dam walls"]


class Cove(Part):
    """A cove (rolling-ball fillet) where wall and floor meet.

    ::

        |          radius: touches the wall and the floor
        |  . c     also_at: the feet that take one too
        |_.
          `-.____
    """

    radius: Positive = Field(description="Radius of the cove.")
    also_at: tuple[Foot, ...] = Field(
        default=(), description="Feet that take the cove as well: risers, bench faces, dam walls."
    )
