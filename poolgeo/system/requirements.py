"""Requirements: what a system is compared with; data that the user can change."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from ..design.origin import Origin
from ..design.outlines import Part
from ..design.quantities import Film, Share, Stress
from ..design.sourced import Sourced
from ..design.tables import read_table
from ..design.values import Name, Positive, WhenLeftOut

PRACTICE = "common practice, no source"


class Requirement(Sourced):
    """A requirement and where it comes from."""

    source: Name = Field(default=PRACTICE, description="Where that is written.")


class FilmLimit(Requirement):
    """Least dry film of a membrane."""

    family: Name = Field(description="Chemistry of the membrane.")
    deeper_than: Annotated[Positive | None, WhenLeftOut("all depths")] = Field(
        default=None, description="It holds where the water is deeper."
    )
    least: Film = Field(description="Least dry film of all coats together.")


class DepthClass(Requirement):
    """A class of basins by the height of the water."""

    name: Name = Field(description="Name of the class.")
    up_to: Positive = Field(description="Largest depth of the water.")


class LeastStress(Requirement):
    """A least strength."""

    least: Stress = Field(description="The least.")


class LeastFilm(Requirement):
    """A least width."""

    least: Film = Field(description="The least.")


class RepairClass(Requirement):
    """A class of repair mortar."""

    name: Name = Field(description="Name of the class.")
    strength: Stress = Field(description="Least compressive strength.")
    bond: Stress = Field(description="Least bond.")


class Bedding(Requirement):
    """How tile lies in its adhesive."""

    contact: Share = Field(description="Least share of the tile's back that the adhesive holds.")
    thickness: Film = Field(description="Least thickness of the bed.")


class Requirements(Part):
    """What a system is compared with."""

    name: Name = Field(description="Name of the table.")
    units: Literal["mm", "m", "ft", "in"] = Field(description="Units of the bare lengths.")
    films: Annotated[tuple[FilmLimit, ...], Field(max_length=100)] = Field(
        default=(), description="Least dry films by the chemistry of the membrane."
    )
    classes: Annotated[tuple[DepthClass, ...], Field(max_length=20)] = Field(
        default=(), description="Classes of basins by depth, rising."
    )
    bond: Annotated[LeastStress | None, WhenLeftOut("not asked")] = Field(
        default=None, description="Least bond of a membrane."
    )
    crack_bridging: Annotated[LeastFilm | None, WhenLeftOut("not asked")] = Field(
        default=None, description="Widest crack that a membrane must bridge."
    )
    repair: Annotated[tuple[RepairClass, ...], Field(max_length=20)] = Field(
        default=(), description="Classes of repair mortar."
    )
    bedding: Annotated[Bedding | None, WhenLeftOut("not asked")] = Field(
        default=None, description="How tile lies in its adhesive."
    )
    tightness_test_first: Annotated[Requirement | None, WhenLeftOut("not asked")] = Field(
        default=None, description="The bare shell's tightness test comes before any coat."
    )


def load_requirements(name: str, folder: Path = Path()) -> tuple[Requirements, Origin]:
    """Load requirements: of the package by their name, or a YAML file.

    Args:
        name: Of a table of the package, or a path that ends in ``.yaml`` or ``.yml``.
        folder: That a relative path starts from.

    Returns:
        The table, and where it is written.
    """
    return read_table(name, folder, "requirements", Requirements, ("waterproofing", "requirements"))
