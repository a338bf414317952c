"""The shortest set of joints that holds one of each window: a set cover, solved and bounded."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

H = TypeVar("H")


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


def least(sets: Iterable[frozenset[int]]) -> list[frozenset[int]]:
    """Return the sets that hold no other: who hits those hits all."""
    found: list[frozenset[int]] = []
    for item in sorted(set(sets), key=len):
        if not any(other <= item for other in found):
            found.append(item)
    return found


def cover(costs: Mapping[int, float], sets: Iterable[frozenset[int]]) -> Cover:
    """Take candidates so that each set holds one of them, at the least cost.

    Args:
        costs: Of each candidate, above 0.
        sets: None empty.

    Returns:
        The optimum, or the best found within the solver's time, with a bound.
    """
    asked = least(sets)
    if not asked:
        return Cover(frozenset(), 0.0, 0.0)
    names = sorted({name for item in asked for name in item})
    place = {name: k for k, name in enumerate(names)}
    return _solved(names, [costs[name] for name in names],
                   [sorted(place[name] for name in item) for item in asked])  # fmt: skip


def _solved(names: list[int], costs: list[float], rows: list[list[int]]) -> Cover:
    import highspy

    solver = highspy.Highs()
    solver.silent()
    solver.setOptionValue("mip_rel_gap", 1e-6)
    solver.setOptionValue("time_limit", 20.0)
    solver.setOptionValue("threads", 1)
    solver.addVars(len(names), np.zeros(len(names)), np.ones(len(names)))
    every = np.arange(len(names), dtype=np.int32)
    solver.changeColsCost(len(names), every, np.array(costs, dtype=float))
    kinds = [highspy.HighsVarType.kInteger] * len(names)
    solver.changeColsIntegrality(len(names), every, np.array(kinds))
    for row in rows:
        solver.addRow(1.0, highspy.kHighsInf, len(row), np.array(row, dtype=np.int32),
                      np.ones(len(row)))  # fmt: skip
    solver.run()
    values = np.array(solver.getSolution().col_value)
    taken = frozenset(names[k] for k in np.flatnonzero(values > 0.5).tolist())
    info = solver.getInfo()
    return Cover(taken, float(info.objective_function_value), float(info.mip_dual_bound))
