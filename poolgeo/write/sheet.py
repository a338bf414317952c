"""Units, scale and text height of the drawing.

The rule for text: the drawing is meant for one sheet of a common size, A3 where the pool is in
millimetres or metres, 11 in by 17 in where it is in feet or inches. It is plotted at the largest
usual scale at which the shell fits into the sheet's field for the plan, and there text is 2.5 mm
(3/32 in) high. Where the numbers would then fill more than `CROWDED` of the plan, the next larger
common size is taken. Model space stays at full size: one drawing unit is one unit of the pool file.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import count

from poolgeo.design.lengths import Units

from .plan_lines import Projection

_INCH = 0.0254
"""[m]"""


@dataclass(frozen=True)
class UnitSystem:
    """What a drawing in some units says of itself.

    Args:
        name: As the title has it.
        projection: From metres.
        insunits: DXF header variable ``$INSUNITS``.
        metric: DXF header variable ``$MEASUREMENT``.
    """

    name: str
    projection: Projection
    insunits: int
    metric: bool


UNIT_SYSTEMS: dict[Units, UnitSystem] = {
    "mm": UnitSystem("millimetres", Projection(1000.0, 3), 4, metric=True),
    "m": UnitSystem("metres", Projection(1.0, 6), 6, metric=True),
    "ft": UnitSystem("feet", Projection(1.0 / (12.0 * _INCH), 6), 2, metric=False),
    "in": UnitSystem("inches", Projection(1.0 / _INCH, 5), 1, metric=False),
}
"""Units of the pool file -> those of the drawing. Decimals of a coordinate: a micrometre or finer.

Source: DXF reference, header variables, $INSUNITS: 1 inches, 2 feet, 4 millimetres, 6 metres.
"""


@dataclass(frozen=True)
class Paper:
    """A sheet that drawings are plotted on.

    Args:
        name: Its size.
        width: Of the field for the plan [m]; the rest is for legend, title and margins.
        height: Of that field [m].
        text: Height of text [m].
        scales: Usual scales 1 : n with the name of each, largest first.
    """

    name: str
    width: float
    height: float
    text: float
    scales: tuple[tuple[int, str], ...]


CROWDED = 0.25
"""[-] Share of the plan that numbers may fill, each with the room around it: seen on drawings, more
and they get into each other's way. With less, leaders take the rest."""

_ROOM = 11.0
"""[heights2] What a number takes up: some six characters, and a gap about it."""

_METRIC_SCALES = tuple((n, f"1:{n}") for n in (10, 20, 25, 50, 75, 100, 150, 200, 250, 500, 1000))
_IMPERIAL_SCALES = tuple(
    (n, f'{inches}" = 1\'-0" (1:{n})')
    for n, inches in (
        (12, "1"),
        (16, "3/4"),
        (24, "1/2"),
        (32, "3/8"),
        (48, "1/4"),
        (64, "3/16"),
        (96, "1/8"),
        (128, "3/32"),
        (192, "1/16"),
        (384, "1/32"),
    )
)
_METRIC = tuple(
    Paper(name, width, height, 0.0025, _METRIC_SCALES)
    for name, width, height in (("A3", 0.270, 0.220), ("A2", 0.444, 0.343), ("A1", 0.690, 0.517))
)
"""Sheets, smallest first; beside the plan each leaves 150 mm in width and 77 mm in height."""
_IMPERIAL = tuple(
    Paper(f"{height} x {width} in", (width - 6.0) * _INCH, (height - 2.5) * _INCH,
          3.0 / 32.0 * _INCH, _IMPERIAL_SCALES)
    for height, width in ((11, 17), (17, 22), (22, 34))
)  # fmt: skip
"""Sheets, smallest first; beside the plan each leaves 6 in in width and 2.5 in in height."""


@dataclass(frozen=True)
class Plot:
    """How the drawing is meant to be plotted.

    Args:
        paper: Name of the sheet.
        scale: Name of the scale.
        text: Height of text in the drawing [m].
    """

    paper: str
    scale: str
    text: float


def plot(units: Units, width: float, height: float, numbers: int = 0) -> Plot:
    """Choose sheet, scale and text height.

    Args:
        units: Of the pool file.
        width: Of the concrete in plan [m].
        height: Of the concrete in plan [m].
        numbers: How many numbers are to stand on it.

    Returns:
        The largest usual scale that fits on the smallest sheet that the numbers do not crowd, or
        on the largest one; beyond the smallest scale, ten, twenty ... times it.
    """
    papers = _METRIC if UNIT_SYSTEMS[units].metric else _IMPERIAL
    for paper in papers:
        chosen = _on(paper, width, height)
        if numbers * _ROOM * chosen.text**2 <= CROWDED * width * height:
            break
    return chosen


def scales_of(units: Units, need: float) -> tuple[int, str]:
    """Return the largest usual scale 1 : n with n no less than needed, and its name."""
    papers = _METRIC if UNIT_SYSTEMS[units].metric else _IMPERIAL
    return _scale(papers[0], need)


def _scale(paper: Paper, need: float) -> tuple[int, str]:
    for ratio, name in paper.scales:
        if ratio >= need:
            return ratio, name
    last = paper.scales[-1][0]
    ratio = next(last * tens for tens in count(10, 10) if last * tens >= need)
    return ratio, f"1:{ratio}"


def _on(paper: Paper, width: float, height: float) -> Plot:
    ratio, name = _scale(paper, max(width / paper.width, height / paper.height))
    return Plot(paper.name, name, paper.text * ratio)
