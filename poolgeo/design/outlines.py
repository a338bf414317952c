"""The plan shapes that a pool or a spa may have: closed curves, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .values import BentPoint, CornerRadius, Degrees, NotNegative, Point, Positive


class Part(BaseModel):
    """Base of every part of a pool file: frozen, and closed to keys it does not know."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, strict=True)


class Polygon(Part):
    """Straight sides, each corner sharp or rounded by an arc tangent to both sides."""

    shape: Literal["polygon"]
    points: Annotated[tuple[Point, ...], Field(min_length=3, max_length=10_000)] = Field(
        description="The corners, one after the other, either way round."
    )
    corner_radius: CornerRadius = Field(
        default=0.0, description="One radius for every corner, or one for each point."
    )

    @field_validator("corner_radius")
    @classmethod
    def _one_for_each_point(
        cls, radius: float | tuple[float, ...], info: ValidationInfo
    ) -> float | tuple[float, ...]:
        points = info.data.get("points")
        if isinstance(radius, tuple) and points is not None and len(radius) != len(points):
            rule = f"must hold one radius for each of the {len(points)} points"
            raise BadValueError(rule, f"{len(radius)} radii")
        return radius


class Rectangle(Part):
    """A rectangle ``length`` along x (before rotation) by ``width``, about its centre."""

    shape: Literal["rectangle"]
    length: Positive = Field(description="Side along x, before rotation.")
    width: Positive = Field(description="Side along y, before rotation.")
    corner_radius: NotNegative = Field(default=0.0, description="Radius of the four corners.")
    centre: Point = Field(default=(0.0, 0.0), description="Middle of the rectangle.")
    rotation: Degrees = Field(default=0.0, description="Degrees anticlockwise from x.")


class Polyline(Part):
    """Points ``[x, y]`` or ``[x, y, bulge]``; the bulge bends the side that starts at the point.

    Source: bulge = tan(included angle / 4), positive anticlockwise: DXF reference, group 42.
    """

    shape: Literal["polyline"]
    points: Annotated[tuple[BentPoint, ...], Field(min_length=2, max_length=10_000)] = Field(
        description="Start of each side, and the bulge of that side where it is an arc."
    )


class Spline(Part):
    """A smooth closed curve through the points (periodic cubic, curvature continuous)."""

    shape: Literal["spline"]
    points: Annotated[tuple[Point, ...], Field(min_length=3, max_length=1_000)] = Field(
        description="Points on the curve, one after the other, either way round."
    )


class Ellipse(Part):
    """An ellipse ``length`` by ``width``, its length turned by ``rotation`` from x."""

    shape: Literal["ellipse"]
    length: Positive = Field(description="Axis along x, before rotation.")
    width: Positive = Field(description="Axis along y, before rotation.")
    centre: Point = Field(default=(0.0, 0.0), description="Middle of the ellipse.")
    rotation: Degrees = Field(default=0.0, description="Degrees anticlockwise from x.")


class Circle(Part):
    """A circle by its radius."""

    shape: Literal["circle"]
    radius: Positive = Field(description="Radius of the circle.")
    centre: Point = Field(default=(0.0, 0.0), description="Middle of the circle.")


Outline = Annotated[
    Polygon | Rectangle | Polyline | Spline | Ellipse | Circle, Field(discriminator="shape")
]
