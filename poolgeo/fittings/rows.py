"""One finding for a row of fittings that all have the same wrong with them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from ..errors import Finding

NUMBER = re.compile(r"\bF\d+(\.\d+)?\b")
"""A fitting's number within a text."""

NAMED = 5
"""Most others that a finding names."""


def folded(found: Iterable[Finding]) -> list[Finding]:
    """Fold findings that say the same of several fittings of one entry into the first of them.

    Args:
        found: In the order in which they were found.

    Returns:
        The same, in that order; those that name no fitting as they came.

    Example:
        >>> key, bow = ("fittings", 0, "start"), "sets {} on a curved wall"
        >>> row = [Finding(key, bow.format(n), "by 9 mm") for n in ("F1.1", "F1.2", "F1.3")]
        >>> [item.value for item in folded(row)]
        ['by 9 mm; likewise F1.2, F1.3']
    """
    alike: dict[tuple[object, ...], list[tuple[str, Finding]]] = {}
    for k, item in enumerate(found):
        number = NUMBER.search(f"{item.rule} {item.value}")
        says = (item.key, item.severity, NUMBER.sub("", item.rule), item.remedy)
        group = alike.setdefault((k,) if number is None else says, [])
        group.append((number[0] if number else "", item))
    return [_one(group) for group in alike.values()]


def _one(group: list[tuple[str, Finding]]) -> Finding:
    """Return the first of findings that are alike, the numbers of the others beside its value."""
    first = group[0][1]
    others = list(dict.fromkeys(number for number, _ in group[1:]))
    if not others:
        return first
    more = f" and {len(others) - NAMED} more" if len(others) > NAMED else ""
    likewise = f"likewise {', '.join(others[:NAMED])}{more}"
    return replace(first, value=f"{first.value}; {likewise}" if first.value else likewise)
