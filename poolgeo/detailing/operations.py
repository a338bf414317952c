"""From a rule's work along a length to rows: how much of each material it takes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ..arrays import Floats
from ..mesh import Zones
from ..sections import Form, Section, section
from ..system.film import wet_film
from ..system.layers import Thickness
from ..system.materials import Liquid
from ..system.schema import System
from ..system.work import (
    ArrisWork,
    BeadWork,
    CoatWork,
    FilletWork,
    PieceWork,
    RodWork,
    StripWork,
    Work,
)
from .rows import Cut, Detail, Place

FORMS: dict[str, Form] = {
    "rounded": "round", "hollow": "round", "chamfered": "straight", "triangular": "straight",
}  # fmt: skip


@dataclass(frozen=True)
class Line:
    """A length along which work is done, whatever it is of.

    Args:
        place: What it is.
        number: Of the run or fitting.
        kind: Of it.
        body: Body of water.
        rule: Name of the detail.
        length: [m].
        zones: Length in each zone, of a fitting 1 in its own.
        wet: Share that is under water.
        closed: Whether it comes back to its start.
        ends: How many ends of its run it holds.
        filled: Angle of what is filled or taken off at each segment (k,) [rad].
        points: (k + 1, 3) [m].
        inward: (k, 3) unit vectors from the edge towards what is filled or taken off.
        gap: Width of a joint [m].
        around: Whether it goes about an opening, so that a coat beside it has corners.
        square: Whether it turns in square corners.
    """

    place: Place
    number: str
    kind: str
    body: str
    rule: str
    length: float
    zones: Zones
    wet: float
    closed: bool
    ends: int
    filled: Floats
    points: Floats
    inward: Floats
    gap: float = 0.0
    around: bool = False
    square: bool = False

    def sized(self, form: Form, size: float) -> tuple[Section, float, float]:
        """Return a section along the line, its volume [m3] and what it widens the surface by [m2].

        Along a bent edge the volume is its area times the way of its centroid (Pappus).
        """
        item = section(form, size, self.filled)
        steps = np.linalg.norm(np.diff(self.points, axis=0), axis=1)
        middle = _moved(self.points, self.inward * item.reach[:, None], closed=self.closed)
        way = np.linalg.norm(np.diff(middle, axis=0), axis=1)
        return item, float(item.area @ way), float(item.change @ steps)

    def strip_area(self, width: float) -> float:
        """Return the area of a band of a width: over both faces of an edge, outside an opening."""
        corners = 0.0
        if self.around:
            corners = 4.0 * width**2 if self.square else math.pi * width**2
        return self.length * width + corners


def _moved(points: Floats, by: Floats, *, closed: bool) -> Floats:
    """Return a polyline (k + 1, 3) whose vertices moved by the mean of their segments' moves."""
    first, last = (by[-1:], by[:1]) if closed else (by[:1], by[-1:])
    before, after = np.concatenate([first, by]), np.concatenate([by, last])
    found: Floats = points + (before + after) / 2.0
    return found


def _goes_on(before: Line, line: Line) -> bool:
    """Whether a line starts where another ends."""
    return len(line.points) > 0 and np.array_equal(before.points[-1:], line.points[:1])


def wet_depth(material: Liquid, how: Thickness) -> float:
    """Return the volume that goes on to an area, of the mixed material without thinner [m3/m2]."""
    if how.dry_film is not None:
        return wet_film(how.dry_film, material.solids or 1.0)
    if how.wet_film is not None:
        return how.wet_film
    return (how.consumption or 0.0) / material.density


class Worker:
    """Makes the rows of a system's work."""

    def __init__(self, system: System) -> None:
        self.system = system
        self.details: list[Detail] = []
        self.cuts: list[Cut] = []
        self._laid: dict[tuple[str, str, str, int], tuple[int, Line]] = {}
        self._ways: dict[type, Callable[[Any, Line], Iterator[Detail]]] = {
            ArrisWork: self._arris,
            FilletWork: self._fillet,
            StripWork: self._strip,
            CoatWork: self._coat,
            BeadWork: self._bead,
            RodWork: self._rod,
            PieceWork: self._piece,
        }

    def do(self, work: Work, line: Line) -> None:
        """Add the rows of one operation along a line."""
        self.details += self._ways[type(work)](work, line)

    def _arris(self, work: ArrisWork, line: Line) -> Iterator[Detail]:
        _, _, widens = line.sized(FORMS[work.section], work.size)
        yield self._row(work, line, "", line.length, "m", size=work.size, widens=widens)

    def _fillet(self, work: FilletWork, line: Line) -> Iterator[Detail]:
        _, volume, widens = line.sized(FORMS[work.section], work.size)
        yield self._row(work, line, work.material, volume, "m3", size=work.size, loss=work.loss,
                        widens=widens)  # fmt: skip

    def _strip(self, work: StripWork, line: Line) -> Iterator[Detail]:
        roll = self.system.roll(work.material)
        length = line.length + (roll.lap or 0.0 if line.closed else line.ends * work.at_ends)
        yield self._row(work, line, work.material, length, "m", size=roll.width or 0.0)
        self._cut(work, line, length)
        if work.bed is not None:
            bed = work.bed
            width = (roll.width or 0.0) + 2.0 * bed.beyond
            area = line.strip_area(width) + (length - line.length) * width
            volume = area * wet_depth(self.system.liquid(bed.material), bed)
            name = f"bed of {work.name or work.do}"
            yield self._row(work, line, bed.material, volume, "m3", area=area, size=width,
                            loss=bed.loss, do="coat", name=name, is_bed=True)  # fmt: skip

    def _coat(self, work: CoatWork, line: Line) -> Iterator[Detail]:
        area = line.strip_area(work.width)
        volume = area * wet_depth(self.system.liquid(work.material), work)
        yield self._row(work, line, work.material, volume, "m3", area=area, size=work.width,
                        loss=work.loss)  # fmt: skip

    def _bead(self, work: BeadWork, line: Line) -> Iterator[Detail]:
        width = work.width or line.gap
        if work.section == "triangular":
            square = width * width / 2.0 * line.length
            volume = line.sized("straight", width)[1] if len(line.filled) else square
        else:
            depth = work.depth or self.system.sealant.depth_of(width)
            volume = width * depth * line.length
        yield self._row(work, line, work.material, volume, "m3", size=width, loss=work.loss)

    def _rod(self, work: RodWork, line: Line) -> Iterator[Detail]:
        roll = self.system.roll(work.material)
        length = line.length + (roll.lap or 0.0 if line.closed else 0.0)
        yield self._row(work, line, work.material, length, "m", size=roll.width or 0.0)
        self._cut(work, line, length)

    def _piece(self, work: PieceWork, line: Line) -> Iterator[Detail]:
        yield self._row(work, line, work.material, float(work.count), "pieces")

    def _cut(self, work: StripWork | RodWork, line: Line, length: float) -> None:
        """Add what is cut from a roll; what goes on where another rule begins is not cut there."""
        name = work.name or work.do
        times = 0  # two strips of one name are laid at one place
        while self._laid.get((work.material, line.number, name, times), (0, None))[1] is line:
            times += 1
        what = work.material, line.number, name, times
        number, before = self._laid.get(what, (-1, None))
        if before is not None and _goes_on(before, line):
            whole = self.cuts[number].length + length
            self.cuts[number] = replace(self.cuts[number], length=whole)
        else:
            number = len(self.cuts)
            self.cuts.append(Cut(work.material, line.number, length))
        self._laid[what] = number, line

    def _row(self, work: Work, line: Line, material: str, quantity: float, unit: Any,
             **more: Any) -> Detail:  # fmt: skip
        what = {"do": work.do, "name": work.name or work.do, "loss": 0.0, **more}
        return Detail(
            place=line.place, number=line.number, kind=line.kind, body=line.body, rule=line.rule,
            material=material, length=line.length, quantity=quantity, unit=unit,
            zones=line.zones, wet=line.wet, **what,
        )  # fmt: skip
