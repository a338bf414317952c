"""The samples whose floors are cones or planes over triangles, or whose sides are all planes.

By triangles, by rows of points, and as what half-spaces have in common; nothing of poolgeo's
geometry is used.
"""

from __future__ import annotations

import csv
import math
from functools import cached_property
from itertools import pairwise

import numpy as np
import pytest
import shapely
from scipy.spatial import ConvexHull, Delaunay, HalfspaceIntersection

from poolgeo.arrays import Floats

from .curves import Curve, spline
from .quadrature import area, length
from .sample_files import (
    SAMPLES,
    SIZE,
    VOLUME,
    areas,
    number,
    numbers,
    plain,
    points_of,
    runs,
    takeoff,
)

MANY = 10_000
"""Points along a curve."""
ROWS = 800
"""Rows of points over a plan."""


ORDER = ["floor", "wall", "fillet"]
"""Of two kinds that meet in an edge the one that is named first."""


class TestPlayPool:
    """A spline through listed points; of two cones the deeper is the floor."""

    FILE = plain("drains")
    FALL = number(FILE["floor"]["fall"])
    TIPS = points_of([item["at"] for item in FILE["floor"]["drains"]])
    DEEP = np.array([number(item["depth"]) for item in FILE["floor"]["drains"]])
    TOP = number(FILE["freeboard"])
    WALL, SLAB = numbers(FILE["shell"], "wall", "floor")
    STEEP = math.hypot(1, FALL)

    @cached_property
    def curve(self) -> Curve:
        """The outline."""
        x, y = self.FILE["outline"]["columns"]
        with (SAMPLES / self.FILE["outline"]["file"]).open() as stream:
            rows = csv.DictReader(line for line in stream if not line.startswith("#"))
            return spline([(float(row[x]) / 1000, float(row[y]) / 1000) for row in rows])

    def border(self, off: float = 0.0) -> Floats:
        """Points on the outline, or so far outside it (k, 2)."""
        u = np.linspace(0.0, self.curve.knots[-1], MANY, endpoint=False)
        found: Floats = self.curve.at(u, 0) - off * self.curve.normal(u)
        return found

    def depth(self, xy: Floats) -> Floats:
        """Depth of the floor at plan points (..., 2)."""
        away = np.linalg.norm(xy[..., None, :] - self.TIPS, axis=-1)
        found: Floats = (self.DEEP - self.FALL * away).max(axis=-1)
        return found

    def under(self, border: Floats) -> float:
        """Volume from the water level down to the floor within a border: row by row."""
        low, high = border[:, 1].min(), border[:, 1].max()
        tall = (high - low) / ROWS
        total = 0.0
        ahead = np.roll(border, -1, axis=0)
        for y in low + tall * (np.arange(ROWS) + 0.5):
            cut = np.flatnonzero((border[:, 1] > y) != (ahead[:, 1] > y))
            share = (y - border[cut, 1]) / (ahead[cut, 1] - border[cut, 1])
            ends = np.sort(border[cut, 0] + share * (ahead[cut, 0] - border[cut, 0]))
            for a, b in ends.reshape(-1, 2):
                x = a + (b - a) * (np.arange(100) + 0.5) / 100
                total += tall * (b - a) * self.depth(np.column_stack([x, 0 * x + y])).mean()
        return total

    def test_water(self) -> None:
        """Row by row."""
        assert takeoff("drains").water["pool"] == pytest.approx(
            self.under(self.border()), rel=VOLUME
        )

    def test_areas(self) -> None:
        """A cone is as much larger than its plan as its fall makes it."""
        border = self.border()
        step = np.linalg.norm(np.roll(border, -1, axis=0) - border, axis=1)
        plan, round_ = area(self.curve), length(self.curve)
        want = {
            "floor": plan * self.STEEP,
            "wall": float(np.sum(self.depth(border) * step)) + self.TOP * round_,
            "wall top": self.WALL * round_ + math.pi * self.WALL**2,
        }
        assert areas("drains") == pytest.approx(want, rel=SIZE)

    def test_lengths(self) -> None:
        """On the ridge the ways to the drains differ by k: a hyperbola about their middle."""
        border = self.border()
        foot = np.column_stack([border, self.depth(border)])
        k = float(self.DEEP[0] - self.DEEP[1]) / self.FALL
        apart = self.TIPS[1] - self.TIPS[0]
        c, a = float(np.hypot(*apart)) / 2, k / 2
        along = apart / (2 * c)
        left = np.array([-along[1], along[0]])
        t = np.linspace(-4.0, 4.0, 400_001)
        u, v = a * np.cosh(t), math.sqrt(c**2 - a**2) * np.sinh(t)
        ridge = self.TIPS.mean(axis=0) + u[:, None] * along + v[:, None] * left
        ridge = ridge[shapely.contains_xy(shapely.Polygon(border), ridge)]
        line = np.column_stack([ridge, self.depth(ridge)])
        want = {
            ("wall/wall top", "external"): length(self.curve),
            ("floor/wall", "internal"): float(
                np.linalg.norm(np.roll(foot, -1, axis=0) - foot, axis=1).sum()
            ),
            ("floor/floor", "external"): float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum()),
        }
        assert runs("drains") == pytest.approx(want, rel=SIZE)

    def test_concrete(self) -> None:
        """Cones go on under the wall; the slab's thickness is square to them."""
        plan, round_ = area(self.curve), length(self.curve)
        outer = plan + self.WALL * round_ + math.pi * self.WALL**2
        below = self.under(self.border(self.WALL)) + outer * self.SLAB * self.STEEP
        want = below - self.under(self.border()) + (outer - plan) * self.TOP
        assert takeoff("drains").shell == pytest.approx(want, rel=VOLUME)


class TestOldTank:
    """Plane over the triangles between spot levels; one wall higher and thicker."""

    FILE = plain("spots")
    PLAN = shapely.Polygon(points_of(FILE["outline"]["points"]))
    SPOTS = points_of([item["at"] for item in FILE["floor"]["spots"]])
    DOWN = np.array([number(item["depth"]) for item in FILE["floor"]["spots"]])
    TOP = number(FILE["freeboard"])
    WALL, SLAB = numbers(FILE["shell"], "wall", "floor")
    FACE = FILE["walls"][0]
    FACE_TOP, FACE_WALL = numbers(FACE, "height", "thickness")
    TRIANGLES = Delaunay(SPOTS).simplices

    @cached_property
    def planes(self) -> Floats:
        """Of each triangle: depth = a x + b y + c (t, 3)."""
        corners = np.concatenate([self.SPOTS, np.ones((len(self.SPOTS), 1))], axis=1)
        found: Floats = np.linalg.solve(
            corners[self.TRIANGLES], self.DOWN[self.TRIANGLES][..., None]
        )[..., 0]
        return found

    def cut(self, shape: shapely.Geometry) -> list[shapely.Geometry]:
        """Part a shape by the triangles."""
        return [shapely.intersection(shape, shapely.Polygon(self.SPOTS[t])) for t in self.TRIANGLES]

    def stretch(self) -> Floats:
        """True area over plan area of each triangle (t,)."""
        return np.sqrt(1 + self.planes[:, 0] ** 2 + self.planes[:, 1] ** 2)

    def under(self, shape: shapely.Polygon, more: Floats | float = 0.0) -> float:
        """Volume below the water level within a shape, so much deeper than each plane."""
        parts = self.cut(shape)
        size = shapely.area(parts)
        middle = shapely.get_coordinates(shapely.centroid(np.array(parts)[size > 0]))
        a, b, c = self.planes[size > 0].T
        deep = np.zeros(len(parts))
        deep[size > 0] = a * middle[:, 0] + b * middle[:, 1] + c
        return float(np.sum(size * (deep + more)))

    def curtain(self, line: shapely.LineString) -> tuple[float, float]:
        """Area from the water level to the floor under a line, and the length of its foot."""
        wall = foot = 0.0
        for part, (a, b, c) in zip(self.cut(line), self.planes, strict=True):
            for piece in shapely.get_parts(part):
                if piece.is_empty:
                    continue
                p, q = shapely.get_coordinates(piece)[[0, -1]]
                run, fall = float(np.hypot(*(q - p))), float((q - p) @ (a, b))
                wall += run * float((p + q) / 2 @ (a, b) + c)
                foot += math.hypot(run, fall)
        return wall, foot

    def test_water(self) -> None:
        """Triangle by triangle: plan area times the depth at its middle."""
        assert takeoff("spots").water["pool"] == pytest.approx(self.under(self.PLAN), rel=VOLUME)

    def test_floor_and_wall(self) -> None:
        """Each triangle as it slopes, each wall down to the triangles under it."""
        floor = float(np.sum(shapely.area(self.cut(self.PLAN)) * self.stretch()))
        border = shapely.get_coordinates(self.PLAN)
        sides = [shapely.LineString(pair) for pair in pairwise(border)]
        wet, foot = np.sum([self.curtain(side) for side in sides], axis=0)
        a, b = points_of([self.FACE["start"], self.FACE["end"]])
        face = float(np.hypot(*(b - a)))
        dry = self.PLAN.length * self.TOP + face * (self.FACE_TOP - self.TOP)
        found = areas("spots")
        assert found["floor"] == pytest.approx(floor, rel=SIZE)
        assert found["wall"] == pytest.approx(wet + dry, rel=SIZE)
        end = self.WALL * (self.FACE_TOP - self.TOP)  # what is thicker stands beside no wall
        assert found["wall end"] == pytest.approx(2 * end, rel=SIZE)
        assert runs("spots")["floor/wall", "internal"] == pytest.approx(foot, rel=SIZE)

    def test_breaks(self) -> None:
        """Each side that two triangles share, with the way it turns."""
        want = {"internal": 0.0, "external": 0.0}
        for i, j in zip(*np.triu_indices(len(self.TRIANGLES), 1), strict=True):
            shared = np.intersect1d(self.TRIANGLES[i], self.TRIANGLES[j])
            if len(shared) < 2:
                continue
            part = shapely.intersection(shapely.LineString(self.SPOTS[shared]), self.PLAN)
            if part.is_empty:
                continue
            (apex,) = np.setdiff1d(self.TRIANGLES[j], shared)
            carried = float(self.planes[i] @ (*self.SPOTS[apex], 1.0))
            sense = "internal" if self.DOWN[apex] < carried else "external"
            for piece in shapely.get_parts(part):
                p, q = shapely.get_coordinates(piece)
                fall = float((q - p) @ self.planes[i, :2])
                want[sense] += math.hypot(float(np.hypot(*(q - p))), fall)
        found = runs("spots")
        for sense, run in want.items():
            assert found["floor/floor", sense] == pytest.approx(run, rel=SIZE)

    def test_concrete(self) -> None:
        """The raised wall's plan is its side moved out; the others' corners are mitred."""
        a, b = points_of([self.FACE["start"], self.FACE["end"]])
        way = (b - a) / np.hypot(*(b - a))
        out = np.array([way[1], -way[0]])
        thick = self.FACE_WALL * out
        face = shapely.Polygon([a, b, b + thick, a + thick])
        plain_ = shapely.buffer(self.PLAN, self.WALL, join_style="mitre")
        outer = shapely.union(plain_, face)
        slab = self.SLAB * self.stretch()
        want = self.under(outer, slab) - self.under(self.PLAN)
        want += (outer.area - self.PLAN.area) * self.TOP + face.area * (self.FACE_TOP - self.TOP)
        assert takeoff("spots").shell == pytest.approx(want, rel=VOLUME)


class TestExercisePool:
    """All its sides are planes and it is convex: what half-spaces have in common."""

    FILE = plain("fillet")
    CORNERS = points_of(FILE["outline"]["points"])
    TOP = number(FILE["freeboard"])
    FALL = number(FILE["floor"]["fall"])
    DEEP = number(FILE["floor"]["depth"])
    LEAN = number(FILE["batter"]["stretches"][0]["slope"])
    LEG = number(FILE["cove"]["radius"])
    WALL, SLAB = numbers(FILE["shell"], "wall", "floor")

    def legs(self) -> list[float]:
        """Radius of the fillet along each side: of its own where a stretch begins there."""
        own = {
            tuple(map(number, item["start"])): number(item["radius"])
            for item in self.FILE["cove"]["stretches"]
        }
        return [own.get(tuple(corner), self.LEG) for corner in self.CORNERS.tolist()]

    def planes(self) -> tuple[list[str], Floats]:
        """Kinds, and the planes (k, 4) whose value is negative on the water's side."""
        floor = np.array([-self.FALL, 0.0, -1.0, -self.DEEP])
        floor /= np.linalg.norm(floor[:3])
        kinds, found = ["floor"], [floor]
        for k, leg in enumerate(self.legs()):
            a, b = self.CORNERS[k], self.CORNERS[(k + 1) % len(self.CORNERS)]
            way = (b - a) / np.hypot(*(b - a))
            lean = self.LEAN if k == len(self.CORNERS) - 1 else 0.0
            out = np.array([way[1], -way[0], -lean])  # it stands at the outline at the wall top
            wall = np.array([*out, lean * self.TOP - out[:2] @ a])
            wall /= np.linalg.norm(out)
            kinds.append("wall")
            found.append(wall)
            if not leg:
                continue
            foot = np.cross(wall[:3], floor[:3])
            foot /= np.linalg.norm(foot)
            solved = np.linalg.solve(
                np.array([wall[:3], floor[:3], foot]), np.array([-wall[3], -floor[3], 0.0])
            )
            up, across = np.cross(foot, wall[:3]), np.cross(foot, floor[:3])
            up *= np.sign(up[2])
            across *= -np.sign(across @ wall[:3])
            angle = math.acos(float(up @ across))
            reach = leg / math.tan(angle / 2)  # where a ball of that radius touches either
            face = np.cross(foot, across - up)
            face *= np.sign(face @ wall[:3]) / np.linalg.norm(face)
            kinds.append("fillet")
            found.append(np.array([*face, -face @ (solved + reach * up)]))
        return kinds, np.array(found)

    def body(self, top: float) -> tuple[float, dict[str, float], dict[str, float]]:
        """Volume [m3], areas by kind [m2] and edges by pairs of kinds [m], below a height."""
        kinds, planes = self.planes()
        every = np.vstack([planes, [0.0, 0.0, 1.0, -top]])
        points = HalfspaceIntersection(every, np.array([5.0, 2.5, -0.5])).intersections
        points = np.unique(points.round(9), axis=0)
        hull = ConvexHull(points)
        size = dict.fromkeys(kinds, 0.0)
        on = [np.abs(points @ item[:3] + item[3]) < 1e-7 for item in planes]
        for kind, item, mine in zip(kinds, planes, on, strict=True):
            across = np.linalg.svd(item[None, :3])[2][1:]
            size[kind] += float(ConvexHull(points[mine] @ across.T).volume)
        edges: dict[str, float] = {}
        for i, j in zip(*np.triu_indices(len(planes), 1), strict=True):
            ends = points[on[i] & on[j]]
            if len(ends) == 2:
                pair = "/".join(sorted((kinds[i], kinds[j]), key=ORDER.index))
                edges[pair] = edges.get(pair, 0.0) + float(np.linalg.norm(ends[1] - ends[0]))
        return float(hull.volume), size, edges

    def test_water(self) -> None:
        """Below the water level."""
        assert takeoff("fillet").water["pool"] == pytest.approx(self.body(0.0)[0], rel=VOLUME)

    def test_areas(self) -> None:
        """Up to the wall top."""
        found = areas("fillet")
        want = self.body(self.TOP)[1]
        assert {kind: found[kind] for kind in want} == pytest.approx(want, rel=SIZE)

    def test_lengths(self) -> None:
        """All edges between faces of the wet surface are internal, mitres among them."""
        want = {(kind, "internal"): run for kind, run in self.body(self.TOP)[2].items()}
        found = runs("fillet")
        assert {key: found[key] for key in want} == pytest.approx(want, rel=SIZE)

    def test_concrete(self) -> None:
        """The outer face is plumb; the slab's thickness is square to the floor."""
        outer = shapely.buffer(shapely.Polygon(self.CORNERS), self.WALL, join_style="mitre")
        middle = outer.centroid.x
        deep = self.DEEP + self.FALL * middle + self.SLAB * math.hypot(1, self.FALL)
        want = outer.area * (self.TOP + deep) - self.body(self.TOP)[0]
        assert takeoff("fillet").shell == pytest.approx(want, rel=VOLUME)
