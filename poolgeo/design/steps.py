"""Flights of steps, as the pool file writes them."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import ConfigDict, Discriminator, Field, Tag, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .outlines import Outline, Part, Rectangle
from .values import (
    Degrees,
    Form,
    Name,
    Point,
    Positive,
    Station,
    StretchEnd,
    StretchStart,
    WhenLeftOut,
    list_or_single,
)

MOST_TREADS = 100
"""Most treads of one flight: more is a slip of the pen."""
_OneOrMore = (
    Annotated[Positive, Tag("single")]
    | Annotated[
        Annotated[tuple[Positive, ...], Field(min_length=1, max_length=MOST_TREADS)], Tag("list")
    ]
)
Goings = Annotated[
    _OneOrMore,
    Discriminator(list_or_single),
    Form("a length above 0 such as 300 mm, or a list of one for each tread", "length"),
]
"""[m] One going for every tread, or one for each, the top tread's first."""
Rises = Annotated[
    _OneOrMore,
    Discriminator(list_or_single),
    Form("a length above 0 such as 200 mm, or a list of one for each step down", "length"),
]
"""[m] One rise for every step, or one for each, the highest first."""


def start_and_end(end: Station | None, info: ValidationInfo) -> Station | None:
    """Refuse half a stretch, or none; a start that could not be read has its own finding.

    Args:
        end: Of the stretch.
        info: Holds its start.

    Returns:
        The end.

    Raises:
        BadValueError: It stands without its start, or is the same place.
    """
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


class Descent(Part):
    """What every flight of steps has.

    ::

        water  ~~~~~~~~~~~~~~~~
        wall |____  top_tread (depth of the first tread)
             |going|____
             |     |    |____  rise between treads; the last riser stands on the floor

    Give ``risers`` (the equal faces from the top tread down to the floor, as many as treads) or
    ``rise`` (treads at equal steps until the floor is nearer than one rise, or a list of the steps
    from tread to tread). Where a list tells how many treads there are, neither need be given.
    """

    beyond: ClassVar[int] = 0
    """Treads that a list of goings does not count."""

    model_config = ConfigDict(
        json_schema_extra={
            "anyOf": [
                {"required": ["risers"]},
                {"required": ["rise"]},
                {"required": ["treads"]},
                {"properties": {"going": {"type": "array"}}, "required": ["going"]},
            ]
        }
    )

    name: Name | None = Field(default=None, description="Name of the flight in reports.")
    risers: (
        Annotated[int, Field(ge=1, le=MOST_TREADS), Form(f"a whole number from 1 to {MOST_TREADS}")]
        | None
    ) = Field(default=None, description="Count of equal risers from the top tread to the floor.")
    rise: Rises | None = Field(
        default=None,
        validate_default=True,
        description="Height between treads, for 'risers': one, down to 100 treads, or a list.",
    )
    top_tread: Annotated[Positive | None, WhenLeftOut("one rise")] = Field(
        default=None, description="Depth of the top tread; one rise where not given."
    )

    @classmethod
    def _listed(cls, info: ValidationInfo) -> int | None:
        """Return how many treads the lists of the flight stand for, if any does."""
        counts = [
            len(item) for item in map(info.data.get, ("going", "treads")) if isinstance(item, tuple)
        ]
        return counts[0] + cls.beyond if counts else None

    @field_validator("risers")
    @classmethod
    def _as_many_risers(cls, risers: int | None, info: ValidationInfo) -> int | None:
        count = cls._listed(info)
        if risers is not None and count is not None and risers != count:
            rule = f"must be as many as the {count} treads that are listed"
            raise BadValueError(rule, str(risers), "leave it out: the list tells")
        return risers

    @field_validator("rise")
    @classmethod
    def _risers_or_rise(
        cls, rise: float | tuple[float, ...] | None, info: ValidationInfo
    ) -> float | tuple[float, ...] | None:
        unread = "treads" in cls.model_fields and "treads" not in info.data
        if "risers" not in info.data or unread:
            return rise
        risers, count = info.data["risers"], cls._listed(info)
        if risers is None and rise is None and count is None:
            rule = "must be given, or 'risers' in its place"
            raise BadValueError(rule, remedy="write a height, or a count of equal risers")
        if risers is not None and rise is not None:
            rule = "must not be given beside 'risers'"
            raise BadValueError(rule, remedy="leave one of them out")
        if isinstance(rise, tuple) and count is not None and len(rise) != count - 1:
            rule = f"must hold one step less than the {count} treads: {count - 1}"
            raise BadValueError(
                rule, f"{len(rise)} steps", "the last riser, to the floor, is what is left"
            )
        return rise


class _WithGoing(Part):
    """What a flight has of which each tread has a going."""

    going: Goings = Field(description="Depth in plan of each tread, one for all or a list.")


class Flight(Descent, _WithGoing):
    """A flight whose treads stand one behind the other."""


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

    The first nosing is one going from the outermost point of that end; two such ends are refused.
    """

    shape: Literal["end"]
    direction: Degrees = Field(description="Way down, degrees anticlockwise from x.")


class FollowingFlight(Flight):
    """A flight whose treads follow the outline along a stretch, or all round."""

    shape: Literal["following"]
    start: StretchStart = None
    end: StretchEnd = None

    _stretch = field_validator("end")(start_and_end)


class CornerFlight(Flight):
    """A fan in a corner: concentric arcs about it, from wall to wall.

    ::

        |___ . .   each nosing stands one going further from the corner;
        |   |   .  about another centre where one is given
        '------------
    """

    shape: Literal["corner"]
    at: Station = Field(description="The corner, a place on the outline.")
    centre: Annotated[Point | None, WhenLeftOut("the corner")] = Field(
        default=None, description="Centre of the arcs; the corner itself if not given."
    )


class ArcFlight(Flight):
    r"""A flight from a side with curved nosings, all arcs about one centre.

    ::

        wall ------+=======+------   wall ---+=========+---
                    \     /                 |  .---.  |
                      '-'   convex           | /     \ |   concave

    ``radius`` is that of the first nosing, the middle of which stands one going from the outline.
    The others follow outwards (convex) or inwards (concave) about the same centre.
    """

    shape: Literal["arc"]
    at: Station = Field(description="Middle of the flight on the outline.")
    radius: Positive = Field(description="Radius of the first nosing.")
    bend: Literal["convex", "concave"] = Field(
        default="convex", description="Whether the nosings bulge into the water or recede from it."
    )
    width: Annotated[Positive | None, WhenLeftOut("as far as the arcs reach")] = Field(
        default=None,
        validate_default=True,
        description="Width of the flight; a convex one may do without.",
    )
    direction: Annotated[Degrees | None, WhenLeftOut("square to the outline")] = Field(
        default=None, description="Way down, degrees from x; square to the outline if not given."
    )

    @field_validator("width")
    @classmethod
    def _width_of_concave(cls, width: float | None, info: ValidationInfo) -> float | None:
        if width is None and info.data.get("bend") == "concave":
            rule = "must be given for a concave flight"
            raise BadValueError(rule, remedy="say how wide the flight is")
        return width


Side = Literal["front", "back", "left", "right"]


class IslandFlight(Flight):
    """A block in the water, clear of the walls, with a landing and treads round it.

    ::

          ___________     the landing is the top tread;
        _|  landing  |_   each going is that of a tread below it
       _|             |_

    Of a rectangle only some ``sides`` may have treads; unturned, ``front`` is to x, ``left`` to y.
    """

    beyond: ClassVar[int] = 1

    shape: Literal["island"]
    landing: Outline = Field(description="Plan of the landing, which is the top tread.")
    sides: Annotated[
        Annotated[tuple[Side, ...], Field(min_length=1, max_length=4)] | None,
        WhenLeftOut("all round"),
    ] = Field(default=None, description="Sides of a rectangle that have treads; all if not given.")

    @field_validator("sides")
    @classmethod
    def _of_rectangle(
        cls, sides: tuple[Side, ...] | None, info: ValidationInfo
    ) -> tuple[Side, ...] | None:
        if sides is None or "landing" not in info.data:
            return sides
        landing = info.data["landing"]
        if not isinstance(landing, Rectangle) or landing.corner_radius > 0.0:
            rule = "must be given only of a rectangle with sharp corners"
            raise BadValueError(rule, remedy="leave it out: the treads then go all round")
        if len(set(sides)) < len(sides):
            rule = "must name each side once"
            raise BadValueError(rule)
        return sides


class WindingFlight(Descent):
    r"""Winders: equal wedges about a pivot, turning down from one ray to another.

    ::

        pivot o-----  direction: where the top tread begins
              |\  1
              | \      turn: through which angle it goes down, positive anticlockwise
              |2 \     reach: of the treads from the pivot
    """

    shape: Literal["winding"]
    pivot: Point = Field(description="Plan point that the treads turn about.")
    reach: Positive = Field(description="How far the treads reach from the pivot.")
    direction: Degrees = Field(description="Ray at which the top tread begins, degrees from x.")
    turn: Degrees = Field(
        description="Angle that the flight turns through down to its foot, positive anticlockwise."
    )

    @field_validator("turn")
    @classmethod
    def _some_turn(cls, turn: float) -> float:
        if not 10.0 <= abs(turn) <= 300.0:
            rule = "must be from 10 to 300 degrees either way"
            raise BadValueError(rule, f"{turn:g} degrees")
        return turn


class _WithTreads(Part):
    """What a flight has of which each tread has an outline."""

    treads: Annotated[tuple[Outline, ...], Field(min_length=1, max_length=MOST_TREADS)] = Field(
        description="Plan of each tread, the top one first; a higher one covers a deeper one."
    )


class OutlinedFlight(Descent, _WithTreads):
    """A flight by the outline of each of its treads, clipped to the pool."""

    shape: Literal["outlines"]


Steps = Annotated[
    SideFlight
    | EndFlight
    | FollowingFlight
    | CornerFlight
    | ArcFlight
    | IslandFlight
    | WindingFlight
    | OutlinedFlight,
    Field(discriminator="shape"),
]
