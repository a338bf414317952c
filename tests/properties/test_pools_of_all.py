"""Random pools in which every feature is on or off by itself, and what they brought to light."""

from __future__ import annotations

import math

import pytest
from hypothesis import event, given, settings

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure

from ..strategies import PoolDict
from ..strategies_all import pools_of_all
from .test_pools import MANY, check, many

TANK: PoolDict = {
    "name": "tank",
    "units": "m",
    "outline": {"shape": "rectangle", "length": 10, "width": 5},
    "floor": {"shape": "level", "depth": 2.0},
    "freeboard": 0.15,
}


def test_walls_that_lean_round_a_curve_about_an_island() -> None:
    """A frustum of a cone, less a column whose walls are plumb."""
    file = TANK | {
        "outline": {"shape": "circle", "radius": 4.0},
        "islands": [{"outline": {"shape": "circle", "radius": 1.0}}],
        "batter": {"slope": 0.1},
    }
    upper, lower = 4.0 - 0.015, 4.0 - 0.215
    frustum = math.pi / 3.0 * 2.0 * (upper**2 + upper * lower + lower**2)
    water = measure(build(design_from(file))).water["pool"]
    assert water == pytest.approx(frustum - math.pi * 2.0, rel=5e-4)
    assert check(file) == "built"


@pytest.mark.parametrize("radius", [0.0, 0.2])
def test_where_a_leaning_wall_ends_its_end_is_wall(radius: float) -> None:
    """The triangle in which it stands before the plumb wall is wall, and no cove."""
    lean = {"start": [5.0, 0.0], "end": [2.0, 2.5], "slope": 0.2}
    file = TANK | {"batter": {"slope": 0.0, "stretches": [lean]}}
    if radius:
        file["cove"] = {"radius": radius}
    found = measure(build(design_from(file)))
    cove = {row.kind: row.area for row in found.areas}.get("cove", 0.0)
    # what the ball touches: a quarter turn, and less before the wall that leans; corners take some
    plumb, leaning = math.pi / 2.0, math.pi / 2.0 - math.atan(0.2)
    most = radius * (25.0 * plumb + 5.5 * leaning)
    assert 0.93 * most <= cove <= most
    assert check(file) == "built"


OVERFLOW: PoolDict = {
    "start": [-2.0, -2.5],
    "end": [2.0, -2.5],
    "basin": {"width": 1.0, "drop": 0.2, "depth": 1.0},
}
LEANS_THERE: PoolDict = {"start": [-1.0, -2.5], "end": [5.0, -2.5], "slope": 0.1}
SHORT: PoolDict = {"start": [5.0, -2.5], "end": [5.0, -2.4], "radius": 0.25}
REFUSED: list[tuple[PoolDict, str]] = [
    (
        {"cove": {"radius": 0.15, "stretches": [SHORT]}},
        "the stretch between its ends is too short for the corner there near (5.000, -2.400) m",
    ),
    (
        {"overflows": [OVERFLOW], "shell": {"footing": {"projection": 1.3, "thickness": 0.2}}},
        "'shell.footing.projection' must end under the 'basin', beside which no footing can stand",
    ),
    (
        {"overflows": [OVERFLOW], "batter": {"slope": 0.0, "stretches": [LEANS_THERE]}},
        "'overflows[0]' must lie where the walls lean alike: it changes near (-0.990, -2.500) m",
    ),
    (
        {"recess": [{"width": 0.1, "depth": 0.2}], "batter": {"slope": 0.1}},
        "'recess[0]' must lie where the wall is plumb: it leans near (-4.990, -2.500) m",
    ),
    (
        {
            "walls": [{"start": [-2.0, -2.5], "end": [2.0, -2.5], "height": 0.1}],
            "batter": {"slope": 0.1},
        },
        "'walls[0]' must lie where the wall is plumb: it leans near (-1.990, -2.500) m",
    ),
]


@pytest.mark.parametrize(("more", "words"), REFUSED)
def test_what_does_not_go_together_is_refused(more: PoolDict, words: str) -> None:
    """In words that name both, and the place or the size."""
    with pytest.raises(PoolFileError) as refusal:
        build(design_from(TANK | more))
    assert words in str(refusal.value)


def test_a_stretch_that_leans_as_the_others_changes_nothing() -> None:
    """It is lofted in one with its neighbours."""
    batter = {"slope": 0.05, "stretches": [{"start": [5.0, 0.0], "end": [4.9, 1.7], "slope": 0.05}]}
    plain, found = (
        measure(build(design_from(TANK | {"batter": item}))) for item in ({"slope": 0.05}, batter)
    )
    assert found.water == pytest.approx(plain.water, rel=1e-9)
    assert check(TANK | {"batter": batter}) == "built"


FROM_THE_WALL: list[PoolDict] = [
    {"overflows": [OVERFLOW]},
    {"overflows": [OVERFLOW | {"fall": 0.05}]},
    {"overflows": [OVERFLOW | {"fall": -0.05, "crest": -0.05}]},
    {"overflows": [OVERFLOW | {"start": [-5.0, 0.0], "end": [0.0, -2.5]}]},
    {"channels": [{"width": 0.3, "depth": 0.4}]},
]


@pytest.mark.parametrize("weir", FROM_THE_WALL)
@pytest.mark.parametrize("lean", [0.03, 0.1])
def test_a_weir_reaches_to_where_a_leaning_wall_stands(weir: PoolDict, lean: float) -> None:
    """Below its crest the pool is the frustum that it is without; its top is that much wider."""
    file = TANK | {"batter": {"slope": lean}} | weir
    (given,) = weir.get("overflows", []) + weir.get("channels", [])
    fall, crest = given.get("fall", 0.0), given.get("crest", 0.0)
    foot = lean * (0.15 - crest + max(-fall, 0.0) * 0.25) / (1.0 - lean * max(-fall, 0.0))
    found = measure(build(design_from(file)))
    if crest == 0.0:
        ends = [(10.0 - 2.0 * lean * h) * (5.0 - 2.0 * lean * h) for h in (0.15, 1.15, 2.15)]
        frustum = 2.0 / 6.0 * (ends[0] + 4.0 * ends[1] + ends[2])
        assert found.water["pool"] == pytest.approx(frustum, rel=1e-5)
    tops = sum(row.plan_area for row in found.areas if row.kind == "weir top")
    wide, off = 0.25 + foot, 2.0 * foot
    corner = (7.5 - off / 2.0) * wide + 0.25 * wide  # about the corner to (0, -2.5)
    all_round = 10.5 * 5.5 - (10.0 - off) * (5.0 - off)
    if "channels" in weir:
        assert tops == pytest.approx(all_round, rel=1e-4)
    elif given["start"][0] == -2.0:
        assert tops == pytest.approx(4.0 * wide, rel=1e-4)
    else:
        assert tops == pytest.approx(corner, rel=1e-4)
    assert check(file) == "built"


@pytest.mark.parametrize("depths", [[1.415, 1.193], [1.4, 1.2]])
def test_a_break_that_is_a_toe_at_one_wall_and_a_brow_at_the_other(depths: list[float]) -> None:
    """The fillets at its ends meet in an internal and in an external edge."""
    breaks = [
        {"at": -4.0, "depth": 1.0},
        {"at": -2.0, "depth": depths},  # falls 1:5 and 1:10, then the other way round
        {"at": 0.0, "depth": 1.6},
    ]
    floor = {"shape": "breaks", "breaks": breaks}
    file = TANK | {"floor": floor, "cove": {"form": "fillet", "radius": 0.1}}
    found = measure(build(design_from(file)))
    senses = {
        (round(float(run.points[0, 0])), round(float(run.points[:, 1].max()))): run.sense
        for run in found.edges
        if run.kind == "fillet/fillet" and abs(run.points[:, 0].mean() + 2.0) < 0.2
    }
    assert senses == {(-2, -2): "internal", (-2, 2): "external"}
    assert check(file) == "built"


STEPS: PoolDict = {
    "outline": {
        "shape": "polygon",
        "points": [
            [2.852, 0.0],
            [1.956, 3.315],
            [-1.515, 2.992],
            [-3.227, 0.0],
            [-1.975, -2.352],
            [2.107, -2.811],
        ],
        "corner_radius": 0.4,
    },
    "floor": {
        "shape": "breaks",
        "direction": 80.0,
        "breaks": [
            {"at": -1.255, "depth": 1.443},
            {"at": 1.346, "depth": 2.301},
            {"at": 2.605, "depth": 2.301},
        ],
    },
    "freeboard": 0.143,
    "cove": {"radius": 0.15, "also_at": ["bench faces", "dam walls"]},
    "bench": [{"width": 0.409, "depth": 0.451, "start": [-18.068, 8.577], "end": [1.606, -19.935]}],
    "steps": [{"shape": "end", "direction": 97.0, "going": 0.296, "rise": 0.299}],
    "ledges": [
        {
            "depth": 0.379,
            "shape": "following",
            "width": 0.566,
            "start": [-18.068, 8.577],
            "end": [1.606, -19.935],
            "edge_depth": 0.309,
        }
    ],
    "spas": [
        {
            "outline": {"shape": "circle", "radius": 1.095, "centre": [1.296, -1.569]},
            "depth": 0.835,
            "raised": 0.4,
            "dam_wall": 0.27,
            "cove": {"radius": 0.05, "also_at": []},
        }
    ],
}
CHANNEL: PoolDict = {"start": [20.0, 0.0], "end": [-20.0, 0.0], "depth": 0.2, "floor_fall": 0.01}
HARD: dict[str, PoolDict] = {
    "seams of a channel's cove stand on arcs, off their chords": {
        "outline": {
            "shape": "polyline",
            "points": [
                [2.58, 0.3], [2.0, 2.0], [-1.0, 3.0, 0.3], [-3.0, -0.612, -0.1],
                [1.809, -1.973, -0.1],
            ],
        },
        "channels": [CHANNEL | {"width": 0.4, "water": 0.1, "cove": {"radius": 0.05}}],
    },
    "a water line through the smallest cells about an outside corner": {
        "outline": {
            "shape": "polyline",
            "points": [[1.7, 2.0, -0.1], [-3.0, -0.6, -0.1], [2.0, -2.0]],
        },
        "channels": [
            CHANNEL | {"width": 0.2, "water": 0.1, "direction": -166.0, "cove": {"radius": 0.05}}
        ],
    },
    "water behind a spa that touches the wall below a recess": {
        "outline": {"shape": "polygon", "points": [[1.0, 2.0], [-5.0, 0.0], [2.0, -2.0]]},
        "recess": [{"width": 0.1, "depth": 0.4}],
        "spas": [
            {"outline": {"shape": "circle", "radius": 1.04, "centre": [0.0, 0.4]}, "depth": 1.0}
        ],
    },
    "the end of a cove flush with the wall of a circle": {
        "outline": {"shape": "circle", "radius": 3.331},
        "floor": {"shape": "drains", "drains": [{"at": [-0.104, -0.075], "depth": 1.929}],
                  "fall": 0.05},
        "freeboard": 0.1,
        "cove": {"radius": 0.1, "deepens": {"start": 1.1, "end": 1.69, "radius": 0.25}},
        "batter": {"slope": 0.05, "stretches": [
            {"start": [19.601, 3.973], "end": [8.277, -18.207], "slope": 0.1}]},
    },
    "a weir that rises outwards on leaning arcs": {"outline": {"shape": "polyline", "points":
        [[3.544, -0.65, 0.3], [0.0, 3.068, -0.1], [-4.439, 0.0, 0.3], [0.717, -2.768, 0.15]]},
        "floor": {"shape": "level", "depth": 1.301}, "overflows": [{"fall": -0.08, "start":
        [-19.998, -0.281], "end": [-4.827, 19.409], "basin": {"width": 0.961, "drop": 0.36,
        "depth": 0.661}}], "batter": {"slope": 0.05}},
    "a weir up to a corner where a wall leans more": {"outline": {"shape": "polyline", "points":
        [[4.925, -0.0, 0.15], [1.061, 3.531, -0.1], [-4.817, 0.0, 0.15], [-1.034, -2.374, 0.0]]},
        "floor": {"shape": "level", "depth": 1.5}, "overflows": [{"crest": -0.01, "start": [20.0,
        0.0], "end": [3.212, 19.74], "basin": {"width": 0.677, "drop": 0.251, "depth": 0.311}}],
        "batter": {"slope": 0.05, "stretches": [{"start": [6.867, 18.784], "end": [-19.701,
        -3.445], "slope": 0.2}]}},
    "a wall thicker than its inside corner is round": {"outline": {"shape": "polygon", "points":
        [[-2.0, -2.0], [5.037, -2.0], [5.037, 0.519], [1.007, 0.519], [1.007, 4.246], [-2.0,
        4.246]], "corner_radius": 0.3}, "walls": [{"start": [15.202, 12.996], "end": [-18.039,
        -8.636], "thickness": 0.408}]},
    "a wall of a basin that only one side of the concrete cuts": {"outline": {"shape": "circle",
        "radius": 2.0}, "floor": {"shape": "spots", "spots": [{"at": [-7.0, -5.0], "depth": 1.788},
        {"at": [7.0, -5.0], "depth": 1.963}, {"at": [7.0, 5.0], "depth": 1.448}, {"at": [-7.0,
        5.0], "depth": 1.161}]}, "overflows": [{"start": [19.513, -4.386], "end": [-19.513, 4.386],
        "basin": {"width": 0.844, "drop": 0.259, "depth": 1.418}}]},
    "a basin's underside within the tear of a cliff's": {"outline": {"shape": "circle", "radius":
        3.272}, "floor": {"shape": "spots", "spots": [{"at": [-7.0, -5.0], "depth": 1.506}, {"at":
        [7.0, -5.0], "depth": 1.321}, {"at": [7.0, 5.0], "depth": 1.099}, {"at": [-7.0, 5.0],
        "depth": 1.889}, {"at": [-0.067, 0.002], "depth": 1.506}, {"at": [-0.091, -0.098], "depth":
        1.825}]}, "overflows": [{"start": [16.078, 11.896], "end": [-1.458, -19.947], "basin":
        {"width": 0.92, "drop": 0.25, "depth": 2.042}}]},
    "a hopper whose rim crosses its ribs on the grid": {"outline": {"shape": "polyline", "points":
        [[3.307, 0.0, 0.0], [1.84, 1.953, 0.0], [-1.579, 1.638, -0.1], [-2.61, 0.0, -0.1], [-2.018,
        -1.91, 0.0], [1.801, -1.589, 0.0]]}, "floor": {"shape": "level", "depth": 1.085}, "hopper":
        [{"contour": {"shape": "circle", "radius": 0.4, "centre": [-0.495, -0.276]}, "depth": 2.0,
        "slope": 0.2}]},
    "a basin's underside that a curved underside passes": {"outline": {"shape": "circle", "radius":
        2.342}, "floor": {"shape": "breaks", "direction": 167.0, "breaks": [{"at": -1.465, "depth":
        1.272}, {"at": 1.424, "depth": [1.17, 0.923]}, {"at": 3.432, "depth": 1.368}]},
        "overflows": [{"start": [-15.781, 12.286], "end": [16.562, 11.212], "basin": {"width":
        0.86, "drop": 0.36, "depth": 0.763}}]},
    "water that ends along a cove's edge in a channel that falls": {"outline": {"shape": "polygon",
        "points": [[-2.0, -2.0], [5.243, -2.0], [5.243, 2.557], [2.046, 2.557], [2.046, 4.844],
        [-2.0, 4.844]], "corner_radius": 0.0}, "floor": {"shape": "dished", "at": [-0.528, -0.145],
        "depth": 1.982, "edge_depth": 1.782, "reach": 5.079, "direction": 100.0}, "channels":
        [{"start": [-8.323, 18.186], "end": [9.449, -17.627], "width": 0.328, "depth": 0.251,
        "floor_fall": 0.01, "direction": 140.0, "water": 0.1, "cove": {"radius": 0.05}}], "shell":
        {"wall": 0.212, "footing": {"projection": 0.257, "thickness": 0.2}}},
    "a hopper across a break line that ends on a box's grid": {"outline": {"shape": "polyline",
        "points": [[4.069, 0.391, 0.15], [1.503, 2.822, 0.3], [-2.506, 1.714, 0.3], [-2.774,
        -1.127, 0.0], [1.859, -2.23, -0.1]]}, "floor": {"shape": "breaks", "direction": 48.0,
        "breaks": [{"at": -2.365, "depth": 1.265}, {"at": -0.018, "depth": 2.04}, {"at": 1.24,
        "depth": 2.141}]}, "hopper": [{"contour": {"shape": "rectangle", "length": 1.136, "width":
        0.885, "rotation": 173.0}, "depth": 2.618, "slope": 1.0}]},
    "a channel's crest beside a cove that it only touches": {"outline": {"shape": "rectangle",
        "length": 12.267, "width": 3.985, "corner_radius": 1.2, "rotation": 106.0}, "floor":
        {"shape": "plane", "depth": 1.887, "at": [0.0, 0.0], "fall": 0.0061019569811207736,
        "direction": 156.0}, "cove": {"radius": 0.2}, "channels": [{"crest": 0.02, "start": [20.0,
        0.0], "end": [19.021, 6.18], "width": 0.2, "depth": 0.338}], "batter": {"slope": 0.0,
        "stretches": [{"start": [20.0, 0.0], "end": [19.021, 6.18], "slope": 0.05}]}},
    "a cove's line that is a point": {"outline": {"shape": "polygon", "points": [[4.253, -0.0],
        [2.004, 2.023], [-2.435, 2.283], [-3.357, 0.336], [-2.126, -1.754], [1.531, -2.604]],
        "corner_radius": 0.25}, "floor": {"shape": "plane", "depth": 1.911, "at": [0.0, 0.0],
        "fall": -6.09585725500988e-34, "direction": -87.0}, "cove": {"radius": 0.05, "stretches":
        [{"start": [19.924, 1.739], "end": [18.412, 7.811], "radius": 0.25}]}},
    "a cell whose corners come together": {"outline": {"shape": "polygon", "points": [[-2.0, -2.0],
        [3.288, -2.0], [3.288, 2.564], [0.593, 2.564], [0.593, 6.945], [-2.0, 6.945]],
        "corner_radius": 0.3}, "floor": {"shape": "spots", "spots": [{"at": [-7.0, -5.0], "depth":
        1.649}, {"at": [7.0, -5.0], "depth": 1.488}, {"at": [7.0, 5.0], "depth": 1.436}, {"at":
        [-7.0, 5.0], "depth": 1.358}, {"at": [-0.253, -0.126], "depth": 1.154}, {"at": [0.233,
        1.198], "depth": 1.001}]}, "cove": {"radius": 0.1}, "bench": [{"width": 0.335, "depth":
        0.404, "start": [20.0, 0.0], "end": [-8.394, 18.153]}]},
    "beaches that fall past each other in the middle": {"outline": {"shape": "rectangle", "length":
        8.153, "width": 5.035, "corner_radius": 1.2, "rotation": -63.0}, "floor": {"shape":
        "breaks", "direction": -17.0, "breaks": [{"at": -1.558, "depth": 1.582}, {"at": -0.558,
        "depth": 1.662}, {"at": 1.981, "depth": 1.865}]}, "ledges": [{"depth": 0.396, "shape":
        "following", "width": 0.776, "start": [-14.592, 13.677], "end": [15.531, -12.601], "beach":
        {"slope": 0.6}}]},
    "a ledge that rises over a bench, both with coves at their feet": STEPS,
}  # fmt: skip


@pytest.mark.parametrize("what", list(HARD))
def test_what_was_hard_builds(what: str) -> None:
    """Each was once not closed, or not as it should be."""
    assert check(TANK | HARD[what]) == "built"


@settings(
    max_examples=30,
)
@given(pools_of_all())
def test_a_pool_of_all_holds_every_fact(file: PoolDict) -> None:
    """30 pools, the same in each run."""
    event(check(file))


@pytest.mark.slow
@settings(many, max_examples=min(MANY, 1000))
@given(pools_of_all())
def test_many_pools_of_all_hold_every_fact(file: PoolDict) -> None:
    """1000 pools (or as many as the environment says), other ones in every run."""
    event(check(file))
