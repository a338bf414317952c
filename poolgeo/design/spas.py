"""Spas, with their seats, wells and spillways, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from .benches import Bench
from .coves import Cove
from .outlines import Outline, Part
from .values import Name, NotNegative, Point, Positive, WhenLeftOut
from .waterline import Waterline


class Seat(Bench):
    """A seat along a stretch of the spa's wall, or all round when no stretch is given.

    A wide one with little water over it is a lounger. Where two overlap, the later one holds.
    """


class Well(Part):
    """A deeper part of the spa's floor, for the feet: its plan, and its depth below the water."""

    outline: Outline = Field(description="Plan shape of the well.")
    depth: Positive = Field(description="Water depth over its floor.")


class Spillway(Part):
    """A notch in the dam wall, ``width`` wide, at the outline point nearest to ``at``.

    Its sill stands ``drop`` below the spa's water level (0: the water stands at the sill).
    """

    at: Point = Field(description="Middle of the spillway; the nearest outline point is meant.")
    width: Positive = Field(description="Width of the notch.")
    drop: NotNegative = Field(
        default=0.0, description="How far the sill stands below the spa water."
    )


class Spa(Part):
    """A spa inside the pool, straddling its edge, or free-standing.

    ::

                 _
        |~~~~~~~| |  freeboard: from the spa water up to the top of its walls
        |_seat  | |~~~~~~~     raised: from the pool water up to the spa water
          |__ __| |            dam_wall: thickness where the wall stands in the pool
             |_|well

    The defaults of ``freeboard`` and ``dam_wall`` are common practice, no source.
    """

    name: Name | None = Field(
        default=None, description="Name of the spa in reports; spa, spa 2 ... if not given."
    )
    outline: Outline = Field(description="Inner plan shape of the spa.")
    raised: NotNegative = Field(
        default=0.0, description="Height of the spa water above the pool water; 0 is flush."
    )
    freeboard: Positive = Field(
        default=0.1,
        description="Height of the spa's wall top and dam wall top above its water. The default is"
        " common practice, no source.",
    )
    depth: Positive = Field(description="Water depth of the spa.")
    seats: tuple[Seat, ...] = Field(default=(), description="Seats along the spa's walls.")
    wells: tuple[Well, ...] = Field(default=(), description="Deeper parts of the spa's floor.")
    dam_wall: Positive = Field(
        default=0.2,
        description="Thickness of the wall where it stands in the pool. The default is common"
        " practice, no source.",
    )
    spillways: tuple[Spillway, ...] = Field(
        default=(), description="Notches that the spa spills over into the pool."
    )
    cove: Annotated[Cove | None, WhenLeftOut("none")] = Field(
        default=None, description="Cove, or fillet, between the spa's walls and floor."
    )
    waterline: Annotated[Waterline | None, WhenLeftOut("as the pool's")] = Field(
        default=None, description="Extent of the spa's waterline band."
    )
