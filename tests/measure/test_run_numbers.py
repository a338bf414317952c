"""Run numbers: body mark, kind code, station; the same edge keeps its number."""

from __future__ import annotations

import re
from itertools import combinations_with_replacement

import pytest

from poolgeo.quantities import Run, Takeoff
from poolgeo.surface.kinds import ALL_KINDS, CODES, pair_code

from .quantities import circle, level, model_of, polygon, pool, rectangle, takeoff_of

BENCH = {"start": [-2.0, -2.0], "end": [1.0, -2.0], "width": 0.5, "depth": 0.45}
ANGLE = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
SPA = {"outline": circle(0.8, centre=[2.5, 0.5]), "depth": 0.9, "raised": 0.3}
FLIGHT = {"shape": "side", "at": [-4.0, 0.0], "width": 1.2, "going": 0.3, "risers": 3}


def places(takeoff: Takeoff) -> dict[tuple[object, ...], str]:
    """Return the number of each run by kind and ends."""

    def place(run: Run) -> tuple[object, ...]:
        ends = sorted(tuple((run.points[i].round(4) + 0.0).tolist()) for i in (0, -1))
        return run.kind, *ends, round(run.length, 4)

    return {place(run): run.number for run in takeoff.edges}


def test_form() -> None:
    """A number is the body's letter, a kind's code, a station, and a letter; none comes twice."""
    takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), bench=[BENCH], spas=[SPA]))
    numbers = [run.number for run in takeoff.edges] + [run.number for run in takeoff.coves]
    assert len(set(numbers)) == len(numbers)
    for number in numbers:
        assert re.fullmatch(r"[PS]\d+\.\d+[b-z]?", number), number


def test_the_number_is_a_station_of_the_outline() -> None:
    """A wall's run starts as many decimetres along the outline as its number says."""
    takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5)))
    corners = {(-4.0, -2.0): 0, (4.0, -2.0): 80, (4.0, 2.0): 120, (-4.0, 2.0): 200}
    for run in takeoff.edges:
        start = corners[run.points[0, 0], run.points[0, 1]]
        assert int(run.number.split(".")[1].rstrip("bc")) == start, run.number


def test_a_kind_has_one_code() -> None:
    """Runs share a code exactly when they share their kind."""
    takeoff = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), bench=[BENCH], steps=[FLIGHT]))
    codes = {(run.kind, run.number.split(".")[0]) for run in takeoff.edges}
    assert len(codes) == len({kind for kind, _ in codes}) == len({code for _, code in codes})


def test_building_twice_gives_the_same_numbers() -> None:
    """The same file gives the same runs in the same order."""
    file = pool(rectangle(8.0, 4.0), level(1.5), bench=[BENCH], spas=[SPA], cove={"radius": 0.1})
    first, second = takeoff_of(file), takeoff_of(file)
    assert first.as_dict() == second.as_dict()


@pytest.mark.parametrize(
    "more",
    [{"bench": [BENCH]}, {"steps": [FLIGHT]}, {"spas": [SPA]}],
    ids=lambda more: next(iter(more)),
)
def test_a_new_feature_leaves_the_numbers_elsewhere(more: dict[str, object]) -> None:
    """Runs that a bench, a flight or a spa doesn't touch keep their numbers."""
    before = places(takeoff_of(pool(rectangle(8.0, 4.0), level(1.5))))
    after = places(takeoff_of(pool(rectangle(8.0, 4.0), level(1.5), **more)))
    kept = {place: number for place, number in before.items() if place in after}
    assert len(kept) >= 8  # most of the twelve runs are still there
    assert {place: after[place] for place in kept} == kept


def test_depths_do_not_matter_to_numbers() -> None:
    """A deeper pool has the same numbers at the same plan places."""

    def plans(depth: float) -> dict[str, list[list[float]]]:
        takeoff = takeoff_of(pool(ANGLE, level(depth)))
        return {
            run.number: sorted((run.points[[0, -1], :2].round(4) + 0.0).tolist())
            for run in takeoff.edges
        }

    assert plans(1.2) == plans(2.3)


def test_runs_lie_on_vertices_of_the_surface() -> None:
    """Every point of a run is a vertex of the model, so table, drawing and viewer agree."""
    from poolgeo.measure.takeoff import measure

    model = model_of(
        pool(rectangle(8.0, 4.0), level(1.5), bench=[BENCH], steps=[FLIGHT], spas=[SPA])
    )
    vertices = set(map(tuple, model.surface.vertices.tolist()))
    for run in measure(model).edges:
        assert set(map(tuple, run.points.tolist())) <= vertices


GIVEN = (
    "floor", "wall", "cove", "fillet", "tread", "riser", "step side", "bench top", "bench face",
    "spa floor", "spa wall", "seat top", "seat face", "dam wall face", "dam wall top", "spillway",
    "weir top", "weir face", "basin floor", "basin wall", "channel floor", "channel wall",
    "wall top", "wall end", "recess", "outer wall", "beam underside", "footing top",
    "footing side", "soffit", "soffit step", "corner cove", "arris",
)  # fmt: skip
"""Kinds by the code that run numbers of drawings already printed have; new ones go to the end."""


def test_a_kind_keeps_its_code() -> None:
    """Codes once given stay, and a new kind takes the next one."""
    assert {name: CODES[name] for name in GIVEN} == {name: i for i, name in enumerate(GIVEN)}
    assert sorted(kind.code for kind in ALL_KINDS) == list(range(len(ALL_KINDS)))


def test_every_pair_of_kinds_has_a_code_of_its_own() -> None:
    """Two runs of different kinds never have one number."""
    pairs = combinations_with_replacement(CODES, 2)
    codes = [pair_code(f"{one}/{other}") for one, other in pairs]
    assert len(set(codes)) == len(codes)
    assert pair_code("wall/cove") == pair_code("cove/wall")
