"""A pool that passes a limit of the table that it names is told so; one that does not is not."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from poolgeo.builder import build
from poolgeo.design.load import design_from, load
from poolgeo.design.rules import rule_table, rule_tables
from poolgeo.errors import PoolFileError

from ..measure.quantities import PoolDict, breaks, level, model_of, plane, pool, rectangle

IN = 0.0254

TABLE = """\
name: our own
units: m
limits:
  - {{of: {of}, {bound}, source: the office}}
"""


def told(file: PoolDict) -> list[str]:
    """Return what a pool is warned of."""
    return [str(item) for item in model_of(file).warnings]


def own(tmp_path: Path, of: str, bound: str, floor: PoolDict, **more: Any) -> list[str]:
    """Return what a pool is told by a table of one limit."""
    path = tmp_path / "table.yaml"
    path.write_text(TABLE.format(of=of, bound=bound))
    found = told(pool(rectangle(10.0, 5.0), floor, rules=str(path), **more))
    return [item for item in found if "[our own: " in item]


def test_nothing_is_compared_unless_a_table_is_named() -> None:
    """A floor of 1:2 and a riser of half a metre."""
    flight = {"shape": "side", "at": [-5, 0], "width": 1.0, "going": 0.1, "risers": 1}
    assert told(pool(rectangle(10.0, 5.0), breaks((-2.0, 1.0), (0.0, 2.0)), steps=[flight])) == []


@pytest.mark.parametrize(("fall", "count"), [(1.0 / 12.0, 0), (1.0 / 11.9, 1)])
def test_a_floor_at_its_limit_is_none_beyond_it(fall: float, count: int) -> None:
    """1:12 is allowed where 1:12 is the limit."""
    file = pool(rectangle(10.0, 5.0), plane(1.5, fall), rules="wisconsin-public")
    found = told(file)
    assert len(found) == count
    if found:
        assert "'floor' the floor should be no steeper than 1:12 where it is less than" in found[0]
        assert "SPS 390.11 (7) (b)" in found[0]
        assert "got 1:11.9, 1.080 m deep at (-5.000, " in found[0]
        assert found[0].endswith("the code that holds at the site decides")


def test_a_steep_floor_in_deep_water_is_none_of_the_shallow_limit() -> None:
    """1:4 from 1.6 m down to 2.1 m: the limit ends at 1.524 m."""
    file = pool(rectangle(10.0, 5.0), breaks((0.0, 1.6), (2.0, 2.1)), rules="wisconsin-public")
    assert told(file) == []


def test_two_limits_of_one_floor() -> None:
    """Shallow and steep passes both; the place is the shallowest of the steepest piece."""
    file = pool(rectangle(10.0, 5.0), breaks((0.0, 1.0), (2.0, 2.0)), rules="arizona-public")
    found = told(file)
    assert len(found) == 2
    assert "no steeper than 1:10 where it is less than 1.219 m deep" in found[0]
    assert "no steeper than 1:3 [" in found[1]
    assert all("got 1:2.0, 1.000 m deep at (0.000, " in item for item in found)


def test_a_beach_is_walked_on_like_the_floor() -> None:
    """It has a name of its own."""
    ledge = {"shape": "following", "start": [-5, 2], "end": [-5, -2], "width": 1.0, "depth": 0.3,
             "beach": {"slope": 0.25}}  # fmt: skip
    found = told(pool(rectangle(10.0, 5.0), level(1.2), ledges=[ledge], rules="arizona-public"))
    assert len(found) == 1
    assert "'ledges[0]' the ledge 1 beach should be no steeper than 1:10" in found[0]


@pytest.mark.parametrize(("radius", "depth", "count"), [(6 * IN, 1.4, 0), (0.16, 1.4, 1),
                                                        (0.16, 1.6, 0)])  # fmt: skip
def test_a_cove_is_limited_in_shallow_water(radius: float, depth: float, count: int) -> None:
    """Six inches where it is less than five feet deep."""
    file = pool(rectangle(10.0, 5.0), level(depth), cove={"radius": radius},
                rules="wisconsin-public")  # fmt: skip
    assert sum("'cove.radius' the cove should be at most 0.152 m" in i for i in told(file)) == count


@pytest.mark.parametrize(("depth", "count"), [(20 * IN, 0), (0.52, 1)])
def test_a_bench_is_limited_in_depth(depth: float, count: int) -> None:
    """Twenty inches."""
    bench = {"name": "long bench", "start": [2, 2.5], "end": [0, 2.5], "width": 0.4, "depth": depth}
    file = pool(rectangle(10.0, 5.0), level(1.5), bench=[bench], rules="indiana-public")
    found = told(file)
    assert len(found) == count
    assert all("'bench[0].depth' the water over the long bench should be" in i for i in found)


def test_goings_one_by_one(tmp_path: Path) -> None:
    """The one that is too short has its number."""
    flight = {"shape": "side", "at": [-5, 0], "width": 1.0, "going": [0.3, 0.25, 0.3]}
    found = own(tmp_path, "tread", "least: 0.254", level(1.2), steps=[flight])
    assert len(found) == 1
    assert "the going of tread 2 of the steps 1 should be at least 0.254 m" in found[0]
    assert "[our own: the office]" in found[0]


@pytest.mark.parametrize(
    ("rises", "word"),
    [([0.3, 0.2], "the riser under tread 1"), ([0.2, 0.3], "the riser under tread 2"),
     ([0.2, 0.2], "the last riser of steps 1, at (-4.")],
)  # fmt: skip
def test_the_highest_riser_is_named(tmp_path: Path, rises: list[float], word: str) -> None:
    """Treads 0.2 m down and then as listed, over a floor that is just below the last."""
    flight = {"shape": "side", "at": [-5, 0], "width": 1.0, "going": 0.3, "rise": rises,
              "top_tread": 0.2}  # fmt: skip
    floor = level(0.2 + sum(rises) + (0.29 if rises[0] == rises[1] else 0.2))
    found = own(tmp_path, "riser", "most: 0.25", floor, steps=[flight])
    assert len(found) == 1
    assert word in found[0]


def test_the_last_riser_is_measured_where_it_is_highest(tmp_path: Path) -> None:
    """The floor falls along the nosing: 0.30 m at its middle, 0.35 m at its far end."""
    flight = {"shape": "side", "at": [-5, 0], "width": 2.0, "going": 0.5, "risers": 1,
              "top_tread": 0.7}  # fmt: skip
    found = own(tmp_path, "riser", "most: 0.25", plane(1.0, 0.05, 90.0), steps=[flight])
    assert len(found) == 1
    assert "at (-4.500, 1.000) m," in found[0]
    assert "got 0.350 m" in found[0]


def test_a_last_riser_down_to_a_ledge_is_none_down_to_the_floor(tmp_path: Path) -> None:
    """The floor is 0.6 m below the tread, the ledge in front of all of it 0.2 m."""
    ledge = {"shape": "outline", "outline": rectangle(2.0, 2.0, centre=[-4, 0]), "depth": 0.4}
    flight = {"shape": "side", "at": [-5, 0], "width": 1.0, "going": 0.5, "risers": 1,
              "top_tread": 0.2}  # fmt: skip
    more = {"ledges": [ledge], "steps": [flight]}
    assert own(tmp_path, "riser", "most: 0.25", level(0.8), **more) == []


def test_the_step_from_the_walls_top(tmp_path: Path) -> None:
    """Freeboard and the top tread's depth together."""
    flight = {"shape": "side", "at": [-5, 0], "width": 1.0, "going": 0.3, "risers": 3,
              "top_tread": 0.2}  # fmt: skip
    found = own(tmp_path, "top step", "most: 0.3", level(1.0), steps=[flight])
    assert len(found) == 1
    assert "got 0.350 m" in found[0]


def test_what_is_from_memory_says_so(tmp_path: Path) -> None:
    """The reader has to know."""
    found = own(tmp_path, "cove radius", "most: 0.05, from_memory: true", level(1.0),
                cove={"radius": 0.1})  # fmt: skip
    assert "[our own: the office, from memory]" in found[0]


def test_a_table_stands_beside_its_pool_file(tmp_path: Path) -> None:
    """A relative path starts from the pool file's folder."""
    (tmp_path / "table.yaml").write_text(TABLE.format(of="cove radius", bound="most: 50 mm"))
    file = tmp_path / "pool.yaml"
    file.write_text(
        "name: a\nunits: m\noutline: {shape: circle, radius: 3}\n"
        "floor: {shape: level, depth: 1.5}\ncove: {radius: 0.1}\nrules: table.yaml\n"
        "shell: {wall: 0.25, floor: 0.25}\n"
    )
    (found,) = build(load(file)).warnings
    assert found.line == 5
    assert found.value.startswith("0.100 m")


@pytest.mark.parametrize(
    ("of", "bound", "words"),
    [
        ("riser", "steepest: 1:4", "'limits[0].least' must stand in a limit that gives either"),
        ("floor slope", "most: 0.3", "'limits[0].least' must stand in a limit that gives 'steep"),
        ("riser", "most: 0.3, least: 0.1", "got most, least"),
        ("height", "most: 0.3", "'limits[0].of' must be one of floor slope, cove radius"),
        ("riser", "most: 0.3, cost: 2", "'limits[0].cost' must be a key that is known here"),
    ],
)
def test_what_is_wrong_with_a_table_is_said_of_the_table(
    tmp_path: Path, of: str, bound: str, words: str
) -> None:
    """With its file and line."""
    path = tmp_path / "table.yaml"
    path.write_text(TABLE.format(of=of, bound=bound))
    with pytest.raises(PoolFileError) as refused:
        design_from(pool(rectangle(4.0, 3.0), level(1.0), rules=str(path)))
    (found,) = refused.value.findings
    assert words in str(found)
    assert found.file == str(path)
    assert found.line == 4


@pytest.mark.parametrize("name", rule_tables())
def test_a_table_of_the_package_names_its_source_in_each_limit(name: str) -> None:
    """Code and paragraph."""
    table = rule_table(name, Path())
    assert all("Administrative Code" in item.source for item in table.limits)
    assert not any(item.from_memory for item in table.limits)


LEDGE = {"shape": "following", "start": [5, 2.5], "end": [2, 2.5], "width": 0.5, "depth": 0.6}
LOW, HIGH = [-4, -2.5], [4, -2.5]


def count_of(found: list[str], words: str) -> int:
    """Return how many of some warnings hold words."""
    return sum(words in item for item in found)


@pytest.mark.parametrize(
    ("of", "bound", "words"),
    [
        ("bench depth", "least: 0.5", "the water over the bench 1"),
        ("tread", "least: 0.35", "the goings of the steps 1"),
        ("riser", "most: 0.15", "the riser under tread 1 of the steps 1"),
        ("top step", "most: 0.3", "the step from the wall's top"),
    ],
)
def test_a_limit_of_shallow_water_holds_there_only(
    tmp_path: Path, of: str, bound: str, words: str
) -> None:
    """The bench lies 0.45 m down, the first tread 0.4 m."""
    more = {
        "bench": [{"start": [1, 2.5], "end": [-1, 2.5], "width": 0.4, "depth": 0.45}],
        "steps": [{"shape": "side", "at": [-5, 0], "width": 2.0, "going": 0.3, "rise": 0.2,
                   "top_tread": 0.4}],
    }  # fmt: skip
    for below, count in (("0.46", 1), ("0.4", 0)):
        said = own(tmp_path, of, f"{bound}, shallower_than: {below}", level(1.2), **more)
        assert count_of(said, words) == count


def test_a_riser_that_is_too_low_is_the_lowest(tmp_path: Path) -> None:
    """Of 0.20, 0.10 and 0.25 m."""
    flight = {"shape": "side", "at": [-5, 0], "width": 2.0, "going": 0.3, "rise": [0.2, 0.1, 0.25],
              "top_tread": 0.4}  # fmt: skip
    (found,) = own(tmp_path, "riser", "least: 0.3", level(1.5), steps=[flight])
    assert "the riser under tread 2 of the steps 1 should be at least 0.300 m" in found
    assert "got 0.100 m" in found


@pytest.mark.parametrize(
    ("more", "value"),
    [({}, "0.600 m"), ({"edge_depth": 0.7}, "0.700 m"), ({"end_depth": 0.5}, "0.600 m")],
)
def test_a_ledge_is_a_bench(tmp_path: Path, more: PoolDict, value: str) -> None:
    """Where it is deepest."""
    (found,) = own(tmp_path, "bench depth", "most: 0.508", level(1.5), ledges=[LEDGE | more])
    assert "'ledges[0].depth' the water over the ledge 1 should be at most 0.508 m" in found
    assert f"got {value}" in found


def test_a_beach_counts_by_the_ledge_it_starts_at(tmp_path: Path) -> None:
    """Its slope is none of the limit's."""
    ledge = LEDGE | {"depth": 0.3, "beach": {"slope": 0.5}}
    assert own(tmp_path, "bench depth", "most: 0.508", level(1.5), ledges=[ledge]) == []


def test_a_beach_is_too_steep_where_it_begins(tmp_path: Path) -> None:
    """The level shelf, 2 m wide, is no part of the slope."""
    ledge = {"shape": "following", "start": [-5, 2.5], "end": [-5, -2.5], "width": 2.0,
             "depth": 0.9, "beach": {"slope": "1:3"}}  # fmt: skip
    (found,) = own(tmp_path, "floor slope", "steepest: 1:12", level(1.5), ledges=[ledge])
    assert "got 1:3.0, 0.900 m deep at (-3.000, " in found


def test_a_stretch_of_the_cove_is_compared_by_itself(tmp_path: Path) -> None:
    """Where there is none on it nothing is said of it."""
    cove = {"radius": 0.1, "stretches": [{"start": LOW, "end": HIGH, "radius": 0.3}]}
    (found,) = own(tmp_path, "cove radius", "most: 0.15", level(1.5), cove=cove)
    assert "'cove.stretches[0].radius' the cove along the stretch" in found
    cove = {"radius": 0.1, "stretches": [{"start": LOW, "end": HIGH, "radius": 0.0}]}
    (found,) = own(tmp_path, "cove radius", "least: 0.15", level(1.5), cove=cove)
    assert "'cove.radius' the cove should be" in found


@pytest.mark.parametrize(
    ("below", "value"), [("", "0.300 m"), (", shallower_than: 1.4", "0.200 m; at (0.000, ")]
)
def test_a_cove_that_grows_is_compared_where_the_limit_holds(
    tmp_path: Path, below: str, value: str
) -> None:
    """0.1 m down to 1.2 m, 0.3 m from 1.6 m on: 0.2 m at 1.4 m, half way down a floor of 1:5."""
    cove = {"radius": 0.1, "deepens": {"start": 1.2, "end": 1.6, "radius": 0.3}}
    floor = breaks((-2.0, 1.0), (2.0, 1.8))
    (found,) = own(tmp_path, "cove radius", f"most: 0.15{below}", floor, cove=cove)
    assert "'cove.deepens' the cove should be at most 0.150 m" in found
    assert f"got {value}" in found
    assert own(tmp_path, "cove radius", "most: 0.15, shallower_than: 1.2", floor, cove=cove) == []


def test_the_cove_of_a_spa_is_compared(tmp_path: Path) -> None:
    """0.8 m deep."""
    spa = {"outline": {"shape": "circle", "radius": 1.0, "centre": [0, 0]}, "depth": 0.8,
           "cove": {"radius": 0.2}}  # fmt: skip
    (found,) = own(tmp_path, "cove radius", "most: 0.15", level(1.5), spas=[spa])
    assert "'spas[0].cove.radius' the cove of the spa should be at most 0.150 m" in found
    assert "got 0.200 m; the spa is 0.800 m deep" in found


def test_treads_without_a_going_are_not_passed_over(tmp_path: Path) -> None:
    """Winders have no one depth."""
    flight = {"shape": "winding", "pivot": [-5, -2.5], "reach": 1.2, "direction": 90, "turn": -90,
              "risers": 3}  # fmt: skip
    (found,) = own(tmp_path, "tread", "least: 0.25", level(1.0), steps=[flight])
    assert "each tread of the steps 1 should be at least 0.250 m" in found
    assert "got not compared: its treads have no 'going'" in found


def test_the_last_riser_is_told_where_it_is_lowest(tmp_path: Path) -> None:
    """The floor falls along the nosing, by 0.05 m to either side of its middle."""
    flight = {"shape": "side", "at": [-5, 0], "width": 2.0, "going": 0.5, "risers": 1,
              "top_tread": 0.7}  # fmt: skip
    (found,) = own(tmp_path, "riser", "least: 0.28", plane(1.0, 0.05, 90.0), steps=[flight])
    assert "got 0.250 m" in found
    assert "at (-4.500, -1.000) m" in found


def test_a_table_that_is_none_is_told_beside_all_else(tmp_path: Path) -> None:
    """Whatever else is wrong; what is wrong inside a table comes after."""
    wrong = pool(rectangle(4.0, 3.0), level(1.0), rules="nowhere", colour=1)
    with pytest.raises(PoolFileError) as refused:
        design_from(wrong)
    assert {item.key for item in refused.value.findings} == {("rules",), ("colour",)}
    (tmp_path / "table.yaml").write_text(TABLE.format(of="height", bound="most: 50 mm"))
    file = tmp_path / "pool.yaml"
    file.write_text(
        "name: a\nunits: m\noutline: {shape: circle, radius: 3}\nfloor: {shape: flat}\n"
        "rules: table.yaml\ndepth: 3\n"
    )
    with pytest.raises(PoolFileError) as refused:
        load(file)
    places = [(item.file, item.line) for item in refused.value.findings]
    own = str(file)
    assert places == [(own, 4), (own, 6), (str(tmp_path / "table.yaml"), 4)]
