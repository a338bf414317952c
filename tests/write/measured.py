"""What takes room in a drawing's model space, measured from the file alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely
from ezdxf import bbox
from ezdxf.document import Drawing
from ezdxf.entities.dimension import Dimension
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.mtext import MText
from ezdxf.entities.text import Text
from ezdxf.enums import TextEntityAlignment
from shapely.affinity import rotate, translate

from poolgeo.drawing.positions import text_width


@dataclass(frozen=True)
class Boxed:
    """An entity and the rectangle about it.

    Args:
        what: A text says, or the type of another entity.
        layer: That it is on.
        area: The rectangle.
    """

    what: str
    layer: str
    area: shapely.Polygon


_SIDES = {
    TextEntityAlignment.LEFT: (0.0, 0.0),
    TextEntityAlignment.RIGHT: (1.0, 0.0),
    TextEntityAlignment.MIDDLE_CENTER: (0.5, 0.5),
}
"""Where in the rectangle about a text its place is, in shares of width and height."""


def text_boxes(document: Drawing) -> list[Boxed]:
    """Return the rectangle about each text, those of dimensions included."""
    return [found for entity in document.modelspace() for found in _texts(entity)]


def boxes(document: Drawing) -> list[Boxed]:
    """Return the rectangle about each entity and each text."""
    return text_boxes(document) + [
        found for entity in document.modelspace() for found in _strokes(entity)
    ]


def _texts(entity: DXFEntity) -> Iterator[Boxed]:
    if isinstance(entity, Text):
        align, place, other = entity.get_placement()
        at = place if other is None else other
        area = _turned(entity.plain_text(), entity.dxf.height, _SIDES[align], entity.dxf.rotation)
        yield Boxed(entity.plain_text(), entity.dxf.layer, translate(area, at.x, at.y))
    elif isinstance(entity, MText):
        assert entity.dxf.attachment_point == 5  # its place is its middle
        at, text = entity.dxf.insert, str(entity.plain_text())
        area = _turned(text, entity.dxf.char_height, (0.5, 0.5), entity.get_rotation())
        yield Boxed(text, entity.dxf.layer, translate(area, at.x, at.y))
    elif isinstance(entity, Dimension):
        for part in entity.virtual_entities():
            yield from (replace(item, layer=entity.dxf.layer) for item in _texts(part))


def _turned(text: str, height: float, side: tuple[float, float], angle: float) -> shapely.Polygon:
    """Return the rectangle about a text, turned about the origin, where its place is."""
    width = text_width(text, height)
    left, low = -side[0] * width, -side[1] * height
    return rotate(shapely.box(left, low, left + width, low + height), angle, origin=(0.0, 0.0))


def _strokes(entity: DXFEntity) -> Iterator[Boxed]:
    if isinstance(entity, Dimension):
        for part in entity.virtual_entities():
            yield from _strokes(part)
    elif not isinstance(entity, Text | MText) and entity.dxf.layer != "Defpoints":
        reach = bbox.extents([entity], fast=True)
        low, high = reach.extmin, reach.extmax
        area = shapely.box(low.x, low.y, high.x, high.y)
        yield Boxed(entity.dxftype(), entity.dxf.layer, area)
