"""What it is to ask a limit: whether it holds at a place, and whether a value passes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..design.rules import Limit, RuleTable
from ..errors import Key
from .features.site import Site

EQUAL = 1e-6
"""[-] A value passes a limit when it does by more than this share of it."""

AS_DEEP = 1e-6
"""[m] Water that is less deep than a limit says by no more than this is as deep."""

REMEDY = "the code that holds at the site decides"


@dataclass(frozen=True)
class Asked:
    """One limit of a table, asked of a pool.

    Args:
        table: The table.
        limit: The limit.
        site: The pool as a body of water; its findings take the warnings.
    """

    table: RuleTable
    limit: Limit
    site: Site

    def holds(self, depth: float) -> bool:
        """Return whether the limit holds in water of a depth [m]."""
        below = self.limit.shallower_than
        return below is None or depth < below - AS_DEEP

    def bound(self, value: float) -> str:
        """Return what a length [m] should be if it passes the limit, else nothing."""
        limit = self.limit
        if limit.most is not None and value > limit.most * (1.0 + EQUAL):
            return f"at most {limit.most:.3f} m"
        if limit.least is not None and value < limit.least * (1.0 - EQUAL):
            return f"at least {limit.least:.3f} m"
        return ""

    def worst(self, values: Sequence[float], depths: Sequence[float]) -> int | None:
        """Return which of some lengths [m] passes the limit furthest where it holds; None if none.

        Args:
            values: The lengths; what is no number passes no limit.
            depths: Depth of the water at each [m].
        """
        passing = [
            i
            for i, (value, depth) in enumerate(zip(values, depths, strict=True))
            if self.holds(depth) and self.bound(value)
        ]
        furthest = min if self.limit.most is None else max
        return furthest(passing, key=lambda i: values[i]) if passing else None

    def is_too_steep(self, slope: float) -> bool:
        """Return whether a slope [-] passes the limit."""
        return slope > (self.limit.steepest or np.inf) * (1.0 + EQUAL)

    def warn(self, key: Key, what: str, value: str, bound: str) -> None:
        """Leave a warning.

        Args:
            key: In the pool file.
            what: What passes the limit.
            value: How large it is.
            bound: What it should be.
        """
        where = f" where it is less than {self.limit.shallower_than:.3f} m deep" if (
            self.limit.shallower_than is not None) else ""  # fmt: skip
        memory = ", from memory" if self.limit.from_memory else ""
        self.site.findings.warn(
            key,
            f"{what} should be {bound}{where} [{self.table.name}: {self.limit.source}{memory}]",
            value,
            REMEDY,
        )
