"""Short ways to write a system of details, and to apply it to a pool."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import shapely

from poolgeo.detailing.detail import detail
from poolgeo.detailing.rows import Detail, Detailing
from poolgeo.measure.takeoff import measure
from poolgeo.system.refer import check_references
from poolgeo.system.schema import System

from ..measure.quantities import PoolDict, model_of

LIQUID = {"form": "liquid", "packs": [{"name": "bag", "mass": "20 kg"}]}
MATERIALS = {
    "mortar": {**LIQUID, "role": "fillet mortar", "density": "2.0 kg/L"},
    "slurry": {**LIQUID, "role": "membrane", "density": "1.5 kg/L", "solids": 0.5},
    "sealant": {**LIQUID, "role": "sealant", "density": "1.3 kg/L"},
    "tape": {"form": "roll", "role": "reinforcement", "length": "50 m", "width": 120, "lap": 50},
    "breaker": {"form": "roll", "role": "bond breaker", "length": "50 m", "width": 30},
    "swelling": {"form": "roll", "role": "hydrophilic strip", "length": "10 m", "lap": 30},
    "corner": {"form": "piece", "role": "corner piece", "pack": 10},
    "collar": {"form": "piece", "role": "collar"},
}
LAYERS = [{"name": "membrane", "material": "slurry", "wet_film": "2 mm"}]

TAPE = {"do": "strip", "material": "tape"}
"""Work that leaves a trace in any place along an edge."""


def rule(*work: dict[str, Any], name: str = "rule", **where: Any) -> dict[str, Any]:
    """Return a rule for edges, or for corners."""
    return {"name": name, "where": where, "work": list(work)}


def system_of(**rules: Any) -> System:
    """Return a checked system in mm with rules for edges, fittings and corners."""
    text = {"name": "test system", "units": "mm", "materials": MATERIALS, "layers": LAYERS}
    system = System.model_validate(_frozen({**text, **rules}), context={"units": "mm"})
    assert not check_references(system)
    return system


def _frozen(value: Any) -> Any:
    """Return lists as tuples, as a system file is read."""
    if isinstance(value, dict):
        return {key: _frozen(item) for key, item in value.items()}
    return tuple(map(_frozen, value)) if isinstance(value, list) else value


def detailed(file: PoolDict, **rules: Any) -> Detailing:
    """Build a pool, measure it and apply a system's rules to it."""
    model = model_of(file)
    return detail(model, measure(model), system_of(**rules))


def fillet(section: str, size: float, **more: Any) -> dict[str, Any]:
    """Return the work of filling an edge; the size in mm."""
    return {"do": "fillet", "material": "mortar", "section": section, "size": size, **more}


def done(found: Detailing, do: str) -> list[Detail]:
    """Return the rows of one operation, without the beds of strips."""
    return [row for row in found.details if row.do == do and not row.is_bed]


def total(found: Detailing, do: str) -> float:
    """Return how much of all one operation takes, in its unit."""
    return math.fsum(row.quantity for row in done(found, do))


def outline_of(form: str, size: float, degrees: float, chords: int = 2000) -> shapely.Polygon:
    """Return a section as points: corner at the origin, one face along x.

    Args:
        form: ``straight``, or ``round``: an arc about a point on the bisector, tangent to both.
        size: Leg or radius [m].
        degrees: Angle between the faces [deg].
        chords: Of the arc.
    """
    phi = math.radians(degrees)
    if form == "straight":
        return shapely.Polygon([(0, 0), (size, 0), (size * math.cos(phi), size * math.sin(phi))])
    off = size / math.sin(phi / 2)
    x, y = off * math.cos(phi / 2), off * math.sin(phi / 2)
    turn = np.linspace(-math.pi / 2, phi + math.pi / 2 - 2 * math.pi, chords + 1)
    arc = np.column_stack([x + size * np.cos(turn), y + size * np.sin(turn)])
    return shapely.Polygon([(0.0, 0.0), *arc.tolist()])


def integral(of: Callable[[Any], Any], low: float, high: float, count: int = 200) -> float:
    """Integrate by Gauss-Legendre, of a function that may have a root's tangent at its ends."""
    x, weight = np.polynomial.legendre.leggauss(count)
    # x = -cos(pi u) smooths square roots at both ends
    u = (x + 1.0) / 2.0
    place = low + (high - low) * (1.0 - np.cos(math.pi * u)) / 2.0
    slope = (high - low) * math.pi / 2.0 * np.sin(math.pi * u)
    return float(np.sum(of(place) * slope * weight) / 2.0)
