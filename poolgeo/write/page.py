"""A page: a drawing in millimetres of paper, and the PDF that is made of it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..drawing.palette import FINISH_JOINT
from ..drawing.plan_lines import Place
from ..drawing.sheets import Box

if TYPE_CHECKING:
    from ezdxf.document import Drawing

A3, TABLOID = (420.0, 297.0), (431.8, 279.4)
"""[mm] Sizes of sheets: ISO 216; 17 x 11 in."""

MARGIN = 10.0
"""[mm]"""

GREY = 0x8C8C8C
INK = 0x141414
DASH = "DASHED"


class Page:
    """A page that is drawn on.

    Args:
        size: Width and height [mm].
        document: An empty drawing in millimetres.
    """

    def __init__(self, size: tuple[float, float], document: Drawing) -> None:
        self.size = size
        self.document = document
        self.shift = (0.0, 0.0)
        self._space = document.modelspace()

    @classmethod
    def of(cls, *, metric: bool, height: float) -> Page:
        """Return an empty page.

        Args:
            metric: A3, else 17 x 11 in.
            height: Of text: patterns of lines are as coarse [mm].
        """
        import ezdxf

        document = ezdxf.new("R2010", units=4)
        document.header["$LWDISPLAY"] = 1
        document.linetypes.add(DASH, [1.6 * height, 1.0 * height, -0.6 * height])
        return cls(A3 if metric else TABLOID, document)

    @property
    def inside(self) -> Box:
        """What lies within the margins."""
        width, height = self.size
        return Box(MARGIN, MARGIN, width - MARGIN, height - MARGIN)

    def line(
        self, points: Iterable[Place], width: float, *, grey: bool = False, joint: bool = False,
        dashed: bool = False, closed: bool = False,
    ) -> None:  # fmt: skip
        """Draw a polyline.

        Args:
            points: [mm].
            width: Of the line [mm].
            grey: Whether it stands back.
            joint: Whether it has the colour of joints.
            dashed: Whether it is broken.
            closed: Whether its last point joins the first.
        """
        look: dict[str, Any] = {
            "true_color": self._colour(grey=grey, joint=joint), "lineweight": _weight(width)
        }  # fmt: skip
        if dashed:
            look["linetype"] = DASH
        self._space.add_lwpolyline([self._at(p) for p in points], close=closed, dxfattribs=look)

    def text(
        self, text: str, at: Place, height: float, *, angle: float = 0.0, middle: bool = False,
        joint: bool = False,
    ) -> None:  # fmt: skip
        """Write a text.

        Args:
            text: What it says.
            at: Its lower left corner, or its middle [mm].
            height: Of its capitals [mm].
            angle: [deg].
            middle: Whether `at` is its middle.
            joint: Whether it has the colour of joints.
        """
        from ezdxf.enums import TextEntityAlignment

        where = TextEntityAlignment.MIDDLE_CENTER if middle else TextEntityAlignment.LEFT
        look = {"true_color": self._colour(grey=False, joint=joint), "rotation": angle}
        entity = self._space.add_text(text, height=height, dxfattribs=look)
        entity.set_placement(self._at(at), align=where)

    def target(self, at: Place, direction: float) -> None:
        """Draw a ring with a cross that reaches beyond it [mm], turned [deg]."""
        x, y = at
        for angle in (direction, direction + 90.0):
            dx, dy = 3.0 * math.cos(math.radians(angle)), 3.0 * math.sin(math.radians(angle))
            self.line([(x - dx, y - dy), (x + dx, y + dy)], 0.25, joint=True)
        look = {"true_color": self._colour(grey=False, joint=True), "lineweight": 25}
        self._space.add_circle(self._at(at), 1.4, dxfattribs=look)

    def save(self, path: Path, title: str) -> None:
        """Write the page as PDF."""
        from .paper import print_layouts

        print_layouts(self.document, [(self._space, self.size)], path, title)

    def _at(self, place: Place) -> Place:
        return place[0] + self.shift[0], place[1] + self.shift[1]

    @staticmethod
    def _colour(*, grey: bool, joint: bool) -> int:
        if joint:
            red, green, blue = FINISH_JOINT.rgb
            return (red << 16) + (green << 8) + blue
        return GREY if grey else INK


def _weight(width: float) -> int:
    """Return the width of a line that drawings know, nearest to one [mm]."""
    known = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)
    return min(known, key=lambda item: abs(item - 100.0 * width))
