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
    return [item for group in alike.values() for item in _of_the_first(group)]


def _of_the_first(group: list[tuple[str, Finding]]) -> list[Finding]:
    """Return what is found of the first fitting, the numbers of the others beside its value."""
    number, first = group[0]
    mine = [item for name, item in group[1:] if name == number]
    others = list(dict.fromkeys(name for name, _ in group if name != number))
    if others:
        more = f" and {len(others) - NAMED} more" if len(others) > NAMED else ""
        likewise = f"likewise {', '.join(others[:NAMED])}{more}"
        first = replace(first, value=f"{first.value}; {likewise}" if first.value else likewise)
    return [first, *mine]
