"""Prices: of packs from the system file, of packs and of work from a price book."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from ..design.csvfile import Row, number_in, rows_of
from ..errors import BadValueError, Finding, PoolFileError

COLUMNS = ("item", "unit", "rate")
"""What the first line of a price book names, in any order."""


@dataclass(frozen=True)
class PriceBook:
    """Rates by item and unit.

    Args:
        rates: Of an item and its unit: a material and its pack, or an item of work and its
            unit of measurement.
        currency: Empty where it is not known.
    """

    rates: Mapping[tuple[str, str], float]
    currency: str = ""

    def rate(self, item: str, unit: str, otherwise: float | None = None) -> float | None:
        """Return the rate of an item; where there is none, another or None."""
        return self.rates.get((item, unit), otherwise)


def read_prices(path: Path, known: Sequence[tuple[str, str]]) -> dict[tuple[str, str], float]:
    """Read a price book: a CSV file with the columns item, unit and rate.

    Args:
        path: The file.
        known: Items with their units that a rate can be for.

    Returns:
        The rates.

    Raises:
        PoolFileError: With everything that is wrong with it, in the order of its lines.
    """
    place = str(path)
    try:
        mark, rows = rows_of(path)
    except FileNotFoundError:
        raise PoolFileError([Finding((), "the price book must exist").at(place, None)]) from None
    except OSError as error:
        rule = "the price book must be readable"
        raise PoolFileError([Finding((), rule, error.strerror or "").at(place, None)]) from None
    except BadValueError as error:
        finding = Finding((), f"the price book {error.rule}", error.value, error.remedy)
        raise PoolFileError([finding.at(place, None)]) from None
    header = rows[0][1] if rows else []
    if sorted(set(COLUMNS) & set(header)) != sorted(COLUMNS):
        rule = f"the price book must begin with a line that names {', '.join(COLUMNS)}"
        raise PoolFileError([Finding((), rule, mark.join(header) or "an empty file").at(place, 1)])
    at = [header.index(name) for name in COLUMNS]
    rates, wrong = {}, []
    for row in rows[1:]:
        entry = _entry(row, at, mark, known)
        if isinstance(entry, Finding):
            wrong.append(entry.at(place, row[0]))
        elif entry[0] in rates:
            again = Finding((), "each item must stand in one line only", ", ".join(entry[0]))
            wrong.append(again.at(place, row[0]))
        else:
            rates[entry[0]] = entry[1]
    if wrong:
        raise PoolFileError(wrong)
    return rates


def _entry(
    row: Row, at: Sequence[int], mark: str, known: Sequence[tuple[str, str]]
) -> tuple[tuple[str, str], float] | Finding:
    """Return an item with its unit, and its rate; or what is wrong with the line."""
    cells = row[1]
    item, unit = (cells[k] if k < len(cells) else "" for k in at[:2])
    rate = number_in(cells, at[2], mark)
    if (item, unit) not in known:
        units = [of for name, of in known if name == item]
        if units:
            rule = f"the unit of '{item}' must be {' or '.join(dict.fromkeys(units))}"
            return Finding((), rule, f"'{unit}'")
        names = list(dict.fromkeys(name for name, _ in known))
        near = get_close_matches(item, names, n=1)
        remedy = f"did you mean '{near[0]}'?" if near else f"known: {', '.join(names)}"
        return Finding((), "must be a material or work of this system", f"'{item}'", remedy)
    if math.isnan(rate) or rate < 0.0:
        came = cells[at[2]] if at[2] < len(cells) else "nothing"
        return Finding((), "a rate must be a number, 0 or more", f"'{came}'")
    return (item, unit), rate
