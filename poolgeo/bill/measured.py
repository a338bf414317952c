"""Quantities as a set of rules measures them, beside the net ones of the geometry."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from ..detailing.rows import Detailing
from ..detailing.spans import is_one_of
from ..measure.pieces import Piece, pieces_of
from ..mesh import ZONES
from ..model import Model
from ..placed import Placed
from ..quantities import Takeoff
from ..supply.supply import Supply
from ..system.layers import Layer
from ..system.methods import Method
from ..system.schema import System

LEAST = 1e-9
"""[m2] Less than this is rounding."""


@dataclass(frozen=True)
class Measured:
    """One item of the work.

    Args:
        item: Name of the layer, or of the detail and its work.
        band: Widths that it is measured in; empty where it is not measured by width.
        unit: ``m2``, ``m`` or ``pieces``.
        net: Of the geometry [unit].
        quantity: As the rules measure it, rounded [unit].
        reason: Why the two differ; empty where they do not.
    """

    item: str
    band: str
    unit: str
    net: float
    quantity: float
    reason: str

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "item": self.item,
            "band": self.band or None,
            "unit": self.unit,
            "net": self.net,
            "measured": self.quantity,
            "reason": self.reason or None,
        }


def measured_of(
    model: Model, takeoff: Takeoff, detailing: Detailing, supply: Supply, system: System,
    method: Method,
) -> tuple[Measured, ...]:  # fmt: skip
    """Measure layers and details by a set of rules.

    Net areas of layers are those of the surface less all openings; arrises and fillets change
    them by a hair, which only what is ordered takes account of.

    Args:
        model: The pool.
        takeoff: Measured on it.
        detailing: What is done at its edges.
        supply: What it takes.
        system: Checked.
        method: The rules.

    Returns:
        Items of work: layers in their bands of width, then details.
    """
    pieces = pieces_of(model)
    used = {row.layer for row in supply.coatings}
    rows: list[Measured] = []
    for layer in system.layers:
        if layer.name in used:
            rows += _of_layer(layer, pieces, takeoff.fittings, method)
    return (*rows, *_of_details(detailing, method))


def _of_layer(
    layer: Layer, pieces: Sequence[Piece], fittings: Sequence[Placed], method: Method
) -> Iterator[Measured]:
    """Yield a layer in its bands of width, the narrowest first."""
    # an allowance for repairs lies in patches, not in strips
    bands = method.girth.bands if method.girth is not None and layer.share == 1.0 else ()
    lengths, areas, broad = [0.0] * len(bands), [0.0] * len(bands), 0.0
    for piece in pieces:
        area = _covered(layer, piece) * layer.share
        if area <= LEAST:
            continue
        # what of it a layer covers is a strip along it: a zone of a wall, the return on its top
        width = piece.width * area / piece.area
        k = next((i for i, band in enumerate(bands) if width <= band), None)
        if k is None:
            broad += area
        else:
            lengths[k] += piece.length
            areas[k] += area
    for k, length in enumerate(lengths):
        if length:
            low = f"over {bands[k - 1] * 1000:g} " if k else ""
            band = f"{low}up to {bands[k] * 1000:g} mm wide"
            why = f"{areas[k]:.2f} m2 measured in metres"
            yield Measured(layer.name, band, "m", length, round(length, method.decimals), why)
    if broad > LEAST:
        yield _broad(layer, broad, fittings, method, wide=bool(bands))


def _broad(
    layer: Layer, area: float, fittings: Sequence[Placed], method: Method, *, wide: bool
) -> Measured:
    """Return what of a layer is measured by its area."""
    mine = [item.void_area * layer.share for item in fittings if _is_on(layer, item)]
    limit = method.voids.up_to if method.voids is not None else 0.0
    small = [size for size in mine if size <= limit * layer.share]
    net, gross = area - sum(mine), area - (sum(mine) - sum(small))
    why = ""
    if small:
        why = f"{len(small)} openings up to {limit:g} m2 not deducted"
    band = ""
    if wide and method.girth is not None:
        band = f"over {method.girth.bands[-1] * 1000:g} mm wide"
    return Measured(layer.name, band, "m2", net, round(gross, method.decimals), why)


def _covered(layer: Layer, piece: Piece) -> float:
    """Return how much of a piece a layer covers [m2]."""
    where = layer.where
    if not is_one_of(piece.patch.kind, where.kinds):
        return 0.0
    if where.bodies is not None and piece.patch.body not in where.bodies:
        return 0.0
    zones = [
        size
        for name, size in zip(ZONES, piece.zones, strict=True)
        if where.zones is None or name in where.zones
    ]
    area = sum(zones)
    if where.wet is None:
        return area
    share = piece.wet_area / piece.area
    return area * (share if where.wet else 1.0 - share)


def _is_on(layer: Layer, item: Placed) -> bool:
    """Whether a fitting goes through what a layer covers."""
    where = layer.where
    return (
        is_one_of(item.surface, where.kinds)
        and (where.bodies is None or item.body in where.bodies)
        and (where.wet is None or where.wet == item.wet)
        and (where.zones is None or "below band" in where.zones)
    )


def _of_details(detailing: Detailing, method: Method) -> Iterator[Measured]:
    """Yield the details by rule and work."""
    included = method.included.work if method.included is not None else ()
    sums: dict[tuple[str, str, str], float] = defaultdict(float)
    for item in detailing.details:
        if item.is_bed:
            continue
        unit = "pieces" if item.do == "piece" else "m"
        size = item.quantity if unit == "pieces" else item.length
        sums[f"{item.rule}: {item.name}", item.do, unit] += size
    for (name, do, unit), net in sums.items():
        if do in included:
            yield Measured(name, "", unit, net, 0.0, "deemed included")
        else:
            yield Measured(name, "", unit, net, round(net, method.decimals), "")
