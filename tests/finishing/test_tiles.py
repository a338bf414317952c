"""Cut tiles, counted by hand. The module of tile and joint is 0.25 m either way."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely

import poolgeo
from poolgeo.design.load import design_from

from .pools import BOX, TILE, rectangle, supplies

FLOOR = {**TILE, "where": {"kinds": ["floor"]}}
WALL = {**TILE, "where": {"kinds": ["wall"], "zones": ["below band"]}}
LOW = {"above": 0.075, "below": 0.25}
"""A band that ends on a joint of the wall: one module below the water."""


def cut(finish: dict[str, Any], **changes: Any) -> int:
    """Return how many tiles are cut in a pool 3 m by 2 m whose corner is at (0, 0)."""
    outline = rectangle(3, 2, centre=[1.5, 1])
    found = supplies(finish, **{"outline": outline, "waterline": LOW, **changes}).cut_tiles
    assert found is not None
    return found


def at(x: float, y: float, direction: float = 0.0) -> dict[str, Any]:
    """Return where the grid starts and how it lies."""
    return {"movement_joints": {"origin": [x, y], "direction": direction}}


@pytest.mark.parametrize(
    ("origin", "number"),
    [
        ((0.0, 0.0), 0),  # 12 by 8 whole tiles
        ((0.125, 0.0), 2 * 8),  # 13 columns of 8, those at both ends cut
        ((0.0, 0.125), 2 * 12),  # 9 rows of 12
        ((0.125, 0.125), 13 * 9 - 11 * 7),  # 117, of which 77 are whole
        ((0.75, -0.5), 0),  # by whole tiles
    ],
)
def test_floor(origin: tuple[float, float], number: int) -> None:
    assert cut(FLOOR, **at(*origin)) == number


def test_rows_may_be_longer_than_wide() -> None:
    tile = {"length": 0.497, "width": 0.247, "thickness": 0.008}
    # 6 by 8 tiles; by half a module along: 7 columns, two of 8 cut
    assert cut({**FLOOR, "tile": tile}) == 0
    assert cut({**FLOOR, "tile": tile}, **at(0.25, 0.0)) == 2 * 8
    # rows the other way: 3 m is 12 widths, 2 m is 4 lengths
    assert cut({**FLOOR, "tile": tile}, **at(0.0, 0.0, 90.0)) == 0
    assert cut({**FLOOR, "tile": tile}, **at(0.0, 0.25, 90.0)) == 2 * 12


def test_a_joint_narrower_than_a_gap_is_no_cut() -> None:
    # the last column is a tile without its joint: 2.997 m
    outline = rectangle(2.997, 2, centre=[2.997 / 2, 1])
    assert cut(FLOOR, outline=outline) == 0
    outline = rectangle(2.98, 2, centre=[1.49, 1])
    assert cut(FLOOR, outline=outline) == 8


@pytest.mark.parametrize("turned", [0.0, 17.0, 90.0, 143.0])
@pytest.mark.parametrize(("shift", "number"), [((0.0, 0.0), 0), ((0.125, 0.125), 40)])
def test_pool_and_grid_move_together(
    turned: float, shift: tuple[float, float], number: int
) -> None:
    cosine, sine = math.cos(math.radians(turned)), math.sin(math.radians(turned))
    x, y = (shift[0] - 1.5), (shift[1] - 1.0)  # from the middle of the pool
    origin = 7.0 + cosine * x - sine * y, -4.0 + sine * x + cosine * y
    outline = rectangle(3, 2, centre=[7, -4], rotation=turned)
    assert cut(FLOOR, outline=outline, **at(*origin, turned)) == number
    # walls run along the grid: 12 + 8 + 12 + 8 columns of 5, those at their ends cut
    columns = 0 if number == 0 else 2 * 4
    assert cut(WALL, outline=outline, **at(*origin, turned)) == columns * 5


def test_wall_of_whole_tiles() -> None:
    assert cut(WALL) == 0  # from 1.5 m to 0.25 m below the water


def test_wall_with_a_cut_row_at_its_foot() -> None:
    assert cut(WALL, floor={"shape": "level", "depth": 1.6}) == 12 + 8 + 12 + 8


def test_wall_that_ends_within_a_row_at_the_band() -> None:
    assert cut(WALL, waterline={"above": 0.075, "below": 0.075}) == 12 + 8 + 12 + 8


def test_tiles_of_one_finish_go_on_through_zones() -> None:
    both = {**TILE, "where": {"kinds": ["wall"], "zones": ["below band", "waterline band"]}}
    # up to 0.25 m above the water: no tile is cut where the band starts, 0.1 m below it
    waterline = {"above": 0.25, "below": 0.1}
    assert cut(both, waterline=waterline, freeboard=0.5) == 0


@pytest.mark.parametrize(("side", "number"), [(3.0, 0), (3.1, 3 * 5)])
def test_a_wall_askew_to_the_grid_starts_at_its_end(side: float, number: int) -> None:
    points = [[0, 0], [side, 0], [side / 2, side * math.sqrt(0.75)]]
    outline = {"shape": "polygon", "points": points}
    # the wall along x follows the frame, which starts at its end as well
    assert cut(WALL, outline=outline) == number


def test_round_wall() -> None:
    circle = {"shape": "circle", "radius": 2}
    assert cut(WALL, outline=circle) == 0
    # once round is 50.26 modules, of which the foot cuts each
    found = cut(WALL, outline=circle, floor={"shape": "level", "depth": 1.6})
    assert 50 <= found <= 52


OUTLINES = [
    {"shape": "circle", "radius": 2.03},
    {"shape": "ellipse", "length": 6, "width": 3.1, "rotation": 20},
    rectangle(5.1, 2.9, corner_radius=0.7, rotation=33),
    {"shape": "polygon", "points": [[0, 0], [6.2, 0.3], [6.1, 3], [3, 3.3], [3.1, 6], [0.2, 6]]},
]


@pytest.mark.parametrize("outline", OUTLINES, ids=lambda item: str(item["shape"]))
@pytest.mark.parametrize("direction", [0.0, 28.0])
def test_floor_against_cells_cut_out_of_the_plan(outline: dict[str, Any], direction: float) -> None:
    """Another way: cells of which the outline leaves a part, found as polygons."""
    changes = {"outline": outline, **at(0.1, -0.2, direction)}
    model = poolgeo.build(design_from({**BOX, **changes}))
    plan = model.outlines["pool", "water"] - [0.1, -0.2]
    turned = np.radians(direction)
    u = plan @ [np.cos(turned), np.sin(turned)]
    v = plan @ [-np.sin(turned), np.cos(turned)]
    floor = shapely.Polygon(np.column_stack([u, v]))
    cells = [
        shapely.box(i * 0.25, j * 0.25, (i + 1) * 0.25, (j + 1) * 0.25)
        for i in range(-40, 40) for j in range(-40, 40)
    ]  # fmt: skip
    laid = shapely.area(shapely.intersection(cells, floor))
    least = 2.5e-4  # [m2] what a border leaves or takes within 4 mm may count or not
    cut = int(((laid > least) & (laid < 0.25**2 - least)).sum())
    unsure = int(((laid > 0.0) & (laid < 0.25**2)).sum()) - cut
    assert unsure <= 0.15 * cut
    # just inside the border a sliver of a cell is looked at as well
    found = supplies(FLOOR, **changes).cut_tiles
    assert found is not None
    assert cut - 1 <= found <= cut + unsure


def test_other_finishes_cut_none() -> None:
    render = {"name": "render", "type": "render", "thickness": 0.01}
    assert supplies(render).cut_tiles is None
