"""What somebody may have meant who wrote a name that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def guess_of(name: str, known: Iterable[str], cutoff: float = 0.6) -> str:
    """Return a remedy that names the nearest known name; empty where none is near.

    Args:
        name: As it was written.
        known: What it may be.
        cutoff: How alike they are at least, 1 being the same.

    Example:
        >>> guess_of("membrain", ["primer", "membrane"]), guess_of("tape", ["primer"])
        ("did you mean 'membrane'?", '')
    """
    near = get_close_matches(name, list(known), n=1, cutoff=cutoff)
    return f"did you mean '{near[0]}'?" if near else ""


def guess_or_known(name: str, known: Iterable[str]) -> str:
    """Return a remedy that names the nearest known name, or all of them."""
    names = list(known)
    return guess_of(name, names) or f"known: {', '.join(names)}"
