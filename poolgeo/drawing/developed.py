"""Walls developed flat: unrolled along the outline of their body, heights as they are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from ..arrays import Floats, Ints
from ..jointing.rows import FinishJoint, FinishJoints
from ..measure.chains import along_outline
from ..mesh import Mesh
from ..model import Body, Model
from ..placed import rim_of
from ..plan.arrangement import components
from ..quantities import CoveRun, JointRun, Run, Takeoff
from ..surface.kinds import WALLS
from .developed_faces import Faces
from .developed_flat import Flat, stands_at


@dataclass(frozen=True)
class Line:
    """A polyline on a developed wall: (k, 2) places along it and heights [m]."""

    points: Floats


@dataclass(frozen=True)
class Stretch(Line):
    """What of a movement joint lies on a wall, or at its edge.

    Args:
        joint: The joint.
        run: The stretch of it.
    """

    joint: FinishJoint
    run: JointRun


@dataclass(frozen=True)
class Edge(Line):
    """An edge run, a cove, or a stretch of a joint of the structure on walls, or at their ends.

    Args:
        run: As measured.
    """

    run: Run | CoveRun | JointRun


@dataclass(frozen=True)
class Development:
    """Walls unrolled as seen from the water, from the first point of their outline on to the right.

    Args:
        body: Whose they are.
        outline: (n, 2) that they stand along [m].
        length: Of that [m].
        level: Height of its water [m].
        low: Height of the lowest place of the walls [m].
        high: Height of their top [m].
        corners: Places of the upright edges of the walls, and of the outline's corners [m].
        rims: Where the walls end: top, foot, and what stands against them.
        joints: Movement joints on them.
        fittings: Collars on them, closed, with the numbers.
        edges: Edge runs at them, coves along them, joints of the structure across them.
        faces: (m, 3, 2) Their triangles [m].
        lean: Whether some of them lean; heights are vertical, not up their slope.
    """

    body: str
    outline: Floats
    length: float
    level: float
    low: float
    high: float
    corners: tuple[float, ...]
    rims: tuple[Line, ...]
    joints: tuple[Stretch, ...]
    fittings: tuple[tuple[str, Line], ...]
    edges: tuple[Edge, ...] = ()
    faces: Floats = field(default_factory=lambda: np.zeros((0, 3, 2)))
    lean: bool = False

    def upright(self, place: float) -> list[Floats]:
        """Return where they stand at a place [m]: lines (2, 2) from their foot to their top."""
        turns = self.length * np.array([-1.0, 0.0, 1.0])
        found = [stands_at(self.faces, place + turn) for turn in turns]
        return [line - [turn, 0.0] for lines, turn in zip(found, turns, strict=True)
                for line in lines]  # fmt: skip


def developments(
    model: Model, takeoff: Takeoff, joints: FinishJoints | None
) -> Iterator[Development]:
    """Yield the developed walls, body after body: of its outline, then of what stands in it.

    Args:
        model: The pool.
        takeoff: Measured on it.
        joints: Movement joints of its finish, if any.
    """
    for body in model.bodies:
        rings = list(_rings(model, body))
        for ring in rings:
            alike = [other for other in rings if other.faces == ring.faces]
            found = _developed(model, takeoff, joints, body, ring, alike)
            if found is not None:
                yield found


BODY_FACES = frozenset(WALLS) | {"weir face", "corner cove", "corner fillet"}
"""Kinds of faces that stand along the outline of their body."""

DAM_FACES = frozenset({"dam wall face"})
"""Kinds of faces that stand along the outer face of a spa, in the pool."""


@dataclass(frozen=True)
class _Ring:
    """A closed outline along which walls stand.

    Args:
        name: Of the walls.
        line: (n, 2) anticlockwise [m].
        from_inside: Whether the water is inside.
        faces: Kinds of the walls' faces.
    """

    name: str
    line: Floats
    from_inside: bool
    faces: frozenset[str]


def _rings(model: Model, body: Body) -> Iterator[_Ring]:
    """Yield the outlines along which walls of a body stand."""
    outlines, name = model.outlines, body.name
    yield _Ring(name, outlines[name, "water"], from_inside=True, faces=BODY_FACES)
    if (name, "hole") in outlines:
        line = outlines[name, "hole"]
        yield _Ring(f"{name}, inner side", line, from_inside=False, faces=BODY_FACES)
    if body is not model.bodies[0]:
        return
    for other, role in outlines:
        line = outlines[other, role]
        if role == "island":
            yield _Ring(f"{name}, {other}", line, from_inside=False, faces=BODY_FACES)
    spas = [other for other in model.bodies if other.mark.startswith("S")]
    for spa, asked in zip(spas, model.design.pool.spas, strict=True):
        water = shapely.Polygon(outlines[spa.name, "water"])
        face = shapely.buffer(water, asked.dam_wall, join_style="mitre")
        title, line = f"{name}, dam wall of {spa.name}", np.array(face.exterior.coords)[:-1]
        yield _Ring(title, line, from_inside=False, faces=DAM_FACES)


def _developed(
    model: Model, takeoff: Takeoff, joints: FinishJoints | None, body: Body, ring: _Ring,
    alike: Sequence[_Ring],
) -> Development | None:  # fmt: skip
    """Develop the walls along an outline of a body: those nearer to it than to others alike."""
    mesh, k = model.square.surface, alike.index(ring)

    def is_mine(points: Floats) -> bool:
        off = [along_outline(other.line, points[:, :2])[1].mean() for other in alike]
        return int(np.argmin(off)) == k

    rows = _faces(mesh, body.name, ring, alike)
    if not len(rows):
        return None
    triangles: Ints = mesh.triangles[rows]
    flat = Flat(ring.line, seen_from_inside=ring.from_inside)
    is_round = np.array([mesh.patches[p].kind.startswith("corner") for p in mesh.patch[rows]])
    faces = Faces(flat, mesh.vertices, triangles, is_round)
    heights = mesh.vertices[triangles][..., 2]
    lean = float(flat.off(mesh.vertices[np.unique(triangles)]).max()) + STANDS / 10.0
    edges = [run for run in _at_walls(takeoff, body.name, ring, np.unique(triangles), lean)
             if not (isinstance(run, JointRun) or _is_upright(run))
             or is_mine(run.points)]  # fmt: skip
    return Development(
        ring.name,
        ring.line,
        flat.length,
        body.level,
        float(heights.min()),
        float(heights.max()),
        _places([*(flat.of(run.points)[0, 0] for run in _upright(edges)), *faces.corners()]),
        tuple(Line(side) for side in faces.rims()),
        tuple(
            Stretch(line, joint, run)
            for joint, run in _on_walls(joints, body.name, ring.faces) if is_mine(run.points)
            for line in faces.lines(run.points)
        ),
        tuple(
            (item.number, Line(faces.ring(np.array(item.point), rim_of(item, closed=True))))
            for item in takeoff.fittings
            if item.body == body.name and item.surface in ring.faces
            and is_mine(np.array([item.point]))
        ),
        tuple(
            Edge(line, run) for run in edges
            for line in ([flat.of(run.points)] if _is_upright(run) else faces.lines(run.points))
        ),
        faces.developed, faces.lean,
    )  # fmt: skip


def is_between_walls(run: Run | CoveRun | JointRun) -> bool:
    """Tell whether a run is an edge between two faces of walls."""
    sides = set(run.kind.split("/")) if isinstance(run, Run) else {""}
    return sides <= BODY_FACES or sides <= DAM_FACES


def _upright(
    runs: Iterable[Run | CoveRun | JointRun],
) -> Iterator[Run | CoveRun | JointRun]:
    """Yield the edges between walls that stand upright."""
    for run in runs:
        if is_between_walls(run) and np.ptp(run.points[:, :2], axis=0).max() < OFF:
            yield run


def _places(found: Iterable[float]) -> tuple[float, ...]:
    """Return places, rising, those within a millimetre once."""
    return tuple({round(place, 3): float(place) for place in sorted(found)}.values())


OFF = 0.02
"""[m] What stands upright moves less than this in plan."""


def _faces(mesh: Mesh, body: str, ring: _Ring, alike: Sequence[_Ring]) -> Ints:
    """Return the triangles (k,) of a body's walls along an outline, by their rows.

    Walls that hang together stand along the outline that they come nearest to; those that come near
    to none, in a well of the floor, are left out.
    """
    own = np.array([p.body == body and p.kind in ring.faces for p in mesh.patches])
    rows = np.flatnonzero(own[mesh.patch])
    triangles: Ints = mesh.triangles[rows]
    if not len(triangles):
        return rows
    pairs = np.concatenate([triangles[:, :2], triangles[:, 1:]])
    group = components(len(mesh.vertices), *pairs.T)[triangles[:, 0]]
    places = mesh.vertices[triangles].mean(axis=1)[:, :2]
    corners = mesh.vertices[triangles[:, 0], :2]
    off = np.stack([
        np.minimum(along_outline(other.line, places)[1], along_outline(other.line, corners)[1])
        for other in alike
    ])  # fmt: skip
    nearest = np.full((len(alike), len(mesh.vertices)), np.inf)
    for k in range(len(alike)):
        np.minimum.at(nearest[k], group, off[k])
    mine = nearest[:, group].argmin(axis=0) == alike.index(ring)
    found: Ints = rows[mine & (nearest[:, group].min(axis=0) < STANDS)]
    return found


STANDS = 0.05
"""[m] Walls that stand along an outline come as near to it somewhere."""


def _at_walls(
    takeoff: Takeoff, body: str, ring: _Ring, vertices: Ints, lean: float
) -> Iterator[Run | CoveRun | JointRun]:
    """Yield edges, coves and joints of the structure that lie on walls of a body, or end them.

    Edges and coves do most of whose points are vertices of the walls, and that come no farther off
    the outline than these. Joints and coves in upright corners are all for whoever asks.
    """
    runs: list[Run | CoveRun] = [*takeoff.edges, *takeoff.coves]
    for run in runs:
        if isinstance(run, Run) and not set(run.kind.split("/")) & ring.faces:
            continue
        if run.body == body and np.isin(run.vertices, vertices).sum() > len(run.vertices) / 2.0:
            middles = (run.points[1:, :2] + run.points[:-1, :2]) / 2.0
            if np.median(along_outline(ring.line, middles)[1]) <= lean:
                yield run
    yield from (cove for cove in takeoff.coves if cove.body == body and _is_upright(cove))
    for joint in takeoff.joints:
        if joint.body == body and joint.surface in ring.faces:
            yield joint


def _is_upright(run: Run | CoveRun | JointRun) -> bool:
    """Tell whether a run is a cove in an upright corner: it lies on two walls, and on neither."""
    return isinstance(run, CoveRun) and run.kind.startswith("corner")


def _on_walls(
    joints: FinishJoints | None, body: str, faces: frozenset[str]
) -> Iterator[tuple[FinishJoint, JointRun]]:
    """Yield what of the joints lies on a wall of a body, or at an edge of one."""
    for joint in () if joints is None else joints.joints:
        for run in joint.runs:
            sides = set(run.surface.split("/"))
            if run.body == body and joint.kind != "round fitting" and sides & faces:
                yield joint, run
