"""Linear and integer programs over cutting patterns, solved by HiGHS."""

from __future__ import annotations

from collections.abc import Sequence

from ..solver import quiet
from .knapsack import Pattern

SECONDS = 0.5
"""What the integer program may take; with the nodes below it is seldom reached."""
MOST_NODES = 400
"""Nodes of the integer program's search: unlike seconds, the same on every machine."""


class Cover:
    """The linear program: fewest rolls whose patterns cover every length as often as needed.

    Args:
        counts: (k,) how often each length is needed.
        loose: Length that may be cut anywhere, to go where the patterns leave room [m].
    """

    def __init__(self, counts: Sequence[int], loose: float = 0.0) -> None:
        self._highs = quiet()
        for least in (*counts, loose):
            self._highs.addRow(float(least), float("inf"), 0, [], [])
        self._loose_row = len(counts)

    def add(self, pattern: Pattern, spare: float) -> None:
        """Add a pattern that leaves some length of its roll [m]."""
        rows = [*(place for place, _ in pattern), self._loose_row]
        values = [*(float(times) for _, times in pattern), max(spare, 0.0)]
        self._highs.addCol(1.0, 0.0, float("inf"), len(rows), rows, values)

    def solve(self) -> tuple[float, list[float], float]:
        """Return the number of rolls, each length's price in rolls, and that of a loose metre."""
        self._highs.run()
        *prices, loose = (max(float(price), 0.0) for price in self._highs.getSolution().row_dual)
        return float(self._highs.getInfo().objective_function_value), prices, loose


def whole_rolls(
    patterns: Sequence[Pattern], counts: Sequence[int], below: int
) -> tuple[list[Pattern], bool]:
    """Choose the fewest rolls of given patterns that cover every length as often as needed.

    Args:
        patterns: To choose from.
        counts: (k,) how often each length is needed.
        below: Only fewer rolls than this are of use.

    Returns:
        The pattern of each roll, none when fewer were not found; and whether it is proven that the
        given patterns allow no better.
    """
    import highspy

    highs = quiet()
    highs.setOptionValue("time_limit", SECONDS)
    highs.setOptionValue("mip_max_nodes", MOST_NODES)
    highs.setOptionValue("mip_abs_gap", 0.99)  # rolls are whole: less than one is no gap
    highs.setOptionValue("mip_rel_gap", 0.0)
    for least in counts:
        highs.addRow(float(least), float("inf"), 0, [], [])
    for column, pattern in enumerate(patterns):
        rows, values = [place for place, _ in pattern], [float(times) for _, times in pattern]
        highs.addCol(1.0, 0.0, float(below), len(rows), rows, values)
        highs.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    highs.run()
    proven = highs.getModelStatus() == highspy.HighsModelStatus.kOptimal
    times = [round(value) for value in highs.getSolution().col_value]
    if not times or not _cover(patterns, times, counts) or sum(times) >= below:
        return [], proven
    return [p for p, n in zip(patterns, times, strict=True) for _ in range(n)], proven


def _cover(patterns: Sequence[Pattern], times: Sequence[int], counts: Sequence[int]) -> bool:
    left = list(counts)
    for pattern, rolls in zip(patterns, times, strict=True):
        for place, cut in pattern:
            left[place] -= cut * rolls
    return all(value <= 0 for value in left)
