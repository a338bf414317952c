"""Placing: every fitting of a pool file on its triangle of the surface, or a finding.

::

    on the wall      a level line from the outline's chord into the water: the first face that it
                     comes out of, be it the wall or a bench that stands before it
    on what lies     a plumb line: the highest face
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ..arrays import Floats
from ..design.schema import Pool
from ..errors import Findings
from ..mesh import Mesh, Patch
from ..model import Lie
from ..placed import SLANT, Placed, Vector
from ..plan.ring import Ring
from ..plan.tolerances import GRID, SHARP_TURN
from .checks import check_ground, check_neighbours, check_suction, check_water
from .hits import from_above, out_of_the_wall
from .rows import folded
from .wanted import Wanted, below, wanted

BEHIND = 5e-4
"""[m] A line out of the wall starts this far behind the outline's chord: more than noding moves it,
and within the thinnest wall."""

DAM_TOPS = ("dam wall top", "spillway")
"""What lies on top of a dam wall."""

WALL_TOPS = ("wall top", *DAM_TOPS)
"""What lies on top of walls."""


def place(
    mesh: Mesh,
    lies: Mapping[Patch, Lie | None],
    waters: Mapping[str, float],
    rings: Mapping[str, Ring],
    pool: Pool,
    findings: Findings,
) -> tuple[Placed, ...]:
    """Set a pool's fittings on its surface.

    Args:
        mesh: The surface.
        lies: How its patches lie, as far as that is known.
        waters: Water level of each body [m].
        rings: Outline of each body.
        pool: From the pool file.
        findings: Where to leave findings.

    Returns:
        The fittings that have found a place, in the order of the file.
    """
    if not pool.fittings:
        return ()
    begin = len(findings.found)
    pieces = wanted(pool, rings, findings)
    landed = _on_walls(mesh, waters, pieces, findings) | _from_above(mesh, pieces, findings)
    items: list[Placed] = []
    patches: list[int] = []
    for i, piece in enumerate(pieces):
        if i in landed:
            triangle, point = landed[i]
            patch = mesh.patches[mesh.patch[triangle]]
            normal = _normal(mesh, triangle, piece)
            if check_ground(piece, patch, point, stands=normal[2] < SLANT, findings=findings):
                items.append(_placed(piece, mesh, triangle, point, normal, waters))
                patches.append(int(mesh.patch[triangle]))
    check_water(items, waters, findings)
    if items:
        check_neighbours(mesh, lies, items, np.array(patches), findings)
    check_suction(items, findings)
    findings.found[begin:] = folded(findings.found[begin:])
    return tuple(items)


def _on_walls(
    mesh: Mesh,
    waters: Mapping[str, float],
    pieces: Sequence[Wanted],
    findings: Findings,
) -> dict[int, tuple[int, Floats]]:
    """Return triangle and true point of the fittings that go on walls, by number."""
    rows = [i for i, item in enumerate(pieces) if item.inward is not None]
    if not rows:
        return {}
    mine = [pieces[i] for i in rows]
    plan, off, inward = (
        np.array([getattr(item, name) for item in mine]) for name in ("plan", "off", "inward")
    )
    levels = np.array([waters[item.entry.body or ""] for item in mine])
    heights = levels - np.array([item.entry.depth for item in mine], dtype=float)
    # behind the wall's face there is its top; a dam wall's is before the spa's outline
    way = np.array([1.0 if item.entry.dam_wall else -1.0 for item in mine])
    tops = from_above(mesh, plan + (BEHIND * way)[:, None] * inward)
    hits = out_of_the_wall(mesh, plan, inward, heights, BEHIND)
    found = {}
    for k, (i, item) in enumerate(zip(rows, mine, strict=True)):
        top, hit = (_patch(mesh, int(both.triangle[k])) for both in (tops, hits))
        depth = levels[k] - heights[k]
        if _may_be(item, top, levels[k] - tops.at[k], hit, depth, findings):
            x, y = plan[k] + off[k] + hits.at[k] * inward[k]
            found[i] = int(hits.triangle[k]), np.array([x, y, heights[k]])
    return found


def _patch(mesh: Mesh, triangle: int) -> Patch | None:
    return mesh.patches[mesh.patch[triangle]] if triangle >= 0 else None


def _may_be(
    item: Wanted,
    top: Patch | None,
    top_depth: float,
    hit: Patch | None,
    depth: float,
    findings: Findings,
) -> bool:
    """Check that there is a wall at a station, and that a fitting meets it.

    Args:
        item: The fitting.
        top: What lies behind the wall's face.
        top_depth: How deep below the fitting's water [m].
        hit: What the level line out of the wall meets.
        depth: How deep the line is below that water [m].
        findings: Where to leave what is wrong.

    Returns:
        Whether it has met a face of its body.
    """
    key, deep, body = (*item.key, "depth"), f"{item.label} is {below(depth)}", item.entry.body
    x, y = item.plan
    is_dam = item.entry.dam_wall is not None
    if (
        top is None
        or (is_dam and top.kind not in DAM_TOPS)
        or (top.body != body and top.kind not in WALL_TOPS)
    ):
        wall = "a dam wall" if is_dam else f"the {body}'s wall"
        there = "nothing" if top is None else f"the {top.kind} of the {top.body}"
        came = f"{item.label} at ({x:.3f}, {y:.3f}) m, where there is {there}"
        findings.error(item.where, f"must lie where {wall} stands", came, "choose another station")
    elif depth < top_depth:
        rule, came = "must lie on the wall, below its top", f"the {top.kind} there is"
        remedy = "give a greater depth, or another station"
        findings.error(key, rule, f"{deep}; {came} {below(top_depth)}", remedy)
    elif hit is None or hit.kind.endswith("floor"):
        rule, came = "must lie on the wall, above the floor", "the floor at the wall is higher"
        remedy = "give a smaller depth, or a 'point' for one that sits on the floor"
        findings.error(key, rule, f"{deep}; {came}", remedy)
    elif hit.body != body:
        came, remedy = f"{item.label} comes out in the {hit.body}", "choose another station"
        findings.error(item.where, f"must lie on a wall of the {body}", came, remedy)
    else:
        return True
    return False


def _from_above(
    mesh: Mesh, pieces: Sequence[Wanted], findings: Findings
) -> dict[int, tuple[int, Floats]]:
    """Return triangle and point of the fittings that go on what lies there, by number."""
    rows = [i for i, item in enumerate(pieces) if item.inward is None]
    if not rows:
        return {}
    plan = np.array([pieces[i].plan for i in rows])
    hits = from_above(mesh, plan)
    found = {}
    for k, i in enumerate(rows):
        item, n = pieces[i], int(hits.triangle[k])
        if n < 0:
            findings.error(
                item.where if item.entry.offset is None else (*item.key, "offset"),
                "must lie in the pool or on the top of its wall",
                f"{item.label} at ({plan[k, 0]:.3f}, {plan[k, 1]:.3f}) m, where there is neither",
                "move it, or give the shell a thicker wall",
            )
        elif (body := mesh.patches[mesh.patch[n]].body) != (item.entry.body or body):
            findings.error(
                item.where,
                f"must lie in the {item.entry.body}",
                f"{item.label} at ({plan[k, 0]:.3f}, {plan[k, 1]:.3f}) m, in the {body}",
                f"move it, or give it the body '{body}'",
            )
        else:
            found[i] = n, np.array([*plan[k], hits.at[k]])
    return found


def _normal(mesh: Mesh, triangle: int, piece: Wanted) -> Floats:
    """Return the unit normal (3,), turned on a curved wall as the true curve is there."""
    normal: Floats = mesh.doubled_areas[triangle] / np.linalg.norm(mesh.doubled_areas[triangle])
    flat = float(np.hypot(*normal[:2]))
    along = flat * np.cos(SHARP_TURN)  # a facet's normal turns by less
    if piece.inward is not None and normal[:2] @ piece.inward > along:
        return np.array([*(flat * piece.inward), normal[2]])
    return normal


def _placed(
    piece: Wanted,
    mesh: Mesh,
    triangle: int,
    point: Floats,
    normal: Floats,
    waters: Mapping[str, float],
) -> Placed:
    """Return a fitting on its surface."""
    entry, patch = piece.entry, mesh.patches[mesh.patch[triangle]]
    if normal[2] < SLANT:
        across = np.array([-normal[1], normal[0], 0.0])
    else:
        along = np.array([*piece.along, 0.0])
        across = along - (along @ normal) * normal
    across /= np.linalg.norm(across)
    size = (entry.width or 0.0, entry.height or 0.0)
    level = waters[patch.body]
    found = Placed(
        piece.number,
        entry.name or entry.kind,
        entry.kind,
        piece.where,
        patch.body,
        patch.kind,
        patch.feature,
        _vector(point),
        _vector(normal),
        _vector(across),
        float(level - point[2]) + 0.0,
        False,
        entry.diameter is not None,
        size if entry.diameter is None else (entry.diameter, entry.diameter),
        entry.collar or 0.0,
        entry.protection or "",
    )
    low = point[2] - found.rise(*found.half)
    return replace(found, wet=bool(low < level - GRID))


def _vector(values: Floats) -> Vector:
    x, y, z = (float(value) + 0.0 for value in values)
    return x, y, z
