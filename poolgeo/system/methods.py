"""Rules of measurement: how net quantities become those that a bill is measured by."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, field_validator

from ..design.origin import Origin
from ..design.outlines import Part
from ..design.quantities import Area
from ..design.scale import Scale, scale_of
from ..design.sourced import Sourced
from ..design.tables import read_table
from ..design.values import Name, Positive, WhenLeftOut
from ..errors import BadValueError

Included = Literal["arris", "fillet", "strip", "coat", "bead", "rod", "piece"]


class Voids(Sourced):
    """Which openings are taken off an area."""

    up_to: Area = Field(description="An opening no larger than this is not deducted.")


class Girth(Sourced):
    """Narrow surfaces, measured by their length in bands of width.

    ::

        |<-- width -->|     up to the first band: metres of the first band; up to the second: metres
                            of the second; wider: square metres
    """

    bands: Annotated[tuple[Positive, ...], Field(min_length=1, max_length=10)] = Field(
        description="Widths at which bands end, rising."
    )

    @field_validator("bands")
    @classmethod
    def _rising(cls, bands: tuple[float, ...]) -> tuple[float, ...]:
        if list(bands) != sorted(set(bands)):
            rule = "must rise"
            raise BadValueError(rule, ", ".join(f"{band:g} m" for band in bands))
        return bands


class Deemed(Sourced):
    """Work that the areas are taken to include."""

    work: Annotated[tuple[Included, ...], Field(max_length=7)] = Field(
        description="Kinds of work that are not measured."
    )


class Method(Part):
    """One set of rules."""

    name: Name = Field(description="Name of the set.")
    units: Literal["mm", "m", "ft", "in"] = Field(description="Units of the bare lengths.")
    voids: Annotated[Voids | None, WhenLeftOut("all deducted")] = Field(
        default=None, description="Openings that are not deducted."
    )
    girth: Annotated[Girth | None, WhenLeftOut("none")] = Field(
        default=None, description="Narrow surfaces that are measured by length."
    )
    included: Annotated[Deemed | None, WhenLeftOut("nothing")] = Field(
        default=None, description="Work that is deemed included."
    )
    decimals: Annotated[int, Field(ge=0, le=6)] = Field(
        default=2, description="Decimals to which each measured quantity is rounded."
    )

    @property
    def scale(self) -> Scale:
        """The units in which it measures and rounds."""
        return scale_of(self.units)

    def rounded(self, value: float, unit: str) -> float:
        """Return a quantity (SI), of ``m``, ``m2`` or ``pieces``, as it rounds it."""
        return self.scale.rounded(value, unit, self.decimals)

    @property
    def band_names(self) -> list[tuple[str, str]]:
        """Names of its bands of width, with what each is measured in; last what is wider."""
        if self.girth is None:
            return []
        film = "mm" if self.units in {"mm", "m"} else "in"
        size = {"mm": 1e-3, "in": 0.0254}[film]
        ends = [f"{band / size:g}" for band in self.girth.bands]
        low = ["", *(f"over {end} " for end in ends[:-1])]
        bands = [f"{start}up to {end} {film} wide" for start, end in zip(low, ends, strict=True)]
        return [*((name, "m") for name in bands), (f"over {ends[-1]} {film} wide", "m2")]


def load_method(name: str, folder: Path = Path()) -> tuple[Method, Origin]:
    """Load rules of measurement: of the package by their name, or a YAML file.

    Args:
        name: Of a set of the package, or a path that ends in ``.yaml`` or ``.yml``.
        folder: That a relative path starts from.

    Returns:
        The rules, and where they are written.
    """
    return read_table(name, folder, "methods", Method, ("waterproofing", "method"))
