"""The shortest set of joints that holds one of each window: a set cover, solved and bounded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats, Ints
from ..solver import quiet

MOST_NODES = 500
"""Nodes of the search: unlike seconds, the same on every machine."""


FEASIBLE = 2
"""What HiGHS says of a solution that holds all rows."""


@dataclass(frozen=True)
class Cover:
    """What is taken.

    Args:
        taken: Numbers of the candidates.
        cost: Of all that are taken.
        bound: No set costs less.
    """

    taken: frozenset[int]
    cost: float
    bound: float


def cover(
    costs: Floats, sets: Sequence[Ints], apart: Sequence[Ints], never: Ints, most: float
) -> Cover | None:
    """Take candidates so that each set holds one of them, at the least cost.

    Args:
        costs: (n,) of each candidate, above 0.
        sets: Numbers of candidates; none empty.
        apart: Sets of which one at most is taken.
        never: Numbers of candidates that are not taken.
        most: A choice that costs no more than this is good enough; one that costs more is none.

    Returns:
        The optimum, or the best found within `MOST_NODES`, with a bound; None where there is none.
    """
    if not sets:
        return Cover(frozenset(), 0.0, 0.0)
    names = np.unique(np.concatenate(sets))
    column = np.full(len(costs), -1)
    column[names] = np.arange(len(names))
    upper = np.where(np.isin(names, never), 0.0, 1.0)
    held = [found[found >= 0] for found in (column[np.unique(row)] for row in apart)]
    rows = [column[np.unique(row)] for row in sets]
    held = [row for row in held if len(row) > 1]
    found = _solved(costs[names], upper, rows, held, most)
    return None if found is None else Cover(frozenset(names[found.own].tolist()), *found.values)


@dataclass(frozen=True)
class _Found:
    own: Ints
    values: tuple[float, float]


def _solved(
    costs: Floats, upper: Floats, rows: Sequence[Ints], apart: Sequence[Ints], most: float
) -> _Found | None:
    import highspy

    solver = quiet()
    solver.setOptionValue("mip_rel_gap", 1e-7)
    solver.setOptionValue("mip_max_nodes", MOST_NODES)
    if most < np.inf:
        solver.setOptionValue("objective_bound", most)
        solver.setOptionValue("objective_target", most)
    solver.addVars(len(costs), np.zeros(len(costs)), upper)
    every = np.arange(len(costs), dtype=np.int32)
    solver.changeColsCost(len(costs), every, costs)
    whole = np.full(len(costs), highspy.HighsVarType.kInteger)
    solver.changeColsIntegrality(len(costs), every, whole)
    every_row = [*rows, *apart]
    sizes = np.array([len(row) for row in every_row])
    places = np.concatenate(every_row).astype(np.int32)
    low = np.repeat([1.0, 0.0], [len(rows), len(apart)])
    high = np.repeat([highspy.kHighsInf, 1.0], [len(rows), len(apart)])
    start = (np.cumsum(sizes) - sizes).astype(np.int32)
    solver.addRows(len(sizes), low, high, len(places), start, places, np.ones(len(places)))
    solver.run()
    info = solver.getInfo()
    if info.primal_solution_status != FEASIBLE:
        return None
    values = np.array(solver.getSolution().col_value)
    cost, bound = float(info.objective_function_value), float(info.mip_dual_bound)
    return _Found(np.flatnonzero(values > 0.5), (cost, bound))
