"""Mixes of a coat, by whole packs or by pot life, and readings of its film."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from poolgeo.supply.rows import FilmCheck, Mixing

from ..review.changes import of, pot_life_of
from ..review.sound import Changes, works_of
from .test_coatings import SPA
from .test_orders import COVERED


def coats(changes: Changes, layer: str = "membrane") -> list[Mixing]:
    """Return the coats of a layer."""
    return [mix for mix in works_of(changes)[0].supply.mixes if mix.layer == layer]


def checks(changes: Changes) -> dict[tuple[str, str], FilmCheck]:
    """Return the readings by layer and body."""
    return {(item.layer, item.body): item for item in works_of(changes)[0].supply.film_checks}


def test_a_kit_within_its_pot_life_is_mixed_whole() -> None:
    """15 L less 10 % cover 13.5 L / 1.5 mm = 9 m2, so 30.6 m2 take four."""
    for mix in coats({}):
        assert (mix.limit, mix.batches, mix.overrun) == ("pack", math.ceil(COVERED / 9.0), 0.0)
        assert mix.mix_area == pytest.approx(9.0)
        assert mix.volume == pytest.approx(0.015)
        assert mix.area == pytest.approx(COVERED)


def test_pot_life_limits_a_mix_that_may_be_parted() -> None:
    """Two people at 15 m2/h do 5 m2 in 10 min, with 5 m2 x 1.5 mm / 0.9 = 8.33 L."""
    for mix in coats(pot_life_of(10) | of("slurry", divisible=True)):
        assert (mix.limit, mix.batches) == ("pot life", math.ceil(COVERED / 5.0))
        assert mix.mix_area == pytest.approx(5.0)
        assert mix.volume == pytest.approx(5.0 * 1.5e-3 / 0.9)
        assert mix.overrun == 0.0


def test_a_kit_that_may_not_be_parted_overruns() -> None:
    """9 m2 take 18 min, 1.8 times the pot life."""
    for mix in coats(pot_life_of(10)):
        assert (mix.limit, mix.batches) == ("pack", 4)
        assert mix.overrun == pytest.approx(0.8)


def test_the_first_coat_fills_the_roughness() -> None:
    """0.4 mm of 80 % solids: 2 mm in the first coat, 1.5 mm in the second."""
    first, second = coats({"system.layers.2.roughness": "0.4 mm"})
    assert first.mix_area == pytest.approx(13.5 / 2.0)
    assert second.mix_area == pytest.approx(13.5 / 1.5)
    assert (first.batches, second.batches) == (math.ceil(COVERED / 6.75), math.ceil(COVERED / 9))
    assert first.wet_film == second.wet_film == pytest.approx(1.5e-3)


def test_pot_life_at_the_temperature_of_the_works() -> None:
    """40 min at 10 C and 10 min at 30 C: 20 min at 20 C on the curve, none outside."""
    rows = [{"at": "10 C", "takes": "40 min"}, {"at": "30 C", "takes": "10 min"}]
    warm = of("slurry", pot_life=rows)
    assert [mix.pot_life for mix in coats(warm)] == [pytest.approx(20.0 * 60.0)] * 2
    outside = coats({**warm, "job.temperature": "5 C"})
    assert [(mix.pot_life, mix.limit) for mix in outside] == [(None, "pack")] * 2


def test_the_largest_pack_that_is_bought_is_mixed() -> None:
    packs = [{"name": "small", "volume": "5 L", "price": 20},
             {"name": "large", "volume": "20 L", "price": 70}]  # fmt: skip
    assert {mix.pack for mix in coats(of("slurry", packs=packs))} == {"large"}


@settings(max_examples=25)
@given(minutes=st.floats(2, 60), crew=st.integers(1, 6), speed=st.floats(1, 40),
       divisible=st.booleans(), loss=st.floats(0, 0.5), coats_=st.integers(1, 3))  # fmt: skip
def test_batches_cover_the_area_and_one_less_does_not(
    *, minutes: float, crew: int, speed: float, divisible: bool, loss: float, coats_: int
) -> None:
    changes = {
        **pot_life_of(round(minutes, 3)),
        **of("slurry", divisible=divisible),
        "job.crew": crew, "job.programme": None,
        "system.layers.2.speed": f"{speed:.3f} m2/h", "system.layers.2.loss": round(loss, 4),
        "system.layers.2.coats": coats_,
    }  # fmt: skip
    found = coats(changes)
    assert [mix.coat for mix in found] == list(range(1, coats_ + 1))
    for mix in found:
        assert mix.batches * mix.mix_area >= mix.area * (1 - 1e-6)
        assert (mix.batches - 1) * mix.mix_area < mix.area
        reach = round(speed, 3) * crew * round(minutes, 3) / 60.0
        if divisible:
            assert mix.mix_area <= reach * (1 + 1e-9)
            assert mix.volume <= 0.015 * (1 + 1e-9)
        else:
            assert mix.volume == pytest.approx(0.015)
            longer = mix.mix_area / reach - 1.0
            assert mix.overrun == pytest.approx(max(0.0, longer), abs=1e-9)


def test_a_begun_area_counts_as_one() -> None:
    """30.6 m2 are four of them, so 20 spots; 1.84 m2 of protection one."""
    found = checks({})
    membrane, protection = found["membrane", "pool"], found["protection", "pool"]
    assert (membrane.spots, membrane.each) == (5 * math.ceil(COVERED / 10.0), 3)
    assert membrane.area == pytest.approx(COVERED)
    assert membrane.dry_film == pytest.approx(2.4e-3)
    assert protection.spots == 5
    assert protection.dry_film == pytest.approx(3.0e-3)


def test_only_of_membranes_and_what_protects_them() -> None:
    assert set(checks({})) == {("membrane", "pool"), ("protection", "pool")}


def test_each_body_has_its_own() -> None:
    """A tub of about 10.6 m2: two areas begun."""
    found = checks({"pool.spas": [SPA]})
    tub = found["membrane", "tub"]
    assert tub.area == pytest.approx(2.25 + 6.6 + (2.0**2 - 1.5**2), abs=0.7)
    assert tub.spots == 10
    assert found["membrane", "pool"].spots == 20


@pytest.mark.parametrize(("spots", "per", "expected"), [(1, "1 m2", 31), (3, "100 m2", 3)])
def test_any_rule(spots: int, per: str, expected: int) -> None:
    rule = {"spots": spots, "per": per, "each": 1, "source": "a book"}
    assert checks({"system.readings": rule})["membrane", "pool"].spots == expected


def test_without_a_rule_there_are_none() -> None:
    assert checks({"system.readings": None}) == {}


def test_without_solids_the_dry_film_is_not_known() -> None:
    membrane = {"name": "membrane", "material": "slurry", "coats": 2, "wet_film": "1.5 mm"}
    found = checks({"system.layers.2": membrane, **of("slurry", solids=None)})
    assert found["membrane", "pool"].dry_film is None
