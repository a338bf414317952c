"""What is said where one feature hides another, and that nothing is said where they only meet."""

from __future__ import annotations

from typing import Any

import pytest

from poolgeo.errors import key_text

from ..measure.quantities import circle, level, model_of, pool, rectangle

BASIN = rectangle(10.0, 6.0)
BENCH = {"start": [1, 3], "end": [-1, 3], "width": 0.5, "depth": 0.45}
LEDGE = {"shape": "following", "start": [2, 3], "end": [-2, 3], "width": 0.8, "depth": 0.3}
FLIGHT = {"shape": "side", "at": [0, 3], "width": 1.0, "going": 0.3, "risers": 3}


def hides(**more: Any) -> list[tuple[str, str, str]]:
    """Return what is said of features that others hide: key, rule and value."""
    found = model_of(pool(BASIN, level(1.5), **more)).warnings
    return [(key_text(item.key), item.rule, item.value) for item in found if "hidden" in item.rule]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (
            {"bench": [BENCH], "steps": [FLIGHT]},
            (
                "bench[0]",
                "'bench 1' is hidden in part by 'steps 1'",
                "0.500 m2 of 1.000 m2 in plan, 50%",
            ),
        ),
        (
            {"bench": [BENCH], "ledges": [LEDGE | {"name": "shelf", "beach": {"slope": 0.5}}]},
            (
                "bench[0]",
                "'bench 1' is hidden wholly by 'shelf'",
                "1.000 m2 of 1.000 m2 in plan, 100%",
            ),
        ),
        (
            {"ledges": [LEDGE | {"edge_depth": 0.4}], "steps": [FLIGHT]},
            (
                "ledges[0]",
                "'ledge 1' is hidden in part by 'steps 1'",
                "0.800 m2 of 3.200 m2 in plan, 25%",
            ),
        ),
        (
            {"steps": [FLIGHT | {"name": "way in"}, FLIGHT | {"at": [0.5, 3], "risers": 4}]},
            (
                "steps[0]",
                "'way in' is hidden in part by 'steps 2'",
                "0.450 m2 of 0.900 m2 in plan, 50%",
            ),
        ),
        (
            {
                "bench": [BENCH],
                "spas": [
                    {
                        "outline": rectangle(2, 2, centre=[1, 2]),
                        "depth": 0.9,
                        "dam_wall": 0.25,
                        "name": "tub",
                    }
                ],
            },
            (
                "bench[0]",
                "'bench 1' is hidden in part by 'tub'",
                "0.625 m2 of 1.000 m2 in plan, 62%",
            ),
        ),
        (
            {"bench": [BENCH], "islands": [{"outline": rectangle(0.8, 0.6, centre=[0, 2.5])}]},
            (
                "bench[0]",
                "'bench 1' is hidden in part by 'island 1'",
                "0.240 m2 of 1.000 m2 in plan, 24%",
            ),
        ),
        (
            {"bench": [BENCH, BENCH | {"width": 0.6}]},
            (
                "bench[0]",
                "'bench 1' is hidden wholly by 'bench 2'",
                "1.000 m2 of 1.000 m2 in plan, 100%",
            ),
        ),
    ],
)
def test_what_hides_what_and_how_much_of_it_is_said(
    more: dict[str, Any], said: tuple[str, str, str]
) -> None:
    assert hides(**more) == [said]


def test_a_seat_that_another_hides_is_told_by_its_own_key() -> None:
    seats = [{"width": 0.4, "depth": 0.4}, {"start": 0, "end": 1, "width": 0.5, "depth": 0.3}]
    (said,) = hides(spas=[{"outline": circle(1.2), "depth": 1.0, "seats": seats}])
    assert said[:2] == ("spas[0].seats[0]", "'seat' is hidden in part by 'seat 2'")


@pytest.mark.parametrize(
    "more",
    [
        # they meet at borders
        {"bench": [BENCH | {"end": [0.5, 3]}, BENCH | {"start": [-0.5, 3]}], "steps": [FLIGHT]},
        # as high as each other in the corner where they overlap
        {
            "bench": [
                {"start": [5, -3], "end": [5, 3], "width": 0.5, "depth": 0.45},
                {"start": [5, 3], "end": [-5, 3], "width": 0.5, "depth": 0.45},
            ]
        },
        # one flight, twice as wide
        {"steps": [FLIGHT, FLIGHT | {"at": [0.5, 3]}]},
        # coves belong to what they lie on
        {
            "cove": {"radius": 0.05, "also_at": ["risers", "bench faces"]},
            "bench": [BENCH | {"end": [0.5, 3]}],
            "steps": [FLIGHT],
        },
    ],
)
def test_what_only_meets_hides_nothing(more: dict[str, Any]) -> None:
    assert hides(**more) == []
