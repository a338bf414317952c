"""Flights of steps, and benches, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .outlines import Part
from .values import Degrees, Form, Name, Positive, Station, WhenLeftOut


def start_and_end(end: Station | None, info: ValidationInfo) -> Station | None:
    """Refuse half a stretch, or none; a start that could not be read has its own finding."""
    if "start" not in info.data:
        return end
    start = info.data["start"]
    rule = ""
    if (start is None) != (end is None):
        rule = "must be given beside" if end is None else "must not be given without"
    elif end is not None and start == end:
        rule = "must differ from"
    if rule:
        rule += " 'start'"
        raise BadValueError(rule, remedy="give both, or neither for all round")
    return end


class Flight(Part):
    """What every flight of steps has.

    ::

        water  ~~~~~~~~~~~~~~~~
        wall |____  top_tread (depth of the first tread)
             |going|____
             |     |    |____  rise between treads; the last riser stands on the floor

    Give ``risers`` (the equal faces from the top tread down to the floor, as many as treads) or
    ``rise`` (treads at equal steps until the floor is nearer than one rise).
    """

    model_config = ConfigDict(
        json_schema_extra={"anyOf": [{"required": ["risers"]}, {"required": ["rise"]}]}
    )

    name: Name | None = Field(default=None, description="Name of the flight in reports.")
    going: Positive = Field(description="Depth in plan of each tread.")
    risers: Annotated[int, Field(ge=1, le=100), Form("a whole number from 1 to 100")] | None = (
        Field(default=None, description="Count of equal risers from the top tread to the floor.")
    )
    rise: Positive | None = Field(
        default=None,
        validate_default=True,
        description="Height between treads, in place of 'risers'.",
    )
    top_tread: Annotated[Positive | None, WhenLeftOut("one rise")] = Field(
        default=None, description="Depth of the top tread; one rise where not given."
    )

    @field_validator("rise")
    @classmethod
    def _risers_or_rise(cls, rise: float | None, info: ValidationInfo) -> float | None:
        if "risers" in info.data:
            risers = info.data["risers"]
            if risers is None and rise is None:
                rule = "must be given, or 'risers' in its place"
                raise BadValueError(rule, remedy="write a height, or a count of equal risers")
            if risers is not None and rise is not None:
                rule = "must not be given beside 'risers'"
                raise BadValueError(rule, remedy="leave one of them out")
        return rise


class SideFlight(Flight):
    """A straight flight from a side: ``width`` wide, centred ``at`` a station, running inwards."""

    shape: Literal["side"]
    at: Station = Field(description="Middle of the flight on the outline.")
    width: Positive = Field(description="Width of the flight.")
    direction: Annotated[Degrees | None, WhenLeftOut("square to the outline")] = Field(
        default=None, description="Way down, degrees from x; square to the outline if not given."
    )


class EndFlight(Flight):
    """A flight across an end, wall to wall, going down along ``direction``.

    The first nosing stands one going from the outermost point of that end.
    """

    shape: Literal["end"]
    direction: Degrees = Field(description="Way down, degrees anticlockwise from x.")


class FollowingFlight(Flight):
    """A flight whose treads follow the outline along a stretch, or all round."""

    shape: Literal["following"]
    start: Annotated[Station | None, WhenLeftOut("all round")] = Field(
        default=None, description="Where the flight starts; all round if not given."
    )
    end: Station | None = Field(
        default=None,
        validate_default=True,
        description="Where the flight ends, anticlockwise from its start.",
    )

    _stretch = field_validator("end")(start_and_end)


Steps = Annotated[SideFlight | EndFlight | FollowingFlight, Field(discriminator="shape")]


class Bench(Part):
    """A bench along a stretch of the outline, or all round when no stretch is given."""

    name: Name | None = Field(default=None, description="Name of the bench in reports.")
    start: Annotated[Station | None, WhenLeftOut("all round")] = Field(
        default=None, description="Where the bench starts; all round if not given."
    )
    end: Station | None = Field(
        default=None,
        validate_default=True,
        description="Where the bench ends, anticlockwise from its start.",
    )
    width: Positive = Field(description="Width in plan.")
    depth: Positive = Field(description="Water depth over the bench.")

    _stretch = field_validator("end")(start_and_end)
