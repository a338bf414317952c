"""The limits of the tables that come with the package, against the codes that they are taken from.

Sources, read 2026: Wisconsin Administrative Code SPS 390.11 (7) and (8), SPS 390.12 (3) (a);
Arizona Administrative Code R18-5-212; Indiana Administrative Code 675 IAC 20-2-10 and
675 IAC 14-4.3-283.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from poolgeo.design.rules import rule_table

INCH, FOOT = 0.0254, 0.3048

PUBLISHED = [
    ("wisconsin-public", "floor slope", 1.0 / 12.0, 5.0 * FOOT),
    ("wisconsin-public", "cove radius", 6.0 * INCH, 5.0 * FOOT),
    ("wisconsin-public", "riser", 10.0 * INCH, None),
    ("wisconsin-public", "tread", 10.0 * INCH, None),
    ("arizona-public", "floor slope", 1.0 / 10.0, 4.0 * FOOT),
    ("arizona-public", "floor slope", 1.0 / 3.0, None),
    ("indiana-public", "bench depth", 20.0 * INCH, None),
    ("indiana-residential", "tread", 10.0 * INCH, None),
    ("indiana-residential", "riser", 12.0 * INCH, None),
    ("indiana-residential", "top step", 12.0 * INCH, None),
]


@pytest.mark.parametrize(("table", "of", "value", "depth"), PUBLISHED)
def test_the_table_says_what_the_code_says(
    table: str, of: str, value: float, depth: float | None
) -> None:
    """In metres, as it is read."""
    found = [
        (item.steepest or item.most or item.least or 0.0, item.shallower_than or 0.0)
        for item in rule_table(table, Path()).limits
        if item.of == of
    ]
    wanted = value, depth or 0.0
    assert any(pair == pytest.approx(wanted, rel=1e-12) for pair in found)


def test_no_limit_stands_in_a_table_that_is_not_compared_here() -> None:
    """Each of them has a line above."""
    tables = {table for table, *_ in PUBLISHED}
    assert sum(len(rule_table(table, Path()).limits) for table in tables) == len(PUBLISHED)
