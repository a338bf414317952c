"""Arrises in the solid: where a plane top ends at a drop, strips of it are painted over it.

They come last, on what really shows, and change nothing but heights in plan: the upright face below
gets lower by itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..arris import profile_of
from ..design.arris import Arris
from ..mesh import Patch
from ..model import LEANS, LOW, MESHED, SMALL
from ..plan.arrangement import components
from ..plan.arris_strips import Borders, strips
from ..plan.floor import Floor
from ..plan.layers import Layer
from ..plan.levels import Levels
from ..plan.planmap import PlanMap
from ..plan.rounds import Round
from ..plan.shapes import polygons_only
from ..plan.slope import Slope
from ..plan.tolerances import GRID, SAME_HEIGHT
from .finishes import Finish, finish_of
from .kinds import KINDS
from .labels import Labels
from .neighbours import PlanEdges, plan_edges

LEAST_SIZE = 2e-3
"""[m] Smaller arrises are not meshed: the narrowest strip of a round is 6 % of its radius wide, and
plan lines nearer than 0.02 mm are one."""

LEAST_FACE = 1e-4
"""[m] So much of the face below must be left."""

STEEPEST_ALONG = 0.1
"""[-] Edges that fall by more are not meshed: sections are upright in the mesh and square to the
edge in the rows, which differs by 0.5 % there."""

STEEPEST_ACROSS = 1.0
"""[-] Nor are those of tops that fall by more, square to the edge: no top does that a foot is set
on or water runs over."""

SAME_SLOPE = 1e-3
"""[-] Tops whose slopes across their edges differ by less have one section."""

FLUSH = 5e-4
"""[m] Where an arris and its top differ by less along an edge, they meet flush there: sections are
plane, and a top that bends leaves them by some hundredths of a millimetre."""

INSIDE = 1e-4
"""[m] Which facet of a top an edge ends is asked so far inside it."""


@dataclass(frozen=True)
class Arrised:
    """What arrises take off a plan.

    Args:
        layers: To be painted over all else.
        middles: (k, 2) plan middles of the edges of tops that were to take one [m].
        share: (k,) which share of each does.
        why: (k,) why not, or not whole: a number of `poolgeo.model.WHY`.
    """

    layers: list[Layer]
    middles: Floats
    share: Floats
    why: Ints


@dataclass(frozen=True)
class _Edges:
    """Edges at which a face of the plan ends above another.

    Args:
        ends: (k, 2) plan vertices, the higher face on the left.
        upper: (k,) the higher face.
        lower: (k,) the lower face.
        z: (k, 2) heights of the higher face at the ends [m].
        drop: (k, 2) how far the lower lies below it there [m].
    """

    ends: Ints
    upper: Ints
    lower: Ints
    z: Floats
    drop: Floats

    def part(self, rows: Ints | Bools) -> _Edges:
        """Return some of them."""
        return _Edges(*(item[rows] for item in vars(self).values()))


def arrised(
    plan: PlanMap, levels: Sequence[Levels], rounds: Sequence[Round], arris: Arris, tolerance: float
) -> Arrised:
    """Take the arrises off a plan's tops.

    Args:
        plan: The painted plan, its edges square.
        levels: Where the surface of each body of water is split.
        rounds: Arcs of walls that are corner coves.
        arris: From the pool file.
        tolerance: Largest distance of a chord from its curve [m].

    Returns:
        The layers, and what was done with which edge.
    """
    edges, finish, finishes = _wanted(plan, rounds, arris)
    ends = plan.vertices[edges.ends]
    planes, lies = _planes(plan, edges, ends)
    size = np.array([item.size for item in finishes])[finish]
    step = ends[:, 1] - ends[:, 0]
    along = step / np.hypot(*step.T)[:, None]
    rise = -planes[:, 0] * along[:, 1] + planes[:, 1] * along[:, 0]
    steep = np.abs(rise) > STEEPEST_ACROSS
    steep |= np.abs(np.sum(planes[:, :2] * along, axis=1)) > STEEPEST_ALONG
    why = np.where(size < LEAST_SIZE, SMALL, np.where(~lies | steep, LEANS, MESHED))
    kept = np.flatnonzero(why == MESHED)
    rise = np.rint(rise / SAME_SLOPE) * SAME_SLOPE
    s, d = _profiles([finishes[i] for i in finish[kept]], rise[kept], tolerance)
    low, high = _deep_enough(edges.drop[kept], d[:, 0] + LEAST_FACE)
    share = np.zeros(len(why))
    share[kept] = np.maximum(high - low, 0.0)
    why[kept[share[kept] < 1.0]] = LOW
    done = share[kept] > 0.0
    rows, s, d, low, high = kept[done], s[done], d[done], low[done], high[done]
    body = _bodies(plan, edges.part(rows), levels)
    tops, top = _tops(plan, edges.upper[rows])
    cut = np.stack([low > 0.0, high < 1.0], axis=1)
    fresh = len(plan.vertices) + np.arange(2 * len(rows)).reshape(-1, 2)
    a, whole = ends[rows, :1], step[rows, None]
    borders = Borders(
        np.where(cut[..., None], a + np.stack([low, high], axis=1)[..., None] * whole, ends[rows]),
        np.where(cut, fresh, edges.ends[rows]),
        finish[rows] * len(tops) + top,
        plan.top[edges.upper[rows]] * len(levels) + body,
        top,
        planes[rows],
        s,
        d,
        tops,
    )
    layers = list(_layers(plan, levels, borders)) if len(rows) else []
    return Arrised(layers, ends.mean(axis=1), share, why)


def flush(plan: PlanMap) -> PlanMap:
    """Return a painted plan with the inner borders of arrises at the heights of their tops."""
    part = plan.partition
    around = plan_edges(part)
    is_arris = np.array([bool(item.on) for item in plan.layers])[plan.top]
    heights = plan.heights.copy()
    left, right = (around.left, around.at_left), (around.right, around.at_right)
    # arrises of two layers with each other first: what the top says holds in the end
    for (mine, at), (other, there), both in (
        (left, right, True), (left, right, False), (right, left, False),
    ):  # fmt: skip
        z = heights[plan.top[part.face], part.vertex]
        flat = np.abs(z[at] - z[there]).max(axis=1) < FLUSH
        rows = np.flatnonzero(~around.outer & is_arris[mine] & (is_arris[other] == both) & flat)
        heights[plan.top[mine[rows]][:, None], part.vertex[at[rows]]] = z[there[rows]]
    return replace(plan, heights=heights)


def _wanted(
    plan: PlanMap, rounds: Sequence[Round], arris: Arris
) -> tuple[_Edges, Ints, list[Finish]]:
    """Return the edges of tops that are not to stay square, and how each (k,) is finished."""
    around = plan_edges(plan.partition)
    labels = Labels(plan, around, rounds)
    edges, rows = _drops(plan, around)
    pair = np.column_stack(
        [labels.of_faces(edges.upper), labels.of_standing(rows, edges.upper, edges.lower)]
    )
    names = list(labels.patches)
    finishes: list[Finish] = []
    number = np.full((len(names), len(names)), -1)
    for one, other in np.unique(pair, axis=0).tolist():
        found = _finish(arris, names[one], names[other])
        if found is not None and found.form != "square":
            if found not in finishes:
                finishes.append(found)
            number[one, other] = finishes.index(found)
    finish = number[pair[:, 0], pair[:, 1]]
    return edges.part(finish >= 0), finish[finish >= 0], finishes


def _finish(arris: Arris, top: Patch, face: Patch) -> Finish | None:
    """Return how the edge between a top and the face below it is finished, None outside."""
    if top.kind not in KINDS or face.kind not in KINDS or top == face:
        return None
    one, other = sorted((top, face), key=lambda item: KINDS.index(item.kind))
    return finish_of(arris, f"{one.kind}/{other.kind}", (one, other))


def _drops(plan: PlanMap, around: PlanEdges) -> tuple[_Edges, Ints]:
    """Return the edges at which faces end above others, and their numbers (k,)."""
    part = plan.partition
    heights = plan.heights[plan.top[part.face], part.vertex]
    left, right = heights[around.at_left], heights[around.at_right]
    found, numbers = [], []
    for upper, lower, high, low, turn in (
        (around.left, around.right, left, right, 1),
        (around.right, around.left, right, left, -1),
    ):
        drop = high - low
        rows = np.flatnonzero(~around.outer & (drop.max(axis=1) > SAME_HEIGHT))
        numbers.append(rows)
        found.append((around.ends[rows][:, ::turn], upper[rows], lower[rows],
                      high[rows][:, ::turn], drop[rows][:, ::turn]))  # fmt: skip
    whole = _Edges(*(np.concatenate(item) for item in zip(*found, strict=True)))
    return whole, np.concatenate(numbers)


def _planes(plan: PlanMap, edges: _Edges, ends: Floats) -> tuple[Floats, Bools]:
    """Return the planes (k, 3) of the tops at edges, and which tops (k,) are planes there."""
    found, lies = np.zeros((len(ends), 3)), np.ones(len(ends), dtype=bool)
    step = ends[:, 1] - ends[:, 0]
    size = np.hypot(*step.T)[:, None]
    inner = ends.mean(axis=1) + INSIDE * np.column_stack([-step[:, 1], step[:, 0]]) / size
    layer = plan.top[edges.upper]
    for n in np.unique(layer).tolist():
        mine, height = np.flatnonzero(layer == n), plan.layers[n].height
        if isinstance(height, float):
            found[mine, 2] = height
        elif isinstance(height, Slope):
            found[mine] = height.planes[height.facet(inner[mine])]
        elif isinstance(height, Floor) and height.is_plane:
            middle = inner[mine[:1]]
            slope = height.gradient_of(middle, 0)[0]
            found[mine] = [*slope, float(height.height(middle)[0]) - float(slope @ middle[0])]
        else:
            lies[mine] = False
    return found, lies


def _profiles(finishes: Sequence[Finish], rise: Floats, tolerance: float) -> tuple[Floats, Floats]:
    """Return the sections (k, n) of edges as `Borders` has them; nan beyond the last chord."""
    parts = {}
    for item in dict.fromkeys(finishes):
        rows = np.array([i for i, mine in enumerate(finishes) if mine == item])
        parts[item] = rows, *profile_of(item.form, item.size, rise[rows], tolerance)
    count = max((s.shape[1] for _, s, _ in parts.values()), default=2)
    found = np.full((2, len(rise), count), np.nan)
    for rows, s, d in parts.values():
        found[0, rows, : s.shape[1]], found[1, rows, : s.shape[1]] = s, d
    return found[0], found[1]


def _deep_enough(drop: Floats, least: Floats) -> tuple[Floats, Floats]:
    """Return from where to where, as shares (k,) of edges, drops (k, 2) are no less than (k,)."""
    above = drop - least[:, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        at = above[:, 0] / (above[:, 0] - above[:, 1])
    low = np.where(above[:, 0] >= 0.0, 0.0, np.where(above[:, 1] > 0.0, at, 1.0))
    high = np.where(above[:, 1] >= 0.0, 1.0, np.where(above[:, 0] > 0.0, at, 0.0))
    return low, high


def _bodies(plan: PlanMap, edges: _Edges, levels: Sequence[Levels]) -> Ints:
    """Return the number of the body (k,) that each arris belongs to.

    That of the face below it, as the edge does; but that of the top where this is under its water.
    """
    number = {item.body: k for k, item in enumerate(levels)}
    of_layer = np.array([number[item.body] for item in plan.layers])
    water = np.array([item.water for item in levels])
    upper, lower = of_layer[plan.top[edges.upper]], of_layer[plan.top[edges.lower]]
    wet = edges.z.max(axis=1) < water[upper] - SAME_HEIGHT
    found: Ints = np.where(wet, upper, lower)
    return found


def _tops(plan: PlanMap, faces: Ints) -> tuple[list[shapely.Geometry], Ints]:
    """Return the tops that some faces (k,) are part of, and the number of each's.

    A top is all of one kind that hangs together without a step.
    """
    part = plan.partition
    around = plan_edges(part)
    heights = plan.heights[plan.top[part.face], part.vertex]
    kinds = np.array([KINDS.index(item.kind) if item.kind in KINDS else -1 for item in plan.layers])
    kind = kinds[plan.top]
    apart = np.abs(heights[around.at_left] - heights[around.at_right]).max(axis=1)
    same = ~around.outer & (apart < SAME_HEIGHT) & (kind[around.left] == kind[around.right])
    owner = components(len(kind), around.left[same], around.right[same])
    wanted, top = np.unique(owner[faces], return_inverse=True)
    found = []
    for number in wanted.tolist():
        shapes = [
            shapely.Polygon(rings[0], rings[1:])
            for face in np.flatnonzero(owner == number).tolist()
            for rings in ([plan.vertices[part.vertex[loop]] for loop in part.rings[face]],)
        ]
        found.append(polygons_only(shapely.union_all(shapes)))
    return found, top


def _layers(plan: PlanMap, levels: Sequence[Levels], borders: Borders) -> Iterator[Layer]:
    """Yield the layers of strips: one for each layer that they are taken off and each body."""
    facets, planes, key = strips(borders)
    for number in np.unique(key).tolist():
        mine = np.flatnonzero(key == number)
        n, k = divmod(number, len(levels))
        whole = polygons_only(shapely.union_all(facets[mine], grid_size=GRID))
        group = np.zeros(len(mine), dtype=np.int64)
        height = Slope(facets[mine], planes[mine], group, {}, frozenset())
        top = plan.layers[n]
        yield replace(
            top, body=levels[k].body, kind="arris", region=whole, height=height, over="all",
            on=top.kind,
        )  # fmt: skip
