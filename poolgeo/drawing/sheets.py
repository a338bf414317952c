"""Sheets: sizes, and which view stands where on which, at a standard scale, in mm of paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..design.drawings import SheetSize
from .paper import SIZES
from .plan_lines import Place

FILING, MARGIN = 20.0, 10.0
"""[mm] Margin on the left, and on the other sides. Source: ISO 5457 (from memory)."""

BLOCK = 180.0
"""[mm] Width of the title block. Source: ISO 7200 (from memory)."""

GAP = 4.0
"""[mm] Between windows, at least."""

EDGE = 1e-6
"""[mm] What is nearer counts as touching."""


@dataclass(frozen=True)
class Box:
    """A rectangle on paper [mm]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """[mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """[mm]."""
        return self.top - self.bottom


@dataclass(frozen=True)
class Window:
    """A part of model space that is shown on a sheet.

    Args:
        title: What it shows.
        low: Its lower left corner, in drawing units.
        high: Its upper right corner.
        ratio: Units of the pool to one on paper.
        scale: Name of that.
    """

    title: str
    low: Place
    high: Place
    ratio: float
    scale: str

    def padded(self, by: float) -> Window:
        """Return it larger on all sides by a length, in drawing units."""
        (left, low), (right, high) = self.low, self.high
        return replace(self, low=(left - by, low - by), high=(right + by, high + by))

    def size(self, per_mm: float) -> tuple[float, float]:
        """Return its width and height on paper [mm].

        Args:
            per_mm: Drawing units in a millimetre.
        """
        per = per_mm * self.ratio
        return (self.high[0] - self.low[0]) / per, (self.high[1] - self.low[1]) / per


@dataclass(frozen=True)
class Shown:
    """A window on a sheet, the group of views that it is of, and where it stands on paper."""

    group: str
    window: Window
    box: Box


WORDS = {"Legend and notes", "Schedules"}
"""Groups that are to no scale."""

MOST_SCALES = 2
"""More of them have no room in the title block; each view says its own."""


@dataclass(frozen=True)
class Sheet:
    """A sheet.

    Args:
        size: Of paper.
        shown: Windows on it.
    """

    size: SheetSize
    shown: tuple[Shown, ...]

    @property
    def groups(self) -> list[str]:
        """What is on it."""
        return list(dict.fromkeys(item.group for item in self.shown))

    @property
    def title(self) -> str:
        """What is on it, as the title block says it."""
        first, *others = self.groups
        return ", ".join([first, *(name.lower() for name in others)])

    @property
    def frame(self) -> Box:
        """What lies within the margins."""
        return field_of(self.size, 0.0)

    @property
    def scales(self) -> str:
        """The names of its scales; of words and tables there is none."""
        drawn = [item.window.scale for item in self.shown if item.group not in WORDS]
        scales = list(dict.fromkeys(drawn))
        return "as shown" if len(scales) > MOST_SCALES else ", ".join(scales) or "none"


def field_of(size: SheetSize, block: float) -> Box:
    """Return what is left for views above the title block [mm].

    Args:
        size: Of paper.
        block: Height of the title block [mm].
    """
    width, height = SIZES[size]
    return Box(FILING, MARGIN + block, width - MARGIN, height - MARGIN)


def fitting(size: SheetSize, windows: Sequence[Window], per_mm: float, block: float) -> SheetSize:
    """Return the smallest sheet of one family, no smaller than one, that holds all windows.

    Args:
        size: The smallest one that may be taken.
        windows: To hold, each by itself.
        per_mm: Drawing units in a millimetre.
        block: Height of the title block [mm].

    Returns:
        The size; the largest where none holds them.
    """
    family = [item for item in SIZES if item.startswith("ANSI") == size.startswith("ANSI")]
    larger = family[family.index(size) :]
    need = [window.size(per_mm) for window in windows]
    for found in larger:
        field = field_of(found, block)
        if all(width <= field.width and height <= field.height for width, height in need):
            return found
    return larger[-1]


def fits(window: Window, size: SheetSize, per_mm: float, block: float) -> bool:
    """Tell whether a window has room on an empty sheet.

    Args:
        window: The window.
        size: Of paper.
        per_mm: Drawing units in a millimetre.
        block: Height of the title block [mm].

    Returns:
        Whether it has.
    """
    return _free([], size, block, *window.size(per_mm)) is not None


LOOSE = {"Details", "Schedules"}
"""Groups whose windows need not stand in their order."""


def arranged(
    windows: Sequence[tuple[str, Window]], size: SheetSize, per_mm: float, block: float
) -> list[Sheet]:
    """Put windows on sheets, in their order: each as high as it goes, and there at the left.

    A window stands on the last sheet, or on a new one where that has no room; one of a loose group
    on the first sheet that has room, from the last one on that there was when its group began.

    Args:
        windows: To place, each with the name of its group; each keeps its scale.
        size: Of paper.
        per_mm: Drawing units in a millimetre.
        block: Height of the title block [mm].

    Returns:
        As many sheets as they take. A window that is larger than a sheet has one of its own.
    """
    sheets: list[list[Shown]] = []
    full: set[int] = set()
    began: dict[str, int] = {}
    for group, window in windows:
        wide, high = window.size(per_mm)
        last = max(len(sheets) - 1, 0)
        start = began.setdefault(group, last) if group in LOOSE else last
        sheets.append([])  # to begin, where no other has room
        for number in range(start, len(sheets)):
            box = None if number in full else _free(sheets[number], size, block, wide, high)
            if box is not None:
                break
        if box is None:
            field = field_of(size, 0.0)
            box = Box(field.left, field.top - high, field.left + wide, field.top)
            full.add(number)
        sheets[number].append(Shown(group, window, box))
        if not sheets[-1]:
            sheets.pop()
    return [Sheet(size, tuple(shown)) for shown in sheets]


def _free(
    shown: Sequence[Shown], size: SheetSize, block: float, wide: float, high: float
) -> Box | None:
    """Return the highest place, and there the one farthest left, that is free on a sheet."""
    field = field_of(size, 0.0)
    left = field.right - min(BLOCK, field.width)
    taken = [item.box for item in shown]
    taken.append(Box(left, field.bottom, field.right, field.bottom + block - GAP))
    tops = {field.top, *(box.bottom - GAP for box in taken)}
    lefts = {field.left, *(box.right + GAP for box in taken)}
    for top in sorted(tops, reverse=True):
        for x in sorted(lefts):
            box = Box(x, top - high, x + wide, top)
            is_inside = box.right <= field.right + EDGE and box.bottom >= field.bottom - EDGE
            if is_inside and not any(_near(box, other) for other in taken):
                return box
    return None


def _near(one: Box, other: Box) -> bool:
    """Tell whether two boxes are nearer than the gap."""
    return (
        one.left < other.right + GAP - EDGE
        and other.left < one.right + GAP - EDGE
        and one.bottom < other.top + GAP - EDGE
        and other.bottom < one.top + GAP - EDGE
    )
