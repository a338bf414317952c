"""What the tests ask of a drawing."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing
from ezdxf.entities.dimension import Dimension
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.mtext import MText

from poolgeo.design.layer_table import layer_table
from poolgeo.drawing.drawing_set import drawing_set
from poolgeo.jointing.rows import FinishJoints
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.write.dxf import write_drawing

Place = tuple[float, float]


def write_plan(
    model: Model, takeoff: Takeoff, path: Path, joints: FinishJoints | None = None
) -> None:
    """Write the plan of a pool with legend and notes, without the other views and sheets."""
    drawn = drawing_set(model, takeoff, joints)
    plan = [item for item in drawn.views if item.view.name in {"plan", "legend", "notes"}]
    alone = replace(drawn, views=tuple(plan), sheets=(), frames=())
    write_drawing(alone, layer_table("trade-words"), path)


def write_whole(
    model: Model, takeoff: Takeoff, path: Path, joints: FinishJoints | None = None
) -> None:
    """Write the drawing set of a pool."""
    write_drawing(drawing_set(model, takeoff, joints), layer_table("trade-words"), path)


def read(path: Path) -> Drawing:
    """Read a drawing."""
    return ezdxf.readfile(path)


def points(entity: DXFEntity) -> list[Place]:
    """Return the points of a polyline, the first one again at the end of a closed one."""
    assert isinstance(entity, LWPolyline)
    places = [(x, y) for x, y in entity.get_points("xy")]
    return [*places, places[0]] if entity.closed else places


def written(item: DXFEntity) -> str:
    """Return what a dimension measures, as it is drawn; its own text leaves that to programs."""
    assert isinstance(item, Dimension)
    assert item.dxf.text in {"<>", "-<>"}
    parts = [part for part in item.virtual_entities() if isinstance(part, MText)]
    (text,) = [str(part.plain_text()) for part in parts]
    assert text.startswith("-") == item.dxf.text.startswith("-")
    return text


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
