"""Quantities as a set of rules measures them, beside the net ones of the geometry."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..design.places import holds_at, is_one_of
from ..detailing.detail import zone_of_fitting
from ..detailing.rows import Detailing
from ..measure.pieces import Piece
from ..mesh import ZONES, Patch
from ..model import Model
from ..placed import Placed
from ..quantities import Takeoff
from ..supply.coatings import held
from ..supply.supply import Supply
from ..system.layers import Layer
from ..system.methods import Method
from ..system.schema import System

LEAST = 1e-9
"""[m2] Less than this is rounding."""

HAIR = 5e-4
"""[m] A surface is as wide as a band where it is no more than this wider."""

Part = tuple[str, str, float]
"""Body, kind of surface, and how much of it is measured [unit]."""


@dataclass(frozen=True)
class Measured:
    """One item of the work.

    Args:
        item: Name of the layer, or of the detail and its work.
        band: Widths that it is measured in; empty where it is not measured by width.
        unit: ``m2``, ``m`` or ``pieces``.
        net: Of the geometry [unit].
        gross: As the rules measure it, not rounded [unit].
        quantity: As the rules measure it, rounded [unit].
        reason: Why the two differ; empty where they do not.
        parts: Of a layer, what of the net quantity lies on which kind of surface.
    """

    item: str
    band: str
    unit: str
    net: float
    gross: float
    quantity: float
    reason: str
    parts: tuple[Part, ...] = ()

    @property
    def name(self) -> str:
        """Its item, with the band of width that it is measured in."""
        return f"{self.item}, {self.band}" if self.band else self.item

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "item": self.item,
            "band": self.band or None,
            "unit": self.unit,
            "net": self.net,
            "measured": self.quantity,
            "reason": self.reason or None,
            "parts": [
                {"body": body, "kind": kind, "size": size} for body, kind, size in self.parts
            ],
        }


def measured_of(
    model: Model, pieces: Sequence[Piece], takeoff: Takeoff, detailing: Detailing, supply: Supply,
    system: System, method: Method,
) -> tuple[Measured, ...]:  # fmt: skip
    """Measure layers and details by a set of rules.

    Net areas of layers are those of the surface less all openings; arrises and fillets change
    them by a hair, which only what is ordered takes account of.

    Args:
        model: The pool.
        pieces: Of its surface.
        takeoff: Measured on it.
        detailing: What is done at its edges.
        supply: What it takes.
        system: Checked.
        method: The rules.

    Returns:
        Items of work: layers in their bands of width, then details.
    """
    openings = _openings(model, takeoff)
    used = {row.layer for row in supply.coatings}
    rows: list[Measured] = []
    for layer in system.layers:
        if layer.name in used:
            rows += _of_layer(layer, pieces, openings, method)
    return (*rows, *_of_details(detailing, method))


def _openings(model: Model, takeoff: Takeoff) -> list[tuple[Placed, str]]:
    """Return the fittings, each with the zone that it is in."""
    return [
        (item, ZONES[zone_of_fitting(model, item).index(1.0)]) for item in takeoff.fittings
    ]  # fmt: skip


def _of_layer(
    layer: Layer, pieces: Sequence[Piece], openings: Sequence[tuple[Placed, str]], method: Method
) -> Iterator[Measured]:
    """Yield a layer in its bands of width, the narrowest first."""
    # an allowance for repairs lies in patches, not in strips
    bands: tuple[float, ...] = ()
    names = [""]
    if method.girth is not None and layer.share == 1.0:
        bands, names = method.girth.bands, [name for name, _ in method.band_names]
    lengths, areas, broad = [0.0] * len(bands), [0.0] * len(bands), 0.0
    parts: list[dict[tuple[str, str], float]] = [defaultdict(float) for _ in names]
    wide: set[Patch] = set()
    for piece in pieces:
        area = _covered(layer, piece) * layer.share
        if area <= LEAST:
            continue
        # what of it a layer covers is a strip along it: a zone of a wall, the return on its top
        width = piece.width * area / (piece.area * layer.share)
        k = next((i for i, band in enumerate(bands) if width <= band + HAIR), None)
        place = piece.patch.body, piece.patch.kind
        if k is None:
            broad += area
            wide.add(piece.patch)
            parts[-1][place] += area
        else:
            lengths[k] += piece.length
            areas[k] += area
            parts[k][place] += piece.length
    of, size = method.scale.of("m2")
    for k, (length, area) in enumerate(zip(lengths, areas, strict=True)):
        if length:
            why = f"{area / size:.2f} {of} measured by length"
            yield Measured(layer.name, names[k], "m", length, length, method.rounded(length, "m"),
                           why, _parts(parts[k]))  # fmt: skip
    if broad > LEAST:
        mine = [item for item, zone in openings if _is_on(layer, item, zone, wide)]
        yield replace(_broad(layer, names[-1], broad, mine, method), parts=_parts(parts[-1]))


def _parts(sums: Mapping[tuple[str, str], float]) -> tuple[Part, ...]:
    return tuple((*place, size) for place, size in sums.items())


def _broad(
    layer: Layer, name: str, area: float, openings: Sequence[Placed], method: Method
) -> Measured:
    """Return what of a layer is measured by its area."""
    sizes = [item.void_area for item in openings]
    limit = method.voids.up_to if method.voids is not None else 0.0
    small = [size for size in sizes if size <= limit]
    net = area - sum(sizes) * layer.share
    gross = net + sum(small) * layer.share
    why = ""
    if small:
        of, size = method.scale.of("m2")
        openings_of = "opening" if len(small) == 1 else "openings"
        why = f"{len(small)} {openings_of} up to {limit / size:.3g} {of} not deducted"
    return Measured(layer.name, name, "m2", net, gross, method.rounded(gross, "m2"), why)


def _covered(layer: Layer, piece: Piece) -> float:
    """Return how much of a piece a layer covers [m2]."""
    if not is_one_of(piece.patch.kind, layer.where.kinds):
        return 0.0
    return sum(held(piece.zones, piece.wet_area, piece.patch.body, layer.where))


def _is_on(layer: Layer, item: Placed, zone: str, wide: Iterable[Patch]) -> bool:
    """Whether a fitting goes through what a layer covers, where that is measured by its area."""
    return (
        is_one_of(item.surface, layer.where.kinds)
        and holds_at(layer.where, item.body, zone, wet=item.wet)
        and any(
            (patch.body, patch.kind, patch.feature) == (item.body, item.surface, item.feature)
            for patch in wide
        )
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
            yield Measured(name, "", unit, net, 0.0, 0.0, "deemed included")
        else:
            yield Measured(name, "", unit, net, net, method.rounded(net, unit), "")
