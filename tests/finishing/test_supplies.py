"""What finishes cover and take, in a box 6 m by 3 m by 1.5 m.

Its walls are 2 (6 + 3) = 18 m long. The band is 0.15 m high: 18 x 0.15 = 2.7 m2. Below it lie
18 x 1.425 = 25.65 m2 of wall and 6 x 3 = 18 m2 of floor: 43.65 m2.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

import poolgeo
from poolgeo.design.load import design_from
from poolgeo.finishing.takeoff import take_off_finishes

from .pools import BOX, MOSAIC, TILE, rectangle, supplies, taken_off

BELOW = {**TILE, "where": {"zones": ["below band"]}}
RENDER = {"name": "render", "type": "render", "thickness": 0.01}


def test_areas_are_those_of_the_zones() -> None:
    found = {(row.finish, row.kind, row.zone): row.area for row in taken_off(MOSAIC, BELOW).areas}
    assert found == pytest.approx({
        ("mosaic", "wall", "waterline band"): 2.7,
        ("tile", "floor", "below band"): 18.0,
        ("tile", "wall", "below band"): 25.65,
    })  # fmt: skip


def test_of_several_finishes_the_first_holds() -> None:
    rows = {row.finish: row.area for row in taken_off(MOSAIC, TILE, RENDER).supplies}
    # freeboard above the band 0.075 m; wall tops, where coping lies, take what names them only
    assert rows == pytest.approx({"mosaic": 2.7, "tile": 43.65 + 18 * 0.075, "render": 0.0})


def test_wall_tops_take_a_finish_that_names_them() -> None:
    row = supplies({**TILE, "where": {"zones": ["wall top"]}})
    assert row.area == pytest.approx(6.5 * 3.5 - 6.0 * 3.0)  # 0.25 m wide


def test_a_course_as_high_as_the_band_is_cut_nowhere_along_it() -> None:
    """A band of 0.15 m takes one course of 147 mm and a joint; walls are whole modules long."""
    tile = {"length": 0.147, "width": 0.147, "thickness": 0.008}
    row = supplies({"name": "band", "type": "tile", "tile": tile, "joint": 0.003,
                    "where": {"zones": ["waterline band"]}})  # fmt: skip
    assert row.modules == pytest.approx(18.0 / 0.15)
    assert row.cut_tiles == 0


def test_sheets_of_a_band_hold_whole_rows() -> None:
    """0.15 m are seven rows of 22 mm; a sheet has 15: two strips of 0.33 m."""
    row = supplies(MOSAIC)
    assert row.sheets == math.ceil(18.0 * 1.05 / (2 * 0.33))


def test_tiles_and_what_lays_them() -> None:
    bed = {"thickness": 0.004, "density": "1.5 kg/L"}
    row = supplies({**BELOW, "bed": bed}, MOSAIC)
    assert row.area == pytest.approx(43.65)
    assert row.modules == pytest.approx(43.65 / 0.25**2)  # 698.4
    assert row.waste == pytest.approx(0.05)
    assert (row.pieces, row.sheets) == (734, None)  # 698.4 x 1.05 = 733.32
    assert row.spacers == 699
    assert row.adhesive_net == pytest.approx(43.65 * 0.004)
    assert row.adhesive_gross == pytest.approx(43.65 * 0.004 / 0.9)  # a tenth is lost
    assert row.adhesive_mass == pytest.approx(43.65 * 0.004 / 0.9 * 1500)
    assert row.grout_net is not None
    # of a module of 0.0625 m2 the tile is 0.061009 m2: the rest is grout, 8 mm deep
    assert row.grout_net == pytest.approx(43.65 * 0.008 * (0.0625 - 0.061009) / 0.0625)
    assert row.grout_gross == pytest.approx(row.grout_net / 0.9)
    assert (row.plaster_net, row.plaster_gross) == (None, None)


def test_mosaic_comes_on_sheets() -> None:
    row = supplies(MOSAIC)
    assert row.grout_net is not None
    assert row.modules == pytest.approx(2.7 / 0.022**2)
    assert row.sheets == 29  # two strips of seven rows from each: 18 x 1.05 / 0.66 = 28.6
    assert (row.pieces, row.spacers, row.cut_tiles) == (None, None, None)
    exact = 0.004 * (1 - 0.020**2 / 0.022**2) * 2.7
    assert row.grout_net == pytest.approx(exact)
    usual = 0.004 * 0.002 * (0.02 + 0.02) / (0.02 * 0.02) * 2.7
    assert usual / exact == pytest.approx(1.152, abs=1e-3)  # what the usual formula has too much


def test_mosaic_without_sheets_is_ordered_by_the_piece() -> None:
    row = supplies({key: value for key, value in MOSAIC.items() if key != "sheet"})
    assert row.pieces == math.ceil(2.7 / 0.022**2 * 1.05)
    assert row.sheets is None


def test_plaster_is_a_volume() -> None:
    row = supplies({**RENDER, "where": {"kinds": ["floor"]}, "loss": "20 %"})
    assert (row.plaster_net, row.plaster_gross) == pytest.approx((0.18, 0.225))
    assert (row.modules, row.pieces, row.adhesive_net, row.grout_net) == (None,) * 4


@pytest.mark.parametrize(
    ("changes", "waste"),
    [
        ({}, 0.05),
        ({"outline": {"shape": "circle", "radius": 2}}, 0.12),
        ({"floor": {"shape": "plane", "at": [0, 0], "depth": 1.5, "fall": "1:10"}}, 0.08),
        ({"floor": {"shape": "plane", "at": [0, 0], "depth": 1.5, "fall": "1:300"}}, 0.05),
        # a D: its border is half a circle and the diameter, pi / (pi + 2) of it curved
        (
            {"outline": {"shape": "polyline", "points": [[0, 0], [4, 0, 1]]}},
            0.05 + 0.07 * math.pi / (math.pi + 2.0),
        ),
    ],
)
def test_waste_of_a_floor_by_curve_and_slope(changes: dict[str, Any], waste: float) -> None:
    row = supplies({**TILE, "where": {"kinds": ["floor"]}}, **changes)
    assert row.waste == pytest.approx(waste, rel=1e-4)


def test_a_straight_wall_beside_a_round_one_is_straight() -> None:
    outline = {"shape": "polyline", "points": [[0, 0], [4, 0, 1]]}
    wall = {**TILE, "where": {"kinds": ["wall"], "zones": ["below band"]}}
    (row,) = taken_off(wall, outline=outline).areas
    # half a circle of 2 m radius, whose chords are a little shorter, and its diameter
    assert row.curved == pytest.approx(math.pi * 2.0 * 1.425, rel=1e-3)
    assert row.area - row.curved == pytest.approx(4.0 * 1.425)
    share = row.curved / row.area
    assert supplies(wall, outline=outline).waste == pytest.approx(0.05 + share * 0.07)


def test_openings_are_taken_off_where_they_are() -> None:
    fittings = [
        {"kind": "main drain", "point": [0, 0], "width": 0.2, "height": 0.3},
        {"kind": "skimmer", "at": [3, 0], "depth": 0, "width": 0.4, "height": 0.1, "collar": 0},
    ]
    rows = {row.kind: row.area for row in taken_off(MOSAIC, BELOW, fittings=fittings).areas}
    assert rows["floor"] == pytest.approx(18.0 - 0.06)
    both = [row.area for row in taken_off(MOSAIC, BELOW, fittings=fittings).supplies]
    assert both == pytest.approx([2.7 - 0.04, 43.65 - 0.06])


def test_an_opening_under_water_is_taken_off_what_is_under_water() -> None:
    band = {"kinds": ["wall"], "zones": ["waterline band"]}
    dry = {**TILE, "where": {**band, "wet": False}}
    wet = {**MOSAIC, "where": {**band, "wet": True}}
    inlet = {"kind": "return inlet", "at": [3, 0], "depth": 0.04, "diameter": 0.05, "collar": 0}
    rows = taken_off(dry, wet, fittings=[inlet]).supplies
    opening = math.pi / 4 * 0.05**2
    assert [row.area for row in rows] == pytest.approx([1.35, 1.35 - opening])


def test_an_opening_larger_than_its_zone_reaches_into_the_next() -> None:
    pool = {"waterline": {"above": 0.075, "below": 0.0}, "freeboard": 0.3}
    band = {**MOSAIC, "where": {"kinds": ["spa wall"], "zones": ["waterline band"]}}
    rest = {**TILE, "where": {"kinds": ["spa wall"]}}
    spa = {"name": "tub", "outline": rectangle(0.5, 0.5, centre=[8, 0]), "depth": 0.9,
           "freeboard": 0.3}  # fmt: skip
    # the band is 2 m by 75 mm: 0.15 m2; the opening 0.4 m by 0.5 m: 0.2 m2
    hole = {"kind": "skimmer", "at": [7.75, 0], "depth": -0.02, "width": 0.4, "height": 0.5,
            "collar": 0, "body": "tub"}  # fmt: skip
    rows = taken_off(band, rest, spas=[spa], fittings=[hole], **pool).supplies
    assert [row.area for row in rows] == pytest.approx([0.0, 2.0 * 1.2 - 0.2])


def test_where_no_finish_is_nothing_is_taken_off() -> None:
    fittings = [{"kind": "main drain", "point": [0, 0], "width": 0.2, "height": 0.3}]
    (row,) = taken_off(MOSAIC, fittings=fittings).supplies
    assert row.area == pytest.approx(2.7)


def test_finishes_of_one_name_stay_apart() -> None:
    wall = {**TILE, "where": {"kinds": ["wall"], "zones": ["below band"]}}
    floor = {**TILE, "where": {"kinds": ["floor"]}}
    rows = taken_off(wall, floor).supplies
    assert [row.area for row in rows] == pytest.approx([25.65, 18.0])


def test_only_bodies_and_water_that_are_asked_for() -> None:
    spa = {"name": "tub", "outline": rectangle(1.5, 1.5, centre=[8, 0]), "depth": 0.9,
           "freeboard": 0.2}  # fmt: skip
    row = supplies({**TILE, "where": {"bodies": ["tub"], "wet": True}}, spas=[spa])
    assert row.area == pytest.approx(1.5**2 + 4 * 1.5 * 0.9)


@pytest.mark.parametrize("changes", [{}, {"finishes": []}])
def test_nothing_is_taken_off_where_nothing_is_said(changes: dict[str, Any]) -> None:
    model = poolgeo.build(design_from({**BOX, **changes}))
    assert take_off_finishes(model, poolgeo.measure(model)) is None
