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
    """Fold findings of one entry that say the same of several fittings into the first of them.

    Args:
        found: In the order in which they were found.

    Example:
        >>> bow = "sets {} on a curved wall"
        >>> keys = [Finding(("fittings", 0, "start"), bow.format(n), "by 9 mm") for n in ("F1.1", "F1.2")]
        >>> [item.value for item in folded(keys)]
        ['by 9 mm; the same for F1.2']
    """
    alike: dict[tuple[object, ...], list[Finding]] = {}
    for item in found:
        says = (item.key, item.severity, NUMBER.sub("", item.rule), item.remedy)
        alike.setdefault(says, []).append(item)
    return [_one(group) for group in alike.values()]


def _one(group: list[Finding]) -> Finding:
    """Return the first of findings that are alike, the numbers of the others beside its value."""
    first, *others = group
    matches = [NUMBER.search(f"{item.rule} {item.value}") for item in others]
    numbers = list(dict.fromkeys(match[0] for match in matches if match))
    if not numbers:
        return first
    more = f" and {len(numbers) - NAMED} more" if len(numbers) > NAMED else ""
    same = f"the same for {', '.join(numbers[:NAMED])}{more}"
    return replace(first, value=f"{first.value}; {same}" if first.value else same)
