"""Labels of the outside of the shell."""

from __future__ import annotations

import numpy as np

from ..mesh import Ints, Patch
from ..plan.planmap import PlanMap
from .labels import Labels


def soffit_labels(plan: PlanMap, labels: Labels) -> Ints:
    """Return the labels (f,) of the faces of the underside."""
    under = plan.under
    found = np.empty(len(under.zone), dtype=np.int64)
    pairs = under.zone * (int(under.piece.max(initial=0)) + 1) + under.piece
    for key in np.unique(pairs).tolist():
        mine = pairs == key
        n, is_level = divmod(int(under.zone[mine][0]), 2)
        item = under.undersides[n]
        feature = f"{n + 1}" if is_level else f"{n + 1} piece {int(under.piece[mine][0]) + 1}"
        found[mine] = labels.number(Patch(item.body, item.kind, f"{item.kind} {feature}"))
    return found


def outer_labels(plan: PlanMap, labels: Labels, faces: Ints) -> Ints:
    """Return the labels (k,) of the vertical faces on the outside of everything.

    Args:
        plan: The painted plan.
        labels: Where to number them.
        faces: (k,) the faces of the plan that they stand below.
    """
    top = plan.top[faces]
    number = np.zeros(len(plan.layers), dtype=np.int64)
    for n in np.unique(top).tolist():
        item = plan.layers[n]
        kind = "footing side" if item.kind == "footing top" else "outer wall"
        number[n] = labels.number(Patch(item.body, kind, ""))
    found: Ints = number[top]
    return found


def hung_labels(plan: PlanMap, labels: Labels, faces: Ints) -> Ints:
    """Return the labels (k,) of the vertical faces at which the underside steps.

    Args:
        plan: The painted plan.
        labels: Where to number them.
        faces: (k,) the faces of the underside above them.
    """
    under = plan.under.zone[faces] // 2
    number = np.zeros(len(plan.under.undersides), dtype=np.int64)
    for n in np.unique(under).tolist():
        item = plan.under.undersides[n]
        kind = "outer wall" if item.kind == "beam underside" else "soffit step"
        number[n] = labels.number(Patch(item.body, kind, ""))
    found: Ints = number[under]
    return found
