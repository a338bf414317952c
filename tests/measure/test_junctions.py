"""Junctions: where three edges or more meet, and what corners they make."""

from __future__ import annotations

from collections import Counter

import pytest

from poolgeo.measure.junctions import Junction, corner_of, junctions_of

from .quantities import PoolDict, circle, level, polygon, pool, rectangle, takeoff_of


def junctions(file: PoolDict) -> tuple[Junction, ...]:
    """Return the junctions of a pool."""
    return junctions_of(takeoff_of(file).edges)


def senses(found: tuple[Junction, ...]) -> Counter[str]:
    """Count the corners of each sense."""
    return Counter(item.sense for item in found)


class TestBox:
    """8 m by 4 m, 1.5 m deep, the wall 0.2 m above the water."""

    FOUND = junctions(pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2))

    def test_four_below_and_four_above(self) -> None:
        """Four below and four above."""
        places = {tuple(round(x, 6) for x in item.point) for item in self.FOUND}
        assert places == {(x, y, z) for x in (-4, 4) for y in (-2, 2) for z in (-1.5, 0.2)}
        assert len(self.FOUND) == 8

    def test_below_all_three_edges_are_internal(self) -> None:
        """Below all three edges are internal."""
        low = [item for item in self.FOUND if item.point[2] < 0]
        assert [item.sense for item in low] == ["inside"] * 4
        assert [item.senses for item in low] == [("internal",) * 3] * 4
        assert [(item.wet, item.zone, item.body) for item in low] == [(True, 0, "pool")] * 4

    def test_above_two_external_edges_meet_an_internal_one(self) -> None:
        """Above two external edges meet an internal one."""
        high = [item for item in self.FOUND if item.point[2] > 0]
        assert [item.sense for item in high] == ["mixed"] * 4
        assert [Counter(item.senses) for item in high] == [{"external": 2, "internal": 1}] * 4
        assert not any(item.wet for item in high)

    def test_each_upright_edge_goes_from_a_junction_to_another(self) -> None:
        """Each upright edge goes from a junction to another."""
        numbers = Counter(number for item in self.FOUND for number in item.runs)
        assert set(numbers.values()) == {2}
        assert len(numbers) == 12

    def test_as_json(self) -> None:
        """As JSON."""
        row = next(item for item in self.FOUND if item.point[2] < 0).as_dict()
        assert row["zone"] == "below band"
        assert row["sense"] == "inside"
        assert len(row["runs"]) == 3
        assert row["point"][2] == pytest.approx(-1.5)


def test_a_round_pool_has_none() -> None:
    """Its edges close on themselves."""
    assert junctions(pool(circle(2.0), level(1.5))) == ()


def test_a_bend_is_no_junction() -> None:
    """With a cove, two edges only meet at the foot of an upright corner: it and the mitre."""
    found = junctions(pool(rectangle(8.0, 4.0), level(1.5), cove={"radius": 0.1}))
    assert all(item.point[2] > 0 for item in found)
    assert len(found) == 4


def test_an_outside_corner_of_the_plan() -> None:
    """An L: at its outside corner the wall turns away, below it is mixed and above outside."""
    outline = polygon((0, 0), (7, 0), (7, 3), (3.5, 3), (3.5, 6), (0, 6))
    found = junctions(pool(outline, level(1.5)))
    assert senses(found) == {"inside": 5, "mixed": 5 + 1, "outside": 1}
    here = {item.sense: item.point[2] for item in found if item.point[:2] == (3.5, 3.0)}
    assert here["mixed"] == pytest.approx(-1.5)
    assert here["outside"] == pytest.approx(0.15)


def test_an_island_with_corners() -> None:
    """A square block: four outside corners at its top, four mixed ones at its foot."""
    block = {"name": "block", "outline": rectangle(1.0, 1.0), "top": 0.3}
    found = junctions(pool(rectangle(8.0, 4.0), level(1.5), islands=[block]))
    near = tuple(item for item in found if abs(item.point[0]) < 1)
    assert senses(near) == {"outside": 4, "mixed": 4}
    assert all(item.point[2] == pytest.approx(0.3) for item in near if item.sense == "outside")


def test_a_bench_along_a_wall() -> None:
    """Where its ends meet the wall: inside below, mixed above; at its front: mixed and outside."""
    bench = [{"start": [-2, -2], "end": [2, -2], "width": 0.45, "depth": 0.5}]
    found = junctions(pool(rectangle(8.0, 4.0), level(1.5), bench=bench))
    near = [item for item in found if abs(item.point[0]) < 3]
    assert sorted((*map(abs, map(round, item.point, [6] * 3)), item.sense) for item in near) == (
        sorted(
            [
                (2.0, 2.0, 1.5, "inside"), (2.0, 2.0, 0.5, "mixed"),
                (2.0, 1.55, 1.5, "mixed"), (2.0, 1.55, 0.5, "outside"),
            ] * 2
        )
    )  # fmt: skip


def test_a_break_of_the_floor_ends_at_a_wall() -> None:
    """A brow or a toe of the floor, and the foot of the wall to either side: three edges."""
    lines = [{"at": at, "depth": depth} for at, depth in ((-2.0, 1.0), (2.0, 2.0))]
    found = junctions(pool(rectangle(8.0, 4.0), {"shape": "breaks", "breaks": lines}))
    brow = [item for item in found if item.point[0] == pytest.approx(-2.0)]
    toe = [item for item in found if item.point[0] == pytest.approx(2.0)]
    assert [(item.sense, len(item.runs)) for item in brow] == [("mixed", 3)] * 2
    assert [(item.sense, len(item.runs)) for item in toe] == [("inside", 3)] * 2


@pytest.mark.parametrize(
    ("given", "corner"),
    [
        (("internal", "internal", "internal"), "inside"),
        (("external", "external", "external"), "outside"),
        (("external", "internal", "external"), "mixed"),
    ],
)
def test_the_sense_of_a_corner(given: tuple[str, ...], corner: str) -> None:
    assert corner_of(given) == corner  # type: ignore[arg-type]


def test_no_runs_no_junctions() -> None:
    assert junctions_of(()) == ()
