"""Edges that the pool spills over, and what catches the water, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .coves import Cove
from .outlines import Outline, Part
from .steps import start_and_end
from .values import (
    Degrees,
    Length,
    Name,
    NotNegative,
    Positive,
    Ratio,
    StretchEnd,
    StretchStart,
    WhenLeftOut,
)


class Basin(Part):
    r"""What catches the water beyond a weir.

    ::

        pool ~~~~~|\weir                    freeboard: from the basin's water up to its wall top
                  | |       drop    _
                  | |~~~~~~~~~~~~~~| |      drop: from the crest down to the basin's water
                  | |______________| |      depth: of the basin's water
                     <---width---->
    """

    width: Positive | None = Field(
        default=None, description="Clear width of the basin, all along the weir."
    )
    outline: Outline | None = Field(
        default=None,
        validate_default=True,
        description="Plan shape of the basin, in place of 'width'; what lies under the pool and"
        " its walls is left out.",
    )
    drop: Positive = Field(description="How far its water stands below the crest of the weir.")
    depth: Positive = Field(description="Water depth of the basin.")
    freeboard: Positive = Field(
        default=0.1,
        description="Height of its wall top above its water. The default is common practice, no"
        " source.",
    )
    cove: Annotated[Cove | None, WhenLeftOut("none")] = Field(
        default=None, description="Cove, or fillet, between its walls and its floor."
    )

    @field_validator("outline")
    @classmethod
    def _width_or_outline(cls, outline: Outline | None, info: ValidationInfo) -> Outline | None:
        if "width" in info.data:
            width = info.data["width"]
            if width is None and outline is None:
                rule = "must be given, or 'width' in its place"
                raise BadValueError(rule, remedy="write a width for a basin all along the weir")
            if width is not None and outline is not None:
                rule = "must not be given beside 'width'"
                raise BadValueError(rule, remedy="leave one of them out")
        return outline


class Weir(Part):
    """A stretch of the pool's wall that the water goes over.

    On the pool's side of its crest it belongs to the pool, beyond to what catches the water.
    """

    name: Name | None = Field(
        default=None,
        description="Name in reports of the water that it spills into; basin, basin 2 ... or"
        " channel, channel 2 ... if not given.",
    )
    start: StretchStart = None
    end: StretchEnd = None
    thickness: Annotated[Positive | None, WhenLeftOut("that of the wall there")] = Field(
        default=None,
        description="Thickness of the wall there; to be given where that changes along the weir.",
    )
    crest: Length = Field(
        default=0.0,
        description="Height of its crest above the pool's water at rest; below it if negative.",
    )
    fall: Ratio = Field(
        default=0.0, description="Slope of its top, down from the pool; towards it if negative."
    )

    _stretch = field_validator("end")(start_and_end)


class Overflow(Weir):
    """A stretch of the pool's wall lowered to a weir, over which the pool spills into a basin."""

    basin: Basin = Field(description="What catches the water.")


class Channel(Weir):
    r"""A channel that the pool spills into, its outer wall going up to the deck.

    ::

                          _ deck
        pool ~~~~~\lip   | |      deck: above the pool's water
                  | |    | |
                  | |____| |      depth: of the channel's floor below the crest
                     width
    """

    width: Positive = Field(description="Clear width of the channel.")
    depth: Positive = Field(
        description="Depth of its floor below the crest, at its shallowest place."
    )
    floor_fall: Ratio = Field(
        default=0.0, description="Slope of its floor, deeper along 'direction'."
    )
    direction: Degrees = Field(
        default=0.0, description="Way that its floor falls, degrees anticlockwise from x."
    )
    water: NotNegative = Field(
        default=0.0, description="Depth of the water in it at its deepest place; 0: dry at rest."
    )
    deck: Annotated[Positive | None, WhenLeftOut("the pool's freeboard")] = Field(
        default=None, description="Height of its outer wall above the pool's water."
    )
    cove: Annotated[Cove | None, WhenLeftOut("none")] = Field(
        default=None, description="Cove, or fillet, between its walls and its floor."
    )
