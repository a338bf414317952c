"""The programme: waits between all layers that lie on each other, and cure, at any temperature."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from .changes import LATE, at_15, of, step
from .said import keys, said
from .sound import Changes

PAINT = {"name": "stripe", "material": "guard", "where": {"zones": ["waterline band"]},
         "wet_film": "1 mm", "speed": "8 m2/h"}  # fmt: skip
STRIPED = {
    "system.layers.4": {"name": "cover", "material": "guard", "wet_film": "3 mm",
                        "where": {"zones": ["coping return"]}, "speed": "8 m2/h"},
    "system.layers.3": PAINT,
    "system.rates.3.item": "stripe",
    "job.programme.coats.4.layer": "stripe",
    "job.programme.coats.5": {"layer": "cover", "starts": "60 h"},
    **LATE,
}  # fmt: skip
"""A stripe in the waterline band goes on between the membrane and the cover under the coping."""


def striped(cover_starts: str) -> Changes:
    """Return the striped pool with its cover at some time."""
    return STRIPED | {"job.programme.coats.5": {"layer": "cover", "starts": cover_starts}}


def test_a_layer_between_that_lies_elsewhere_does_not_hide_a_wait() -> None:
    """The second coat ends at 47 h and is to be left for 6 h, so the cover may come at 53 h."""
    assert said(striped("53 h")) == []
    assert [key for key, words in said(striped("52 h")) if "must leave 'membrane'" in words] == [
        "waterproofing.programme.coats[5].starts"
    ]


def test_a_coat_that_stands_twice_is_told() -> None:
    """One of its times, here too early, would be passed over in silence."""
    assert keys(step(4, starts="40 h")) == ["waterproofing.programme.coats[4].starts"]
    again = {"job.programme.coats.5": {"layer": "protection", "starts": "53 h"}}
    assert keys({**step(4, starts="40 h"), **again, **LATE})


def test_a_cure_not_known_at_the_temperature_is_told() -> None:
    cure = [{"at": "20 C", "takes": "7 d"}, {"at": "30 C", "takes": "5 d"}]
    changes = at_15(second="44 h", protection="57 h")
    assert said(changes) == []
    assert keys({**changes, **of("slurry", cure=cure)}) == ["materials.slurry.cure"]


def test_an_end_of_the_window_holds_at_the_row_that_gives_it() -> None:
    """At 20 C it ends after 48 h, whatever the row of 10 C leaves open."""
    recoat = [{"at": "10 C", "earliest": "10 h"},
              {"at": "20 C", "earliest": "6 h", "latest": "48 h"}]  # fmt: skip
    late = step(3, starts="90 h") | step(4, starts="101 h") | LATE
    assert keys(late) == ["waterproofing.programme.coats[3].starts"]
    assert keys({**late, **of("slurry", recoat=recoat)}) == [
        "waterproofing.programme.coats[3].starts"
    ]


def test_every_coat_is_cured() -> None:
    """The membrane's second coat ends at 47 h: 20 d after it is 527 h, the first coat 516 h."""
    cure = of("slurry", cure=[{"at": "20 C", "takes": "20 d"}])
    found = said({**cure, "job.programme.filling": "520 h"})
    assert [words for _, words in found] == [
        "must leave 'membrane', coat 2, 20.0 d to cure (19.7 d)"
    ]
    assert said({**cure, "job.programme.filling": "527 h"}) == []


def test_without_a_filling_no_cure_is_compared() -> None:
    assert said({"job.programme.filling": None, **of("guard", cure=[])}) == []


def test_layers_that_nowhere_touch_need_no_wait() -> None:
    inside = {"zones": ["below band", "waterline band", "freeboard", "wall top"]}
    apart = {"system.layers.1.where": inside, "system.layers.2.where": inside}
    early = step(4, starts="43 h")
    assert keys(early) == ["waterproofing.programme.coats[4].starts"]
    assert keys({**early, **apart}) == []


@settings(max_examples=15)
@given(degrees=st.integers(10, 20), minutes=st.integers(-60, 60).filter(lambda by: abs(by) > 1))
def test_the_earliest_lies_on_the_line_between_two_rows(degrees: int, minutes: int) -> None:
    """10 h at 10 C, 6 h at 20 C: 0.4 h less for each degree; the first coat ends at 36 h."""
    wait = 60 * (10.0 - 0.4 * (degrees - 10)) + minutes
    changes = {
        "job.temperature": f"{degrees} C", **LATE,
        **step(3, starts=f"{36 * 60 + wait:.3f} min"), **step(4, starts="80 h"),
    }  # fmt: skip
    too_early = ["waterproofing.programme.coats[3].starts"] if minutes < 0 else []
    assert keys(changes) == too_early
