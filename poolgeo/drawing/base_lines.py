"""The lines that make up the plan of a pool: its outlines, and the rims of kinds of surface."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from ..mesh import Mesh
from ..model import Model
from ..surface.kinds import rims_of
from . import contents
from .contents import Content
from .plan_lines import rim_sides

RIMS = (
    (contents.STEPS, rims_of("steps")),
    (contents.BENCHES, rims_of("benches")),
    (contents.SPA, rims_of("spa")),
    (contents.OVERFLOW, rims_of("overflow")),
    (contents.RECESSES, rims_of("recesses")),
    (contents.COVE, rims_of("cove")),
)
"""Content -> the kinds whose rims it shows."""

TOP = 1e4
"""[m] Height of lines that nothing stands over: outlines at the top of walls."""


@dataclass(frozen=True)
class BaseLine:
    """A line of the plan, or many that do not follow each other.

    Args:
        content: What it is where it is seen.
        ends: (k, 2, 3) its sides [m]; `TOP` and minus that are the tops and the feet of walls.
        cut: Height above which all is cut away [m].
        is_path: Whether each side starts where the one before ends.
        is_outside: Whether it lies on the outside of the shell.
    """

    content: Content
    ends: Floats
    cut: float
    is_path: bool = False
    is_outside: bool = False

    @property
    def path(self) -> Floats:
        """(k + 1, 3) the points of a path, its first again where it is closed [m]."""
        return np.concatenate([self.ends[:, 0], self.ends[-1:, 1]])


def base_lines(model: Model) -> Iterator[BaseLine]:
    """Yield the lines of the plan, in the order in which they are drawn.

    Args:
        model: The pool with square edges.
    """
    yield from _shells(model)
    yield from _inner_outlines(model)
    levels = cuts_of(model)
    for content, kinds in RIMS:
        yield from _rims(model.surface, content, kinds, levels)
    for line in _rims(model.shell, contents.SHELL, ("beam underside",), levels):
        yield BaseLine(line.content, line.ends, line.cut, is_outside=True)


def cuts_of(model: Model) -> dict[str, float]:
    """Return the height at which each body is cut: its water's, the pool's where it is dry."""
    return {body.name: 0.0 if body.is_dry else body.level for body in model.bodies}


def _rims(
    mesh: Mesh, content: Content, kinds: tuple[str, ...], levels: dict[str, float]
) -> Iterator[BaseLine]:
    """Yield the rims of some kinds, body by body."""
    sides, owners = rim_sides(mesh, kinds)
    bodies = np.array([patch.body for patch in mesh.patches] or [""])[mesh.patch[owners]]
    for name in np.unique(bodies).tolist():
        yield BaseLine(content, mesh.vertices[sides[bodies == name]], levels.get(name, 0.0))


def _path(content: Content, points: Floats, cut: float, height: float = TOP) -> BaseLine:
    """Return a path (k, 2) at one height."""
    raised = np.column_stack([points, np.full(len(points), height)])
    return BaseLine(content, np.stack([raised[:-1], raised[1:]], axis=1), cut, is_path=True,
                    is_outside=height < TOP)  # fmt: skip


def _shells(model: Model) -> Iterator[BaseLine]:
    """Yield the outer faces of shell and footing.

    Where a spa stands astride the pool's edge, the two shells are one. A footing ends where the
    concrete of another body stands.
    """
    from shapely import LinearRing, Polygon, get_parts, get_rings, line_merge, union_all

    shells = {
        name: Polygon(line) for (name, role), line in model.outlines.items() if role == "shell"
    }
    ground = [Polygon(line) for (_, role), line in model.outlines.items() if role == "ground"]
    shells["pool"] = shells["pool"].difference(union_all(ground))  # a spa may stand on that
    for part in get_parts(union_all(list(shells.values()))):
        for ring in get_rings(part):
            yield _path(contents.SHELL, np.array(ring.coords), 0.0)
    if ("pool", "base") in model.outlines and model.design.pool.shell.footing is not None:
        others = union_all([item for name, item in shells.items() if name != "pool"])
        footing = LinearRing(model.outlines["pool", "base"]).difference(others)
        footing = line_merge(footing) if footing.geom_type == "MultiLineString" else footing
        for part in get_parts(footing):
            yield _path(contents.SHELL, np.array(part.coords), 0.0, -TOP)


def _inner_outlines(model: Model) -> Iterator[BaseLine]:
    """Yield the inner faces of the walls of all bodies of water, and of islands.

    Where a spa stands astride the pool's edge, the pool's outline ends at the spa.
    """
    from shapely import LinearRing, Polygon, get_parts, line_merge

    levels = cuts_of(model)
    pool = LinearRing(model.outlines["pool", "water"])
    drawn = {key: contents.OUTLINE for key in model.outlines if key[1] == "island"}
    for body in model.bodies[1:]:
        is_spa = body.mark.startswith("S")
        content = contents.SPA if is_spa else contents.OVERFLOW
        drawn |= {key: content for key in model.outlines
                  if key[0] == body.name and key[1] in ("water", "hole")}  # fmt: skip
        if is_spa:
            pool = pool.difference(Polygon(model.outlines[body.name, "shell"]))
    pool = line_merge(pool) if pool.geom_type == "MultiLineString" else pool
    for part in get_parts(pool):
        yield _path(contents.OUTLINE, np.array(part.coords), levels["pool"])
    for key, content in drawn.items():
        ring = np.array(LinearRing(model.outlines[key]).coords)
        yield _path(content, ring, levels.get(key[0], 0.0))
