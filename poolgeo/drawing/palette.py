"""What each kind of surface and each sense of edge looks like, once for every writer.

Concrete is in earth and violet tones so that blue is left for water. Kinds that can lie side by
side differ in lightness as well as in hue, so that they stay apart for a reader with red-green
colour blindness and in a grey print (tests/write/test_palette.py measures it). Internal and
external edges differ in dash and width too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from poolgeo.surface.kinds import KINDS, OUTSIDE_KINDS, WATER_SURFACE

Rgb = tuple[int, int, int]


@dataclass(frozen=True)
class SurfaceStyle:
    """How a kind of surface is shown.

    Args:
        label: What a legend calls it.
        rgb: Colour, 0 to 255.
        opacity: 1 for concrete, below 1 for water.
    """

    label: str
    rgb: Rgb
    opacity: float = 1.0


@dataclass(frozen=True)
class EdgeStyle:
    """How edges of one sense are shown.

    Args:
        label: What a legend calls them.
        rgb: Colour, 0 to 255; the true colour of ``aci``.
        aci: The same colour as a DXF colour number.
        dashed: True for a broken line.
        width: Width of the line against the thinner of the two.
    """

    label: str
    rgb: Rgb
    aci: int
    dashed: bool
    width: float


_STYLES = MappingProxyType(
    {
        "floor": SurfaceStyle("Floor", (236, 227, 206)),
        "wall": SurfaceStyle("Wall", (199, 178, 141)),
        "cove": SurfaceStyle("Cove", (150, 112, 74)),
        "fillet": SurfaceStyle("Fillet", (126, 132, 96)),
        "corner cove": SurfaceStyle("Corner cove", (176, 128, 98)),
        "corner fillet": SurfaceStyle("Corner fillet", (150, 150, 128)),
        "tread": SurfaceStyle("Step tread", (252, 219, 122)),
        "riser": SurfaceStyle("Step riser", (219, 146, 46)),
        "step side": SurfaceStyle("Step side", (160, 88, 22)),
        "bench top": SurfaceStyle("Bench top", (238, 196, 220)),
        "bench face": SurfaceStyle("Bench face", (172, 104, 148)),
        "spa floor": SurfaceStyle("Spa floor", (224, 217, 240)),
        "spa wall": SurfaceStyle("Spa wall", (160, 146, 200)),
        "seat top": SurfaceStyle("Seat top", (246, 205, 194)),
        "seat face": SurfaceStyle("Seat face", (192, 108, 94)),
        "dam wall face": SurfaceStyle("Dam wall face", (142, 136, 92)),
        "dam wall top": SurfaceStyle("Dam wall top", (212, 207, 158)),
        "spillway": SurfaceStyle("Spillway", (88, 84, 46)),
        "weir top": SurfaceStyle("Weir top", (214, 226, 196)),
        "weir face": SurfaceStyle("Weir face", (56, 88, 70)),
        "basin floor": SurfaceStyle("Basin floor", (232, 210, 200)),
        "basin wall": SurfaceStyle("Basin wall", (186, 150, 136)),
        "channel floor": SurfaceStyle("Channel floor", (226, 222, 204)),
        "channel wall": SurfaceStyle("Channel wall", (170, 164, 130)),
        "wall top": SurfaceStyle("Wall top", (232, 232, 230)),
        "wall end": SurfaceStyle("Wall end", (136, 118, 128)),
        "recess": SurfaceStyle("Recess", (118, 136, 104)),
        "arris": SurfaceStyle("Arris", (94, 62, 78)),
        "outer wall": SurfaceStyle("Outer wall", (166, 166, 164)),
        "beam underside": SurfaceStyle("Beam underside", (104, 104, 118)),
        "footing top": SurfaceStyle("Footing top", (214, 214, 206)),
        "footing side": SurfaceStyle("Footing side", (136, 136, 130)),
        "soffit": SurfaceStyle("Soffit", (110, 110, 108)),
        "soffit step": SurfaceStyle("Soffit step", (66, 66, 72)),
        "water surface": SurfaceStyle("Water surface", (86, 170, 222), opacity=0.2),
    }
)

SURFACES: Mapping[str, SurfaceStyle] = MappingProxyType(
    {kind: _STYLES[kind] for kind in (*KINDS, *OUTSIDE_KINDS, WATER_SURFACE)}
)
"""Kind of surface -> its look, in the order of a legend."""

EDGES: Mapping[str, EdgeStyle] = MappingProxyType(
    {
        "internal": EdgeStyle("Internal edge", (0, 127, 255), 150, dashed=True, width=1.6),
        "external": EdgeStyle("External edge", (255, 63, 0), 20, dashed=False, width=1.0),
    }
)
"""Sense of an edge -> its look. Where one lies above the other in plan, both can be seen:
the external one is narrow and unbroken, the internal one broken and wider."""

JOINT = EdgeStyle("Joint of the structure", (0, 153, 38), 104, dashed=False, width=1.8)
"""The look of a movement joint of the structure."""

FINISH_JOINT = EdgeStyle("Movement joint", (38, 19, 130), 176, dashed=False, width=1.9)
"""The look of a movement joint of the finish, across it or over one of the structure."""

FINISH_EDGE = EdgeStyle("the same at edges", (138, 96, 176), 195, dashed=False, width=0.7)
"""The look of a movement joint of the finish at a change of plane or where it ends."""

FITTINGS: Mapping[str, SurfaceStyle] = MappingProxyType(
    {
        "collar": SurfaceStyle("Fitting, collar", (216, 27, 160)),
        "opening": SurfaceStyle("Fitting, opening", (45, 45, 45)),
    }
)
"""Part of a fitting -> its look."""
