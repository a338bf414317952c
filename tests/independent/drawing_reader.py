"""Reads drawings by GDAL, which shares no code with what wrote them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pyogrio
import shapely
from pyogrio import raw

OPTIONS = {"DXF_INLINE_BLOCKS": False, "DXF_ENCODING": "UTF-8"}
"""Blocks stay what they are: points with a name and attributes; dimensions are opened anyway. GDAL
goes by $DWGCODEPAGE, which files in UTF-8 (R2007 and later) carry without meaning. Source: DXF
reference, $DWGCODEPAGE (from memory)."""

KINDS = {
    "AcDbPolyline": "polyline",
    "AcDbLine": "line",
    "AcDbCircle": "circle",
    "AcDbHatch": "hatch",
    "AcDbText": "text",
    "AcDbMText": "paragraph",
    "AcDbBlockReference": "block",
    "AcDbPoint": "point",
}
"""Last subclass of an entity -> what it is called here. Source: DXF reference, subclass markers."""


@dataclass(frozen=True)
class Read:
    """What GDAL finds in a drawing's model space.

    Args:
        layers: Of each entity.
        kinds: Of each: a value of `KINDS`.
        shapes: Of each.
        texts: Of each; empty for what has none.
        blocks: Name of each block; empty for what is none.
        attributes: Of each block, by tag.
    """

    layers: tuple[str, ...]
    kinds: tuple[str, ...]
    shapes: tuple[shapely.Geometry, ...]
    texts: tuple[str, ...]
    blocks: tuple[str, ...]
    attributes: tuple[dict[str, str], ...]

    def rows(self, layer: str, *kinds: str) -> Iterator[int]:
        """Yield the numbers of the entities of some kinds on a layer."""
        for number, key in enumerate(zip(self.layers, self.kinds, strict=True)):
            if key[0] == layer and key[1] in kinds:
                yield number

    def lines(self, layer: str) -> list[shapely.Geometry]:
        """Return the polylines of a layer."""
        return [self.shapes[number] for number in self.rows(layer, "polyline")]

    def said(self, layer: str, *kinds: str) -> list[str]:
        """Return the texts of a layer, sorted."""
        return sorted(self.texts[number] for number in self.rows(layer, *kinds))


def read(data: bytes) -> Read:
    """Read the model space of a drawing."""
    before = {key: pyogrio.get_gdal_config_option(key) for key in OPTIONS}
    pyogrio.set_gdal_config_options(OPTIONS)
    try:
        meta, _, shapes, columns = raw.read(data, layer="entities")
    finally:
        pyogrio.set_gdal_config_options(before)
    found = dict(zip(meta["fields"], columns, strict=True))
    rows = [row for row, paper in enumerate(found["PaperSpace"].tolist()) if paper != 1]
    kinds = [found["SubClasses"][row].rpartition(":")[2] for row in rows]
    none = np.full(len(shapes), None)
    return Read(
        tuple(found["Layer"][row] for row in rows),
        tuple(KINDS[kind] for kind in kinds),
        tuple(shapely.from_wkb(shapes)[rows].tolist()),
        tuple(found["Text"][row] or "" for row in rows),
        tuple(found.get("BlockName", none)[row] or "" for row in rows),
        tuple(_by_tag(found.get("BlockAttributes", none)[row]) for row in rows),
    )


def _by_tag(attributes: object) -> dict[str, str]:
    """Return the attributes of a block: GDAL has each as its tag, a space, and its text."""
    if not isinstance(attributes, np.ndarray):
        return {}
    parts = [str(item).partition(" ") for item in attributes.tolist()]
    return {tag: text for tag, _, text in parts}
