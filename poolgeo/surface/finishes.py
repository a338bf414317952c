"""Which external edge takes which arris."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..design.arris import Arris, ArrisElsewhere, EdgeGroup
from ..errors import Key
from ..mesh import Patch
from .kinds import GROUP_OF

PRECEDENCE: tuple[EdgeGroup, ...] = (
    "dam walls", "weirs", "wall tops", "recesses", "steps", "benches", "wall corners",
)  # fmt: skip
"""Where an edge is, if both kinds that meet there are of different places: the first of these."""


@dataclass(frozen=True)
class Finish:
    """How an edge is finished, and the key that says so."""

    form: str
    size: float
    key: Key


def group_of(kind: str) -> EdgeGroup:
    """Return where the edges of a kind of run are, such as ``steps``; the rest are floor breaks."""
    both = {GROUP_OF[part] for part in kind.split("/")}
    return next((name for name in PRECEDENCE if name in both), "floor breaks")


def finish_of(arris: Arris, kind: str, patches: Sequence[Patch]) -> Finish:
    """Return how an edge is finished; brows of the floor are square where nothing names them."""
    group = group_of(kind)
    found = Finish(arris.form, arris.size or 0.0, ("arris",))
    if group == "floor breaks":
        found = Finish("square", 0.0, ("arris",))
    for i, item in enumerate(arris.elsewhere):
        if is_said_of(item, group, patches):
            found = Finish(item.form, item.size or 0.0, ("arris", "elsewhere", i))
    return found


def is_said_of(item: ArrisElsewhere, group: str, patches: Sequence[Patch]) -> bool:
    """Whether what is said of some edges is said of these."""
    if item.at not in (None, group):
        return False
    name = item.feature
    return name is None or any(f"{patch.feature} ".startswith(f"{name} ") for patch in patches)
