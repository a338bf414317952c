"""The kinds of value that a pool file holds: lengths, slopes, points, stations.

Each kind is a type for pydantic with two notes of our own: a `Form`, what a reader may write
(messages quote it), and where a value may be left out, `WhenLeftOut`, what then holds.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator, Discriminator, Field, Tag, ValidationInfo
from typing_extensions import TypeAliasType

from poolgeo.errors import BadValueError, shown

from .lengths import LENGTH_PATTERN, RATIO_PATTERN, parse_length, parse_ratio

SMALLEST = 0.001
"""[m] The smallest size: a millimetre. What is smaller is a slip, or a unit mistaken."""
LARGEST = 1000.0
"""[m] The largest size. Guards the geometry from a unit mistaken, and from overflow."""
FARTHEST = 1e7
"""[m] The farthest coordinate: covers survey grids, and keeps a micrometre in a double."""
STEEPEST = 10.0
"""[-] The steepest floor."""


@dataclass(frozen=True)
class Form:
    """What a reader may write for a value.

    Args:
        text: A noun phrase that follows ``must be`` or ``write``.
        quantity: ``length``, ``angle``, ``temperature``, ``expansion`` and ``share`` are written
            with their unit in reports.
    """

    text: str
    quantity: str = ""


@dataclass(frozen=True)
class WhenLeftOut:
    """What holds when a value is not given and has no number to stand for it."""

    text: str


def _length_within(low: float, high: float, what: str) -> Callable[[Any, ValidationInfo], float]:
    """Make the reader of lengths from ``low`` to ``high`` [m]."""

    def read(value: Any, info: ValidationInfo) -> float:
        units = (info.context or {}).get("units", "m")
        metres = parse_length(value, units or "m", what)
        if units is None and not isinstance(value, str):
            return metres  # The file's units are unknown, and found so: no limit can be checked.
        if metres < low or metres > high:
            came = shown(value) if isinstance(value, str) else f"{shown(value)} {units}"
            raise BadValueError(_limit(metres, low, high), came)
        return metres

    return read


def _limit(metres: float, low: float, high: float) -> str:
    if metres > high:
        return f"must be at most {_plain(high)}"
    if low == SMALLEST and metres <= 0:
        return "must be above 0"
    return f"must be at least {_plain(low)}" if low else "must not be below 0"


def _plain(metres: float) -> str:
    return f"{metres * 1000:g} mm" if abs(metres) < 1 else f"{metres:.0f} m"


def _ratio(value: Any) -> float:
    ratio = parse_ratio(value)
    if abs(ratio) > STEEPEST:
        rule = f"must be from -{STEEPEST:g} to {STEEPEST:g}"
        raise BadValueError(rule, shown(value))
    return ratio


def _lean(value: Any) -> float:
    lean = _ratio(value)
    if not 0.0 <= lean <= 1.0:
        rule = "must be from 0 (plumb) to 1 (half a right angle)"
        raise BadValueError(rule, shown(value), "a wall that leans outwards is not built here")
    return lean


def list_or_single(value: object) -> str:
    """Tell a list from a single value, for the members of a union."""
    return "list" if isinstance(value, list | tuple) else "single"


def _points_or_bends(value: object) -> str:
    return "bend" if isinstance(value, list | tuple) and len(value) == 3 else "point"


def _number_or_name(value: object) -> str:
    return "name" if isinstance(value, str) else "number"


_Text = Annotated[str, Field(pattern=LENGTH_PATTERN)]
_LENGTH = "A number in the file's units, or text with its unit: 300 mm, 1.2 m, 3' 6 1/2\""

# What the JSON Schema says of each kind: aliases, so that it says so once, under a name.
WrittenLength = TypeAliasType(
    "WrittenLength", Annotated[float | _Text, Field(description=f"{_LENGTH}.")]
)
WrittenSize = TypeAliasType(
    "WrittenSize",
    Annotated[Annotated[float, Field(gt=0)] | _Text, Field(description=f"{_LENGTH}; above 0.")],
)
WrittenSizeOrZero = TypeAliasType(
    "WrittenSizeOrZero",
    Annotated[Annotated[float, Field(ge=0)] | _Text, Field(description=f"{_LENGTH}; 0 or more.")],
)
WrittenRatio = TypeAliasType(
    "WrittenRatio",
    Annotated[
        float | Annotated[str, Field(pattern=RATIO_PATTERN)],
        Field(description="A slope, rise over run: 0.05 or 1:20."),
    ],
)

Length = Annotated[
    float,
    BeforeValidator(_length_within(-FARTHEST, FARTHEST, "a length"), WrittenLength),
    Form("a length such as 300 mm or 3' 6\"", "length"),
]
"""[m] A number in the file's units, or text with its unit: ``300 mm``, ``3' 6"``."""
Positive = Annotated[
    float,
    BeforeValidator(_length_within(SMALLEST, LARGEST, "a length"), WrittenSize),
    Form("a length above 0, such as 300 mm or 3' 6\"", "length"),
]
"""[m] A size, from `SMALLEST` to `LARGEST`."""
NotNegative = Annotated[
    float,
    BeforeValidator(_length_within(0, LARGEST, "a length"), WrittenSizeOrZero),
    Form("a length of 0 or more, such as 300 mm or 3' 6\"", "length"),
]
"""[m] A size, or 0."""
JointWidth = Annotated[
    float,
    BeforeValidator(_length_within(SMALLEST, 0.3, "a length"), WrittenSize),
    Form("a width from 1 mm to 300 mm", "length"),
]
"""[m] Width of a joint that is sealed, or grouted."""
Tolerance = Annotated[
    float,
    BeforeValidator(_length_within(1e-5, 0.05, "a length"), WrittenSize),
    Form("a length from 0.01 mm to 50 mm", "length"),
]
"""[m] How far a chord may be from its curve."""
Ratio = Annotated[
    float,
    BeforeValidator(_ratio, WrittenRatio),
    Form("a slope, rise over run, such as 0.05 or 1:20"),
]
"""[-] A slope as rise over run: ``0.05`` or ``1:20``."""
Lean = Annotated[
    float,
    BeforeValidator(_lean, WrittenRatio),
    Form("a batter from 0 to 1, run over fall, such as 0.1 or 1:10"),
]
"""[-] How much a wall leans inwards: run over fall."""
Degrees = Annotated[
    float,
    Field(ge=-360, le=360),
    Form("a number of degrees from -360 to 360", "angle"),
]
"""[deg] Anticlockwise from x."""
Bulge = Annotated[
    float,
    Field(ge=-1000, le=1000),
    Form("a bulge, tan(included angle / 4), from -1000 to 1000"),
]
"""[-] Bend of a side, positive anticlockwise."""
Name = Annotated[
    str,
    Field(min_length=1, max_length=100, pattern=r"^[^\x00-\x1f\x7f]*$"),
    Form("text of 1 to 100 characters on one line"),
]
"""A name for people."""
FileName = Annotated[
    str,
    Field(min_length=1, max_length=500, pattern=r"^[^\x00-\x1f\x7f]*$"),
    Form("text that names a file, relative to the pool file"),
]
"""A file beside the pool file."""
Scale = Annotated[
    float,
    Field(ge=1e-6, le=1e6),
    Form("a number from 0.000001 to 1000000"),
]
"""[-] A factor on lengths."""
_ColumnNumber = Annotated[int, Field(ge=1, le=1000)]
_Column = Annotated[
    Annotated[_ColumnNumber, Tag("number")] | Annotated[Name, Tag("name")],
    Discriminator(_number_or_name),
    Form("a column: its number, counted from 1, or its name in the header"),
]
Columns = Annotated[
    tuple[_Column, _Column],
    Form("a list [x, y] of two columns, each a number from 1 or a name in the header"),
]
"""Columns of x and y."""
Point = Annotated[tuple[Length, Length], Form("a point [x, y]", "point")]
"""[m] Plan coordinates."""
BentPoint = Annotated[
    Annotated[Point, Tag("point")] | Annotated[tuple[Length, Length, Bulge], Tag("bend")],
    Discriminator(_points_or_bends),
    Form("a point [x, y] or [x, y, bulge]"),
]
"""[m, m, -] A point, and the bulge of the side that starts there."""
_Along = Annotated[
    float,
    BeforeValidator(
        _length_within(0, LARGEST, "a point [x, y], or a length along the outline"),
        WrittenSizeOrZero,
    ),
]
Station = Annotated[
    Annotated[Point, Tag("list")] | Annotated[_Along, Tag("single")],
    Discriminator(list_or_single),
    Form("a point [x, y], or a length along the outline such as 3 m"),
]
"""[m] A place on the outline: a plan point, or a length along it from its first point."""
StretchStart = Annotated[
    Station | None,
    WhenLeftOut("all round"),
    Field(description="Where it starts; all round if not given."),
]
StretchEnd = Annotated[
    Station | None,
    Field(validate_default=True, description="Where it ends, anticlockwise from its start."),
]
CornerRadius = Annotated[
    Annotated[NotNegative, Tag("single")]
    | Annotated[Annotated[tuple[NotNegative, ...], Field(max_length=10_000)], Tag("list")],
    Discriminator(list_or_single),
    Form("a length of 0 or more, or a list of one for each point", "length"),
]
"""[m] One radius for every corner, or one for each point."""
