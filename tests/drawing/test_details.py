"""Typical details: which there are, and that what is drawn has the sizes that are stated."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Literal

import ezdxf
import numpy as np
import pytest
import shapely

import poolgeo
from poolgeo.arrays import Floats
from poolgeo.design.layer_table import layer_table
from poolgeo.design.lengths import Units
from poolgeo.design.load import design_from
from poolgeo.detailing.spans import Span, spans_of
from poolgeo.drawing import contents
from poolgeo.drawing.contents import Content
from poolgeo.drawing.detail_angles import angle_classes
from poolgeo.drawing.detail_edges import Corner, Edge, edge_picture
from poolgeo.drawing.detail_frame import Frame, Picture, composed, wrapped
from poolgeo.drawing.detail_parts import Film, dry_film, film_text
from poolgeo.drawing.detail_section import corner_piece, directions, flat_ground
from poolgeo.drawing.details import detail_views
from poolgeo.drawing.drawing_set import DrawingSet, drawing_set
from poolgeo.drawing.plan_lines import PlanLine, Projection
from poolgeo.drawing.positions import box_about, upright
from poolgeo.drawing.sheet import UNIT_SYSTEMS
from poolgeo.drawing.view import View
from poolgeo.jointing.joints import finish_joints
from poolgeo.mesh import ZONES
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.system.load import load_system
from poolgeo.works import Works, job_of, waterproof
from poolgeo.write.dxf import write_drawing

SAMPLES = Path(__file__).parent.parent.parent / "samples"
NAMES = sorted(path.stem for path in SAMPLES.glob("*.yaml"))
SYSTEMS = ("cementitious-slurry", "reaction-resin")
TEXT = 0.0025
MM = Projection(1000.0, 3)
FRAME = Frame("mm", MM, TEXT)
BARE = {
    "name": "bare",
    "units": "m",
    "freeboard": 0.15,
    "outline": {"shape": "rectangle", "length": 8, "width": 4},
    "floor": {"shape": "level", "depth": 1.5},
}


@cache
def made(sample: str, system: str | None) -> tuple[Model, Takeoff, Works | None]:
    """A sample, measured, with the waterproofing of a shipped system or with none."""
    model = poolgeo.build(poolgeo.load(SAMPLES / f"{sample}.yaml"))
    takeoff = poolgeo.measure(model)
    if system is None:
        return model, takeoff, None
    return model, takeoff, waterproof(model, takeoff, job_of(model.design, system))


@cache
def views(sample: str, system: str | None) -> tuple[View, ...]:
    """The details of a sample."""
    model, takeoff, works = made(sample, system)
    projection = UNIT_SYSTEMS[model.design.pool.units].projection
    joints = finish_joints(model, takeoff)
    return tuple(detail_views(model, takeoff, works, joints, projection, TEXT))


def view(sample: str, system: str | None, name: str) -> View:
    """One detail of a sample."""
    (found,) = [item for item in views(sample, system) if item.name == name]
    return found


def said(item: View) -> str:
    """All that stands on a view."""
    return " ".join(note.text for note in item.notes)


def of(picture: Picture, content: Content) -> list[Floats]:
    """The lines of one content."""
    return [points for found, points, _ in picture.lines if found is content]


def box(*corners: tuple[float, float]) -> shapely.Polygon:
    return shapely.Polygon(corners)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("sample", ["cold-pool", "training-pool", "freeform-spa", "islands"])
def test_every_rule_that_is_used_has_one_detail(sample: str, system: str) -> None:
    _, takeoff, works = made(sample, system)
    assert works is not None
    rules = works.source.system.edges
    used = {row.rule for row in works.detailing.details}
    used |= {rules[s.rule].name for s in spans_of(takeoff, rules) if s.rule is not None}
    names = [item.name for item in views(sample, system)]
    own = {
        "build-up",
        "coping",
        "movement joint of the finish",
        "movement joint of the finish over the structure",
    }
    assert len(set(names)) == len(names)
    assert {name.partition(", at ")[0] for name in names} - own == used


def test_details_are_numbered_and_titled_by_their_rule() -> None:
    titles = [item.title for item in views("cold-pool", "reaction-resin")]
    assert titles[:3] == [
        "Detail 1: build-up",
        "Detail 2: external edge",
        "Detail 3: internal edge",
    ]


def test_a_detail_says_where_it_holds() -> None:
    assert "13 runs: P2.5, P2.60, P2.145, P3.0 ..., 26.9 m in all" in said(
        view("cold-pool", "cementitious-slurry", "internal edge")
    )


def test_without_waterproofing_only_what_the_parameters_say_is_drawn() -> None:
    assert [item.name for item in views("training-pool", None)] == [
        "build-up", "cove of the pool", "joint of the structure", "coping",
        "movement joint of the finish", "movement joint of the finish over the structure",
    ]  # fmt: skip


def test_a_bare_pool_has_no_details() -> None:
    model = poolgeo.build(design_from(BARE))
    assert detail_views(model, poolgeo.measure(model), None, None, MM, TEXT) == []


def test_an_arris_of_the_pool_file_is_drawn() -> None:
    model = poolgeo.build(design_from({**BARE, "arris": {"form": "rounded", "size": 0.02}}))
    projection = UNIT_SYSTEMS["m"].projection
    (found,) = detail_views(model, poolgeo.measure(model), None, None, projection, TEXT)
    assert found.name == "arris, rounded"
    assert [math.dist(item.centre, item.on) for item in found.radii] == pytest.approx(
        [0.02], abs=2e-6
    )


@pytest.mark.parametrize("system", [None, *SYSTEMS])
@pytest.mark.parametrize("sample", NAMES)
def test_no_text_lies_on_another_and_all_fit_a_sheet(sample: str, system: str | None) -> None:
    for item in views(sample, system):
        boxes = [box(*corners) for corners in item.boxes]
        for one, other in combinations(boxes, 2):
            assert one.intersection(other).area < 1e-9, item.title
        (left, low), (right, high) = item.reach
        paper = item.height / 2.5
        assert (right - left) / paper < 180
        assert (high - low) / paper < 180


@pytest.mark.parametrize("angle", [60.0, 90.0, 93.0, 120.0])
def test_a_straight_fillet_is_drawn_with_its_legs(angle: float) -> None:
    picture = edge_picture(Edge(angle, Corner("fillet", "straight", 0.03)), 10.0)
    (face,) = of(picture, contents.COVE)
    assert np.linalg.norm(face, axis=1) == pytest.approx([0.03, 0.03])
    sizes = [math.dist(item.start, item.end) for item in picture.measures]
    assert sizes == pytest.approx([0.03, 0.03])


@pytest.mark.parametrize("angle", [75.0, 90.0, 150.0])
def test_a_hollow_fillet_is_an_arc_that_touches_both_legs(angle: float) -> None:
    picture = edge_picture(Edge(angle, Corner("fillet", "round", 0.025)), 10.0)
    (face,), (arc,) = of(picture, contents.COVE), picture.arcs
    assert np.linalg.norm(face - arc.centre, axis=1) == pytest.approx(0.025)
    for way, end in zip(directions(angle), (face[0], face[-1]), strict=True):
        assert (end - arc.centre) @ way == pytest.approx(0.0, abs=1e-9)
        assert np.linalg.norm(end) == pytest.approx(end @ way)


@pytest.mark.parametrize("angle", [250.0, 270.0, 290.0])
@pytest.mark.parametrize("form", ["straight", "round"])
def test_an_arris_takes_concrete_off(angle: float, form: Literal["straight", "round"]) -> None:
    picture = edge_picture(Edge(angle, Corner("arris", form, 0.01)), 10.0)
    hatched = [area for content, area in picture.areas if content is contents.HATCH]
    assert hatched[0].distance(shapely.Point(0, 0)) > 0.002


@pytest.mark.parametrize("angle", [60.0, 90.0, 175.0, 185.0, 270.0, 300.0])
def test_legs_meet_at_the_angle(angle: float) -> None:
    outline = of(edge_picture(Edge(angle, None), 10.0), contents.CONCRETE)[0]
    first, corner, last = outline
    a, b = first - corner, last - corner
    turn = math.degrees(math.atan2(b[1], b[0]) - math.atan2(a[1], a[0])) % 360.0
    assert turn == pytest.approx(angle)


def angle_drawn(item: View) -> float:
    """The angle through the water at which the detail of an edge is drawn."""
    first, *_, last = item.lines[contents.CONCRETE][0].points
    points = item.lines[contents.CONCRETE][0].points
    a = math.atan2(first[1] - points[1][1], first[0] - points[1][0])
    b = math.atan2(last[1] - points[-2][1], last[0] - points[-2][0])
    return math.degrees(b - a) % 360


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("sample", NAMES)
def test_an_edge_is_drawn_at_an_angle_that_much_of_it_has(sample: str, system: str) -> None:
    """At least a tenth of the length is within five degrees, of a second detail a quarter."""
    _, takeoff, works = made(sample, system)
    assert works is not None
    rules = works.source.system.edges
    for item in views(sample, system):
        name, _, other = item.name.partition(", at ")
        number = [rule.name for rule in rules].index(name) if name in EDGES else None
        if number is None or rules[number].where.of != "edge":
            continue
        spans = [span for span in spans_of(takeoff, rules) if span.rule == number]
        angles = np.concatenate([span.angles for span in spans])
        sizes = np.concatenate(
            [np.linalg.norm(np.diff(span.points, axis=0), axis=1) for span in spans]
        )
        near = np.abs(angles - angle_drawn(item)) <= 10.0
        assert sizes[near].sum() > (0.25 if other else 0.1) * sizes.sum(), item.name


EDGES = ("internal edge", "external edge")


def edge_of(number: str, *angles: tuple[float, float]) -> Span:
    """An edge whose segments have angles [deg] and lengths [m]."""
    ends = np.concatenate([[0.0], np.cumsum([length for _, length in angles])])
    points = np.column_stack([ends, 0.0 * ends, 0.0 * ends])
    length, each = float(ends[-1]), np.array([angle for angle, _ in angles])
    return Span(
        number, "edge", "floor/wall", "pool", "internal", length, length, (0.0,) * len(ZONES),
        closed=False, ends=2, rule=0, points=points, angles=each,
    )  # fmt: skip


def test_the_commonest_angle_is_drawn_and_another_of_weight_too() -> None:
    spans = [edge_of("P1.0", (90.0, 6.0), (92.0, 2.0)), edge_of("P1.9", (137.0, 3.5), (176.0, 0.5))]
    first, second = angle_classes(spans)
    assert (first.angle, second.angle) == pytest.approx((90.0, 137.0))
    assert (first.length, second.length) == pytest.approx((8.0, 3.5))
    assert [span.number for span in second.spans] == ["P1.9"]
    assert first.note == (
        "Drawn at 90 deg: 67 % of the length is 90 to 92 deg, the rest 137 to 176 deg.",
    )
    (note,) = second.note
    assert note.endswith("29 % of the length is 137 deg, the rest 90 to 176 deg.")


def test_what_is_rare_has_no_detail_of_its_own() -> None:
    (only,) = angle_classes([edge_of("P1.0", (90.0, 8.0), (137.0, 2.0))])
    assert only.angle == pytest.approx(90.0)
    (only,) = angle_classes([edge_of("P1.0", (89.0, 8.0), (91.0, 2.0))])
    assert only.note == ("Drawn at 89 deg; they are 89 to 91 deg.",)
    (only,) = angle_classes([edge_of("P1.0", (90.0, 8.0), (90.4, 2.0))])
    assert only.note == ()


def test_angles_that_are_alike_are_one_class_wherever_they_lie() -> None:
    (only,) = angle_classes([edge_of("P1.0", (134.0, 4.0), (136.0, 6.0))])
    assert only.angle == pytest.approx(136.0)


def test_internal_and_external_edges_are_never_one_class() -> None:
    spans = [edge_of("P1.0", (178.0, 5.0), (182.0, 4.0))]
    assert [found.angle for found in angle_classes(spans)] == pytest.approx([178.0, 182.0])


@pytest.mark.parametrize("angle", [80.0, 90.0, 120.0, 270.0])
def test_layers_lie_as_thick_as_they_are_times_the_exaggeration(angle: float) -> None:
    films = [Film("first", 0.0004), Film("second", 0.002)]
    picture = edge_picture(Edge(angle, None, films[:1], (), films[1:]), 8.0)
    lines = [shapely.LineString(points) for points in of(picture, contents.BUILD_UP)]
    concrete = shapely.LineString(of(picture, contents.CONCRETE)[0])
    assert len(lines) == 2
    ends = [shapely.Point(line.coords[0]) for line in lines]
    assert ends[0].distance(concrete) == pytest.approx(8 * 0.0004, rel=1e-3)
    assert ends[1].distance(concrete) == pytest.approx(8 * 0.0024, rel=1e-3)


def test_layers_of_a_system_are_as_thick_as_its_figures() -> None:
    source = load_system("cementitious-slurry", Path()).system
    membrane = next(layer for layer in source.layers if layer.name == "membrane")
    slurry = source.liquid("slurry")
    assert 2 * dry_film(slurry, membrane) == pytest.approx(0.002)
    assert film_text(slurry, membrane, "mm", 2) == "2 coats of 1.39 mm wet, 2.00 mm dry"
    assert film_text(slurry, membrane, "ft", 2) == "2 coats of 55 mil wet, 79 mil dry"
    flat = view("freeform-spa", "cementitious-slurry", "build-up")
    heights = sorted(line.points[0][1] for line in flat.lines[contents.BUILD_UP])
    assert heights[1] - heights[0] == pytest.approx(10 * 0.002, abs=1e-5)


def test_a_hollow_fillet_makes_the_layer_over_it_rounder() -> None:
    layer = Film("layer", 0.001)
    picture = edge_picture(Edge(90.0, Corner("fillet", "round", 0.05), (), (), [layer]), 10.0)
    line = shapely.LineString(of(picture, contents.BUILD_UP)[0])
    middle = shapely.Point(0.05, 0.05)
    assert middle.distance(line) == pytest.approx(0.04, rel=1e-3)


def feet(picture: Picture, angle: float) -> list[float]:
    """How far along either leg the strips of a picture reach."""
    (strip,) = [area for content, area in picture.areas if content is contents.BUILD_UP]
    points = shapely.get_coordinates(strip)
    return [float((points @ way).max()) for way in directions(angle)]


@pytest.mark.parametrize("angle", [90.0, 110.0, 270.0])
@pytest.mark.parametrize("size", [0.0, 0.03])
def test_a_strip_is_as_wide_as_its_roll_over_fillet_and_legs(angle: float, size: float) -> None:
    corner = Corner("corner", "straight", size) if size else None
    strip = Film("tape", 0.0, 0.12, is_sheet=True)
    picture = edge_picture(Edge(angle, corner, (), [strip]), 10.0)
    piece = corner_piece("straight", size, angle) if size else None
    over = 0.0 if piece is None else piece.girth - 2 * piece.leg
    assert sum(feet(picture, angle)) + over == pytest.approx(0.12, abs=1e-6)


def test_a_strip_beside_the_edge_lies_on_one_leg() -> None:
    strip = Film("tape", 0.0, 0.05, offset=0.1, is_sheet=True)
    along, _ = feet(edge_picture(Edge(90.0, None, (), [strip]), 10.0), 90.0)
    assert along == pytest.approx(0.125)


def test_a_joint_tape_is_dimensioned_as_wide_as_it_is() -> None:
    found = view("training-pool", "cementitious-slurry", "structural joint")
    sizes = [math.dist(item.start, item.end) for item in found.dimensions]
    # gap, depth of the sealant, bond breaker, joint tape
    assert sizes == pytest.approx([0.02, 0.01, 0.03, 0.2])
    (bead,) = [rings for content, rings in found.areas if content is contents.FINISH_JOINTS]
    assert shapely.Polygon(bead[0]).area == pytest.approx(0.02 * 0.01, rel=1e-3)


def test_a_fitting_has_its_opening_and_its_collar() -> None:
    found = view("cold-pool", "cementitious-slurry", "fitting through the shell")
    sizes = [math.dist(item.start, item.end) for item in found.dimensions]
    assert sizes == pytest.approx([300, 100, 300])  # opening, collar, floor


def test_the_coping_has_wall_freeboard_return_and_overhang() -> None:
    found = view("training-pool", "cementitious-slurry", "coping")
    sizes = sorted(math.dist(item.start, item.end) for item in found.dimensions)
    assert sizes == pytest.approx([0.02, 0.15, 0.15, 0.25])
    (level,) = found.lines[contents.WATER_LEVEL]
    assert {y for _, y in level.points} == {-0.15}


@pytest.mark.parametrize("over", ["", " over the structure"])
def test_a_joint_of_the_finish_leaves_the_membrane_whole(over: str) -> None:
    found = view("training-pool", "cementitious-slurry", f"movement joint of the finish{over}")
    membrane = max(found.lines[contents.BUILD_UP][:2], key=lambda line: line.points[0][1])
    low, high = (pick(x for x, _ in membrane.points) for pick in (min, max))
    (ring,) = [rings[0] for content, rings in found.areas if content is contents.FINISH_JOINTS]
    left, bottom, right, _ = shapely.Polygon(ring).bounds
    assert low < left
    assert high > right
    assert bottom >= membrane.points[0][1] - 1e-6
    joints = finish_joints(*made("training-pool", None)[:2])
    assert joints is not None
    joint = joints.of_kind("over the structure" if over else "intermediate")[0]
    assert right - left == pytest.approx(joint.width, abs=1e-5)
    # the sealant is as deep as its rule has it, at most as bed and tile are
    deep = min(joint.depth, 0.012)
    assert shapely.Polygon(ring).area == pytest.approx(joint.width * deep, rel=1e-2)


def test_leaders_do_not_cross() -> None:
    for name in ("cold-pool", "training-pool"):
        for item in views(name, "reaction-resin"):
            leaders = [
                shapely.LineString(line.points)
                for line in item.lines[contents.NOTES] if not line.closed
            ]  # fmt: skip
            for one, other in combinations(leaders, 2):
                assert not one.crosses(other), item.title


def test_a_figure_stays_with_its_unit() -> None:
    assert wrapped("sealant 16 mm deep", 12) == ["sealant", "16 mm deep"]
    assert wrapped('wide 7 7/8" on', 9) == ["wide", '7 7/8" on']


@pytest.mark.parametrize(
    ("units", "width", "scale"),
    [
        ("mm", 0.05, "1:1"),
        ("mm", 0.14, "1:2"),
        ("m", 0.3, "1:5"),
        ("mm", 1.4, "1:20"),
        ("in", 0.2, '3" = 1\'-0" (1:4)'),
        ("ft", 0.5, '1 1/2" = 1\'-0" (1:8)'),
        ("ft", 0.8, '1" = 1\'-0" (1:12)'),
    ],
)
def test_details_have_usual_scales(units: Units, width: float, scale: str) -> None:
    frame = Frame(units, MM, TEXT)
    assert frame.scale(width)[1] == scale


@cache
def in_feet(sample: str) -> DrawingSet:
    """The drawing set of a sample whose file has feet, waterproofed."""
    design = poolgeo.load(SAMPLES / f"{sample}.yaml")
    design = replace(design, pool=design.pool.model_copy(update={"units": "ft"}))
    model = poolgeo.build(design)
    takeoff = poolgeo.measure(model)
    works = waterproof(model, takeoff, job_of(model.design, SYSTEMS[0]))
    return drawing_set(model, takeoff, None, works)


@pytest.mark.parametrize("sample", NAMES)
def test_a_dimension_runs_as_its_text_reads(sample: str) -> None:
    """Else its text would stand on the other side of its line than the view makes room for."""
    for standing in in_feet(sample).views:
        if standing.view.title.startswith("Detail"):
            for item in standing.view.dimensions:
                way = math.radians(upright(item.angle))
                ahead = [b - a for a, b in zip(item.start, item.end, strict=True)]
                assert ahead[0] * math.cos(way) + ahead[1] * math.sin(way) > 0.0
                assert item.angle == pytest.approx(upright(item.angle))


@pytest.mark.parametrize("sample", ["beach", "fillet", "spots", "training-pool", "trough"])
def test_the_texts_of_dimensions_are_drawn_where_the_view_has_room_for_them(
    sample: str, tmp_path: Path
) -> None:
    drawn, table = in_feet(sample), layer_table("trade-words")
    write_drawing(drawn, table, tmp_path / "pool.dxf")
    document = ezdxf.readfile(tmp_path / "pool.dxf")
    found = [
        (text.dxf.insert.x, text.dxf.insert.y)
        for item in document.modelspace().query("DIMENSION")
        for text in document.blocks.get(item.dxf.geometry).query("MTEXT")
    ]  # fmt: skip
    details = [item for item in drawn.views if item.view.title.startswith("Detail")]
    assert sum(len(item.view.dimensions) for item in details)
    for standing in details:
        view, (x, y) = standing.view, standing.at
        (left, low), (right, high) = standing.reach
        for item in view.dimensions:
            place = item.text_at(view.height).centre
            wanted = place[0] + x, place[1] + y
            assert min(math.dist(wanted, place) for place in found) < 0.1 * view.height, item
            box_of = box_about(item.text_at(view.height), item.text, view.height)
            assert all(left <= a + x <= right and low <= b + y <= high for a, b in box_of)


def test_a_view_keeps_its_ratio_and_text_height() -> None:
    picture = Picture()
    picture.lines.append((contents.CONCRETE, np.array([(0.0, 0.0), (0.13, 0.0)]), False))
    found = composed(picture, "name", "title", FRAME)
    assert (found.ratio, found.height) == (2, 5.0)
    assert found.lines[contents.CONCRETE] == [PlanLine(((0.0, 0.0), (130.0, 0.0)))]


def test_what_lies_over_a_band_lies_between_its_ends() -> None:
    ground = flat_ground(-1.0, 1.0)
    left, _, right, _ = ground.over((ground.middle - 0.1, ground.middle + 0.3)).bounds
    assert (left, right) == pytest.approx((-0.3, 0.1))
