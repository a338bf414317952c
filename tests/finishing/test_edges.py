"""Nosings of a flight, and the waterline band."""

from __future__ import annotations

from typing import Any

import pytest

from poolgeo.finishing.rows import NosingRow

from .pools import MOSAIC, TILE, rectangle, taken_off

END = {"shape": "end", "direction": 0, "going": 0.3, "risers": 3, "top_tread": 0.5}
"""Three treads from wall to wall: 3 m wide."""


def nosings(nosing: dict[str, Any], flight: dict[str, Any] = END) -> tuple[NosingRow, ...]:
    """Return the nosings of a box with a flight; a finish of the walls stands first."""
    walls = {**TILE, "name": "walls", "where": {"kinds": ["wall", "riser"]}}
    return taken_off(walls, {**TILE, "nosing": nosing}, steps=[flight]).nosings


def test_nosing_of_each_tread() -> None:
    rows = nosings({"length": 0.247})
    assert [row.kind for row in rows] == ["tread/riser"] * 3
    assert [row.finish for row in rows] == ["tile"] * 3
    assert [row.length for row in rows] == pytest.approx([3.0] * 3)
    assert [row.pieces for row in rows] == [12] * 3  # 3.0 / 0.25


def test_a_piece_more_for_what_is_left() -> None:
    assert {row.pieces for row in nosings({"length": 0.447})} == {7}  # 3.0 / 0.45 = 6.67


def test_a_short_edge_takes_one_piece() -> None:
    flight = {**END, "shape": "side", "at": [0, -1.5], "width": 1.2}
    del flight["direction"]
    rows = taken_off({**TILE, "nosing": {"length": 0.597}}, steps=[flight]).nosings
    ends = [row for row in rows if row.kind == "tread/step side"]
    # both sides of two treads of 0.3 m, and of the top one of 0.3 m; uprights take none
    assert {round(row.length, 6): row.pieces for row in ends} == {0.3: 1}
    assert {row.pieces for row in rows if row.kind == "tread/riser"} == {2}  # 1.2 / 0.6
    assert {row.kind for row in rows} == {"tread/riser", "tread/step side"}


def test_only_where_they_are_asked_for() -> None:
    assert nosings({"length": 0.247, "at": ["benches"]}) == ()


def test_a_closed_edge_is_divided_all_round() -> None:
    flight = {"shape": "following", "going": 0.3, "risers": 3}
    rows = taken_off(
        {**TILE, "nosing": {"length": 0.247}},
        outline={"shape": "circle", "radius": 2}, steps=[flight],
    ).nosings  # fmt: skip
    # rings of 1.7 m, 1.4 m and 1.1 m: 10.68, 8.80 and 6.91 m
    assert sorted(row.pieces for row in rows) == [28, 36, 43]


def test_band_of_a_box() -> None:
    (row,) = taken_off(MOSAIC, TILE).bands
    assert (row.body, row.finish) == ("pool", "mosaic")
    assert (row.length, row.height, row.area) == pytest.approx((18.0, 0.15, 2.7))


def test_bands_of_two_bodies() -> None:
    spa = {"name": "tub", "outline": rectangle(1.5, 1.5, centre=[8, 0]), "depth": 0.9,
           "freeboard": 0.2}  # fmt: skip
    rows = {row.body: row.length for row in taken_off(MOSAIC, spas=[spa]).bands}
    assert rows == pytest.approx({"pool": 18.0, "tub": 6.0})


def test_a_finish_of_other_zones_too_is_no_band() -> None:
    both = {**MOSAIC, "where": {"zones": ["waterline band", "below band"]}}
    assert taken_off(both).bands == ()


def test_a_beach_in_the_band_does_not_lengthen_it() -> None:
    pool = {"outline": rectangle(8, 4), "floor": {"shape": "level", "depth": 1.2}}
    shelf = {"name": "shelf", "shape": "following", "start": [-4, 2], "end": [-4, -2],
             "width": 1.0, "depth": 0.02}  # fmt: skip
    (row,) = taken_off(MOSAIC, **pool, ledges=[shelf]).bands
    # the shelf lies in the band, and its face with it: walls are cut off 20 mm below the water
    assert row.area > 4.0 + 20.0 * 0.15
    assert row.length < 24.0 + 4.0
