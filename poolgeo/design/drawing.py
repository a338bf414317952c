"""Read the sides of an outline from a layer of a DXF drawing.

Source of the entities' meaning: DXF reference (group codes of LINE, ARC, CIRCLE, ELLIPSE,
LWPOLYLINE, POLYLINE, SPLINE and the header variable $INSUNITS), as ezdxf's documentation quotes it.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from poolgeo.errors import BadValueError, shown

from .tracing import XY, BulgedSide, Loop, NurbsSide, Side

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfgfx import DXFGraphic

INSUNITS = {1: 0.0254, 2: 0.3048, 4: 0.001, 5: 0.01, 6: 1.0, 10: 0.9144, 14: 0.1}
"""[m] The unit that each code of the header variable $INSUNITS states: inch, foot, mm, cm, m, yard,
dm. Source: DXF reference, HEADER section."""

CURVES = ("LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "SPLINE")
"""Entities that an outline may consist of."""

STRAIGHT = 1e-9
"""[-] Bulges below this are none."""

UPRIGHT = 1e-6
"""[-] A plane is the plan where the z of its unit normal differs from 1 or -1 by less."""

MOST_NAMED = 20
"""Layers that a message names at most."""


@dataclass(frozen=True)
class Drawn:
    """What stands on a layer.

    Args:
        chains: The sides of each curve, in the drawing's units.
        insunits: The header variable $INSUNITS; 0 where there is none.
        left_out: How many entities of each other type stand there.
    """

    chains: tuple[Loop, ...]
    insunits: int
    left_out: dict[str, int]

    @property
    def unit(self) -> float | None:
        """Length of the unit that the drawing states [m]; None where it states none."""
        return INSUNITS.get(self.insunits)


class DrawingError(BadValueError):
    """A drawing that cannot be taken; ``key`` is the key of the shape that it goes with."""

    def __init__(self, rule: str, value: str = "", remedy: str = "", key: str = "layer") -> None:
        super().__init__(rule, value, remedy)
        self.key = key

    def __reduce__(self) -> tuple[type[DrawingError], tuple[str, str, str, str]]:  # type: ignore[override]
        """Survive the way between processes."""
        return type(self), (self.rule, self.value, self.remedy, self.key)


def read_drawing(path: Path, layer: str) -> Drawn:
    """Read a DXF drawing.

    A file that is no drawing is refused with a `BadValueError`.

    Args:
        path: The file.
        layer: Name of a layer; case does not count.

    Returns:
        What stands on it.

    Raises:
        DrawingError: It has no such layer or no curves on it, or curves that do not lie in plan.
    """
    document = opened(path)
    entities = list(_on_layer(document.modelspace(), layer))
    curves = [item for item in entities if item.dxftype() in CURVES]
    if not curves:
        error = _no_curves(document, layer, entities)
        raise error
    chains = []
    for item in curves:
        if abs(abs(_normal(item)[2]) - 1.0) > UPRIGHT:
            rule = "must hold curves that lie in plan"
            raise DrawingError(rule, f"{_named(item)}, tilted", "flatten the drawing")
        chains.append(tuple(_sides(item)))
    others = Counter(item.dxftype() for item in entities if item.dxftype() not in CURVES)
    return Drawn(tuple(chains), int(document.header.get("$INSUNITS", 0)), dict(others))


def scaled(chains: Iterable[Loop], factor: float) -> list[Loop]:
    """Return chains with all their lengths multiplied, without sides of no length."""
    found = [tuple(_scaled(chain, factor)) for chain in chains]
    return [chain for chain in found if chain]


def _scaled(chain: Loop, factor: float) -> Iterator[Side]:

    def move(point: XY) -> XY:
        return point[0] * factor, point[1] * factor

    for side in chain:
        if isinstance(side, BulgedSide):
            if side.start != side.end:
                yield BulgedSide(move(side.start), move(side.end), side.bulge)
        elif isinstance(side, NurbsSide):
            yield replace(side, controls=tuple(map(move, side.controls)))


def opened(path: Path) -> Drawing:
    """Read a DXF file.

    Args:
        path: The file.

    Returns:
        What is in it.

    Raises:
        BadValueError: It is none.
    """
    import ezdxf
    from ezdxf.lldxf.const import DXFError

    try:
        return ezdxf.readfile(path)
    except DXFError as error:
        rule = "must be a DXF drawing"
        raise BadValueError(rule, shown(str(error)), "save it again as DXF") from None
    except (OSError, UnicodeDecodeError) as error:
        reason = "bytes that are no text" if isinstance(error, UnicodeDecodeError) else None
        came = reason or (error.strerror if isinstance(error, OSError) else "") or str(error)
        rule = "must be a DXF drawing"
        raise BadValueError(rule, shown(came), "save it again as DXF") from None


def _on_layer(entities: Iterable[Any], layer: str) -> Iterator[DXFGraphic]:
    """Yield what stands on a layer, in blocks as well: there layer 0 is that of the block."""
    wanted = layer.casefold()
    for item in entities:
        own = item.dxf.layer.casefold() == wanted
        if item.dxftype() == "INSERT":
            for one in item.multi_insert() if item.mcount > 1 else (item,):
                for part in one.virtual_entities():
                    if own and part.dxf.layer == "0":
                        part.dxf.layer = item.dxf.layer
                    yield from _on_layer([part], layer)
        elif own:
            yield item


def _no_curves(document: Drawing, layer: str, entities: Sequence[DXFGraphic]) -> DrawingError:
    if entities:
        kinds = ", ".join(sorted({item.dxftype() for item in entities}))
        rule = "must hold lines, arcs, polylines, circles, ellipses or splines"
        return DrawingError(rule, f"only {kinds}", "draw the outline on it")
    used = Counter(item.dxf.layer for item in document.modelspace())
    names = sorted(used) or sorted(item.dxf.name for item in document.layers)
    list_ = ", ".join(f"'{name}'" for name in names[:MOST_NAMED])
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    rule = "must be a layer of the drawing with something on it"
    return DrawingError(rule, shown(layer), f"use one of {list_}{more}")


def _normal(item: DXFGraphic) -> tuple[float, float, float]:
    """Normal of the plane in which an entity lies."""
    if item.dxftype() in ("LINE", "SPLINE"):
        return 0.0, 0.0, 1.0
    x, y, z = item.dxf.get("extrusion", (0.0, 0.0, 1.0))
    size = math.sqrt(x * x + y * y + z * z)
    return x / size, y / size, z / size


def _named(item: DXFGraphic) -> str:
    return f"{item.dxftype()} (handle {item.dxf.handle})" if item.dxf.handle else item.dxftype()


def _sides(item: Any) -> list[Side]:
    """Return the sides of one entity, in the drawing's world coordinates."""
    turn = math.copysign(1.0, _normal(item)[2])
    match item.dxftype():
        case "LINE":
            return [BulgedSide(_xy(item.dxf.start), _xy(item.dxf.end))]
        case "ARC":
            sweep = math.radians((item.dxf.end_angle - item.dxf.start_angle) % 360.0 or 360.0)
            return _arcs(item, math.radians(item.dxf.start_angle), sweep, turn)
        case "CIRCLE":
            return _arcs(item, 0.0, 2.0 * math.pi, turn)
        case "ELLIPSE":
            from ezdxf.math import rational_bspline_from_ellipse

            return [_nurbs(rational_bspline_from_ellipse(item.construction_tool()))]
        case "LWPOLYLINE":
            points = [_xy(point) for point in item.vertices_in_wcs()]
            bulges = [turn * point[4] for point in item.get_points()]
            return _polyline(points, bulges, closed=item.closed)
        case "POLYLINE":
            if not (item.is_2d_polyline or item.is_3d_polyline):
                return []
            vertices = [vertex for vertex in item.vertices if not vertex.dxf.flags & 16]
            points = [_xy(item.ocs().to_wcs(vertex.dxf.location)) for vertex in vertices]
            bulges = [turn * vertex.dxf.get("bulge", 0.0) for vertex in vertices]
            return _polyline(points, bulges, closed=item.is_closed)
    return [_nurbs(item.construction_tool())]


def _xy(point: Any) -> XY:
    return float(point[0]), float(point[1])


def _arcs(item: Any, start: float, sweep: float, turn: float) -> list[Side]:
    """An arc in two halves, so that each has a bulge."""
    ocs, (x, y, z), r = item.ocs(), item.dxf.center, item.dxf.radius
    angles = (start, start + sweep / 2.0, start + sweep)
    ends = [
        _xy(ocs.to_wcs((x + r * math.cos(angle), y + r * math.sin(angle), z))) for angle in angles
    ]
    if sweep == 2.0 * math.pi:
        ends[2] = ends[0]
    bulge = turn * math.tan(sweep / 8.0)
    return [BulgedSide(ends[0], ends[1], bulge), BulgedSide(ends[1], ends[2], bulge)]


def _polyline(points: Sequence[XY], bulges: Sequence[float], *, closed: bool) -> list[Side]:
    ends = [*points[1:], points[0]]
    count = len(points) if closed else len(points) - 1
    bent = [bulge if abs(bulge) > STRAIGHT else 0.0 for bulge in bulges]
    sides = zip(points[:count], ends[:count], bent[:count], strict=True)
    return [BulgedSide(*item) for item in sides]


def _nurbs(spline: Any) -> NurbsSide:
    controls = [_xy(point) for point in spline.control_points]
    weights = [float(item) for item in spline.weights()] or [1.0] * len(controls)
    knots = [float(item) for item in spline.knots()]
    return clamped(NurbsSide(int(spline.order) - 1, tuple(knots), tuple(controls), tuple(weights)))


def clamped(side: NurbsSide) -> NurbsSide:
    """Return the same spline with full knots at both ends, so that it ends in control points.

    Each control point is the polar form (blossom) of a span of the curve at the knots between.
    Source: Piegl and Tiller, The NURBS Book, 2nd ed., ch. 5 (from memory).
    """
    p, knots = side.degree, side.knots
    low, high = knots[p], knots[-1 - p]
    if knots[0] == low and knots[-1] == high:
        return side
    full = [*[low] * (p + 1), *(knot for knot in knots if low < knot < high), *[high] * (p + 1)]
    points: list[tuple[float, ...]] = [
        (x * w, y * w, w) for (x, y), w in zip(side.controls, side.weights, strict=True)
    ]
    found = []
    for i in range(len(full) - p - 1):
        k = next(k for k in range(max(i, p), i + p + 1) if full[k] < full[k + 1])
        j = bisect_right(knots, full[k]) - 1
        row = points[j - p : j + 1]
        for r in range(1, p + 1):
            lows, highs = knots[j - p + r : j + 1], knots[j + 1 :]
            shares = [(full[i + r] - a) / (b - a) for a, b in zip(lows, highs, strict=False)]
            row = [
                tuple(u + share * (v - u) for u, v in zip(one, other, strict=True))
                for one, other, share in zip(row[:-1], row[1:], shares, strict=True)
            ]
        found.append(row[0])
    controls = tuple((x / w, y / w) for x, y, w in found)
    return NurbsSide(p, tuple(full), controls, tuple(w for _, _, w in found))
