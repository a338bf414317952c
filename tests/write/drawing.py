"""What the tests ask of a drawing."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from itertools import pairwise
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.lwpolyline import LWPolyline

Place = tuple[float, float]


def read(path: Path) -> Drawing:
    """Read a drawing."""
    return ezdxf.readfile(path)


def points(entity: DXFEntity) -> list[Place]:
    """Return the points of a polyline, the first one again at the end of a closed one."""
    assert isinstance(entity, LWPolyline)
    places = [(x, y) for x, y in entity.get_points("xy")]
    return [*places, places[0]] if entity.closed else places


def polylines(document: Drawing, layer: str) -> list[list[Place]]:
    """Return the polylines of a layer."""
    found = document.modelspace().query(f"LWPOLYLINE[layer=='{layer}']")
    return [points(entity) for entity in found]


def closed(document: Drawing) -> dict[str, bool]:
    """Return for each layer whether its last polyline is closed."""
    return {
        entity.dxf.layer: entity.closed
        for entity in document.modelspace().query("LWPOLYLINE")
        if isinstance(entity, LWPolyline)
    }


def texts(document: Drawing, layer: str) -> list[str]:
    """Return the texts of a layer, sorted."""
    return sorted(
        entity.dxf.text for entity in document.modelspace().query(f"TEXT[layer=='{layer}']")
    )


def pieces(document: Drawing) -> Counter[tuple[str, frozenset[Place]]]:
    """Count the straight pieces of all polylines by layer and ends (one end: without length)."""
    return Counter(
        (entity.dxf.layer, frozenset(piece))
        for entity in document.modelspace().query("LWPOLYLINE")
        for piece in pairwise(points(entity))
    )


def path_length(path: list[Place]) -> float:
    """Return the length of a path."""
    return sum(math.dist(a, b) for a, b in pairwise(path))


def summary(document: Drawing) -> str:
    """Return a line for each layer and type of entity: their number, and the lines' length."""
    count: dict[tuple[str, str], int] = defaultdict(int)
    length: dict[tuple[str, str], float] = defaultdict(float)
    for entity in document.modelspace():
        key = entity.dxf.layer, entity.dxftype()
        count[key] += 1
        if entity.dxftype() == "LWPOLYLINE":
            length[key] += path_length(points(entity))
    return "".join(
        f"{layer} {kind} {count[layer, kind]}"
        + (f" {length[layer, kind]:.2f}" if length[layer, kind] else "")
        + "\n"
        for layer, kind in sorted(count)
    )
