"""Labels of the outside of the shell."""

from __future__ import annotations

import numpy as np

from ..arrays import Ints
from ..mesh import Patch
from ..plan.keys import numbered
from ..plan.planmap import PlanMap
from ..plan.soffit import Soffits
from .labels import Labels


def soffit_labels(plan: PlanMap, labels: Labels) -> Ints:
    """Return the labels (f,) of the faces of the underside."""
    under = plan.under
    first, number = numbered(under.zone * (int(under.piece.max(initial=0)) + 1) + under.piece)
    pairs = zip(under.zone[first].tolist(), under.piece[first].tolist(), strict=True)
    names = [labels.number(soffit_patch(under, zone, piece)) for zone, piece in pairs]
    found: Ints = np.array(names, dtype=np.int64)[number]
    return found


def soffit_patch(under: Soffits, zone: int, piece: int) -> Patch:
    """Return the label of a piece of the underside."""
    n, is_level = divmod(zone, 2)
    item = under.undersides[n]
    feature = f"{item.kind} {n + 1}" if is_level else f"{item.kind} {n + 1} piece {piece + 1}"
    return Patch(item.body_of(is_level=bool(is_level)), item.kind, feature)


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


def hung_labels(plan: PlanMap, labels: Labels, upper: Ints, lower: Ints) -> Ints:
    """Return the labels (k,) of the vertical faces at which the underside steps.

    A wall that goes down beside the slab of another body is an outer wall, as one under a bond beam
    is; where the slab of one body steps, a thickened edge or a foot well is cast on the ground.

    Args:
        plan: The painted plan.
        labels: Where to number them.
        upper: (k,) the faces of the underside above them.
        lower: (k,) the faces of the underside at their feet.
    """
    under = plan.under
    far = 2 * len(under.undersides)
    pairs = under.zone[upper] * far + under.zone[lower]
    first, inverse = numbered(pairs)
    names = []
    for pair in pairs[first].tolist():
        (n, is_level), (m, at_level) = (divmod(row, 2) for row in divmod(pair, far))
        over, below = under.undersides[n], under.undersides[m]
        body = below.body_of(is_level=bool(at_level))
        steps = body == over.body_of(is_level=bool(is_level)) and over.kind == "soffit"
        kind = below.side or ("soffit step" if steps else "outer wall")
        names.append(labels.number(Patch(body, kind, "")))
    found: Ints = np.array(names, dtype=np.int64)[inverse]
    return found
