"""The concrete shell, and stretches of wall that differ, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .outlines import Part
from .steps import start_and_end
from .values import Name, NotNegative, Positive, StretchEnd, StretchStart, WhenLeftOut

Setting = Literal["in ground", "suspended"]


class Beam(Part):
    """A bond beam: the head of the wall, wider than the wall itself.

    ::

              width
        water |<---->|
        ~~~~~~|      | depth
              |   ___|
              |  |       the wall below it
    """

    width: Positive = Field(description="Width of the wall's top, from the wall's face outwards.")
    depth: Positive = Field(description="Height of the beam, from the wall's top down.")


class Footing(Part):
    """A footing: the floor slab runs out beyond the wall.

    ::

        |  | wall
        |  |______
        |         | thickness, up from the floor's underside
        |_________|
            <----> projection
    """

    projection: Positive = Field(description="How far it runs out beyond the wall's outer face.")
    thickness: Positive = Field(description="Its thickness, up from the floor's underside.")


class ThickenedEdge(Part):
    """Deeper concrete under the wall.

    ::

        wall |  |
             |  |_________  floor
             |        _____
             |_______/        depth below the floor's underside
             <-----><> width, splay
    """

    width: Positive = Field(description="Width at its foot, from the wall's outer face inwards.")
    depth: Positive = Field(description="How much deeper it goes than the floor's underside.")
    splay: NotNegative = Field(
        default=0.0, description="Plan width of its sloping inner side; 0 is square."
    )


class Shell(Part):
    """The concrete: walls measured square to the outline, floor square to its slope.

    The defaults are common practice, no source; where ``wall`` or ``floor`` is left out, a warning
    says what was taken.
    """

    wall: Positive = Field(
        default=0.25,
        description="Thickness of the walls. The default is common practice, no source.",
    )
    floor: Positive = Field(
        default=0.25,
        description="Thickness of the floor. The default is common practice, no source.",
    )
    beam: Annotated[Beam | None, WhenLeftOut("none")] = Field(
        default=None, description="A bond beam at the head of the pool's wall."
    )
    footing: Annotated[Footing | None, WhenLeftOut("none")] = Field(
        default=None,
        description="A footing all round the pool's wall; it ends where a basin's or channel's"
        " concrete stands.",
    )
    thickened_edge: Annotated[ThickenedEdge | None, WhenLeftOut("none")] = Field(
        default=None, description="Deeper concrete under the pool's wall."
    )
    blinding: NotNegative = Field(
        default=0.1,
        description="How far the blinding under a shell in the ground runs out beyond it; no"
        " thickness. The default is common practice, no source.",
    )


class _Stretch(Part):
    """A part that runs along a stretch of the outline, or all round."""

    name: Name | None = Field(default=None, description="Its name in reports.")
    start: StretchStart = None
    end: StretchEnd = None

    _stretch = field_validator("end")(start_and_end)


class WallStretch(_Stretch):
    """A stretch of wall that is higher, lower, thicker or thinner than the others.

    ::

              ______
             |      | height above the water
        _____|      |_____
        ~~~~~~~~~~~~~~~~~~
             start  end
    """

    model_config = ConfigDict(
        json_schema_extra={"anyOf": [{"required": ["height"]}, {"required": ["thickness"]}]}
    )

    height: Annotated[Positive | None, WhenLeftOut("as the freeboard")] = Field(
        default=None, description="Height of the wall's top above the pool's water level."
    )
    thickness: Annotated[Positive | None, WhenLeftOut("as the shell's wall")] = Field(
        default=None,
        validate_default=True,
        description="Thickness of the wall, from its face outwards.",
    )

    @field_validator("thickness")
    @classmethod
    def _one_of_both(cls, thickness: float | None, info: ValidationInfo) -> float | None:
        if thickness is None and info.data.get("height", 0.0) is None:
            rule = "must be given, or 'height'"
            raise BadValueError(rule, remedy="say what is different about this stretch")
        return thickness


class Recess(_Stretch):
    """A recess in the wall at the waterline: from its depth up the wall's face stands back.

    ::

              | wall
        ~~~~~~|
         _____|   depth below the water
        |<--->
        |width    the wall's face below it
    """

    width: Positive = Field(description="How far the wall's face stands back.")
    depth: Positive = Field(description="Depth of the recess below the pool's water level.")
