"""An upright section along a line: what it cuts, and what is seen beyond it.

Places in a section are (t, z): along the line from its start, and height [m]. It is looked at from
the right of the line, from start to end, so that t runs to the right.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from ..arrays import Bools, Floats, Ints
from ..mesh import Mesh
from ..model import Model
from ..quantities import CoveRun, Run, Takeoff
from ..surface.slices import Slice, Straight, slice_at
from .cut_lines import letter
from .plan_lines import clipped
from .section_check import checked_cuts
from .sight import IN_FRONT, Sight

CRUMB = 0.01
"""[m] What is seen of an edge beyond a section, and no longer, is left out."""

PIECE = 0.1
"""[m] What lies beyond a section is looked at in pieces no longer than this: seen, or hidden."""


@dataclass(frozen=True)
class Cut:
    """A stretch of surface that a section cuts.

    Args:
        body: Of water that it belongs to.
        kind: Of surface, such as ``floor``.
        points: (k, 2) [m].
    """

    body: str
    kind: str
    points: Floats


@dataclass(frozen=True)
class Beyond:
    """What is seen of an edge beyond a section.

    Args:
        number: Of its run.
        kind: Of edge.
        points: (k, 2) [m].
    """

    number: str
    kind: str
    points: Floats


@dataclass(frozen=True)
class Section:
    """An upright section.

    Args:
        name: As the drawing has it.
        line: In plan.
        concrete: What it cuts of the shell (t, z).
        water: What it cuts of each body of water by its name (t, z).
        cuts: What it cuts of the finished surface.
        beyond: What is seen beyond it.
        sight: Faces that hide what is beyond it.
    """

    name: str
    line: Straight
    concrete: shapely.Geometry
    water: dict[str, shapely.Geometry]
    cuts: tuple[Cut, ...]
    beyond: tuple[Beyond, ...]
    sight: Sight

    @property
    def reach(self) -> tuple[float, float, float, float]:
        """Least t and z, and largest t and z [m]."""
        found: tuple[float, float, float, float] = self.concrete.bounds
        return found


def cut_lines_of(model: Model) -> dict[str, Straight]:
    """Return the lines along which sections are cut, by their names.

    Where the pool file says nothing of them: one along the pool, one across it, one along each spa.
    What it asks for must pass `checked_cuts`, which raises what it finds.

    Args:
        model: The pool.

    Returns:
        The lines.
    """
    asked = model.design.pool.drawings.sections
    if asked is not None:
        checked_cuts(model)
        return {item.name: Straight.of(item.start, item.end) for item in asked}
    lines = list(_usual(model, "pool"))
    lines += [_usual(model, body.name)[0] for body in model.bodies[1:] if body.mark.startswith("S")]
    return {letter(number): line for number, line in enumerate(lines)}


CLEAR_OF_WALLS = 0.3
"""[m] A section along a wall would cut it or not, by a hair: usual ones keep as far off."""

BEYOND_SHELL = 0.3
"""[m] How far the usual sections reach beyond the concrete."""


def _usual(model: Model, body: str) -> tuple[Straight, Straight]:
    """Return a line along a body of water, and one across.

    Both go through its deepest place, or as near to that as is clear of its walls.
    """
    outline = shapely.Polygon(model.outlines[body, "water"])
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(outline))[:4]
    ways = np.diff(corners[:3], axis=0)
    along = ways[int(np.argmax(np.hypot(*ways.T)))]
    along = along / np.hypot(*along)
    if (along[0], along[1]) < (0.0, 0.0):
        along = -along
    spots = [spot for spot in model.spots if spot.body == body]
    deepest = min(spots, key=lambda spot: spot.point[2], default=None)
    place = shapely.Point(deepest.point[:2]) if deepest else outline.centroid
    room = shapely.buffer(outline, -CLEAR_OF_WALLS)
    way = shapely.shortest_line(place if room.is_empty else room, place)
    middle = shapely.get_coordinates(way)[0]
    concrete = np.concatenate([
        line for (name, role), line in model.outlines.items()
        if role in {"shell", "base"} and body in {name, "pool"}
    ])  # fmt: skip

    def through(way: Floats) -> Straight:
        at = (concrete - middle) @ way
        ends = [at.min() - BEYOND_SHELL, at.max() + BEYOND_SHELL]
        (a, b), (c, d) = (middle + np.outer(ends, way)).tolist()
        return Straight.of((a, b), (c, d))

    return through(along), through(np.array([-along[1], along[0]]))


def section_of(model: Model, takeoff: Takeoff, name: str, line: Straight) -> Section:
    """Cut a pool.

    Args:
        model: The pool.
        takeoff: Measured on it.
        name: As the drawing has it.
        line: In plan; the section is as long as it is.

    Returns:
        The section.
    """
    within = shapely.box(0.0, -1e4, line.length, 1e4)
    concrete = shapely.intersection(_area(model.shell, line), within)
    water = {
        body.name: shapely.intersection(_area(body.water, line), within)
        for body in model.bodies if len(body.wetted.triangles)
    }  # fmt: skip
    cuts = tuple(_cuts(model.surface, line))
    sight = _sight(model.shell, line)
    beyond = tuple(_beyond(takeoff, line, concrete, sight))
    return Section(name, line, concrete, water, cuts, beyond, sight)


def _placed(line: Straight, points: Floats) -> Floats:
    """Return the places (k, 2) of points (k, 3) in a section."""
    return np.stack([line.along(points), points[..., 2]], axis=-1)


def _area(mesh: Mesh, line: Straight) -> shapely.Geometry:
    """Return what an upright plane cuts of a closed mesh, as an area (t, z).

    Twice the area to the left of all segments is what each adds to the sum over the outline, so the
    rings that `shapely.polygonize` finds are inside where their points lie in the solid.
    """
    cut = slice_at(mesh, line.off(mesh.vertices))
    sides = _placed(line, cut.points)[cut.ends]
    real = np.any(np.abs(sides[:, 0] - sides[:, 1]) > 0.0, axis=1)
    found = shapely.polygonize(shapely.get_parts(shapely.node(
        shapely.multilinestrings(shapely.linestrings(sides[real]))
    )))  # fmt: skip
    faces = shapely.get_parts(found)
    if not len(faces):
        return shapely.Polygon()
    inside = _is_inside(shapely.point_on_surface(faces), sides[real])
    return shapely.union_all(faces[inside])


def _is_inside(points: np.ndarray, sides: Floats) -> Bools:
    """Return which points lie within closed chains of sides (k, 2, 2): by sides above them."""
    t, z = shapely.get_coordinates(points).T
    a, b = sides[:, 0], sides[:, 1]
    spans = (a[:, 0] <= t[:, None]) != (b[:, 0] <= t[:, None])
    width = np.where(a[:, 0] == b[:, 0], 1.0, b[:, 0] - a[:, 0])
    height = a[:, 1] + (t[:, None] - a[:, 0]) / width * (b[:, 1] - a[:, 1])
    found: Bools = ((spans & (height > z[:, None])).sum(axis=1) % 2).astype(bool)
    return found


def _cuts(mesh: Mesh, line: Straight) -> Iterator[Cut]:
    """Yield what a section cuts of the surface, patch by patch, joined up."""
    cut = slice_at(mesh, line.off(mesh.vertices))
    places = _placed(line, cut.points)
    t = places[cut.ends][..., 0]
    kept = np.flatnonzero((t.max(axis=1) > 0.0) & (t.min(axis=1) < line.length))
    patch = mesh.patch[cut.triangles[kept]]
    for number in np.unique(patch).tolist():
        label = mesh.patches[number]
        for chain in _joined(cut, kept[patch == number]):
            points = places[chain]
            is_within = points[:, 0].min() >= 0.0 and points[:, 0].max() <= line.length
            for part in [points] if is_within else clipped(points, 0.0, line.length):
                yield Cut(label.body, label.kind, part)


def _joined(cut: Slice, rows: Ints) -> Iterator[Ints]:
    """Yield the points of segments that hang together, in order."""
    from ..measure.chains import chains_of

    ends = cut.ends[rows]
    for chain in chains_of(ends, np.zeros(len(ends), dtype=np.int64), cut.points, np.pi):
        yield chain.vertices


def _beyond(
    takeoff: Takeoff, line: Straight, concrete: shapely.Geometry, sight: Sight
) -> Iterator[Beyond]:
    """Yield what is seen of the edges beyond a section, to its left."""
    shapely.prepare(concrete)
    left, _, right, _ = concrete.bounds
    runs: list[Run | CoveRun] = [*takeoff.edges, *takeoff.coves]
    for run in runs:
        points = _divided(run.points)
        middle = (points[1:] + points[:-1]) / 2.0
        t = line.along(middle)
        open_ = (line.off(middle) > IN_FRONT) & (t > left) & (t < right)
        rows = np.flatnonzero(open_)
        seen = np.zeros(len(middle), dtype=bool)
        within = shapely.contains_xy(concrete, _placed(line, middle[rows]))
        seen[rows] = ~within & ~sight.hides(_seen_along(line, middle[rows]))
        for first, last in _stretches(seen):
            part = _placed(line, points[first : last + 1])
            if np.ptp(part, axis=0).max() > CRUMB:
                yield Beyond(run.number, run.kind, part)


def _sight(mesh: Mesh, line: Straight) -> Sight:
    """Return the faces beyond a section."""
    beyond = (line.off(mesh.vertices)[mesh.triangles] > 0.0).any(axis=1)
    return Sight.of(_seen_along(line, mesh.vertices[mesh.triangles[beyond]]))


def _seen_along(line: Straight, points: Floats) -> Floats:
    """Return the places of points (..., 3) in a section, and how far beyond it they lie [m]."""
    return np.concatenate([_placed(line, points), line.off(points)[..., None]], axis=-1)


def _divided(points: Floats) -> Floats:
    """Return a polyline (k, 3) with more points, so that no step is longer than `PIECE`."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    count = np.maximum(np.ceil(steps / PIECE), 1.0).astype(np.int64)
    at = np.concatenate([
        k + np.arange(n) / n for k, n in enumerate(count.tolist())
    ] + [[len(steps)]])  # fmt: skip
    every = np.arange(len(points))
    return np.column_stack([np.interp(at, every, points[:, i]) for i in range(3)])


def _stretches(seen: Bools) -> Iterable[tuple[int, int]]:
    """Return the first step and the end of each stretch that is seen."""
    edge = np.diff(np.concatenate([[False], seen, [False]]).astype(np.int8))
    return zip(np.flatnonzero(edge == 1).tolist(), np.flatnonzero(edge == -1).tolist(), strict=True)
