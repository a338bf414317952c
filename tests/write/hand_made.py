"""A pool whose every vertex and run is written down by hand, to test the writers alone.

Section along x, the same for every y from 0 to 4 [m]; water level at z = 0, wall top at 0.15::

    x      0     1     2              5              7.8  8
    z   0  ~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~
     -0.4  ______
     -0.8       |_____
     -1.2             |_______________                     | -1.8
     -2.0                             `--------------------'  cove, drawn as one flat strip

Vertical runs at the four corners, break line at x = 5.
"""

from __future__ import annotations

import math

import numpy as np
import shapely

from poolgeo.arrays import Floats
from poolgeo.design.load import Design
from poolgeo.design.schema import Pool
from poolgeo.errors import Finding
from poolgeo.mesh import ZONES, Mesh, Patch
from poolgeo.model import Body, Model, Spot
from poolgeo.plan.features.part import Role
from poolgeo.quantities import AreaRow, CoveRun, Run, Sense, Takeoff

WIDTH = 4.0
LENGTH = 8.0
TOP = 0.15
PROFILE = ((0.0, -0.4), (1.0, -0.4), (1.0, -0.8), (2.0, -0.8), (2.0, -1.2), (5.0, -1.2))
DEEP = (7.8, -2.0)
COVE_TOP = (8.0, -1.8)
SECTION = (*PROFILE, DEEP, COVE_TOP)
STRIPS = (
    Patch("pool", "tread", "steps[0] tread 1"),
    Patch("pool", "riser", "steps[0] riser 1"),
    Patch("pool", "tread", "steps[0] tread 2"),
    Patch("pool", "riser", "steps[0] riser 2"),
    Patch("pool", "floor", "floor panel 1"),
    Patch("pool", "floor", "floor panel 2"),
    Patch("pool", "cove", "cove"),
)
WALL = Patch("pool", "wall", "outline")
WARNING = Finding(("steps", 0, "going"), "is longer than usual", "1000 mm", "check it", "warning")

FILE = {
    "name": "Hand-made pool",
    "units": "m",
    "outline": {"shape": "polygon", "points": ((0, 0), (LENGTH, 0), (LENGTH, WIDTH), (0, WIDTH))},
    "floor": {"shape": "level", "depth": 1.2},
}
"""As much of a pool file as the writers look at."""

Point = tuple[float, float, float]


class _Builder:
    """Collects labelled triangles and shares their vertices."""

    def __init__(self) -> None:
        self._vertices: dict[Point, int] = {}
        self._patches: dict[Patch, int] = {}
        self._triangles: list[tuple[int, int, int]] = []
        self._patch: list[int] = []

    def triangle(self, patch: Patch, a: Point, b: Point, c: Point) -> None:
        """Add a triangle."""
        i, j, k = (self._vertices.setdefault(p, len(self._vertices)) for p in (a, b, c))
        self._triangles.append((i, j, k))
        self._patch.append(self._patches.setdefault(patch, len(self._patches)))

    def quad(self, patch: Patch, a: Point, b: Point, c: Point, d: Point) -> None:
        """Add a flat or ruled four-sided face."""
        self.triangle(patch, a, b, c)
        self.triangle(patch, a, c, d)

    def mesh(self) -> Mesh:
        """Return what was collected."""
        return Mesh(
            np.array(list(self._vertices), float),
            np.array(self._triangles, np.int64),
            np.array(self._patch, np.int64),
            tuple(self._patches),
        )


def _inside(builder: _Builder, top: float) -> None:
    """Add the inside up to ``top`` [m]; the strip above the water level as faces of its own."""
    for patch, (x1, z1), (x2, z2) in zip(STRIPS, SECTION, SECTION[1:], strict=False):
        builder.quad(patch, (x1, 0, z1), (x2, 0, z2), (x2, WIDTH, z2), (x1, WIDTH, z1))
    below = shapely.Polygon([*SECTION, (LENGTH, 0.0), (0.0, 0.0)])
    for part in shapely.constrained_delaunay_triangles(below).geoms:
        (x1, z1), (x2, z2), (x3, z3) = shapely.orient_polygons(part).exterior.coords[:3]
        builder.triangle(WALL, (x1, WIDTH, z1), (x2, WIDTH, z2), (x3, WIDTH, z3))
        builder.triangle(WALL, (x1, 0.0, z1), (x3, 0.0, z3), (x2, 0.0, z2))
    _band(builder, WALL, [(0, -0.4), (LENGTH, -1.8)], 0.0)
    if top > 0:
        ring = [(0.0, 0.0), (LENGTH, 0.0), (LENGTH, WIDTH), (0.0, WIDTH)]
        for (x1, y1), (x2, y2) in zip(ring, ring[1:] + ring[:1], strict=True):
            builder.quad(WALL, (x1, y1, 0), (x1, y1, top), (x2, y2, top), (x2, y2, 0))


def _band(builder: _Builder, patch: Patch, ends: list[tuple[float, float]], top: float) -> None:
    """Add the two end walls, from their foot up to ``top``."""
    (x1, z1), (x2, z2) = ends
    builder.quad(patch, (x1, 0, z1), (x1, WIDTH, z1), (x1, WIDTH, top), (x1, 0, top))
    builder.quad(patch, (x2, 0, z2), (x2, 0, top), (x2, WIDTH, top), (x2, WIDTH, z2))


def surface() -> Mesh:
    """The inside up to the wall top, facing the water."""
    builder = _Builder()
    _inside(builder, TOP)
    return builder.mesh()


def water() -> Mesh:
    """The water, closed, normals out of it."""
    builder = _Builder()
    _inside(builder, 0.0)
    inside = builder.mesh()
    flipped = _Builder()
    for (i, j, k), patch in zip(inside.triangles, inside.patch, strict=True):
        a, b, c = (_point(inside.vertices[n]) for n in (i, k, j))
        flipped.triangle(inside.patches[patch], a, b, c)
    free = Patch("pool", "water surface", "water")
    flipped.quad(free, (0, 0, 0), (LENGTH, 0, 0), (LENGTH, WIDTH, 0), (0, WIDTH, 0))
    return flipped.mesh()


def as_it_is(water: Mesh, _: float) -> Mesh:
    """The water above is closed already."""
    return water


def shell() -> Mesh:
    """The concrete, closed: walls 0.25, flat underside at -2.3 [m]."""
    builder = _Builder()
    _inside(builder, TOP)
    t, low = 0.25, -2.3
    inner = [(0.0, 0.0), (LENGTH, 0.0), (LENGTH, WIDTH), (0.0, WIDTH)]
    outer = [(-t, -t), (LENGTH + t, -t), (LENGTH + t, WIDTH + t), (-t, WIDTH + t)]
    rim, back = Patch("pool", "wall top", "rim"), Patch("pool", "outer wall", "shell")
    for n in range(4):
        m = (n + 1) % 4
        builder.quad(rim, (*inner[n], TOP), (*outer[n], TOP), (*outer[m], TOP), (*inner[m], TOP))
        builder.quad(back, (*outer[n], TOP), (*outer[n], low), (*outer[m], low), (*outer[m], TOP))
    a, b, c, d = ((*corner, low) for corner in outer)
    builder.quad(Patch("pool", "soffit", "shell"), a, d, c, b)
    return builder.mesh()


def _point(row: Floats) -> Point:
    x, y, z = row.tolist()
    return x, y, z


def outlines() -> dict[tuple[str, Role], Floats]:
    """The inner and the outer face of the wall."""
    t = 0.25
    return {
        ("pool", "water"): np.array([(0, 0), (LENGTH, 0), (LENGTH, WIDTH), (0, WIDTH)], float),
        ("pool", "shell"): np.array(
            [(-t, -t), (LENGTH + t, -t), (LENGTH + t, WIDTH + t), (-t, WIDTH + t)], float
        ),
    }


def model(name: str = "Hand-made pool", units: str = "m") -> Model:
    """The hand-made pool."""
    pool = Pool.model_validate({**FILE, "name": name, "units": units})
    inside = surface()
    middle = inside.vertices[inside.triangles].mean(axis=1)
    spots = (
        Spot((0.5, 2.0, -0.4), "pool", "tread", 0.4),
        Spot((1.5, 2.0, -0.8), "pool", "tread", 0.8),
        Spot((3.5, 2.0, -1.2), "pool", "floor", 1.2),
        Spot((7.8, 2.0, -2.0), "pool", "floor", 2.0),
    )
    return Model(
        design=Design(pool),
        surface=inside,
        wet=middle[:, 2] < 0,
        zone=np.where(middle[:, 2] < 0, 0, 2),
        bodies=(Body("pool", 0.0, (0.0, 0.0), water(), as_it_is, "P"),),
        shell=shell(),
        outlines=outlines(),
        corners=outlines()["pool", "water"],
        creases={},
        contacts=(),
        tangents=frozenset(),
        coves={},
        floors={},
        spots=spots,
        warnings=(WARNING,),
    )


def _run(number: str, sense: Sense, kind: str, angle: float, *points: Point) -> Run:
    """Make a run; what lies above z = 0 is dry: freeboard, or a wall top."""
    path = np.array(points, float)
    lengths = np.linalg.norm(np.diff(path, axis=0), axis=1)
    wet = (path[1:, 2] + path[:-1, 2]) / 2 < 0
    zone = np.where(wet, 0, 3 if kind == "wall/wall top" else 2)
    return Run(
        number=number,
        body="pool",
        sense=sense,
        kind=kind,
        points=path,
        wet=wet,
        zone=zone,
        length=float(lengths.sum()),
        wet_length=float(lengths[wet].sum()),
        zones=tuple(float(lengths[zone == i].sum()) for i in range(len(ZONES))),
        angle=angle,
    )


def runs() -> tuple[Run, ...]:
    """Every edge run of the hand-made pool."""
    w, x = WIDTH, LENGTH
    brow = 180 + math.degrees(math.atan2(0.8, 2.8))
    found = [
        _run("P1.1", "internal", "floor/riser", 90, (2, 0, -1.2), (2, w, -1.2)),
        _run("P1.2", "internal", "tread/riser", 90, (1, 0, -0.8), (1, w, -0.8)),
        _run("P2.1", "external", "tread/riser", 270, (1, 0, -0.4), (1, w, -0.4)),
        _run("P2.2", "external", "tread/riser", 270, (2, 0, -0.8), (2, w, -0.8)),
        _run("P3.1", "external", "floor/floor", brow, (5, 0, -1.2), (5, w, -1.2)),
        _run("P4.1", "internal", "tread/wall", 90, (0, 0, -0.4), (0, w, -0.4)),
    ]
    for n, y in enumerate((0.0, w)):
        found += [
            _run(f"P4.{2 + n}", "internal", "tread/wall", 90, (0, y, -0.4), (1, y, -0.4)),
            _run(f"P4.{4 + n}", "internal", "tread/wall", 90, (1, y, -0.8), (2, y, -0.8)),
            _run(
                f"P5.{1 + n}",
                "internal",
                "floor/wall",
                90,
                (2, y, -1.2),
                (5, y, -1.2),
                (DEEP[0], y, DEEP[1]),
            ),
            _run(
                f"P6.{1 + 2 * n}", "internal", "wall/wall", 90, (0, y, -0.4), (0, y, 0), (0, y, TOP)
            ),
            _run(
                f"P6.{2 + 2 * n}", "internal", "wall/wall", 90, (x, y, -1.8), (x, y, 0), (x, y, TOP)
            ),
        ]
    rim = [(0.0, 0.0, TOP), (x, 0.0, TOP), (x, w, TOP), (0.0, w, TOP)]
    found += [
        _run(f"P7.{n + 1}", "external", "wall/wall top", 270, rim[n], rim[(n + 1) % 4])
        for n in range(4)
    ]
    return tuple(sorted(found, key=lambda run: run.number))


def takeoff() -> Takeoff:
    """What the hand-made pool holds; areas and volumes by the sketch, not by the mesh."""
    slope = math.hypot(2.8, 0.8)
    section = 1 * 0.4 + 1 * 0.8 + 3 * 1.2 + 2.8 * 1.6 + 0.2 * 1.9
    ends = WIDTH * (0.4 + 1.8)
    walls = 2 * section + ends
    rim = 2 * (LENGTH + WIDTH) * TOP
    flat = math.hypot(0.2, 0.2)
    dry = (0.0, 0.0, 0.0, 0.0)
    rows = (
        AreaRow(
            "pool",
            "floor",
            (3 + slope) * WIDTH,
            (3 + slope) * WIDTH,
            5.8 * WIDTH,
            ((3 + slope) * WIDTH, *dry),
        ),
        AreaRow("pool", "wall", walls + rim, walls, 0.0, (walls, 0.0, rim, 0.0, 0.0)),
        AreaRow("pool", "cove", flat * WIDTH, flat * WIDTH, 0.2 * WIDTH, (flat * WIDTH, *dry)),
        AreaRow("pool", "tread", 2 * WIDTH, 2 * WIDTH, 2 * WIDTH, (2 * WIDTH, *dry)),
        AreaRow("pool", "riser", 0.8 * WIDTH, 0.8 * WIDTH, 0.0, (0.8 * WIDTH, *dry)),
    )
    cove = CoveRun(
        "P8.1",
        "pool",
        "cove",
        0.2,
        np.array([(8, 0, -1.8), (8, WIDTH, -1.8)], float),
        WIDTH,
        flat * WIDTH,
        (WIDTH, *dry),
        (flat * WIDTH, *dry),
    )
    outside = (LENGTH + 0.5) * (WIDTH + 0.5) * (TOP + 2.3)
    inside = section * WIDTH + LENGTH * WIDTH * TOP
    return Takeoff(
        areas=rows,
        edges=runs(),
        coves=(cove,),
        water={"pool": section * WIDTH},
        shell=outside - inside,
        bands={"pool": (0.0, 0.0)},
        warnings=(WARNING,),
    )
