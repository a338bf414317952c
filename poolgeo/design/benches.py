"""Benches and ledges, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .outlines import Outline, Part
from .steps import start_and_end
from .values import (
    Degrees,
    Name,
    Point,
    Positive,
    Ratio,
    StretchEnd,
    StretchStart,
    WhenLeftOut,
)


class Bench(Part):
    """A bench along a stretch of the outline, or all round when no stretch is given."""

    name: Name | None = Field(default=None, description="Name of the bench in reports.")
    start: StretchStart = None
    end: StretchEnd = None
    width: Positive = Field(description="Width in plan.")
    depth: Positive = Field(description="Water depth over the bench.")

    _stretch = field_validator("end")(start_and_end)


class Beach(Part):
    """A slope down from the front of a level ledge, to the floor or to a face.

    ::

        wall |____ ledge
             |    `--.__   slope: rise over run
             |    |     `--.__  length: in plan; then a face, or none where the floor is reached
    """

    slope: Ratio = Field(description="Slope down, rise over run, from 1:200 to 1:1.")
    length: Annotated[Positive | None, WhenLeftOut("as far as the floor")] = Field(
        default=None,
        description="Length in plan, then it ends in a face; if not given, down to where it first"
        " meets the floor.",
    )

    @field_validator("slope")
    @classmethod
    def _falls(cls, slope: float) -> float:
        if not 0.005 <= slope <= 1.0:
            rule = "must be from 1:200 to 1:1"
            raise BadValueError(rule, f"{slope:g}")
        return slope


def _only_of_level(beach: Beach | None, info: ValidationInfo) -> Beach | None:
    """Refuse a beach before a top that is not level."""
    for key in ("edge_depth", "end_depth", "fall"):
        if beach is not None and info.data.get(key):
            rule = f"must not be given beside '{key}': a beach starts at a level top"
            raise BadValueError(rule, remedy="leave one of them out")
    return beach


class FollowingLedge(Part):
    """A ledge along a stretch of the outline, level or falling across or along.

    ::

        depth at the wall, or at the start     end_depth: it falls along, level in corners
        |___
        |   `---.__ edge_depth at its edge     edge_depth: it falls across, mitred in corners
        |          |
    """

    shape: Literal["following"]
    name: Name | None = Field(default=None, description="Name of the ledge in reports.")
    start: StretchStart = None
    end: StretchEnd = None
    width: Positive = Field(description="Width in plan.")
    depth: Positive = Field(description="Water depth over it: at the wall, or at its start.")
    edge_depth: Annotated[Positive | None, WhenLeftOut("level across")] = Field(
        default=None, description="Water depth at the edge away from the wall."
    )
    end_depth: Annotated[Positive | None, WhenLeftOut("level along")] = Field(
        default=None, description="Water depth at the end of the stretch."
    )
    beach: Annotated[Beach | None, WhenLeftOut("a face")] = Field(
        default=None, description="A slope from its edge down."
    )

    _stretch = field_validator("end")(start_and_end)
    _level = field_validator("beach")(_only_of_level)

    @field_validator("end_depth")
    @classmethod
    def _one_fall(cls, depth: float | None, info: ValidationInfo) -> float | None:
        if depth is None:
            return depth
        if info.data.get("edge_depth") is not None:
            rule = "must not be given beside 'edge_depth'"
            raise BadValueError(rule, remedy="a ledge falls across or along: leave one out")
        if "start" in info.data and info.data["start"] is None:
            rule = "must be given only with 'start' and 'end'"
            raise BadValueError(rule, remedy="give the stretch, or leave 'end_depth' out")
        return depth


class OutlinedLedge(Part):
    """A ledge by its own outline, clipped to the pool: at a wall, or free in the water."""

    shape: Literal["outline"]
    name: Name | None = Field(default=None, description="Name of the ledge in reports.")
    outline: Outline = Field(description="Its plan.")
    depth: Positive = Field(description="Water depth over it; at the point 'at' if it falls.")
    at: Annotated[Point | None, WhenLeftOut("the middle of the outline")] = Field(
        default=None, description="Plan point where the depth is given."
    )
    fall: Ratio = Field(default=0.0, description="Slope of its top, deeper along the direction.")
    direction: Degrees = Field(
        default=0.0, description="Way that the top falls, degrees anticlockwise from x."
    )
    beach: Annotated[Beach | None, WhenLeftOut("a face")] = Field(
        default=None, description="A slope from its border down, its corners mitred."
    )

    _level = field_validator("beach")(_only_of_level)


Ledge = Annotated[FollowingLedge | OutlinedLedge, Field(discriminator="shape")]
