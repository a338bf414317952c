"""Fittings through the shell, as the pool file writes them, and what is usual for each kind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from poolgeo.errors import BadValueError

from .outlines import Part
from .values import Degrees, Form, Length, Name, NotNegative, Point, Positive, Station

FittingKind = Literal[
    "main drain", "return inlet", "light niche", "skimmer", "relief valve", "cleaner point",
    "spa jet", "rail socket", "ladder", "overflow drain", "fitting",
]  # fmt: skip

Ground = Literal["a floor", "a face that stands", "a face that lies", "any face"]
Water = Literal["below", "across", "anywhere"]


@dataclass(frozen=True)
class Usual:
    """What is usual for a kind of fitting; all of it common practice, no source.

    The file can give other sizes and another place for each fitting.

    Args:
        on: What it may sit on.
        water: Where its opening is to the water level: below it, across it, or anywhere.
        diameter: Of a round opening [m].
        width: Of a rectangular opening [m].
        height: Of a rectangular opening [m].
        collar: Width of the flange about the opening [m].
        depth: Of its middle below the water, where it sits on the wall [m].
        offset: Of its middle from the outline in plan, below 0 outwards [m].
        spacing: Between the two of a pair [m].
        suction: Whether a pump draws through it.
    """

    on: Ground
    water: Water = "below"
    diameter: float | None = None
    width: float | None = None
    height: float | None = None
    collar: float = 0.1
    depth: float | None = None
    offset: float | None = None
    spacing: float | None = None
    suction: bool = False


USUAL: Mapping[FittingKind, Usual] = MappingProxyType(
    {
        "main drain": Usual("a floor", width=0.3, height=0.3, suction=True),
        "return inlet": Usual("any face", diameter=0.06, depth=0.4),
        "light niche": Usual("any face", diameter=0.27, depth=0.6),
        "skimmer": Usual(
            "a face that stands", "across", width=0.2, height=0.14, collar=0.05, depth=0.0
        ),
        "relief valve": Usual("a floor", diameter=0.06),
        "cleaner point": Usual("a face that stands", diameter=0.06, depth=0.25),
        "spa jet": Usual("any face", diameter=0.08, collar=0.05, depth=0.3),
        "rail socket": Usual("any face", "anywhere", diameter=0.05, collar=0.05),
        "ladder": Usual(
            "a face that lies", "anywhere", diameter=0.05, collar=0.05, offset=-0.12, spacing=0.5
        ),
        "overflow drain": Usual("any face", "anywhere", diameter=0.1),
        "fitting": Usual("any face", "anywhere", collar=0.05),
    }
)
"""What is usual for each kind: common practice, no source. In a file each value can be given."""


def _refuse(rule: str, remedy: str = "") -> None:
    raise BadValueError(rule, remedy=remedy)


class Fitting(Part):
    """One fitting through the shell, or a row of them.

    ::

        wall  |          ___           on the wall:     at (a station) and depth
        top __|   depth |   |          what lies there: at and offset, or point
        ~~~~~~|~~~~ | ~~~~~~           a row:           start, end and count in place of at
              |     v
              [o]--------- collar: width of the flange about the opening
              |            diameter, or width (level) and height

    Of a ladder each place takes two anchors, ``spacing`` apart along the outline.
    """

    kind: FittingKind = Field(description="What it is.")
    name: Name | None = Field(default=None, description="Name of the fitting in reports.")
    body: Name | None = Field(
        default=None,
        description="Body of water that it serves; if not given the pool, or what lies at 'point'.",
    )
    dam_wall: Name | None = Field(
        default=None,
        description="Spa on whose dam wall it sits, outside: stations are then on its outline.",
    )
    diameter: Positive | None = Field(
        default=None,
        description="Of a round opening; if no size is given, what is usual for the kind (common"
        " practice, no source).",
    )
    width: Positive | None = Field(
        default=None,
        description="Of a rectangular opening: level on a wall, else along 'direction'.",
    )
    height: Positive | None = Field(
        default=None,
        validate_default=True,
        description="Of a rectangular opening, across its width.",
    )
    collar: NotNegative | None = Field(
        default=None,
        description="Width of the flange about the opening; 0 where there is none. If not given,"
        " what is usual for the kind (common practice, no source).",
    )
    at: Station | None = Field(default=None, description="Station of its middle on the outline.")
    point: Point | None = Field(
        default=None, description="Plan point of its middle, on whatever surface lies there."
    )
    start: Station | None = Field(
        default=None, validate_default=True, description="Station of the first of a row."
    )
    end: Station | None = Field(
        default=None, description="Station of the last of a row; all round if not given."
    )
    count: Annotated[int, Field(ge=2, le=500), Form("a whole number from 2 to 500")] | None = Field(
        default=None, validate_default=True, description="How many are in the row, equally spaced."
    )
    depth: Length | None = Field(
        default=None,
        description="Of its middle below the water; it sits on the wall there. If neither depth nor"
        " offset is given, what is usual for the kind (common practice, no source).",
    )
    offset: Length | None = Field(
        default=None,
        validate_default=True,
        description="In plan from the outline, below 0 outwards; it sits on what lies there.",
    )
    direction: Degrees | None = Field(
        default=None,
        description="Of the width of one that lies, degrees from x; else along the outline.",
    )
    spacing: Positive | None = Field(
        default=None,
        description="Distance between the two anchors of a ladder; 0.5 m if not given (common"
        " practice, no source).",
    )
    protection: Name | None = Field(
        default=None, description="How a suction is made safe from entrapment, in words."
    )

    @field_validator("height")
    @classmethod
    def _round_or_not(cls, height: float | None, info: ValidationInfo) -> float | None:
        if not {"kind", "diameter", "width"} <= set(info.data):
            return height
        usual, width = USUAL[info.data["kind"]], info.data["width"]
        if (width is None) != (height is None):
            missing = (
                "be given beside 'width'" if height is None else "not be given without 'width'"
            )
            _refuse(f"must {missing}", "a rectangular opening has both")
        if info.data["diameter"] is not None and height is not None:
            _refuse("must not be given beside 'diameter'", "give one, or width and height")
        if info.data["diameter"] is None and height is None and not (usual.diameter or usual.width):
            _refuse(
                "must be given with 'width', or 'diameter' in their place",
                f"a {info.data['kind']} has no usual size",
            )
        return height

    @field_validator("start")
    @classmethod
    def _one_place(cls, start: Station | None, info: ValidationInfo) -> Station | None:
        if {"at", "point"} <= set(info.data):
            others = [name for name in ("at", "point") if info.data[name] is not None]
            if start is None and not others:
                _refuse("must be given, or 'at' or 'point' in its place", "say where it is")
            if len(others) + (start is not None) > 1:
                beside = " and ".join(f"'{name}'" for name in others)
                rule = f"must not be given beside {beside}"
                _refuse(rule if start is not None else "'at' and 'point' must not both be given",
                        "give one place")  # fmt: skip
        return start

    @field_validator("end")
    @classmethod
    def _after_start(cls, end: Station | None, info: ValidationInfo) -> Station | None:
        if "start" in info.data and end is not None:
            if info.data["start"] is None:
                _refuse("must not be given without 'start'", "a row has start and count")
            if info.data["start"] == end:
                _refuse("must differ from 'start'", "leave it out for all round")
        return end

    @field_validator("count")
    @classmethod
    def _for_a_row(cls, count: int | None, info: ValidationInfo) -> int | None:
        if "start" in info.data and (info.data["start"] is None) != (count is None):
            _refuse(
                "must be given beside 'start'" if count is None
                else "must not be given without 'start'",
                "a row has start and count",
            )  # fmt: skip
        return count

    @field_validator("offset")
    @classmethod
    def _how(cls, offset: float | None, info: ValidationInfo) -> float | None:
        if not {"kind", "point", "at", "start", "depth"} <= set(info.data):
            return offset
        depth, usual = info.data["depth"], USUAL[info.data["kind"]]
        if info.data.get("dam_wall") is not None and (offset, info.data["point"]) != (None, None):
            _refuse("on a dam wall there must be a station and a 'depth'",
                    "leave out 'dam_wall': what lies at the place is found by itself")  # fmt: skip
        if info.data["point"] is not None:
            if depth is not None or offset is not None:
                name = "depth" if depth is not None else "offset"
                _refuse(f"'{name}' must not be given beside 'point'",
                        "what lies at the point has its own height and place")  # fmt: skip
        elif depth is not None and offset is not None:
            _refuse("must not be given beside 'depth'", "on the wall, or on what lies there")
        elif depth is None and offset is None and usual.depth is None and usual.offset is None:
            _refuse("must be given, or 'depth' or 'point' in its place",
                    f"a {info.data['kind']} has no usual place")  # fmt: skip
        return offset

    @field_validator("spacing", "protection")
    @classmethod
    def _of_its_kind(cls, value: Any, info: ValidationInfo) -> Any:
        kind = info.data.get("kind")
        if kind is not None and value is not None:
            if info.field_name == "spacing" and USUAL[kind].spacing is None:
                _refuse("must be given for a ladder only", f"a {kind} has one opening")
            if info.field_name == "protection" and not USUAL[kind].suction:
                _refuse("must be given for a suction only", f"no pump draws through a {kind}")
        return value

    @model_validator(mode="after")
    def _as_usual(self) -> Fitting:
        """Take what is usual for the kind where the file says nothing."""
        usual, taken = USUAL[self.kind], self.__dict__
        if self.diameter is None and self.width is None:
            taken |= {name: getattr(usual, name) for name in ("diameter", "width", "height")}
        if self.point is None and self.depth is None and self.offset is None:
            taken |= {name: getattr(usual, name) for name in ("depth", "offset")}
        if self.point is None and self.body is None:
            taken["body"] = "pool"
        for name in ("collar", "spacing"):
            if getattr(self, name) is None:
                taken[name] = getattr(usual, name)
        return self
