"""The bare pool: its floor, its wall, and what lies under both: slab, footing, thickened edge."""

from __future__ import annotations

import numpy as np
import shapely

from ...design import schema
from ..curves import Floats
from ..floor import Floor
from ..layers import Gap, Layer, Underside
from ..shapes import parallel, polygons_only, rings_of
from ..stretch import CRUMB
from ..tolerances import SHARP_TURN
from ..turning import corners_in
from .coping import check_coping, with_strips
from .part import Part, Water
from .site import Site
from .wall import Wall, beam_undersides, recesses, top_layers, wall_of

MITRE = 4.0
"""[-] A corner of a footing or of a thickened edge stands out at most so many times its width."""


def bare_pools(site: Site, pool: schema.Pool) -> list[Part]:
    """Return the bare pool.

    Args:
        site: The pool as a body of water.
        pool: The pool file.
    """
    wall = wall_of(site, pool)
    profile = site.floor.lowered(pool.shell.floor)
    base, footing = _footing(site, pool, wall)
    overhang = wall.overhang
    if footing is None:
        beams, over = beam_undersides(wall, pool.shell.beam, overhang), []
    else:
        free = polygons_only(shapely.difference(overhang, base))
        beams = beam_undersides(wall, pool.shell.beam, free)
        shared = polygons_only(shapely.intersection(overhang, base))
        over = beam_undersides(wall, pool.shell.beam, shared)
    _check_heights(site, pool, wall, footing, profile)
    check_coping(site, pool.coping)
    if pool.setting == "in ground":
        site.findings.warn(
            ("setting",),
            "means that the shell can float: ground water lifts an emptied pool and breaks it",
            "",
            "before anybody drains it, a qualified person has to know the ground water level and "
            "what relieves it",
        )
    bare = [] if footing is None else [footing]
    recessed = recesses(site, pool, wall)
    floor = Layer(site.body, "floor", "floor", ("floor",), site.ring.polygon, site.floor)
    lines = {site.body: site.ring.points, f"{site.body} shell": _border(wall.head)}
    if base is not wall.head:
        lines[f"{site.body} base"] = _border(base)
    return [
        Part(
            (*bare, *with_strips(top_layers(site, wall), site, pool.coping), *recessed, floor),
            (Underside(base, profile), *_thickened(site, pool, wall, base, profile), *beams),
            waters=(Water(site.body, site.level, "P"),),
            outlines=lines,
            rings=(site.ring,),
            gaps=tuple(Gap(item.region, footing, item) for item in over if footing is not None),
            corners=_ends(site, recessed),
        )
    ]


def _border(shape: shapely.Polygon) -> Floats:
    found: Floats = shapely.get_coordinates(shape.exterior)[:-1]
    return found


def _ends(site: Site, recessed: list[Layer]) -> Floats:
    """Plan points (k, 2) of the outline at which a recess ends, and the wall turns with it [m]."""
    border = shapely.boundary(site.ring.polygon)
    found = [np.zeros((0, 2))]
    for points in rings_of([item.region for item in recessed]) if recessed else ():
        at = shapely.dwithin(border, shapely.points(points), CRUMB)
        sharp = corners_in(points, np.array([len(points) - 1]), CRUMB, SHARP_TURN)
        found.append(points[sharp[at[sharp]]])
    return np.concatenate(found)


def _footing(site: Site, pool: schema.Pool, wall: Wall) -> tuple[shapely.Polygon, Layer | None]:
    """Return what the slab under the pool covers, and the layer of a footing's top."""
    given = pool.shell.footing
    if given is None:
        return wall.outer, None
    base = (
        site.ring.thickened(pool.shell.wall + given.projection)
        if wall.outer is site.outer
        else shapely.buffer(wall.outer, given.projection, join_style="mitre", mitre_limit=MITRE)
    )
    base = shapely.Polygon(base.exterior)
    top = site.floor.lowered(pool.shell.floor - given.thickness)
    region = polygons_only(shapely.difference(base, site.ring.polygon))
    key = ("shell", "footing")
    return base, Layer(site.body, "footing top", "footing", key, region, top, face="footing side")


def _check_heights(
    site: Site, pool: schema.Pool, wall: Wall, footing: Layer | None, profile: Floor
) -> None:
    """Footing, bond beam and wall must lie one above the other."""
    beam, findings = pool.shell.beam, site.findings
    lowest = min(item.top for item in wall.tops)
    above, what = lowest, "wall's top"
    if beam is not None and wall.head is not wall.outer:
        above, what = lowest - beam.depth, "bond beam"
    border = _border(wall.outer if footing is None else footing_base(footing))
    if footing is not None and isinstance(footing.height, Floor):
        top = float(footing.height.height(border).max())
        if top >= above:
            findings.error(
                ("shell", "footing", "thickness"),
                f"must leave the footing's top below the {what}",
                f"{top - above:.3f} m above it",
                "make the footing thinner",
            )
        return
    deepest = float(profile.height(border).max())
    if what == "bond beam" and deepest >= above:
        findings.error(
            ("shell", "beam", "depth"),
            "must leave some wall below the bond beam",
            f"it reaches {deepest - above:.3f} m below the floor's underside",
            "make the beam less deep",
        )


def footing_base(footing: Layer) -> shapely.Polygon:
    """Return what a footing's outer border encloses."""
    part = max(shapely.get_parts(footing.region), key=lambda item: float(item.area))
    return shapely.Polygon(part.exterior)


def _thickened(
    site: Site, pool: schema.Pool, wall: Wall, base: shapely.Polygon, profile: Floor
) -> list[Underside]:
    """Return the undersides of a thickened edge."""
    edge = pool.shell.thickened_edge
    if edge is None:
        return []
    foot, inner = (
        shapely.buffer(wall.outer, -by, join_style="mitre", mitre_limit=MITRE)
        for by in (edge.width, edge.width + edge.splay)
    )
    if inner.is_empty or inner.geom_type != "Polygon" or foot.geom_type != "Polygon":
        site.findings.error(
            ("shell", "thickened_edge", "width"),
            "must leave thinner slab between the edges of opposite walls",
            f"{edge.width + edge.splay:.3f} m with its splay",
            "make it narrower, or the whole floor thicker",
        )
        return []
    strip = polygons_only(shapely.difference(base, foot))
    found = [Underside(strip, profile, drop=lambda xy: np.full(len(xy), edge.depth))]
    if not edge.splay:
        return found
    shapely.prepare(strip)

    def drop(xy: Floats) -> Floats:
        off = shapely.distance(strip, shapely.points(xy))
        share: Floats = np.clip(1.0 - off / edge.splay, 0.0, 1.0)
        # vertices that noding has moved off a border still stand on it
        share[share < CRUMB / edge.splay] = 0.0
        return edge.depth * share

    parts = _sides(foot, inner, edge.splay)
    return [*found, *(Underside(part, profile, drop=drop) for part in parts)]


def _sides(foot: shapely.Polygon, inner: shapely.Polygon, splay: float) -> list[shapely.Geometry]:
    """Return the plan of a splayed side, parted along its mitres."""
    ring = polygons_only(shapely.difference(foot, inner))
    points = shapely.get_coordinates(shapely.orient_polygons(foot).exterior)[:-1]
    step = np.roll(points, -1, axis=0) - points
    step /= np.hypot(*step.T)[:, None]
    after = np.column_stack([-step[:, 1], step[:, 0]])
    before = np.roll(after, 1, axis=0)
    turns = np.arctan2(
        before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], np.sum(before * after, axis=1)
    )
    stops, _ = parallel(points, before, after, splay)
    at = np.flatnonzero(np.abs(turns) > SHARP_TURN)
    over = (stops[at] - points[at]) / np.hypot(*(stops[at] - points[at]).T)[:, None] * CRUMB
    mitres = shapely.linestrings(np.stack([points[at] - over, stops[at] + over], axis=1))
    lines = shapely.union_all([shapely.boundary(ring), *mitres])
    faces = shapely.get_parts(shapely.polygonize([lines]))
    shapely.prepare(ring)
    return list(faces[shapely.contains_properly(ring, shapely.point_on_surface(faces))])
