"""A sample's own numbers, read without poolgeo, and short ways to read its takeoff."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import yaml

import poolgeo
from poolgeo.arrays import Floats
from poolgeo.quantities import Takeoff

SAMPLES = Path(__file__).resolve().parents[2] / "samples"

VOLUME = 5e-4
"""Relative: what a volume may be off by."""
SIZE = 1e-3
"""Relative: what an area or a length may be off by."""


def plain(name: str) -> dict[str, Any]:
    """Return a sample's content, each value as the text that stands in the file."""
    text = (SAMPLES / f"{name}.yaml").read_text()
    found: dict[str, Any] = yaml.load(text, Loader=yaml.BaseLoader)
    return found


def number(text: str) -> float:
    """Return a number, a length in m or mm, or a slope such as 1:4 [m or -]."""
    if ":" in text:
        rise, run = text.split(":")
        return float(rise) / float(run)
    value, _, unit = text.partition(" ")
    return float(value) * {"": 1.0, "m": 1.0, "mm": 1e-3}[unit]


def numbers(part: dict[str, Any], *keys: str) -> tuple[float, ...]:
    """Return the numbers that stand under several keys of one part of a file [m or -]."""
    return tuple(number(part[key]) for key in keys)


def points_of(items: list[list[str]]) -> Floats:
    """Return points (k, 2) [m]."""
    return np.array([[number(x), number(y)] for x, y in items])


@cache
def takeoff(name: str) -> Takeoff:
    """Build a sample and measure it."""
    return poolgeo.measure(poolgeo.build(poolgeo.load(SAMPLES / f"{name}.yaml")))


def areas(name: str, body: str = "pool") -> dict[str, float]:
    """Return a body's areas by kind [m2]."""
    found: dict[str, float] = {}
    for row in takeoff(name).areas:
        if row.body == body:
            found[row.kind] = found.get(row.kind, 0.0) + row.area
    return found


def outside(name: str) -> dict[str, float]:
    """Return the areas of the shell's outside by kind [m2]."""
    found: dict[str, float] = {}
    for row in takeoff(name).outside:
        found[row.kind] = found.get(row.kind, 0.0) + row.area
    return found


def runs(name: str, body: str = "pool") -> dict[tuple[str, str], float]:
    """Return a body's lengths by kind and sense of edge [m]."""
    found: dict[tuple[str, str], float] = {}
    for run in takeoff(name).edges:
        if run.body == body:
            key = (run.kind, run.sense)
            found[key] = found.get(key, 0.0) + run.length
    return found


def integral(
    value: Callable[[Floats], Floats], start: float, end: float, cells: int = 400
) -> float:
    """Integrate by Gauss's rule of five points over equal cells."""
    x, w = np.polynomial.legendre.leggauss(5)
    edges = np.linspace(start, end, cells + 1)
    half = np.diff(edges)[:, None] / 2
    at = (edges[:-1, None] + half) + half * x
    return float(np.sum(value(at) * half * w))


def over(value: Callable[[Floats, Floats], Floats], length: float, width: float) -> float:
    """Integrate over a rectangle about the origin, by Gauss's rule in 60 by 60 cells."""

    def across(x: Floats) -> Floats:
        flat = [integral(lambda y, x=at: value(x, y), -width / 2, width / 2, 60) for at in x.flat]  # type: ignore[misc]
        return np.array(flat).reshape(x.shape)

    return integral(across, -length / 2, length / 2, 60)
