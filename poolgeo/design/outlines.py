"""The plan shapes that a pool or a spa may have: closed curves, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    PrivateAttr,
    ValidationInfo,
    field_validator,
    model_validator,
)

from poolgeo.errors import BadValueError

from .tracing import Tracing
from .values import (
    BentPoint,
    Columns,
    CornerRadius,
    Degrees,
    FileName,
    Name,
    NotNegative,
    Point,
    Positive,
    Scale,
    WhenLeftOut,
)

FileUnits = Literal["mm", "cm", "m", "ft", "in"]
"""Units of the numbers in another file."""


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


class Traced(Part):
    """Base of the shapes that stand in another file; the curves are read when a file is loaded."""

    file: FileName = Field(description="The file, its path relative to the pool file.")

    _tracing: Tracing = PrivateAttr(default_factory=Tracing)

    @property
    def tracing(self) -> Tracing:
        """What was read from the file [m]."""
        return self._tracing


class Drawing(Traced):
    """Closed curves on a layer of a DXF drawing: lines, arcs, polylines, ellipses and splines.

    They are joined where their ends meet, in any order and direction. The largest closed curve is
    the outline; those inside it are islands.
    """

    shape: Literal["dxf"]
    layer: Name = Field(description="The layer on which the outline is drawn.")
    gap: Positive = Field(
        default=0.001, description="Ends that are no further apart than this are joined."
    )
    units: Annotated[FileUnits | None, WhenLeftOut("those that the drawing states")] = Field(
        default=None, description="Units of the drawing, where it states none or wrong ones."
    )
    scale: Scale = Field(
        default=1.0, description="What the drawing's lengths are multiplied by, beside its units."
    )


class PointList(Traced):
    """Points listed in a CSV file, joined by straight sides or by a smooth closed curve."""

    shape: Literal["csv"]
    columns: Columns = Field(
        default=(1, 2), description="Columns of x and y: numbers from 1, or names in the header."
    )
    units: Annotated[FileUnits | None, WhenLeftOut("those of the pool file")] = Field(
        default=None, description="Units of the numbers in the file."
    )
    join: Literal["straight", "spline"] = Field(
        default="straight", description="Straight from point to point, or a smooth curve."
    )


Shape = Annotated[
    Polygon | Rectangle | Polyline | Spline | Ellipse | Circle | Drawing | PointList,
    Field(discriminator="shape"),
]


class Operation(Part):
    """One shape that is added to those before, or subtracted from them."""

    model_config = ConfigDict(
        json_schema_extra={"oneOf": [{"required": ["add"]}, {"required": ["subtract"]}]}
    )

    add: Shape | None = Field(default=None, description="A shape that is added.")
    subtract: Shape | None = Field(default=None, description="A shape that is taken away.")

    @property
    def shape(self) -> Shape:
        """The shape that is added or subtracted."""
        found = self.subtract if self.add is None else self.add
        if found is None:  # the check below has seen to it
            raise AttributeError
        return found

    @model_validator(mode="after")
    def _one_of_both(self) -> Self:
        if (self.add is None) == (self.subtract is None):
            rule = "must have one of the keys 'add' and 'subtract'"
            came = "neither" if self.add is None else "both"
            raise BadValueError(rule, came, "write a list entry of its own for each shape")
        return self


class Combined(Part):
    """Shapes added and subtracted one after the other.

    ::

        parts:
          - add: a rectangle          _______
          - add: a circle            |       )
          - subtract: a circle       |___O___)   a hole is an island
    """

    shape: Literal["combined"]
    parts: Annotated[tuple[Operation, ...], Field(min_length=2, max_length=50)] = Field(
        description="The shapes, in the order in which they are added and subtracted."
    )

    @field_validator("parts")
    @classmethod
    def _begins_with_a_shape(cls, parts: tuple[Operation, ...]) -> tuple[Operation, ...]:
        if parts[0].add is None:
            rule = "must begin with a shape that is added"
            raise BadValueError(rule, "'subtract' first")
        return parts


Outline = Annotated[
    Polygon | Rectangle | Polyline | Spline | Ellipse | Circle | Combined | Drawing | PointList,
    Field(discriminator="shape"),
]
