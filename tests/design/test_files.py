"""Outlines from drawings and from lists of points."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
import shapely
import yaml
from ezdxf.document import Drawing
from ezdxf.layouts.layout import Modelspace

from poolgeo.builder import build
from poolgeo.design.load import Design, design_from, load
from poolgeo.errors import PoolFileError
from poolgeo.plan.outline import Outline, outline_of

Draw = Callable[[Modelspace], object]
ON = {"layer": "POOL"}


def pool(folder: Path, outline: dict[str, Any], **more: Any) -> Design:
    """Write and load a pool."""
    floor = {"shape": "level", "depth": "1.5 m"}
    shell = {"wall": 0.25, "floor": 0.25}
    named = {"name": "p", "units": "m", "shell": shell}
    file = {**named, "outline": outline, "floor": floor, **more}
    path = folder / "pool.yaml"
    path.write_text(yaml.safe_dump(file))
    return load(path)


def drawing(folder: Path, *draw: Draw, insunits: int = 4) -> Drawing:
    """Write a drawing in millimetres, or in other units."""
    document = ezdxf.new()
    document.units = insunits
    for item in draw:
        item(document.modelspace())
    document.saveas(folder / "plan.dxf")
    return document


def drawn(folder: Path, *draw: Draw, insunits: int = 4, **more: Any) -> Outline:
    """Write a drawing and a pool, and return its outline."""
    drawing(folder, *draw, insunits=insunits)
    design = pool(folder, {"shape": "dxf", "file": "plan.dxf", "layer": "POOL", **more})
    (folder / "plan.dxf").unlink()  # a design is complete in itself
    return outline_of(design.pool.outline, 1e-5, ("outline",))


def refused(folder: Path, *draw: Draw, insunits: int = 4, **more: Any) -> str:
    """Return what is said of a drawing."""
    with pytest.raises(PoolFileError) as error:
        drawn(folder, *draw, insunits=insunits, **more)
    assert "pool.yaml:" in str(error.value)
    return str(error.value)


BOWED = [(0, 0, 0), (8000, 0, 1), (8000, 4000, 0), (0, 4000, 0)]
"""A rectangle with a half disc at its end, in millimetres."""
BOWED_AREA, BOWED_LENGTH = 32 + 2 * math.pi, 20 + 2 * math.pi


def lw(**more: Any) -> Draw:
    return lambda m: m.add_lwpolyline(BOWED, format="xyb", close=True, dxfattribs=ON | more)


def disc(x: float, y: float, r: float) -> Draw:
    return lambda m: m.add_circle((x, y), r, dxfattribs=ON)


def is_bowed(found: Outline) -> None:
    """It is that shape, with its two corners and its two smooth joints."""
    assert found.ring.perimeter == pytest.approx(BOWED_LENGTH, rel=1e-9)
    assert found.ring.polygon.area == pytest.approx(BOWED_AREA, rel=5e-5)
    turns = found.ring.turns[found.ring.turns != 0.0]
    assert np.degrees(turns) == pytest.approx([90.0, 90.0], abs=1e-6)


def test_a_polyline_with_bulges(tmp_path: Path) -> None:
    is_bowed(drawn(tmp_path, lw()))


def test_an_old_polyline(tmp_path: Path) -> None:
    is_bowed(
        drawn(tmp_path, lambda m: m.add_polyline2d(BOWED, format="xyb", close=True, dxfattribs=ON))
    )


def test_a_polyline_seen_from_below(tmp_path: Path) -> None:
    """Its extrusion points down: x counts the other way, and bulges turn."""
    found = drawn(tmp_path, lw(extrusion=(0, 0, -1)))
    is_bowed(found)
    assert found.ring.points[:, 0].min() == pytest.approx(-10.0, abs=1e-5)


def test_a_block_turned_and_mirrored(tmp_path: Path) -> None:
    def draw(space: Modelspace) -> None:
        assert space.doc is not None
        block = space.doc.blocks.new("POOL SHAPE")
        block.add_lwpolyline(BOWED, format="xyb", close=True)
        space.add_blockref("POOL SHAPE", (500, 0), dxfattribs=ON | {"xscale": -1, "rotation": 30})

    is_bowed(drawn(tmp_path, draw))


LOOSE = [
    lambda m: m.add_line((0, 0), (8000, 0), dxfattribs=ON),
    lambda m: m.add_arc((8000, 2000), 2000, -90, 90, dxfattribs=ON),
    lambda m: m.add_line((0, 4000), (8000, 4000), dxfattribs=ON),
    lambda m: m.add_line((0, 4000), (0, 0), dxfattribs=ON),
]


@pytest.mark.parametrize("order", list(itertools.permutations(range(4)))[::5])
def test_loose_sides_in_any_order(tmp_path: Path, order: tuple[int, ...]) -> None:
    is_bowed(drawn(tmp_path, *(LOOSE[k] for k in order)))


def test_small_gaps_are_closed(tmp_path: Path) -> None:
    """Ends 0.8 mm apart meet in the middle; nothing jogs."""
    sides = [*LOOSE[1:], lambda m: m.add_line((0.6, -0.5), (8000.4, 0.3), dxfattribs=ON)]
    found = drawn(tmp_path, *sides)
    assert found.ring.perimeter == pytest.approx(BOWED_LENGTH, abs=2e-3)
    assert np.sum(np.abs(found.ring.turns) > 0.1) == 2


def test_the_vertices_of_a_polyline_are_not_joined(tmp_path: Path) -> None:
    """They may stand nearer to each other than the gap; the polyline's own ends are joined."""
    angles = np.linspace(0.0, 2.0 * math.pi, 5000)
    points = [(3000 * math.cos(angle), 3000 * math.sin(angle)) for angle in angles[:-1].tolist()]
    points[-1] = (3000.0, -2.0)

    def draw(space: Modelspace) -> None:
        space.add_lwpolyline(points, dxfattribs=ON)

    found = drawn(tmp_path, draw, gap="5 mm")
    assert found.ring.perimeter == pytest.approx(6 * math.pi, rel=1e-5)
    assert len(found.ring.points) > 4990


def test_an_array_of_blocks(tmp_path: Path) -> None:
    """Each block of a row is an island of its own."""

    def draw(space: Modelspace) -> None:
        assert space.doc is not None
        space.doc.blocks.new("COLUMN").add_circle((0, 0), 200)
        row = {"column_count": 3, "column_spacing": 1500}
        space.add_blockref("COLUMN", (2000, 2000), dxfattribs=ON | row)

    assert len(drawn(tmp_path, lw(), draw).holes) == 3


def test_a_side_drawn_twice_counts_once(tmp_path: Path) -> None:
    drawing(tmp_path, *LOOSE, lambda m: m.add_line((8000, 4000), (0, 4000), dxfattribs=ON))
    design = pool(tmp_path, {"shape": "dxf", "file": "plan.dxf", "layer": "pool"})
    (warning,) = build(design).warnings
    assert "has 1 curves twice on layer 'pool'" in str(warning)


def test_an_ellipse(tmp_path: Path) -> None:
    """Its perimeter by the complete elliptic integral, its curve an exact rational spline."""
    from scipy.special import ellipe

    found = drawn(tmp_path, lambda m: m.add_ellipse((0, 0), (0, 4000), 0.5, dxfattribs=ON))
    assert found.ring.perimeter == pytest.approx(4 * 4.0 * ellipe(0.75), rel=1e-8)
    x, y = found.ring.points.T
    assert (x / 2.0) ** 2 + (y / 4.0) ** 2 == pytest.approx(1.0, abs=2e-6)
    assert not found.ring.turns.any()


def test_half_an_ellipse_and_its_axis(tmp_path: Path) -> None:
    found = drawn(
        tmp_path,
        lambda m: m.add_ellipse((0, 0), (4000, 0), 0.5, 0, math.pi, dxfattribs=ON),
        lambda m: m.add_line((4000, 0), (-4000, 0), dxfattribs=ON),
    )
    assert found.ring.polygon.area == pytest.approx(4 * math.pi, rel=5e-5)


POINTS = [(0, 0, 0), (6000, -500, 0), (7000, 3000, 0), (3000, 4500, 0), (-500, 3000, 0)]


def reference(spline: Any, count: int = 4000) -> shapely.Polygon:
    """A spline as fine chords, by the drawing library."""
    tool = spline.construction_tool()
    low, high = tool.knots()[tool.order - 1], tool.knots()[-tool.order]
    t = np.linspace(low, high, count + 1)
    return shapely.Polygon([(p.x / 1000, p.y / 1000) for p in tool.points(t.tolist())])


@pytest.mark.parametrize("weights", [None, [1.0, 3.0, 1.0, 0.5, 1.0]])
def test_a_closed_spline_with_free_ends(tmp_path: Path, weights: list[float] | None) -> None:
    kept = []

    def draw(space: Modelspace) -> None:
        spline = space.add_spline(dxfattribs=ON)
        if weights is None:
            spline.set_closed(POINTS)
        else:
            spline.set_closed_rational(POINTS, weights)
        kept.append(spline)

    found = drawn(tmp_path, draw)
    want = reference(kept[0])
    assert found.ring.polygon.area == pytest.approx(want.area, rel=1e-4)
    assert found.ring.perimeter == pytest.approx(want.length, rel=1e-5)
    assert not found.ring.turns.any()


def test_an_open_spline_and_a_line(tmp_path: Path) -> None:
    kept = []
    found = drawn(
        tmp_path,
        lambda m: kept.append(m.add_open_spline(POINTS, degree=3, dxfattribs=ON)),
        lambda m: m.add_line(POINTS[-1], POINTS[0], dxfattribs=ON),
    )
    want = reference(kept[0])
    assert found.ring.polygon.area == pytest.approx(want.area, rel=1e-4)
    assert found.ring.perimeter == pytest.approx(want.length, rel=1e-5)


def test_curves_inside_the_largest_are_islands(tmp_path: Path) -> None:
    found = drawn(tmp_path, disc(4000, 2000, 500), lw(), disc(7000, 2000, 800))
    is_bowed(found)
    assert sorted(item.perimeter for item in found.holes) == pytest.approx([math.pi, 1.6 * math.pi])


@pytest.mark.parametrize(
    ("insunits", "more", "radius"),
    [
        (4, {}, 3.0),
        (5, {}, 30.0),
        (6, {"units": "mm"}, 3.0),
        (0, {"units": "mm", "scale": 0.5}, 1.5),
        (1, {"scale": 0.01}, 30 * 0.0254),
        (2, {"scale": 0.01}, 30 * 0.3048),
    ],
)
def test_units(tmp_path: Path, insunits: int, more: dict[str, Any], radius: float) -> None:
    found = drawn(tmp_path, disc(0, 0, 3000), insunits=insunits, **more)
    assert found.ring.perimeter == pytest.approx(2 * math.pi * radius, rel=1e-9)


def text(space: Modelspace) -> None:
    space.add_text("deep end", dxfattribs=ON)


def test_what_is_no_curve_is_told(tmp_path: Path) -> None:
    drawing(tmp_path, lw(), text)
    design = pool(tmp_path, {"shape": "dxf", "file": "plan.dxf", "layer": "POOL"})
    (warning,) = build(design).warnings
    assert "leaves out what is no curve on layer 'POOL': 1 TEXT" in str(warning)


def test_what_is_wrong_with_a_drawing(tmp_path: Path) -> None:
    assert "'outline.units' must be given" in refused(tmp_path, disc(0, 0, 9), insunits=0)
    assert "(got $INSUNITS 8)" in refused(tmp_path, disc(0, 0, 9), insunits=8)
    said = refused(tmp_path, lw(), layer="WALL")
    assert "got 'WALL'); use one of 'POOL'" in said
    said = refused(tmp_path, *LOOSE[:3])
    assert "an open end at (0.000 m, 0.000 m), 4.0000 m from the next end" in said
    said = refused(tmp_path, *LOOSE, lambda m: m.add_line((0, 0), (-500, -500), dxfattribs=ON))
    assert "3 ends meet at (0.000 m, 0.000 m)" in said
    assert "only TEXT" in refused(tmp_path, text)
    tilted = lw(extrusion=(0, 1, 1))
    assert "in plan (got LWPOLYLINE" in refused(tmp_path, tilted)
    assert "within 10000000 m" in refused(tmp_path, disc(1e12, 0, 3000))
    assert "at least 1 mm" in refused(tmp_path, lw(), gap="0.5 mm")


@pytest.mark.parametrize(
    ("draw", "words"),
    [
        ([disc(0, 0, 3000), disc(9000, 0, 2000)], "one closed curve, and its islands within it"),
        ([disc(0, 0, 3000), disc(3000, 0, 1000)], "1 mm clear of each other"),
        ([disc(0, 0, 3000), disc(0, 0, 2000), disc(0, 0, 900)], "no water within its islands"),
        ([disc(0, 0, 3_000_000)], "at most 1000 m across"),
    ],
)
def test_curves_that_are_no_pool(tmp_path: Path, draw: list[Draw], words: str) -> None:
    assert words in refused_when_built(tmp_path, *draw)


def refused_when_built(folder: Path, *draw: Draw) -> str:
    drawing(folder, *draw)
    design = pool(folder, {"shape": "dxf", "file": "plan.dxf", "layer": "POOL"})
    with pytest.raises(PoolFileError) as error:
        build(design)
    return str(error.value)


@pytest.mark.parametrize("shape", ["dxf", "csv"])
def test_files_that_are_none(tmp_path: Path, shape: str) -> None:
    outline = {"shape": shape, "file": "plan"} | ({"layer": "POOL"} if shape == "dxf" else {})
    for make, words in (
        (int, "'outline.file' must be a file that exists (got plan)"),
        ((tmp_path / "plan").mkdir, "must be a file (got plan, which is none)"),
    ):
        make()
        with pytest.raises(PoolFileError) as error:
            pool(tmp_path, outline)
        assert words in str(error.value)
    (tmp_path / "plan").rmdir()
    (tmp_path / "plan").write_bytes(b"\xff\xfe\x00 no text")
    with pytest.raises(PoolFileError, match="must be"):
        pool(tmp_path, outline)


def test_python_values_have_no_file_beside_them() -> None:
    outline = {"shape": "csv", "file": "points.csv"}
    floor = {"shape": "level", "depth": 1.5}
    with pytest.raises(PoolFileError, match=r"this pool has none \(got points.csv\)"):
        design_from({"name": "p", "units": "m", "outline": outline, "floor": floor})


def test_a_file_in_a_part_and_in_an_island(tmp_path: Path) -> None:
    """Paths count from the pool file; the key says which shape is meant."""
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "a.csv").write_text("0,0\n9,0\n9,4\n0,4\n")
    listed = {"shape": "csv", "file": "in/a.csv"}
    missing = {"shape": "csv", "file": "b.csv"}
    parts = [{"add": listed}, {"subtract": missing}]
    with pytest.raises(PoolFileError) as error:
        pool(tmp_path, {"shape": "combined", "parts": parts}, islands=[{"outline": dict(missing)}])
    assert "'outline.parts[1].subtract.file'" in str(error.value)
    assert "'islands[0].outline.file'" in str(error.value)
    disc_: dict[str, Any] = {"shape": "circle", "radius": 1, "centre": [9, 2]}
    joined: list[dict[str, Any]] = [{"add": listed}, {"add": disc_}]
    design = pool(tmp_path, {"shape": "combined", "parts": joined})
    found = outline_of(design.pool.outline, 1e-3, ("outline",))
    assert found.ring.perimeter == pytest.approx(26 - 2 + math.pi)


@pytest.mark.parametrize(
    ("content", "more"),
    [
        ("0,0\n9,0\n9,4\n0,4\n", {}),
        ("x,y\n0,0\n9,0\n9,4\n0,4\n0,0\n", {}),
        ("no,x,y\n1,0,0\n2,9,0\n3,9,4\n4,0,4\n", {"columns": ["x", "y"]}),
        ("no,y,x\n1,0,0\n2,0,9\n3,4,9\n4,4,0\n", {"columns": [3, 2]}),
        ("\ufeff# survey\nx;y\n0,0;0\n9,0;0\n\n9,0;4,0\n0;4,0\n", {}),
        ("0\t0\n9e0\t0\n9.\t4\n+0\t4\n", {}),
        ("0,0\n9000,0\n9000,4000\n0,4000\n", {"units": "mm"}),
        ("0,0\n900,0\n900,400\n0,400\n", {"units": "cm"}),
    ],
)
def test_points_joined_by_straight_sides(
    tmp_path: Path, content: str, more: dict[str, Any]
) -> None:
    (tmp_path / "points.csv").write_text(content, encoding="utf-8")
    design = pool(tmp_path, {"shape": "csv", "file": "points.csv", **more})
    ring = outline_of(design.pool.outline, 1e-3, ("outline",)).ring
    assert (ring.perimeter, ring.polygon.area) == pytest.approx((26, 36))


def test_points_joined_by_a_spline(tmp_path: Path) -> None:
    """The same curve as the shape 'spline' gives."""
    points: list[list[float]] = [[0, 0], [6, -0.5], [7, 3], [3, 4.5], [-0.5, 3]]
    (tmp_path / "points.csv").write_text("\n".join(f"{x},{y}" for x, y in points))
    design = pool(tmp_path, {"shape": "csv", "file": "points.csv", "join": "spline"})
    other = pool(tmp_path, {"shape": "spline", "points": points})
    one, two = (outline_of(d.pool.outline, 1e-3, ("outline",)).ring for d in (design, other))
    assert one.points == pytest.approx(two.points)
    assert one.perimeter == two.perimeter


@pytest.mark.parametrize(
    ("content", "more", "words"),
    [
        ("", {}, "must hold points (got an empty file)"),
        ("0,0\n9,0\n", {}, "from 3 to 10000 points (got 2)"),
        ("x,y\n0,0\n9,zero\n9\n0,4\n", {}, "line 3: '9,zero', line 4: '9'"),
        ("x,y\n0,0\n", {"columns": ["east", "y"]}, "no 'east'); its first line has 'x', 'y'"),
        ("0,0\n9,0\n9,4\n", {"columns": [1, 3]}, "must hold numbers in columns 1 and 3"),
        ("0,0\n9,0\n9,1e9\n", {}, "within 10000000 m"),
        ("0,0\n9,0\n9,inf\n", {}, "line 3: '9,inf'"),
    ],
)
def test_what_is_wrong_with_a_list(
    tmp_path: Path, content: str, more: dict[str, Any], words: str
) -> None:
    (tmp_path / "points.csv").write_text(content)
    with pytest.raises(PoolFileError) as error:
        pool(tmp_path, {"shape": "csv", "file": "points.csv", **more})
    assert words in str(error.value)


def test_a_point_twice_in_a_smooth_curve(tmp_path: Path) -> None:
    (tmp_path / "points.csv").write_text("0,0\n9,0\n9,0\n9,4\n")
    design = pool(tmp_path, {"shape": "csv", "file": "points.csv", "join": "spline"})
    with pytest.raises(PoolFileError, match="must differ from the point after it"):
        build(design)
