"""The footing: the floor slab runs out beyond the pool's wall."""

from __future__ import annotations

import shapely

from ...design import schema
from ..floor import Floor
from ..layers import Layer, Underside
from ..shapes import polygons_only
from .concrete import Wall
from .site import Site

MITRE = 4.0
"""[-] A corner of a footing or of a thickened edge stands out at most so many times its width."""


def base_of(
    site: Site, shell: schema.Shell, outer: shapely.Polygon, *, is_even: bool
) -> shapely.Polygon:
    """Return what the slab under the pool encloses.

    Args:
        site: The pool.
        shell: From the pool file.
        outer: What the wall's outer face encloses, the slab too where there is no footing.
        is_even: Whether the wall is as thick as the shell all round.
    """
    if shell.footing is None:
        return outer
    out = shell.footing.projection
    base = (
        site.ring.thickened(shell.wall + out)
        if is_even
        else shapely.buffer(outer, out, join_style="mitre", mitre_limit=MITRE)
    )
    return shapely.Polygon(base.exterior)


def footing_floor(site: Site) -> Floor | None:
    """Return the profile of the footing's top."""
    footing = site.shell.footing
    return None if footing is None else site.floor.lowered(site.shell.floor - footing.thickness)


def footing_top(site: Site, wall: Wall) -> Layer | None:
    """Return the layer of the footing's top."""
    top = footing_floor(site)
    if top is None:
        return None
    region = polygons_only(shapely.difference(wall.base, site.ring.polygon))
    key = ("shell", "footing")
    return Layer(site.body, "footing top", "footing", key, region, top, face="footing side")


def footing_undersides(site: Site, wall: Wall, deeper: float = 0.0) -> list[Underside]:
    """Return the underside of the footing: where it ends at other concrete, its side shows.

    Args:
        site: The pool.
        wall: The pool's wall.
        deeper: How much deeper than the floor's underside it lies [m].
    """
    if wall.base is wall.outer:
        return []
    strip = polygons_only(shapely.difference(wall.base, wall.outer))
    return [Underside(strip, site.soffit, side="footing side", deeper=deeper)]


def check_heights(site: Site, shell: schema.Shell, wall: Wall, footing: Layer | None) -> None:
    """Footing, bond beam and wall must lie one above the other."""
    above, what = min(item.top for item in wall.tops), "wall's top"
    if shell.beam is not None and wall.head is not wall.outer:
        above, what = above - shell.beam.depth, "bond beam"
    border = shapely.get_coordinates(wall.base.exterior)
    if footing is not None and isinstance(footing.height, Floor):
        top = float(footing.height.height(border).max())
        if top >= above:
            site.findings.error(
                ("shell", "footing", "thickness"),
                f"must leave the footing's top below the {what}",
                f"{top - above:.3f} m above it",
                "make the footing thinner",
            )
        return
    deepest = float(site.soffit.height(border).max())
    if what == "bond beam" and deepest >= above:
        site.findings.error(
            ("shell", "beam", "depth"),
            "must leave some wall below the bond beam",
            f"it reaches {deepest - above:.3f} m below the floor's underside",
            "make the beam less deep",
        )
