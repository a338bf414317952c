"""Floors, as the pool file writes them."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .outlines import Outline, Part
from .values import Degrees, Form, Length, Point, Positive, Ratio, WhenLeftOut, list_or_single

Depth = Annotated[Length, Form("a depth such as 1.2 m; below 0 above the water", "length")]
"""[m] A water depth; below 0 where the floor stands above the water (a beach)."""

EndDepths = Annotated[
    Annotated[Depth, Tag("single")] | Annotated[tuple[Depth, Depth], Tag("list")],
    Discriminator(list_or_single),
    Form("a depth, or two: [at the right end, at the left end]"),
]
"""[m] One depth along a line, or one at each of its ends, looking along the direction."""

Slopes = Annotated[
    Annotated[Ratio, Tag("single")]
    | Annotated[Annotated[tuple[Ratio, ...], Field(max_length=100)], Tag("list")],
    Discriminator(list_or_single),
    Form("a slope such as 1:3, or a list of one for each side of the contour"),
]
"""[-] One slope all round, or one for each side."""


class LevelFloor(Part):
    """One depth everywhere."""

    shape: Literal["level"]
    depth: Positive = Field(description="Water depth.")


class PlaneFloor(Part):
    """A sloping plane: ``depth`` at the point ``at``, deeper by ``fall`` along ``direction``."""

    shape: Literal["plane"]
    depth: Positive = Field(description="Water depth at the point 'at'.")
    at: Point = Field(description="Plan point where the depth is given.")
    fall: Ratio = Field(description="Slope of the floor, deeper along the direction.")
    direction: Degrees = Field(
        default=0.0, description="Way that the floor falls, degrees anticlockwise from x."
    )


class Break(Part):
    """A break line ``at`` a distance from the floor's origin, square to its direction."""

    at: Length = Field(description="Distance from the origin along the direction.")
    depth: EndDepths = Field(
        description="Water depth along the break line, or at its right and its left end."
    )


class BrokenFloor(Part):
    r"""Depths at parallel break lines; before the first and past the last it goes on level.

    ::

        origin ----at----> direction
        ______
              \___            depth at each break; straight between two
                  \______

    Where a break line has a depth for each end (on the walls that it runs between), the floor
    between two lines is the ruled surface whose rulings run along the direction. A depth below 0
    stands above the water: a beach.
    """

    shape: Literal["breaks"]
    direction: Degrees = Field(
        default=0.0, description="Way that 'at' counts, degrees anticlockwise from x."
    )
    origin: Point = Field(default=(0.0, 0.0), description="Plan point where 'at' is 0.")
    breaks: Annotated[tuple[Break, ...], Field(min_length=2, max_length=100)] = Field(
        description="The break lines, in rising order of 'at'."
    )

    @field_validator("breaks")
    @classmethod
    def _in_order(cls, breaks: tuple[Break, ...]) -> tuple[Break, ...]:
        places = [item.at for item in breaks]
        if any(b <= a for a, b in pairwise(places)):
            rule = "must stand in rising order of 'at', no two at the same place"
            raise BadValueError(rule)
        return breaks


class Drain(Part):
    """A point that the floor falls to."""

    at: Point = Field(description="Middle of the drain.")
    depth: Positive = Field(description="Water depth at the drain.")


class DrainedFloor(Part):
    r"""The floor falls to one or several drains, from all sides alike.

    ::

        \            /\         /    each point drains to the drain that it lies lowest over;
         `-._    _.-'  `-.__.-'      a ridge parts the areas of two drains
             drain      drain
    """

    shape: Literal["drains"]
    drains: Annotated[tuple[Drain, ...], Field(min_length=1, max_length=50)] = Field(
        description="The drains."
    )
    fall: Annotated[Ratio, Form("a slope above 0, such as 1:60")] = Field(
        description="Slope of the floor towards the drains."
    )

    @field_validator("fall")
    @classmethod
    def _falls(cls, fall: float) -> float:
        if fall <= 0.0:
            rule = "must be above 0"
            raise BadValueError(rule, f"{fall:g}", "write a slope such as 1:60")
        return fall


class DishedFloor(Part):
    r"""A dished or crowned floor: one depth in the middle, another at a distance from it.

    ::

        \_         _/     dished: deeper in the middle; crowned: shallower
          `--.__.-'
               |---| reach

    The section is a parabola, the same in all directions, or only across a direction.
    """

    shape: Literal["dished"]
    at: Point = Field(description="The middle.")
    depth: Positive = Field(description="Water depth in the middle.")
    edge_depth: Positive = Field(description="Water depth at the distance 'reach' from the middle.")
    reach: Positive = Field(description="Distance at which 'edge_depth' holds.")
    direction: Annotated[Degrees | None, WhenLeftOut("the same in all directions")] = Field(
        default=None,
        description="Where given, the floor keeps its depth along this direction "
        "and is dished or crowned across it only.",
    )


class SpotLevel(Part):
    """A water depth at a plan point."""

    at: Point = Field(description="The point.")
    depth: Depth = Field(description="Water depth there.")


class SpotFloor(Part):
    """Depths at points, straight over the triangles between them.

    Of all triangulations the one with the fullest triangles is taken (Delaunay's). Beyond the
    outermost points the floor keeps their level.
    """

    shape: Literal["spots"]
    spots: Annotated[tuple[SpotLevel, ...], Field(min_length=3, max_length=2_000)] = Field(
        description="The points with their depths."
    )


Floor = Annotated[
    LevelFloor | PlaneFloor | BrokenFloor | DrainedFloor | DishedFloor | SpotFloor,
    Field(discriminator="shape"),
]


class Hopper(Part):
    r"""A deeper part: a level bottom within a contour, with slopes up to the floor or the walls.

    ::

        ______            ______   floor
              \          /         slope: rise over run, one or one for each side
               \________/          depth of the bottom, within the contour
    """

    contour: Outline = Field(description="Outline of the bottom; it must be convex.")
    depth: Positive = Field(description="Water depth over the bottom.")
    slope: Slopes = Field(
        description="Slope of the sides, or one for each side of a polygon or rectangle, "
        "in the order of its corners."
    )

    @field_validator("slope")
    @classmethod
    def _one_for_each_side(
        cls, slope: float | tuple[float, ...], info: ValidationInfo
    ) -> float | tuple[float, ...]:
        every = slope if isinstance(slope, tuple) else (slope,)
        if min(every, default=0.0) <= 0.0:
            rule = "must be above 0"
            raise BadValueError(rule, f"{min(every, default=0.0):g}", "write a slope such as 1:3")
        contour = info.data.get("contour")
        sides = {"rectangle": 4, "polygon": len(getattr(contour, "points", ()))}
        wanted = sides.get(getattr(contour, "shape", ""), 0)
        if isinstance(slope, tuple) and contour is not None and len(slope) != wanted:
            rule = (
                f"must hold one slope for each of the {wanted} sides"
                if wanted
                else "must be one slope for a contour without straight sides"
            )
            raise BadValueError(rule, f"{len(slope)} slopes")
        return slope
