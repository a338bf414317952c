"""The shortest set of joints that holds one of each window: a set cover, solved and bounded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..arrays import Floats, Ints
from ..solver import quiet


@dataclass(frozen=True)
class Effort:
    """How hard a choice is looked for.

    Args:
        nodes: Of the search, at most: unlike seconds, the same on every machine. Without any,
            candidates may be taken in part: nothing costs less.
        gap: Share of its cost by which it may miss the best one.
    """

    nodes: int
    gap: float


IN_PART, FAIR, THOROUGH = Effort(0, 0.0), Effort(30, 0.05), Effort(400, 1e-7)
"""For what is asked first, for even choices, and for the shortest one."""


HALF = 0.5
"""[-] The solver's ones and zeros are told apart here."""

FEASIBLE = 2
"""What HiGHS says of a solution that holds all rows."""


@dataclass(frozen=True)
class Cover:
    """What is taken.

    Args:
        share: (n,) how much of each candidate: all or nothing, if not asked in part.
        cost: Of all that are taken.
        bound: No set costs less.
    """

    share: Floats
    cost: float
    bound: float

    @cached_property
    def taken(self) -> tuple[int, ...]:
        """The numbers of those that are taken, rising."""
        return tuple(np.flatnonzero(self.share > HALF).tolist())


def cover(
    costs: Floats, sets: Sequence[Ints], apart: Sequence[Ints], never: Ints, most: float,
    effort: Effort,
) -> Cover | None:  # fmt: skip
    """Take candidates so that each set holds one of them, at the least cost.

    Args:
        costs: (n,) of each candidate, above 0.
        sets: Numbers of candidates; none empty.
        apart: Sets of which one at most is taken.
        never: Numbers of candidates that are not taken.
        most: A choice that costs no more than this is good enough; one that costs more is none.
        effort: How hard it is looked for.

    Returns:
        The best that was found, with a bound; None where there is none.
    """
    names = np.unique(np.concatenate([*sets, *apart, np.zeros(0, dtype=np.int64)]))
    if not len(names):
        return Cover(np.zeros(len(costs)), 0.0, 0.0)
    column = np.full(len(costs), -1)
    column[names] = np.arange(len(names))
    upper = np.where(np.isin(names, never), 0.0, 1.0)
    rows = _needed([column[np.unique(row)] for row in sets], len(names))
    held = [column[np.unique(row)] for row in apart]
    found = _solved(costs[names], upper, rows, held, most, effort)
    if found is None:
        return None
    share = np.zeros(len(costs))
    share[names] = found[0]
    return Cover(share, *found[1:])


def _needed(rows: Sequence[Ints], count: int) -> list[Ints]:
    """Return the sets that hold no other one: who has one of each of them has one of all."""
    if not FEW < len(rows) < MANY:
        return list(rows)
    holds = np.zeros((len(rows), count), dtype=np.float32)
    for i, row in enumerate(rows):
        holds[i, row] = 1.0
    size = holds.sum(axis=1)
    order = np.argsort(size, kind="stable")
    holds, size = holds[order], size[order]
    inside = (holds @ holds.T) == size[:, None]  # the one within the other
    redundant = np.triu(inside, 1).any(axis=0)
    return [rows[order[i]] for i in np.flatnonzero(~redundant).tolist()]


FEW, MANY = 100, 6000
"""Sets are only looked through where there are more than the first and fewer than the second."""


def _solved(
    costs: Floats,
    upper: Floats,
    rows: Sequence[Ints],
    apart: Sequence[Ints],
    most: float,
    effort: Effort,
) -> tuple[Floats, float, float] | None:
    import highspy

    solver = quiet()
    solver.addVars(len(costs), np.zeros(len(costs)), upper)
    every = np.arange(len(costs), dtype=np.int32)
    solver.changeColsCost(len(costs), every, costs)
    if effort.nodes:
        whole = np.full(len(costs), highspy.HighsVarType.kInteger)
        solver.changeColsIntegrality(len(costs), every, whole)
        solver.setOptionValue("mip_rel_gap", effort.gap)
        solver.setOptionValue("mip_max_nodes", effort.nodes)
        if most < np.inf:
            solver.setOptionValue("objective_target", most)
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
    cost = float(info.objective_function_value)
    bound = float(info.mip_dual_bound) if effort.nodes else cost
    return np.array(solver.getSolution().col_value), cost, bound
