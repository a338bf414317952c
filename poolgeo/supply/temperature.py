"""What data sheets give by temperature, between their rows.

Reactions go faster the warmer it is, about twice as fast every ten degrees, so times fall along a
curve that sags between two rows of a table. A time that must not be passed (pot life, the end of a
recoat window) is read along that curve; one that must be waited for (cure, the start of the window)
along the straight line above it. So both err to the safe side.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence

Rows = Sequence[tuple[float, float]]
"""Temperature [deg C] and time [s]."""


def at_most(rows: Rows, temperature: float) -> float | None:
    """Return a time that must not be passed, at a temperature.

    Args:
        rows: Of a data sheet, in any order.
        temperature: [deg C].

    Returns:
        [s]; None where the table has no row, or ends before that temperature.

    Example:
        >>> round(at_most([(10, 3600), (30, 900)], 20))
        1800
    """
    return _between(rows, temperature, curved=True)


def at_least(rows: Rows, temperature: float) -> float | None:
    """Return a time that must be waited for, at a temperature.

    Args:
        rows: Of a data sheet, in any order.
        temperature: [deg C].

    Returns:
        [s]; None where the table has no row, or ends before that temperature.

    Example:
        >>> at_least([(10, 3600), (30, 900)], 20)
        2250.0
    """
    return _between(rows, temperature, curved=False)


def _between(rows: Rows, temperature: float, *, curved: bool) -> float | None:
    table = sorted(rows)
    if not table or not table[0][0] <= temperature <= table[-1][0]:
        return None
    i = min(bisect_right([row[0] for row in table], temperature), len(table) - 1)
    (low, before), (high, after) = table[i - 1], table[i]
    if high == low or i == 0:
        return after
    share = (temperature - low) / (high - low)
    if curved and before > 0.0 and after > 0.0:
        return math.exp((1.0 - share) * math.log(before) + share * math.log(after))
    return (1.0 - share) * before + share * after
