"""What a detail lays: layers of the build-up, strips and coats of a rule, with their thicknesses.

Films are drawn as thick as they dry, times the exaggeration. Order, common practice, no source:
what comes before the first membrane in the build-up (primers) goes on first, then the strips and
coats of the rule in its order, then the rest. A layer that covers a share of the surface only, such
as repairs, is named but not drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from ..design.lengths import Units
from ..design.places import Places, is_one_of
from ..design.scale import METRIC, scale_of
from ..detailing.operations import wet_depth
from ..mesh import ZONES, Zones
from ..system.layers import Layer, Thickness
from ..system.materials import Liquid
from ..system.schema import System
from ..system.work import CoatWork, StripWork, Work
from . import contents
from .detail_frame import Callout, Frame, Picture
from .detail_section import Band, Ground, Stack

SHEET = 0.012
"""[-] Thickness at which a strip is drawn, to the width of the picture: files do not give it."""


@dataclass(frozen=True)
class Site:
    """Where a detail is: what decides which layers it has.

    Args:
        bodies: Bodies of water.
        zones: Length in each zone [m].
        wet: Whether some of it is under water, and whether some is not.
        kinds: Kinds of surface that meet there.
    """

    bodies: frozenset[str]
    zones: Zones
    wet: tuple[bool, bool]
    kinds: frozenset[str]

    def takes(self, where: Places) -> bool:
        """Whether what holds in some places holds here or in a part of it."""
        here = [name for name, size in zip(ZONES, self.zones, strict=True) if size > 0.0]
        return (
            (where.bodies is None or bool(self.bodies & set(where.bodies)))
            and (where.zones is None or bool(set(here) & set(where.zones)))
            and (where.wet is None or self.wet[0 if where.wet else 1])
            and any(is_one_of(kind, where.kinds) for kind in self.kinds)
        )


@dataclass(frozen=True)
class Film:
    """A layer or a coat that a detail lays.

    Args:
        text: What the list says of it.
        dry: True thickness [m].
        width: Over both faces; None over all [m].
        offset: How far its middle lies off the edge [m].
        is_sheet: Whether it is a strip, whose thickness nobody states.
        is_bed: Whether a strip lies in it.
        zones: Zones that it is bound to; None for all.
    """

    text: str
    dry: float
    width: float | None = None
    offset: float = 0.0
    is_sheet: bool = False
    is_bed: bool = False
    zones: tuple[str, ...] | None = None


def dry_film(material: Liquid, how: Thickness) -> float:
    """Return how thick one coat dries [m]; where solids are not stated, all of it stays."""
    return wet_depth(material, how) * (material.solids or 1.0)


def film_text(material: Liquid, how: Thickness, units: Units, coats: int = 1) -> str:
    """Return the thicknesses of a coat as a list has them, in mm or mils."""
    scale = scale_of(units)
    digits = 2 if scale is METRIC else 0

    def text(film: float) -> str:
        return f"{film / scale.film_metres:.{digits}f} {scale.film}"

    wet = wet_depth(material, how) * (1.0 + (how.thinned if isinstance(how, Layer) else 0.0))
    each = f"{coats} coats of {text(wet)} wet" if coats > 1 else f"{text(wet)} wet"
    if material.solids is None:
        return each
    return f"{each}, {text(coats * dry_film(material, how))} dry"


def layers_at(system: System, site: Site, units: Units) -> tuple[list[Film], list[Film], list[str]]:
    """Return the layers at a place: those before strips, those after, and notes on the others."""
    before: list[Film] = []
    after: list[Film] = []
    notes = []
    group = before
    for layer in system.layers:
        material = system.liquid(layer.material)
        if material.role == "membrane":
            group = after
        if not site.takes(layer.where):
            continue
        text = f"{layer.name}: {layer.material}, "
        text += film_text(material, layer, units, layer.coats)
        if layer.where.zones is not None:
            text += f"; {', '.join(layer.where.zones)} only"
        if layer.share < 1.0:
            notes.append(f"Not drawn: {text}, on {layer.share:.0%} of the surface.")
        else:
            dry = layer.coats * dry_film(material, layer)
            group.append(Film(text, dry, zones=layer.where.zones))
    return before, after, notes


def strips_of(system: System, work: Sequence[Work], frame: Frame) -> Iterator[Film]:
    """Yield the strips and coats of a rule in their order, each bed before its strip."""
    for item in work:
        name = item.name or item.do
        if isinstance(item, CoatWork):
            material = system.liquid(item.material)
            text = f"{name}: {item.material}, {frame.size(item.width)} wide, "
            text += film_text(material, item, frame.units)
            yield Film(text, dry_film(material, item), item.width)
        elif isinstance(item, StripWork):
            yield from _strip(system, item, name, frame)


def _strip(system: System, item: StripWork, name: str, frame: Frame) -> Iterator[Film]:
    width = system.roll(item.material).width
    if (bed := item.bed) is not None:
        liquid = system.liquid(bed.material)
        text = f"bed of {name}: {bed.material}, "
        if bed.beyond:
            text += f"{frame.size(bed.beyond)} beyond it, "
        text += film_text(liquid, bed, frame.units)
        wide = None if width is None else width + 2.0 * bed.beyond
        yield Film(text, dry_film(liquid, bed), wide, item.offset, is_bed=True)
    text = "width not stated" if width is None else f"{frame.size(width)} wide"
    yield Film(f"{name}: {item.material}, {text}", 0.0, width, item.offset, is_sheet=True)


def reach_of(films: Iterable[Film]) -> float:
    """Return how far strips and coats reach from the middle [m]."""
    return max((film.offset + film.width / 2.0 for film in films if film.width), default=0.0)


def sheet(reach: float) -> float:
    """Return the thickness at which strips are drawn in a picture [m].

    Args:
        reach: Half of the picture's width [m].
    """
    return 2.0 * SHEET * reach


def about(ground: Ground, film: Film) -> list[Band]:
    """Return the band of a film that lies along an edge; none where it covers all."""
    if film.width is None:
        return []
    middle = ground.middle - film.offset
    return [(middle - film.width / 2.0, middle + film.width / 2.0)]


def lay(
    picture: Picture, stack: Stack, film: Film, thickness: float, bands: Sequence[Band],
    off: BaseGeometry | None = None,
) -> None:  # fmt: skip
    """Lay a film and draw it.

    Args:
        picture: It is drawn there.
        stack: It is laid on to that.
        film: To lay.
        thickness: As it is drawn [m].
        bands: What it covers; all where there are none.
        off: Where it does not go.
    """
    area, lines = stack.lay(thickness, *bands, off=off)
    if area.is_empty:
        return
    picture.lines.extend((contents.BUILD_UP, line, False) for line in lines)
    if film.is_sheet:
        picture.areas.append((contents.BUILD_UP, area))
    picture.callouts.append(Callout(film.text, area))
