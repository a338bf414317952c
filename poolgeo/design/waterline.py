"""Where a body of water ends on its walls: the waterline band, and the coping above it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from .finishes import CopingStones
from .outlines import Part
from .values import NotNegative, WhenLeftOut


class Waterline(Part):
    """The waterline band: what of a body's walls is now wet, now dry. It ends at the wall top.

    ::

        |      above: from the water level up to the upper edge of the band
        |~~~~  water level
        |      below: from the water level down to its lower edge

    The defaults are common practice, no source.
    """

    above: NotNegative = Field(
        default=0.075,
        description="Height of the waterline band above the water level. The default is common"
        " practice, no source.",
    )
    below: NotNegative = Field(
        default=0.075,
        description="Height of the waterline band below the water level. The default is common"
        " practice, no source.",
    )


class Coping(Part):
    """What lies under the coping: the membrane goes over the inner edge of the wall top.

    ::

         ____.______    membrane_return: from the inner edge on to the wall top;
        |               100 mm is common practice, no source
        |~~~~~
    """

    membrane_return: NotNegative = Field(
        default=0.0,
        description="Width of wall top, from its inner edge, on to which the membrane returns"
        " under the coping, on the walls of every body and on islands; 0 is none.",
    )
    stones: Annotated[CopingStones | None, WhenLeftOut("not stated")] = Field(
        default=None, description="The stones that it is made of."
    )
