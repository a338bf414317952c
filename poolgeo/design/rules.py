"""Tables of what local codes allow: data, by name from the package or from a user's own file.

Nothing here is law. A table says what a source says, or what its writer remembers of it; the code
that holds at the site decides.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from poolgeo.errors import BadValueError

from .outlines import Part
from .sourced import Sourced
from .tables import read_table, shipped
from .values import Name, Positive, Ratio, WhenLeftOut

Limited = Literal["floor slope", "cove radius", "riser", "tread", "top step", "bench depth"]


class Limit(Sourced):
    """One limit.

    ``riser`` is the height from tread to tread and from the last one to the floor, ``top step``
    that from the top of the wall to the first tread, ``tread`` a going, ``bench depth`` the water
    over a bench or a ledge of the pool, ``cove radius`` that of each cove along the walls of the
    pool or a spa.
    """

    of: Limited = Field(description="What is limited.")
    steepest: Annotated[Ratio | None, WhenLeftOut("none")] = Field(
        default=None, description="The steepest floor slope, rise over run."
    )
    most: Annotated[Positive | None, WhenLeftOut("none")] = Field(
        default=None, description="The largest length."
    )
    least: Annotated[Positive | None, WhenLeftOut("none")] = Field(
        default=None, validate_default=True, description="The least length."
    )

    @field_validator("least")
    @classmethod
    def _one_value(cls, least: float | None, info: ValidationInfo) -> float | None:
        if not {"of", "steepest", "most"} <= info.data.keys():
            return least
        is_slope = info.data["of"] == "floor slope"
        given = [key for key in ("steepest", "most") if info.data[key] is not None]
        given += ["least"] if least is not None else []
        if len(given) != 1 or (given == ["steepest"]) != is_slope:
            wanted = "'steepest'" if is_slope else "either 'most' or 'least'"
            rule = f"must stand in a limit that gives {wanted} and nothing else"
            raise BadValueError(rule, ", ".join(given) or "none of them")
        return least

    shallower_than: Annotated[Positive | None, WhenLeftOut("everywhere")] = Field(
        default=None,
        description="It holds where the water is less deep than this: at the wall for a cove,"
        " over the tread for a riser.",
    )


class RuleTable(Part):
    """The limits of one code."""

    name: Name = Field(description="What the table is of: place and kind of pool.")
    units: Literal["mm", "m", "ft", "in"] = Field(description="Units of the bare numbers.")
    limits: Annotated[tuple[Limit, ...], Field(min_length=1, max_length=100)] = Field(
        description="The limits."
    )


def rule_tables() -> list[str]:
    """Return the names of the tables that come with the package."""
    return shipped("rules")


def rule_table(name: str, folder: Path) -> RuleTable:
    """Return a table by its name, or from a file.

    Args:
        name: Of a table of the package, or a path that ends in ``.yaml`` or ``.yml``.
        folder: That a relative path starts from.

    Returns:
        The table; that there is none, or that it is not sound, raises `PoolFileError`.
    """
    return read_table(name, folder, "rules", RuleTable, ("rules",))[0]
