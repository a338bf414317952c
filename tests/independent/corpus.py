"""Outlines that nobody designed: letters as pools, their holes as islands.

A glyph is a TrueType outline: straight sides and quadratic curves, its holes included. Several
hundred of them, 5 to 30 m large and turned any way, are a fair sample of what an outline may do:
sharp corners of any angle, curves that go over into each other nearly smoothly, narrow necks.

Run the whole with ``python -m tests.independent.corpus``: it prints the share that builds, and why
the others do not.
"""

from __future__ import annotations

import argparse
import collections
import math
import string
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import shapely

Points = np.ndarray
Side = Points
"""(2, 2) a straight side, or (3, 2) a quadratic curve by its control points [m]."""

FONTS = (
    "DejaVuSans.ttf",
    "DejaVuSerif-BoldItalic.ttf",
    "DejaVuSansMono-Oblique.ttf",
    "STIXGeneral.ttf",
    "STIXGeneralBolIta.ttf",
    "cmr10.ttf",
    "cmss10.ttf",
    "cmti10.ttf",
)
"""Files that matplotlib brings along."""

CHARACTERS = string.ascii_letters + string.digits + "&@$%?§"

SMALLEST, LARGEST = 5.0, 30.0
"""[m] Sizes that the outlines are spread over."""

GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
"""[-] Multiples of it, modulo 1, are spread evenly."""

LEAST_PART = 0.02
"""[-] A part of a glyph that covers less than this share of it is no pool (a dot)."""


@dataclass(frozen=True)
class Glyph:
    """An outline with its holes.

    Args:
        name: Font, character and part.
        loops: The outline, then its holes; each a closed chain of sides.
    """

    name: str
    loops: tuple[tuple[Side, ...], ...]

    def polygon(self, steps: int = 40) -> shapely.Polygon:
        """Return it with each curve in so many chords."""
        shell, *holes = (chained(loop, steps) for loop in self.loops)
        return shapely.Polygon(shell, holes)


def chained(loop: Sequence[Side], steps: int) -> Points:
    """Return the vertices (k, 2) of a closed chain, each curve in so many chords."""
    t = np.arange(steps)[:, None] / steps
    return np.concatenate(
        [
            side[:1] if len(side) == 2
            else (1 - t) ** 2 * side[0] + 2 * t * (1 - t) * side[1] + t**2 * side[2]
            for side in loop
        ]
    )  # fmt: skip


def corpus() -> Iterator[Glyph]:
    """Yield all outlines, always the same."""
    number = 0
    for font in FONTS:
        for character in CHARACTERS:
            for k, loops in enumerate(_parts(_contours(font, character))):
                size = SMALLEST + (LARGEST - SMALLEST) * (number * GOLDEN % 1.0)
                angle = 2.0 * math.pi * (number * number * GOLDEN % 1.0) if number % 3 else 0.0
                name = f"{font.removesuffix('.ttf')} {character}{k or ''}"
                yield Glyph(name, _placed(loops, size, angle))
                number += 1


def _contours(font: str, character: str) -> list[list[Side]]:
    """Return the closed chains of a glyph, in the font's units."""
    import matplotlib as mpl
    from matplotlib.ft2font import FT2Font, LoadFlags

    face = FT2Font(str(Path(mpl.get_data_path()) / "fonts" / "ttf" / font))
    face.load_char(ord(character), flags=LoadFlags.NO_SCALE)
    vertices, codes = face.get_path()
    found: list[list[Side]] = []
    i = 0
    while i < len(codes):
        code = int(codes[i])
        if code == 1:
            found.append([])
            here = first = vertices[i]
        elif code == 2:
            found[-1].append(np.array([here, vertices[i]]))
            here = vertices[i]
        elif code == 3:
            found[-1].append(np.array([here, vertices[i], vertices[i + 1]]))
            here = vertices[i + 1]
            i += 1
        else:  # closes
            found[-1].append(np.array([here, first]))
            here = first
        i += 1
    loops = [[side for side in loop if np.hypot(*(side[-1] - side[0])) > 0.0] for loop in found]
    return [loop for loop in loops if len(loop) > 1]


def _parts(contours: list[list[Side]]) -> Iterator[tuple[list[Side], ...]]:
    """Yield each outline with its holes; dots are left out."""
    shapes = [shapely.Polygon(chained(loop, 40)) for loop in contours]
    whole = sum(item.area for item in shapes)
    inside = [
        [k for k, other in enumerate(shapes) if k != i and shapely.contains_xy(other, *loop[0][0])]
        for i, loop in enumerate(contours)
    ]
    for i, shape in enumerate(shapes):
        if inside[i] or shape.area < LEAST_PART * whole:
            continue
        holes = [contours[k] for k, around in enumerate(inside) if around == [i]]
        yield contours[i], *holes


def _placed(
    loops: Sequence[Sequence[Side]], size: float, angle: float
) -> tuple[tuple[Side, ...], ...]:
    """Return chains about the origin, so large and turned so far."""
    points = np.concatenate([side for loop in loops for side in loop])
    low, high = points.min(axis=0), points.max(axis=0)
    scale = size / float((high - low).max())
    c, s = math.cos(angle), math.sin(angle)
    turn = np.array([[c, s], [-s, c]])
    return tuple(
        tuple((side - (low + high) / 2.0) * scale @ turn for side in loop) for loop in loops
    )


FLOORS: dict[str, dict[str, Any]] = {
    "level": {"shape": "level", "depth": 1.5},
    "sloping": {"shape": "plane", "depth": 1.6, "at": [0, 0], "fall": 0.02, "direction": 25},
}


def as_drawing(glyph: Glyph, folder: Path, floor: str, cove: float = 0.0) -> Path:
    """Write a glyph as a drawing, its curves as splines, and the pool file that takes it.

    Args:
        glyph: The outline.
        folder: Where to write both.
        floor: A name of `FLOORS`.
        cove: Its radius [m]; 0 for none.

    Returns:
        The pool file.
    """
    import ezdxf
    import yaml

    document = ezdxf.new()
    document.units = 4
    space = document.modelspace()
    here = {"layer": "outline"}
    for side in (side for loop in glyph.loops for side in loop):
        points = [(*point, 0.0) for point in (side * 1000.0).tolist()]
        if len(side) == 2:
            space.add_line(points[0], points[1], dxfattribs=here)
        else:
            space.add_open_spline(points, degree=2, dxfattribs=here)
    document.saveas(folder / "glyph.dxf")
    file = {
        "name": glyph.name,
        "units": "m",
        "outline": {"shape": "dxf", "file": "glyph.dxf", "layer": "outline"},
        "floor": FLOORS[floor],
    }
    if cove:
        file["cove"] = {"radius": cove}
    path = folder / "pool.yaml"
    path.write_text(yaml.safe_dump(file, allow_unicode=True), encoding="utf-8")
    return path


def as_points(glyph: Glyph, floor: str, cove: float = 0.0, steps: int = 12) -> dict[str, Any]:
    """Return a pool whose outline and islands are polygons, each curve in so many chords."""
    shell, *holes = (
        {"shape": "polygon", "points": chained(loop, steps).tolist()} for loop in glyph.loops
    )
    found: dict[str, Any] = {
        "name": glyph.name,
        "units": "m",
        "outline": shell,
        "islands": [{"outline": item} for item in holes],
        "floor": FLOORS[floor],
    }
    return found | ({"cove": {"radius": cove}} if cove else {})


COVES = (0.15, 0.1, 0.05, 0.0)
"""[m] Radii that are tried one after the other where the cove is refused; 0 is none."""


@dataclass(frozen=True)
class Outcome:
    """What became of a glyph.

    Args:
        glyph: Its name.
        how: Curves or points, and the floor.
        cove: Radius with which it was built [m]; -1 where it was not.
        reasons: Why it was refused, or refused with larger coves.
    """

    glyph: str
    how: str
    cove: float
    reasons: tuple[str, ...]


def run(glyphs: Sequence[Glyph], *, coves: Sequence[float] = COVES) -> Iterator[Outcome]:
    """Build glyphs, with curves and with points, on each floor; yield what became of each."""
    from poolgeo.builder import build
    from poolgeo.design.load import design_from, load
    from poolgeo.errors import PoolFileError

    with tempfile.TemporaryDirectory() as name:
        for glyph in glyphs:
            for how in ("curves", "points"):
                for floor in FLOORS:
                    reasons, built = [], -1.0
                    for cove in coves:
                        try:
                            if how == "curves":
                                build(load(as_drawing(glyph, Path(name), floor, cove)))
                            else:
                                build(design_from(as_points(glyph, floor, cove)))
                        except PoolFileError as error:
                            reasons.append(f"{cove}: {error.findings[0]}")
                            if error.findings[0].key[:1] != ("cove",) and not _is_open(error):
                                break
                        else:
                            built = cove
                            break
                    yield Outcome(glyph.name, f"{how}, {floor}", built, tuple(reasons))


def _is_open(error: Exception) -> bool:
    return "developers" in str(error)


def report() -> Iterator[str]:
    """Yield the reasons of those that do not build, and the share that does."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=1, help="take each so-and-so-manieth outline")
    parser.add_argument("--bare", action="store_true", help="without coves")
    options = parser.parse_args()
    glyphs = list(corpus())[:: options.every]
    built: collections.Counter[tuple[str, float]] = collections.Counter()
    count = 0
    for outcome in run(glyphs, coves=(0.0,) if options.bare else COVES):
        count += 1
        built[outcome.how, outcome.cove] += 1
        if outcome.cove < 0.0 or any("developers" in item for item in outcome.reasons):
            yield f"{outcome.glyph} | {outcome.how} | {outcome.cove} | {' '.join(outcome.reasons)}"
    bad = sum(number for (_, cove), number in built.items() if cove < 0.0)
    yield f"{len(glyphs)} outlines, {count} pools: {100.0 * (count - bad) / count:.2f} % build"
    for (how, cove), number in sorted(built.items()):
        yield f"  {how:20} cove {cove:5.2f}: {number}"


if __name__ == "__main__":
    for line in report():
        sys.stdout.write(line + "\n")
        sys.stdout.flush()
