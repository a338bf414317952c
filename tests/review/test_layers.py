"""Layers: which lie on which, every coat's mix, membranes in several layers."""

from __future__ import annotations

from poolgeo.works import Works

from .changes import film, of, pot_life_of
from .said import keys, said
from .sound import LAYERS, MATERIALS, Changes, works_of

STRIPE = {"name": "stripe", "material": "paint", "where": {"zones": ["waterline band"]},
          "wet_film": "0.1 mm", "speed": "8 m2/h"}  # fmt: skip
PAINT = {**MATERIALS["guard"], "family": "paint"}


def with_stripe(**data: object) -> Changes:
    """Put a stripe in the waterline band between the membrane and what lies under the coping."""
    return {
        "system.materials.paint": {**PAINT, **data},
        "system.layers.4": {"name": "cover", "material": "guard", "wet_film": "3 mm",
                            "where": {"zones": ["coping return"]}, "speed": "8 m2/h"},
        "system.layers.3": STRIPE,
        "system.rates.3.item": "stripe",
        "job.programme": None,
    }  # fmt: skip


def test_layers_that_touch_need_not_follow_each_other() -> None:
    """Under the coping the cover lies on the membrane, although the stripe stands between them."""
    at_odds = of("guard", not_beside=["mineral"])
    assert keys({**with_stripe(), **at_odds}) == ["materials.guard.not_beside"]


def test_layers_that_follow_each_other_need_not_touch() -> None:
    """The stripe is in the waterline band, the cover under the coping."""
    assert said(with_stripe()) == []
    assert keys(with_stripe(not_beside=["grout"])) == []


def test_a_later_coat_covers_more_of_a_kit_and_takes_longer() -> None:
    """The first coat fills 0.5 mm of roughness besides its 1.5 mm.

    A kit of 15 L less 10 % covers 13.5 L / 2.125 mm = 6.35 m2 of it, 9 m2 of the second coat; two
    people at 15 m2/h do 7.5 m2 in 15 min.
    """
    rough = {"system.layers.2.roughness": "0.5 mm"}
    assert 13.5 / (1.5 + 0.5 / 0.8) < 7.5 < 13.5 / 1.5
    assert keys({**rough, **pot_life_of(15)}) == ["materials.slurry.divisible"]


def test_all_coats_together_are_the_film_if_layers_share_them_out() -> None:
    """1.2 mm as one layer and 1.2 mm as another are 2.4 mm of the same membrane."""
    one, other = (
        {"name": name, "material": "slurry", "dry_film": "1.2 mm", "loss": "10 %",
         "speed": "15 m2/h"}
        for name in ("first", "second")
    )  # fmt: skip
    layers = {
        "system.layers.2": one, "system.layers.4": {"name": "protection", "material": "guard",
        "where": {"zones": ["coping return"]}, "wet_film": "3 mm", "speed": "8 m2/h"},
        "system.layers.3": other, "system.rates.2.item": "first", "job.programme": None,
    }  # fmt: skip
    assert said(layers) == []


def test_a_coat_that_stays_dry_need_not_stand_immersion() -> None:
    """Above the water, in the splash of the waterline band."""
    dry = {"system.materials.paint": {**PAINT, "immersion": "splash"},
           "system.layers.4": {**STRIPE, "where": {"wet": False, "kinds": ["wall"]}},
           "job.programme": None}  # fmt: skip
    assert said(dry) == []


def test_a_coat_in_the_band_under_water_must_stand_immersion() -> None:
    wet = {"system.materials.paint": {**PAINT, "immersion": "splash"}, "system.layers.4": STRIPE,
           "job.programme": None}  # fmt: skip
    assert keys(wet) == ["materials.paint.immersion"]


def test_a_thin_film_is_told_of_both_its_data_sheet_and_the_requirement() -> None:
    """2.3 mm is less than the 2.4 mm of either."""
    found = [remark for remark in works_of(film(2.3) | pot_life_of(20))[0].remarks
             if remark.finding.severity == "error"]  # fmt: skip
    assert [item.source for item in found] == ["data sheet of the maker", "film rule"]


def test_a_remark_in_json() -> None:
    works: Works = works_of({"requirements.classes": [], **film(2.39), **of(
        "slurry", least_film=None)})[0]  # fmt: skip
    (row,) = works.as_dict()["findings"]
    assert row.pop("file").endswith("system.yaml")
    assert row.pop("line") > 0
    assert row == {
        "severity": "error", "key": "layers[2].wet_film",
        "rule": "must be at least 2.4 mm dry under 1.400 m of water", "value": "2.39 mm dry",
        "remedy": None, "source": "film rule",
    }  # fmt: skip


def test_an_allowance_for_repairs_is_not_asked_for_its_primer() -> None:
    """It lies on 5 % of the surface, wherever that is; all of it would want one."""
    repair = of("mortar", needs_primer=True)
    assert said(repair) == []
    assert keys({**repair, "system.layers.0.share": 1.0}) == ["layers[0].material"]


def test_a_repair_after_the_primer_must_suit_the_concrete_too() -> None:
    swapped = {"system.layers.0": LAYERS[1], "system.layers.1": LAYERS[0], "job.programme": None}
    assert said(swapped) == []
    assert keys({**swapped, **of("mortar", substrate="dry")}) == ["materials.mortar.substrate"]


def test_a_membrane_that_ends_at_the_water_is_told() -> None:
    words = "should go on above the water: splashes wet the upper half of the waterline band too"
    found = [text for _, text in said({"system.layers.2.where": {"wet": True}}, "warning")]
    assert any(words in text for text in found)
    inside = {"zones": ["below band", "waterline band", "freeboard"]}
    found = [text for _, text in said({"system.layers.2.where": inside}, "warning")]
    assert not any(words in text for text in found)
