"""The arris: how external edges are finished, as the pool file writes it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .outlines import Part
from .values import Form, Name, Positive, WhenLeftOut

ArrisForm = Literal["square", "chamfer", "rounded"]

EdgeGroup = Literal[
    "steps", "benches", "dam walls", "weirs", "wall tops", "wall corners", "recesses",
    "floor breaks",
]  # fmt: skip
"""Where an external edge is: nosings and arrises of flights are ``steps``, outside plan corners
``wall corners``, brows of the floor ``floor breaks``."""


def _has_size(size: float | None, info: ValidationInfo) -> float | None:
    """Refuse an arris without its size, and a size of what is square."""
    form = info.data.get("form")
    if form in {"chamfer", "rounded"} and size is None:
        rule = f"must be given with '{form}'"
        raise BadValueError(rule, remedy="give the leg of the chamfer or the radius of the round")
    if form == "square" and size is not None:
        rule = "must not be given with 'square'"
        raise BadValueError(rule, remedy="leave it out, or give another form")
    return size


class ArrisElsewhere(Part):
    """Edges that are finished otherwise: those of a place, of a feature, or both."""

    at: Annotated[EdgeGroup | None, WhenLeftOut("any")] = Field(
        default=None, description="Where the edges are."
    )
    feature: Name | None = Field(
        default=None, validate_default=True, description="Name of the feature that they belong to."
    )
    form: ArrisForm = Field(description="Square, cut at equal legs, or rounded.")
    size: Positive | None = Field(
        default=None,
        validate_default=True,
        description="Leg of the chamfer, or radius of the round.",
    )

    _sized = field_validator("size")(_has_size)

    @field_validator("feature")
    @classmethod
    def _says_which(cls, feature: str | None, info: ValidationInfo) -> str | None:
        if feature is None and "at" in info.data and info.data["at"] is None:
            rule = "must be given, or 'at'"
            raise BadValueError(rule, remedy="say which edges are meant")
        return feature


class Arris(Part):
    r"""How external edges are finished; brows of the floor only where ``elsewhere`` names them.

    ::

        chamfer ____        rounded ____
                    \  size             `.  size: radius
                     |                    |
    """

    form: ArrisForm = Field(default="square", description="Square, cut at equal legs, or rounded.")
    size: Positive | None = Field(
        default=None,
        validate_default=True,
        description="Leg of the chamfer, or radius of the round.",
    )
    elsewhere: tuple[ArrisElsewhere, ...] = Field(
        default=(), description="Edges that are finished otherwise; the last that fits holds."
    )
    mesh: Annotated[bool, Form("one of true, false")] = Field(
        default=False,
        validate_default=True,
        description="Whether the chamfers and rounds of tops are built into the solid; a warning"
        " names the edges that stay square there.",
    )

    _sized = field_validator("size")(_has_size)

    @field_validator("mesh")
    @classmethod
    def _has_some(cls, mesh: bool, info: ValidationInfo) -> bool:
        forms = [info.data.get("form"), *(item.form for item in info.data.get("elsewhere", ()))]
        if mesh and set(forms) == {"square"}:
            rule = "must be left out where all edges are square"
            raise BadValueError(rule, remedy="give some edges a chamfer or a round")
        return mesh
