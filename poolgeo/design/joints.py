"""Movement joints, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .outlines import Part
from .values import Name, NotNegative, Point, Positive, WhenLeftOut

APART = 1e-3
"""[m] Two points nearer than this give a line no direction."""


class Joint(Part):
    r"""A movement joint: a straight line in plan at which the whole structure is parted.

    ::

        wall top                wall top
        _____                      _____
             |                    |
             |____________________|         it runs down the wall, through cove and floor
        start --------------------> end     and up again
    """

    name: Name | None = Field(
        default=None,
        description="Name in reports; movement joint, movement joint 2 ... if not given.",
    )
    start: Point = Field(description="A plan point on its line, in the wall or beyond it.")
    end: Point = Field(
        validate_default=True, description="Another, on the other side of the water."
    )
    width: Positive = Field(description="Width of the gap between the two parts.")

    movement: Annotated[NotNegative | None, WhenLeftOut("not stated")] = Field(
        default=None, description="How much wider it gets at most: what is over it must bear that."
    )

    @field_validator("end")
    @classmethod
    def _apart(cls, end: Point, info: ValidationInfo) -> Point:
        start = info.data.get("start")
        if start is not None and max(abs(a - b) for a, b in zip(start, end, strict=True)) < APART:
            rule = "must differ from 'start'"
            raise BadValueError(rule, remedy="write a point on the other side of the water")
        return end
