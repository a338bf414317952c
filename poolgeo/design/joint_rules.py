"""Rules of movement joints: data, by name from the package or from a user's own file.

Nothing here is law: a table says what a source says; the designer of the job decides.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from .finishes import FinishType
from .outlines import Part
from .places import Kinds, is_one_of
from .quantities import TemperatureStep
from .sourced import Sourced
from .tables import read_table
from .values import Name, Positive, WhenLeftOut

_Turn = Annotated[float, Field(ge=0, le=180)]


class Bays(Sourced):
    r"""How far apart joints may be, either way.

    ::

        |<----- longest ----->|      measured on the surface, along the rows of tiles and across,
        |         bay         |      from joint to joint
    """

    longest: Positive = Field(description="Longest bay.")
    exempt: Annotated[tuple[FinishType, ...], Field(max_length=5)] = Field(
        default=("render", "pebble", "plaster"),
        description="Types of finish that need no joints between others.",
    )


class ChangesOfPlane(Sourced):
    """Edges that take a joint."""

    senses: Annotated[
        tuple[Literal["internal", "external"], ...], Field(min_length=1, max_length=2)
    ] = Field(default=("internal",), description="Sense of the edges, seen from the water.")
    least_turn: _Turn = Field(
        default=15.0, description="Degrees by which the surface turns there at least."
    )
    but_not: Kinds = Field(
        default=(), description="Kinds of edge that take none, such as tread/riser."
    )
    at_coves: bool = Field(
        default=True, description="Whether coves take one where they leave their wall."
    )

    def asks(self, kind: str, sense: str, angle: float) -> bool:
        """Whether an edge takes a joint.

        Args:
            kind: Such as ``floor/wall``.
            sense: ``internal`` or ``external``.
            angle: Through the water [deg].

        Returns:
            Whether it does.
        """
        turns = abs(180.0 - angle) >= self.least_turn
        return turns and sense in self.senses and not is_one_of(kind, self.but_not or ())


class Perimeter(Sourced):
    """A joint where the finish ends: at the coping, on the wall top, at bare concrete."""


class AtFittings(Sourced):
    """Fittings that take a joint round their collar."""

    kinds: Kinds = Field(default=("*",), description="Kinds of fitting; * stands for any word.")


class OverStructure(Sourced):
    """A joint over every joint of the structure, never narrower."""


class WidthStep(Part):
    """How wide a joint is for bays up to a length."""

    bay: Positive = Field(description="Bays up to this length.")
    width: Positive = Field(description="Width of their joints.")


class WarmerBy(Part):
    """How much wider a joint is for a wide range of temperature."""

    above: TemperatureStep = Field(description="Range up to which nothing is added.")
    each: TemperatureStep = Field(description="For each so much above that.")
    adds: Positive = Field(description="Width that is added.")


class Widths(Sourced):
    """How wide joints are at least, whatever their movement."""

    least: Positive = Field(default=0.006, description="No joint is narrower.")
    steps: Annotated[tuple[WidthStep, ...], Field(max_length=20)] = Field(
        default=(), description="By the length of the bays, rising."
    )
    warmer: Annotated[WarmerBy | None, WhenLeftOut("none")] = Field(
        default=None, description="For a wide range of temperature."
    )

    def width_for(self, bay: float, temperatures: float) -> float:
        """Return the least width of a joint [m].

        Args:
            bay: Length of the bays beside it [m].
            temperatures: Range of temperature [K].

        Example:
            >>> inch, fahrenheit = 0.0254, 5 / 9
            >>> steps = {"bay": "8 ft", "width": "0.375 in"}, {"bay": "12 ft", "width": "0.5 in"}
            >>> warmer = {"above": "100 F", "each": "15 F", "adds": "0.0625 in"}
            >>> table = Widths.model_validate({"steps": steps, "warmer": warmer, "source": "-"})
            >>> [round(table.width_for(bay * 12 * inch, 100 * fahrenheit) / inch, 4)
            ...  for bay in (8, 10, 12)]
            [0.375, 0.5, 0.5]
            >>> round(table.width_for(12 * 12 * inch, 130 * fahrenheit) / inch, 4)
            0.625
        """
        hair = 1e-6
        wide = [item.width for item in self.steps if bay <= item.bay + hair]
        found = max(self.least, wide[0] if wide else max((i.width for i in self.steps), default=0))
        if self.warmer is not None and temperatures > self.warmer.above:
            over = (temperatures - self.warmer.above) / self.warmer.each
            found += math.ceil(over - hair) * self.warmer.adds
        return found


class JointRules(Part):
    """One table of rules."""

    name: Name = Field(description="What the table is of.")
    units: Literal["mm", "m", "ft", "in"] = Field(description="Units of the bare numbers.")
    bays: Bays = Field(description="How far apart joints may be.")
    changes_of_plane: Annotated[ChangesOfPlane | None, WhenLeftOut("not asked")] = Field(
        default=None, description="Joints along edges."
    )
    perimeter: Annotated[Perimeter | None, WhenLeftOut("not asked")] = Field(
        default=None, description="Joints where the finish ends."
    )
    fittings: Annotated[AtFittings | None, WhenLeftOut("not asked")] = Field(
        default=None, description="Joints round fittings."
    )
    structure: OverStructure = Field(description="Joints over those of the structure.")
    widths: Widths = Field(description="How wide joints are at least.")


def joint_rules(name: str, folder: Path = Path()) -> JointRules:
    """Return a table by its name, or from a file.

    Args:
        name: Of a table of the package, or a path that ends in ``.yaml`` or ``.yml``.
        folder: That a relative path starts from.

    Returns:
        The table; that there is none, or that it is not sound, raises `PoolFileError`.
    """
    return read_table(name, folder, "joint_rules", JointRules, ("movement_joints", "rules"))[0]
