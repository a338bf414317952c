"""Where one zone of the surface ends and the next begins, as lines to draw."""

from __future__ import annotations

import numpy as np

from poolgeo.model import Model

from ..arrays import Floats


def zone_lines(model: Model) -> Floats:
    """Return the segments (k, 2, 3) on which zones meet within one face of concrete [m].

    The edges of the waterline band on walls and on what stands in the water, and of the return on
    the wall top; edges of the concrete itself are none.
    """
    mesh = model.surface
    ends, (one, other) = mesh.pairs
    same = mesh.patch[one] == mesh.patch[other]
    between = np.flatnonzero(same & (model.zone[one] != model.zone[other]))
    lines: Floats = mesh.vertices[ends[:, between].T]
    return lines
