"""Net areas of layers in a box 4 m by 2 m, and the film on them.

The water is 1.4 m deep, the wall 0.2 m higher, the waterline band 75 mm to either side. A bench of
2 m by 0.4 m lies 0.5 m under water at a long wall; an upright round drain of 0.2 m, an inlet of
0.1 m in the wall, a skimmer of 0.2 m by 0.14 m in the band.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from poolgeo.supply.coatings import EDGES
from poolgeo.supply.rows import Coating

from ..review.changes import of
from ..review.sound import Changes, works_of

DRAIN, INLET, SKIMMER = math.pi / 4.0 * 0.2**2, math.pi / 4.0 * 0.1**2, 0.2 * 0.14
PERIMETER = 2.0 * (4.0 + 2.0)
NET = {
    ("floor", "below band"): 4.0 * 2.0 - 2.0 * 0.4 - DRAIN,
    ("wall", "below band"): PERIMETER * (1.4 - 0.075) - 2.0 * (1.4 - 0.5) - INLET,
    ("wall", "waterline band"): PERIMETER * 0.15 - SKIMMER,
    ("wall", "freeboard"): PERIMETER * (0.2 - 0.075),
    ("bench top", "below band"): 2.0 * 0.4,
    ("bench face", "below band"): (2.0 + 2 * 0.4) * (1.4 - 0.5),
    ("wall top", "coping return"): 4.3 * 2.3 - 4.0 * 2.0,
    ("wall top", "wall top"): 4.5 * 2.5 - 4.3 * 2.3,
}
"""[m2] The membrane returns by 0.15 m on to a wall 0.25 m thick."""

FILLET = 0.03 * (math.sqrt(2.0) - 2.0)
"""[m] What a triangular fillet with legs of 30 mm makes the surface wider by, at a right angle."""

ROUND = math.pi / 2.0 - 2.0
"""[-] What a rounded arris does at a right angle, by its radius."""

SPA = {"name": "tub", "outline": {"shape": "rectangle", "length": 1.5, "width": 1.5,
       "centre": [8, 0]}, "depth": 0.9, "freeboard": 0.2}  # fmt: skip


def rows_of(layer: str, changes: Changes) -> list[Coating]:
    """Return what a layer covers."""
    return [row for row in works_of(changes)[0].supply.coatings if row.layer == layer]


def areas(changes: Changes) -> dict[tuple[str, str], float]:
    """Return what the primer covers of each kind in each zone, without what edges change [m2]."""
    rows = rows_of("primer", changes)
    assert len({(row.body, row.kind, row.zone) for row in rows}) == len(rows)
    return {(row.kind, row.zone): row.area for row in rows if row.kind != EDGES}


def films(changes: Changes) -> list[float]:
    """Return the film of the membrane and what fills the roughness, the same everywhere [m]."""
    ((film, roughness),) = {(row.film, row.roughness) for row in rows_of("membrane", changes)}
    return [film, roughness]


def where(**places: Any) -> Changes:
    """Put the primer at some places only."""
    return {"system.layers.1.where": places}


def edges_of(changes: Changes) -> dict[str, float]:
    """Return what arrises and fillets change of the primer's area in each zone [m2]."""
    return {row.zone: row.area for row in rows_of("primer", changes) if row.kind == EDGES}


def test_everywhere() -> None:
    assert areas({}) == pytest.approx(NET)


def test_a_share_of_everywhere() -> None:
    share = {key: 0.07 * size for key, size in NET.items()}
    assert areas({"system.layers.1.share": "7 %"}) == pytest.approx(share)


@pytest.mark.parametrize("zones", [["coping return"], ["waterline band", "freeboard"]])
def test_some_zones(zones: list[str]) -> None:
    some = {key: size for key, size in NET.items() if key[1] in zones}
    assert areas(where(zones=zones)) == pytest.approx(some)


def test_some_kinds() -> None:
    some = {key: size for key, size in NET.items() if key[0].startswith("bench")}
    assert areas(where(kinds=["bench *"])) == pytest.approx(some)


def test_kinds_take_nothing_of_what_edges_change() -> None:
    assert edges_of(where(kinds=["floor", "wall"])) == {}


def test_under_water_and_above_it() -> None:
    """Half of the band is under water; without the skimmer, which is so in part."""
    plain: Changes = {"pool.fittings.2": {"kind": "return inlet", "at": [0, 1], "depth": 0.6,
                                          "diameter": 0.1, "collar": 0.05}}  # fmt: skip
    below = {key: size for key, size in NET.items() if key[1] == "below band"}
    below["wall", "below band"] -= INLET
    half = {("wall", "waterline band"): PERIMETER * 0.075}
    above = {key: size for key, size in NET.items() if key[1] not in {
        "below band", "waterline band"}}  # fmt: skip
    assert areas(plain | where(wet=True)) == pytest.approx(below | half)
    assert areas(plain | where(wet=False)) == pytest.approx(half | above)


def test_wet_and_dry_add_up_to_all() -> None:
    wet, dry = (sum(areas(where(wet=under)).values()) for under in (True, False))
    assert wet + dry == pytest.approx(sum(NET.values()))


def test_one_body_of_two() -> None:
    """A tub of 1.5 m by 1.5 m, 0.9 m deep: floor 2.25 m2, walls 6 m by 1.1 m."""
    pools: Changes = {"pool.spas": [SPA]}
    assert areas(pools | where(bodies=["pool"])) == pytest.approx(NET)
    tub = areas(pools | where(bodies=["tub"], kinds=["spa floor", "spa wall"]))
    assert tub == pytest.approx({
        ("spa floor", "below band"): 1.5**2,
        ("spa wall", "below band"): 6.0 * (0.9 - 0.075),
        ("spa wall", "waterline band"): 6.0 * 0.15,
        ("spa wall", "freeboard"): 6.0 * (0.2 - 0.075),
    })  # fmt: skip


def test_each_zone_by_hand() -> None:
    """The sum of fillets and arrises.

    Internal edges below the band: floor and wall 10 m, the bench's foot 2.8 m, the bench on
    the wall 2 m + 2 x 0.9 m, wall corners 4 x 1.325 m. Noses of the bench 2.8 m + 2 x 0.9 m.
    """
    internal = 10.0 + 2.8 + 3.8 + 4 * 1.325
    assert edges_of({}) == pytest.approx({
        "below band": internal * FILLET + 4.6 * ROUND * 0.01,
        "waterline band": 4 * 0.15 * FILLET,
        "freeboard": 4 * 0.125 * FILLET,
        "coping return": 12.0 * ROUND * 0.01,
    })  # fmt: skip


def test_under_water() -> None:
    internal = 10.0 + 2.8 + 3.8 + 4 * 1.325
    assert edges_of(where(wet=True)) == pytest.approx({
        "below band": internal * FILLET + 4.6 * ROUND * 0.01,
        "waterline band": 4 * 0.075 * FILLET,
    })  # fmt: skip


def test_an_arris_of_the_pool_goes_before_that_of_the_system() -> None:
    """A radius of 20 mm in place of 10 mm."""
    rounded: Changes = {"pool.arris": {"form": "rounded", "size": 0.02}}
    assert edges_of(rounded)["coping return"] == pytest.approx(12.0 * ROUND * 0.02)
    square: Changes = {"pool.arris": {"form": "square"}}
    assert "coping return" not in edges_of(square)


def test_an_arris_built_into_the_solid_is_not_taken_off_twice() -> None:
    """All areas together are the same but for corners: 16, each within a size squared."""
    sums = [
        sum(row.area for row in rows_of("primer", {
            "pool.arris": {"form": "rounded", "size": 0.02, "mesh": mesh}}))
        for mesh in (False, True)
    ]  # fmt: skip
    assert sums[0] == pytest.approx(sums[1], abs=16 * 0.02**2)


def test_a_share_takes_its_share() -> None:
    whole, part = edges_of({}), edges_of({"system.layers.1.share": "25 %"})
    assert part == pytest.approx({zone: size / 4.0 for zone, size in whole.items()})


def test_dry_film_by_solids_and_coats() -> None:
    """1.2 mm dry of 80 % solids are 1.5 mm wet, twice."""
    assert films({}) == pytest.approx([3.0e-3, 0.0])


@pytest.mark.parametrize(
    ("given", "film"),
    [
        ({"wet_film": "1.1 mm"}, 2 * 1.1e-3),
        ({"consumption": "2 kg/m2"}, 2 * 2.0 / 1600.0),
        ({"dry_film": "500 um"}, 2 * 0.5e-3 / 0.8),
        ({"dry_film": "20 mil"}, 2 * 20 * 25.4e-6 / 0.8),
    ],
)
def test_each_way_to_state_it(given: dict[str, str], film: float) -> None:
    membrane = {"name": "membrane", "material": "slurry", "coats": 2, **given}
    assert films({"system.layers.2": membrane})[0] == pytest.approx(film)


def test_roughness_is_filled_once_with_what_dries_to_it() -> None:
    """0.2 mm of 80 % solids take 0.25 mm, whatever the coats."""
    for coats in (1, 2, 5):
        changes = {"system.layers.2.roughness": "0.2 mm", "system.layers.2.coats": coats,
                   "job.programme": None}  # fmt: skip
        assert films(changes) == pytest.approx([coats * 1.5e-3, 0.25e-3])


def test_loss_is_a_share_of_what_is_bought() -> None:
    """Of 10 L bought at a loss of 10 % 9 L end up in place."""
    for row in rows_of("membrane", {"system.layers.2.roughness": "0.2 mm"}):
        assert row.net == pytest.approx(row.area * 3.25e-3)
        assert row.net == pytest.approx(0.9 * row.gross)


@pytest.mark.parametrize("thinned", ["0 %", "10 %", "35 %"])
def test_thinner_raises_the_film_to_comb_and_not_what_is_bought(thinned: str) -> None:
    share = float(thinned.removesuffix(" %")) / 100.0
    plain, thin = (works_of({"system.layers.2.thinned": how})[0].supply for how in ("0 %", thinned))
    assert [row.gross for row in thin.orders] == [row.gross for row in plain.orders]
    (wet,) = {mix.wet_film for mix in thin.mixes if mix.layer == "membrane"}
    assert wet == pytest.approx(1.5e-3 * (1.0 + share))
    check = next(item for item in thin.film_checks if item.layer == "membrane")
    assert check.wet_film == pytest.approx(1.5e-3 * (1.0 + share))
    assert check.dry_film == pytest.approx(2.4e-3)


def test_more_solids_take_less() -> None:
    for solids in (0.5, 0.8, 1.0):
        film, _ = films(of("slurry", solids=solids))
        assert film == pytest.approx(2 * 1.2e-3 / solids)
