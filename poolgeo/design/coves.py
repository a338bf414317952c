"""Coves and the batter of walls, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .lengths import format_length
from .outlines import Part
from .values import Form, Lean, NotNegative, Positive, Station, WhenLeftOut


def _switch_or_radius(value: object) -> str:
    return "switch" if isinstance(value, bool) else "radius"


Foot = Literal["risers", "bench faces", "dam walls"]


CornerCove = Annotated[
    Annotated[bool, Tag("switch")] | Annotated[Positive, Tag("radius")],
    Discriminator(_switch_or_radius),
    Form("one of true, false, or a radius such as 100 mm", "length"),
]
"""[m] Whether there is a cove in upright corners, or its radius."""


class Deepening(Part):
    """A radius that changes with the depth of the floor at the wall, evenly between two depths."""

    start: Positive = Field(description="Depth down to which the cove's own radius holds.")
    end: Positive = Field(description="Depth from which 'radius' holds.")
    radius: Positive = Field(description="Radius in deep water.")

    @field_validator("end")
    @classmethod
    def _deeper(cls, end: float, info: ValidationInfo) -> float:
        start = info.data.get("start")
        if start is not None and end <= start:
            rule = "must be deeper than 'start'"
            units = (info.context or {}).get("units") or "m"
            came, other = format_length(end, units), format_length(start, units)
            raise BadValueError(rule, f"{came}; 'start' is {other}")
        return end


class CoveStretch(Part):
    """A stretch of the outline along which the cove has another radius, or along which is none."""

    start: Station = Field(description="Where the stretch starts.")
    end: Station = Field(description="Where it ends, anticlockwise from its start.")
    radius: NotNegative = Field(description="Radius of the cove there; 0 for none.")


class Cove(Part):
    """A cove (rolling-ball fillet) where wall and floor meet.

    ::

        |          radius: touches the wall and the floor
        |  . c     also_at: the feet that take one too
        |_.
          `-.____
    """

    form: Literal["cove", "fillet"] = Field(
        default="cove", description="Round, or a fillet of mortar with a straight face."
    )
    radius: Positive = Field(
        description="Radius of the cove, or leg of the fillet where wall and floor are square."
    )
    deepens: Annotated[Deepening | None, WhenLeftOut("none")] = Field(
        default=None, description="How the radius changes with the depth."
    )
    stretches: tuple[CoveStretch, ...] = Field(
        default=(),
        description="Stretches of the outline with a radius of their own, or with none; of a basin"
        " or channel, from plan point to plan point.",
    )
    corners: CornerCove = Field(
        default=False,
        description="Cove, or fillet, in the upright inside corners of the walls: its radius, or"
        " true for the cove's own.",
    )
    also_at: tuple[Foot, ...] = Field(
        default=(),
        description="Feet that take the cove as well: in the pool risers, bench faces, dam walls;"
        " in a spa bench faces, those of its seats; in a basin or channel none.",
    )


class BatterStretch(Part):
    """A stretch of the outline along which the wall leans otherwise."""

    start: Station = Field(description="Where the stretch starts.")
    end: Station = Field(description="Where it ends, anticlockwise from its start.")
    slope: Lean = Field(description="Run over fall of the wall there; 0 is plumb.")


class Batter(Part):
    r"""Walls that lean: wider at the top, where they stand at the outline.

    ::

        |        outline, at the wall top
         \       slope: run over fall, such as 1:10
          \___
    """

    slope: Lean = Field(description="Run over fall of the walls; 0 is plumb.")
    stretches: tuple[BatterStretch, ...] = Field(
        default=(), description="Stretches along which the wall leans otherwise."
    )
