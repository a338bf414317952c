"""Hidden: which features that stand in the water later ones cover, and how much of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from ..arrays import Floats
from ..errors import Findings, Key
from .cells import Cells
from .layers import Layer
from .tolerances import SAME_HEIGHT

MISSED = 1e-2
"""[m2] Less than this of a feature, a square of 10 cm, nobody misses."""


@dataclass(frozen=True)
class Hidden:
    """What a feature that stands on the floor loses to a later one.

    Args:
        layer: The last layer of the one, and
        by: of the other.
        lost: How much of the one in plan the other hides [m2].
        whole: How large the one is in plan, as far as it stands above the floor [m2].
        shows: Whether any of it does.
    """

    layer: Layer
    by: Layer
    lost: float
    whole: float
    shows: bool


def hidden(layers: Sequence[Layer], shown: np.ndarray, area: Floats) -> tuple[Hidden, ...]:
    """Return what features that stand on the floor lose to later ones.

    Where two are equally high they are one piece of concrete, and the earlier loses nothing as
    long as some of it shows. A cove belongs to what it lies on.

    Args:
        layers: In painting order.
        shown: (layers, faces) whether each lies on top of a face once it is painted.
        area: (faces,) [m2].
    """
    last = {_feature(item): n for n, item in enumerate(layers)}
    feature = np.array([last[_feature(item)] for item in layers])
    stands = np.array([item.over == "floor" for item in layers])
    level = np.array([item.level for item in layers])
    whole = np.zeros(len(layers))
    lost, alike = np.zeros((2, len(layers), len(layers)))
    top = np.zeros(shown.shape[1], dtype=np.int64)
    solid = [n for n, item in enumerate(layers) if not isinstance(item.height, Cells)]
    for one, own in groupby(solid[int(np.argmax(stands[solid])) :], feature.__getitem__):
        before = top.copy()
        for n in own:
            top[shown[n]] = n
        at = np.flatnonzero(top != before)
        whole[one] += area[at].sum()
        at = at[stands[before[at]]]
        same = np.abs(level[top[at]] - level[before[at]]) <= SAME_HEIGHT
        for table, on in ((lost, at[~same]), (alike, at[same])):
            np.add.at(table[:, one], feature[before[on]], area[on])
    shows = whole - (lost + alike).sum(axis=1) > MISSED
    lost += np.where(shows, 0.0, alike.T).T
    return tuple(
        Hidden(layers[one], layers[other], float(lost[one, other]), float(whole[one]),
               bool(shows[one]))
        for one, other in np.argwhere(lost > MISSED).tolist()
    )  # fmt: skip


def check_hidden(found: Sequence[Hidden], findings: Findings) -> None:
    """Warn of features that later ones hide."""
    for item in found:
        one, other = (part.flight or part.feature for part in (item.layer, item.by))
        if item.by.body != item.layer.body:
            other = item.by.body
        how = "in part" if item.shows else "wholly"
        findings.warn(
            item.layer.key,
            f"'{one}' is hidden {how} by '{other}'",
            f"{item.lost:.3f} m2 of {item.whole:.3f} m2 in plan, {item.lost / item.whole:.0%}",
            "move it, or end it at the other: of bench, ledge, steps, island, spa the last counts",
        )


def _feature(layer: Layer) -> Key:
    """Return what the layers of one feature share: its key, of another body than the pool that."""
    return layer.key if layer.over == "floor" or layer.body == "pool" else (layer.body,)
