"""Fittings in the picture: a plate for each collar, and its opening on it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from poolgeo.placed import Placed, rim_of

from ..arrays import Floats
from ..drawing.palette import FITTINGS

if TYPE_CHECKING:
    import pyvista

_OFF = {"collar": 0.004, "opening": 0.008}
"""[m] How far plates stand off the surface, so that it does not shine through; a chord of a curved
wall does by a millimetre."""

_PALE, _NEARER = 0.3, -1e6
"""Opacity of a fitting that is hidden or looks away, and the depth that draws it over all else: its
number would float in the air. Where it is seen, the one look lies over the other."""


def add_fittings(plotter: pyvista.Plotter, fittings: Sequence[Placed]) -> None:
    """Add collars and openings to the active part of a plotter, pale where they are hidden.

    Args:
        plotter: What is drawn on.
        fittings: At least one.
    """
    for part, style in FITTINGS.items():
        plates = _polygons([_plate(item, part) for item in fittings])
        look: Any = {"color": style.rgb, "ambient": 0.8, "diffuse": 0.25, "reset_camera": False}
        plotter.add_mesh(plates, culling="back", **look)
        hidden = plotter.add_mesh(plates, opacity=_PALE, **look).mapper
        hidden.SetResolveCoincidentTopologyToPolygonOffset()
        hidden.SetRelativeCoincidentTopologyPolygonOffsetParameters(0.0, _NEARER)


def lifted(item: Placed) -> Floats:
    """Return where the number of a fitting stands: just off its opening (3,) [m]."""
    return np.array(item.point) + _OFF["opening"] * np.array(item.normal)


def _plate(item: Placed, part: str) -> Floats:
    rim = rim_of(item, of_opening=part == "opening")
    return rim + _OFF[part] * np.array(item.normal)


def _polygons(rims: Sequence[Floats]) -> pyvista.PolyData:
    """Make one object of many flat polygons."""
    import pyvista

    faces, start = [], 0
    for rim in rims:
        faces += [len(rim), *range(start, start + len(rim))]
        start += len(rim)
    return pyvista.PolyData(np.concatenate(rims), faces=np.array(faces))
