"""Units, scale and text height of the drawing.

The rule for text: the drawing is meant for one sheet of a common size, A3 where the pool is in
millimetres or metres, 11 in by 17 in where it is in feet or inches. It is plotted at the largest
usual scale at which the shell fits into the sheet's field for the plan, and there text is 2.5 mm
(3/32 in) high. Model space stays at full size: one drawing unit is one unit of the pool file.
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


_METRIC = Paper(
    "A3",
    width=0.270,
    height=0.220,
    text=0.0025,
    scales=tuple((n, f"1:{n}") for n in (10, 20, 25, 50, 75, 100, 150, 200, 250, 500, 1000)),
)
_IMPERIAL = Paper(
    "11 x 17 in",
    width=11.0 * _INCH,
    height=8.5 * _INCH,
    text=3.0 / 32.0 * _INCH,
    scales=tuple(
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
    ),
)


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


def plot(units: Units, width: float, height: float) -> Plot:
    """Choose scale and text height.

    Args:
        units: Of the pool file.
        width: Of the shell in plan [m].
        height: Of the shell in plan [m].

    Returns:
        The largest usual scale that fits; beyond the smallest of them, ten, twenty ... times it.
    """
    paper = _METRIC if UNIT_SYSTEMS[units].metric else _IMPERIAL
    need = max(width / paper.width, height / paper.height)
    for ratio, name in paper.scales:
        if ratio >= need:
            return Plot(paper.name, name, paper.text * ratio)
    last = paper.scales[-1][0]
    ratio = next(last * tens for tens in count(10, 10) if last * tens >= need)
    return Plot(paper.name, f"1:{ratio}", paper.text * ratio)
