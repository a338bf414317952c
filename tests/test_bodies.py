"""Bodies of water in one pool: their names and marks, and what of them is refused."""

from __future__ import annotations

from typing import Any, ClassVar

import pytest

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import Finding, PoolFileError
from poolgeo.measure.takeoff import measure

from .measure.quantities import (
    area,
    circle,
    lengths,
    level,
    model_of,
    polygon,
    pool,
    rectangle,
    takeoff_of,
)
from .properties.facts import FACTS

WEST = {"start": [-5.0, 2.5], "end": [-5.0, -2.5]}
BASIN = {"width": 1.0, "drop": 0.4, "depth": 0.8}
CHANNEL = {"width": 0.3, "depth": 0.35}


def spa(x: float, y: float = 0.0, **more: Any) -> dict[str, Any]:
    """A round spa."""
    return {"outline": circle(1.0, centre=[x, y]), "depth": 0.9, "raised": 0.2, **more}


def oblong(**more: Any) -> dict[str, Any]:
    """A pool 10 by 5 by 1.5."""
    return pool(rectangle(10.0, 5.0), level(1.5), **more)


def errors_of(file: dict[str, Any]) -> list[Finding]:
    """Return what a pool is refused for."""
    with pytest.raises(PoolFileError) as refused:
        build(design_from(file))
    return [item for item in refused.value.findings if item.severity == "error"]


def error_of(file: dict[str, Any]) -> Finding:
    """Return the only thing that a pool is refused for."""
    (found,) = errors_of(file)
    return found


class TestSeveral:
    """Six bodies in one pool."""

    FILE: ClassVar[dict[str, Any]] = oblong(
        spas=[spa(-2.0), spa(2.0, name="whirl"), spa(0.0, 9.0)],
        overflows=[{**WEST, "basin": BASIN}],
        channels=[{"start": [5.0, -1.0], "end": [5.0, 1.0], **CHANNEL}],
    )

    def test_names_and_marks(self) -> None:
        """By kind and number, or by the name given; the mark goes by kind and number alone."""
        model = model_of(self.FILE)
        assert [(item.name, item.mark) for item in model.bodies] == [
            ("pool", "P"), ("basin", "B"), ("channel", "C"),
            ("spa", "S"), ("whirl", "Sb"), ("spa 3", "Sc"),
        ]  # fmt: skip
        for item in model.bodies:
            assert (item.name, "shell") in model.outlines

    def test_run_numbers_begin_with_their_body_s_mark(self) -> None:
        """And reports list the bodies in their order."""
        takeoff = takeoff_of(self.FILE)
        marks = {item.name: item.mark for item in model_of(self.FILE).bodies}
        for run in takeoff.edges:
            assert run.number.rstrip("0123456789.abcdefghijklmnopqrstuvwxyz") == marks[run.body][0]
            assert run.number.startswith(marks[run.body])
        bodies = [run.body for run in takeoff.edges]
        assert list(dict.fromkeys(bodies)) == list(marks)

    def test_a_spa_s_numbers_do_not_move_when_another_body_comes(self) -> None:
        """They go by its own outline."""
        alone = takeoff_of(oblong(spas=[spa(-2.0)]))
        among = takeoff_of(self.FILE)
        numbers, found = (
            {run.number for run in takeoff.edges if run.body == "spa"} for takeoff in (alone, among)
        )
        assert numbers == found

    def test_all_facts_hold(self) -> None:
        """All of them together."""
        model, takeoff = model_of(self.FILE), takeoff_of(self.FILE)
        for fact in FACTS:
            fact(model, takeoff)


class TestInsideASpa:
    """A square spa of 2 by 2 by 1 in the middle of the pool."""

    SQUARE: ClassVar[dict[str, Any]] = {
        "outline": rectangle(2.0, 2.0),
        "depth": 1.0,
        "dam_wall": 0.2,
    }

    def test_a_lounger_over_a_ring(self) -> None:
        """A ring 0.4 wide, 0.5 deep; in front of one side a lounger 0.8 wide, 0.2 deep."""
        seats = [
            {"width": 0.4, "depth": 0.5},
            {"start": [-1.0, -1.0], "end": [1.0, -1.0], "width": 0.8, "depth": 0.2},
        ]
        takeoff = takeoff_of(oblong(spas=[{**self.SQUARE, "seats": seats}]))
        lounger = 2.0 * 0.8
        ring = 4.0 - 1.2**2 - 2.0 * 0.4 - 2 * 0.4 * 0.4
        floor = 4.0 - lounger - ring
        assert area(takeoff, "seat top", "spa") == pytest.approx(lounger + ring, rel=1e-6)
        assert takeoff.water["spa"] == pytest.approx(lounger * 0.2 + ring * 0.5 + floor, rel=1e-6)
        drops = 2 * 0.4 * 0.3 + 1.2 * 0.8 + (1.2 + 2 * 0.8) * 0.5
        assert area(takeoff, "seat face", "spa") == pytest.approx(drops, rel=1e-6)

    def test_a_well(self) -> None:
        """0.6 by 0.6 and 0.3 deeper: its foot is internal, its brim external."""
        well = {"outline": rectangle(0.6, 0.6), "depth": 1.3}
        takeoff = takeoff_of(oblong(spas=[{**self.SQUARE, "wells": [well]}]))
        assert takeoff.water["spa"] == pytest.approx(4.0 + 0.36 * 0.3, rel=1e-6)
        assert lengths(takeoff, "spa floor/spa wall", "external") == pytest.approx([0.6] * 4)
        assert area(takeoff, "spa wall", "spa") == pytest.approx(8 * 1.1 + 2.4 * 0.3, rel=1e-6)

    def test_the_concrete_round_a_well(self) -> None:
        """The slab goes down round it by a wall's thickness: 1.1 by 1.1, less the well."""
        well = {"outline": rectangle(0.6, 0.6), "depth": 1.3}
        plain, deeper = (
            takeoff_of(oblong(spas=[{**self.SQUARE, "wells": wells}])).shell
            for wells in ([], [well])
        )
        assert deeper - plain == pytest.approx((1.1**2 - 0.6**2) * 0.3, rel=1e-6)

    def test_several_spillways(self) -> None:
        """Two notches 0.2 deep through the dam wall: each a sill and two cheeks."""
        spillways = [
            {"at": [1.0, 0.0], "width": 0.5},
            {"at": [-1.0, 0.0], "width": 0.3, "drop": 0.05},
        ]
        file = oblong(spas=[{**self.SQUARE, "spillways": spillways}])
        takeoff = takeoff_of(file)
        wide = 0.5 * 0.2 + 2 * 0.2 * 0.1
        narrow = 0.3 * 0.2 + 2 * 0.2 * 0.15
        assert area(takeoff, "spillway", "spa") == pytest.approx(wide + narrow, rel=1e-6)


class TestRefused:
    """What cannot be built, and what of it is said."""

    def test_spas_that_overlap(self) -> None:
        """Both are named."""
        found = error_of(oblong(spas=[spa(-1.0), spa(0.5, name="whirl")]))
        assert found.key == ("spas", 1)
        assert found.rule == "must stand clear, with its walls, of 'spa'"
        assert "move 'whirl'" in found.remedy

    def test_spas_whose_walls_meet(self) -> None:
        """At x = 0.7, 0.5 and a wall of 0.2 from the middle of either."""
        side = {"depth": 0.9, "dam_wall": 0.2}
        found = error_of(
            oblong(
                spas=[{"outline": rectangle(1.0, 1.0, centre=[x, 0.0]), **side} for x in (0.0, 1.4)]
            )
        )
        assert "their walls meet near (0.700, " in found.value

    def test_a_name_that_is_taken(self) -> None:
        """The pool's own is."""
        found = error_of(oblong(spas=[spa(-2.0, name="pool"), spa(2.0)]))
        assert found.key == ("spas", 0, "name")
        assert "a name of its own" in found.rule

    def test_a_name_is_no_outline_s(self) -> None:
        """A spa called as another outline is, or an island, changes nothing but its name."""
        isle = [{"outline": {"shape": "circle", "radius": 0.4, "centre": [-2.0, 0.0]}}]
        shell = {"footing": {"projection": 0.5, "thickness": 0.2}}
        more = {"shell": shell, "setting": "in ground", "islands": isle}
        plain = takeoff_of(oblong(spas=[spa(2.0)], **more))
        for name in ("pool base", "island 1"):
            model = model_of(oblong(spas=[spa(2.0, name=name)], **more))
            assert [row.area for row in measure(model).outside] == [
                row.area for row in plain.outside
            ]
            assert ("island 1", "island") in model.outlines

    def test_a_basin_under_a_spa(self) -> None:
        """The spa stands astride the weir."""
        found = error_of(oblong(overflows=[{**WEST, "basin": BASIN}], spas=[spa(-5.0)]))
        assert "of 'basin'" in found.rule

    def test_a_stretch_of_no_length(self) -> None:
        """Both points mean one place of the wall."""
        weir = {"start": [-5.0, 0.0], "end": [-6.0, 0.0], "basin": BASIN}
        found = error_of(oblong(overflows=[weir]))
        assert found.key == ("overflows", 0, "end")

    def test_a_weir_higher_than_the_wall(self) -> None:
        """As high as the wall is no weir."""
        found = error_of(oblong(overflows=[{**WEST, "crest": 0.15, "basin": BASIN}]))
        assert found.key == ("overflows", 0, "crest")
        assert found.value == "0.150 m above the water; the wall goes up 0.150 m"

    def test_a_weir_below_the_floor(self) -> None:
        """The pool would run dry."""
        found = errors_of(
            oblong(overflows=[{**WEST, "crest": -1.6, "basin": {**BASIN, "drop": 0.5}}])
        )
        assert "above the pool's floor" in found[0].rule

    def test_a_basin_as_high_as_the_weir_s_face(self) -> None:
        """The top falls by 0.25, the water stands 0.2 below the crest."""
        weir = {**WEST, "fall": 1.0, "basin": {**BASIN, "drop": 0.2}}
        found = error_of(oblong(overflows=[weir]))
        assert found.key == ("overflows", 0, "basin", "drop")
        assert found.value == "0.200 m; the weir's top falls by 0.250 m"

    def test_a_basin_that_lies_in_the_pool(self) -> None:
        """In the middle of it."""
        own = {"outline": rectangle(2.0, 2.0), "drop": 0.4, "depth": 0.8}
        found = error_of(oblong(overflows=[{**WEST, "basin": own}]))
        assert found.value == "nothing of 'basin' does"

    def test_a_basin_shorter_than_its_weir(self) -> None:
        """2 m of 5."""
        own = {"outline": rectangle(4.0, 2.0, centre=[-6.0, 0.0]), "drop": 0.4, "depth": 0.8}
        found = error_of(oblong(overflows=[{**WEST, "basin": own}]))
        assert found.value.startswith("3.000 of 5.000 m have none before them")

    def test_a_basin_in_two_pieces(self) -> None:
        """The pool stands across it."""
        own = {"outline": rectangle(14.0, 4.0), "drop": 0.4, "depth": 0.8}
        weir = {"start": [-5.0, 1.0], "end": [-5.0, -1.0], "basin": own}
        found = error_of(oblong(overflows=[weir]))
        assert found.value == "the pool and its walls cut it into 2"

    def test_a_basin_that_folds(self) -> None:
        """About a bay of 0.8 the parallel at 1.25 has no room."""
        bay = pool(
            {
                "shape": "polyline",
                "points": [[0, 0], [8, 0], [8, 4], [4.8, 4, 1], [3.2, 4], [0, 4]],
            },
            level(1.5),
            overflows=[{"start": [5.0, 4.0], "end": [3.0, 4.0], "basin": BASIN}],
        )
        bay["outline"]["points"][3][2] = -1
        found = error_of(bay)
        assert found.key == ("overflows", 0, "basin", "width")
        assert "its border folds" in found.value

    def test_a_basin_that_the_pool_stands_in_the_way_of(self) -> None:
        """Half of its width is left before an arm of the pool: not refused, but said."""
        hook = polygon((0, 0), (8, 0), (8, 5), (6, 5), (6, 2), (5, 2), (5, 5), (0, 5))
        weir = {"start": [6.0, 4.0], "end": [6.0, 3.0], "basin": BASIN}
        model = model_of(pool(hook, level(1.5), overflows=[weir]))
        (found,) = model.warnings
        assert found.key == ("overflows", 0, "basin", "width")
        assert found.value == "0.500 m2 of 1.000 m2 cut away"
        assert model.bodies[1].water.trimesh().volume == pytest.approx(0.5 * 0.8, rel=1e-6)

    @pytest.mark.parametrize(
        ("more", "name"),
        [({"deck": 0.01, "crest": 0.05}, "deck"), ({"water": 0.4}, "water"),
         ({"fall": 2.0}, "depth")],
    )  # fmt: skip
    def test_a_channel_of_wrong_heights(self, more: dict[str, float], name: str) -> None:
        """Deck below the lip, water above it, floor above it."""
        found = error_of(oblong(channels=[{**CHANNEL, **more}]))
        assert found.key == ("channels", 0, name)

    def test_a_well_no_deeper_than_the_spa(self) -> None:
        """That is no well."""
        well = {"outline": circle(0.2), "depth": 0.9}
        found = error_of(oblong(spas=[spa(0.0, wells=[well])]))
        assert found.key == ("spas", 0, "wells", 0, "depth")

    def test_a_well_in_the_cove(self) -> None:
        """It ends 0.05 from the wall, the cove 0.1."""
        well = {"outline": circle(0.2, centre=[0.75, 0.0]), "depth": 1.2}
        found = error_of(oblong(spas=[spa(0.0, wells=[well], cove={"radius": 0.1})]))
        assert found.value.startswith("0.050 m from the wall or a seat")

    def test_spillways_that_meet(self) -> None:
        """0.5 wide, 0.3 apart."""
        spillways = [{"at": [1.0, y], "width": 0.5} for y in (0.0, 0.3)]
        found = error_of(oblong(spas=[spa(0.0, spillways=spillways)]))
        assert found.value == "it meets spillway 1"

    def test_width_and_outline(self) -> None:
        """One of them, not both and not neither."""
        own = {**BASIN, "outline": circle(3.0)}
        found = error_of(oblong(overflows=[{**WEST, "basin": own}]))
        assert found.rule == "must not be given beside 'width'"
        found = error_of(oblong(overflows=[{**WEST, "basin": {"drop": 0.4, "depth": 0.8}}]))
        assert found.rule == "must be given, or 'width' in its place"


def test_the_facets_of_a_lip_leave_the_pool_s_cove_alone() -> None:
    """Their borders meet its wall in every vertex; once that kept a circle of 3.589 open."""
    lip = {"fall": 0.08, "width": 0.374, "depth": 0.251}
    model = model_of(pool(circle(3.589), level(1.021), cove={"radius": 0.1}, channels=[lip]))
    assert model.shell.trimesh().is_watertight
