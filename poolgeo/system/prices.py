"""Prices: of packs from the system file, of packs and of work from a price book."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from ..design.csvfile import Row, number_in, rows_of
from ..design.guess import guess_of
from ..errors import BadValueError, Finding, PoolFileError
from .items import CUSTOMARY_UNITS, Item

COLUMNS = ("item", "unit", "rate")
"""What the first line of a price book names, in any order."""


ASKED = ("waterproofing", "prices")
"""Key of the pool file that names a price book."""

ALIKE = 0.8
"""Of names that are more alike, one is likely a slip."""


@dataclass(frozen=True)
class PriceBook:
    """Rates by item and unit.

    Args:
        rates: Of an item and its unit: a material and its pack, or an item of work and its
            unit of measurement.
        currency: Empty where it is not known.
        unused: Lines of the price book for what the system has not.
    """

    rates: Mapping[Item, float]
    currency: str = ""
    unused: tuple[Finding, ...] = ()

    def rate(self, item: str, unit: str, otherwise: float | None = None) -> float | None:
        """Return the rate of an item; where there is none, another or None."""
        return self.rates.get((item, unit), otherwise)


def read_prices(path: Path, known: Sequence[Item]) -> tuple[dict[Item, float], list[Finding]]:
    """Read a price book: a CSV file with the columns item, unit and rate.

    Args:
        path: The file.
        known: Items with their units that a rate can be for.

    Returns:
        The rates, and notes on lines that are not used: a book may serve several systems.

    Raises:
        PoolFileError: With everything that is wrong with it, in the order of its lines.
    """
    place = str(path)
    mark, rows = _rows(path, place)
    number, header = rows[0] if rows else (1, [])
    if sorted(set(COLUMNS) & set(header)) != sorted(COLUMNS):
        rule = f"the price book must begin with a line that names {', '.join(COLUMNS)}"
        came = mark.join(header) or "an empty file"
        raise PoolFileError([Finding((), rule, came).at(place, number)])
    if any(header.count(name) > 1 for name in COLUMNS):
        rule = "the price book must name each column once"
        raise PoolFileError([Finding((), rule, mark.join(header)).at(place, number)])
    at = [header.index(name) for name in COLUMNS]
    rates: dict[Item, float] = {}
    wrong: list[Finding] = []
    unused: list[Finding] = []
    commas = any("," in cells[at[2]] for _, cells in rows[1:] if len(cells) > at[2])
    for row in rows[1:]:
        item, rate = _entry(row, at, mark)
        found = _uneven(row, header, at, commas=commas) or _fault(item, rate, row, at, known)
        if found is None and item in rates:
            found = Finding((), "each item must stand in one line only", ", ".join(item))
        if found is None:
            rates[item] = rate
        else:
            (wrong if found.severity == "error" else unused).append(found.at(place, row[0]))
    if wrong:
        raise PoolFileError(wrong)
    return rates, unused


def _rows(path: Path, place: str) -> tuple[str, list[Row]]:
    try:
        return rows_of(path)
    except FileNotFoundError:
        finding = Finding(ASKED, "the price book must exist", place, "name a file beside this one")
        raise PoolFileError([finding]) from None
    except OSError as error:
        rule = "the price book must be readable"
        raise PoolFileError([Finding((), rule, error.strerror or "").at(place, None)]) from None
    except BadValueError as error:
        finding = Finding((), f"the price book {error.rule}", error.value, error.remedy)
        raise PoolFileError([finding.at(place, None)]) from None


def _entry(row: Row, at: Sequence[int], mark: str) -> tuple[Item, float]:
    """Return an item with its unit, and its rate; that is nan where it is no number."""
    cells = row[1]
    item, unit = (cells[k] if k < len(cells) else "" for k in at[:2])
    unit, size = CUSTOMARY_UNITS.get(unit, (unit, 1.0))
    return (item, unit), number_in(cells, at[2], mark) / size


def _uneven(row: Row, header: Sequence[str], at: Sequence[int], *, commas: bool) -> Finding | None:
    """Return what is wrong with the cells of a line: too many, or two decimal marks in a file."""
    _, cells = row
    if len(cells) > len(header):
        rule = f"must have {len(header)} cells, as the first line has"
        remedy = "with decimal commas, part the cells by semicolons"
        return Finding((), rule, f"{len(cells)}", remedy)
    if commas and "." in (cells[at[2]] if len(cells) > at[2] else ""):
        rule = "a rate must have a decimal comma, as others have"
        return Finding((), rule, f"'{cells[at[2]]}'", "write no mark between thousands")
    return None


def _fault(
    item: Item, rate: float, row: Row, at: Sequence[int], known: Sequence[Item]
) -> Finding | None:
    """Return what is wrong with a line; a note where it is of no use only."""
    name, unit = item
    if math.isnan(rate) or rate < 0.0:
        came = row[1][at[2]] if at[2] < len(row[1]) else "nothing"
        return Finding((), "a rate must be a number, 0 or more", f"'{came}'")
    if item in known:
        return None
    units = [of for other, of in known if other == name]
    if units:
        rule = f"the unit of '{name}' must be {' or '.join(dict.fromkeys(units))}"
        return Finding((), rule, f"'{unit}'")
    remedy = guess_of(name, [other for other, _ in known], ALIKE)
    return Finding((), "is not of this system, so not used", f"'{name}'", remedy,
                   severity="warning" if remedy else "note")  # fmt: skip
