"""Fittings as the pool file writes them: sizes, places, and what is usual."""

from __future__ import annotations

from typing import Any

import pytest

from poolgeo.design.fittings import USUAL, Fitting
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError

from .test_defaults import BARE


def fitting(**entry: Any) -> Fitting:
    """Return the only fitting of a pool file."""
    (found,) = design_from(BARE | {"fittings": [entry]}).pool.fittings
    return found


def test_every_kind_has_a_usual_size_but_the_general_one() -> None:
    for kind, usual in USUAL.items():
        sizes = [usual.diameter is not None, usual.width is not None and usual.height is not None]
        assert sum(sizes) == (kind != "fitting")
        assert usual.depth is None or usual.offset is None


def test_what_is_usual_holds_where_the_file_says_nothing() -> None:
    found = fitting(kind="return inlet", at=[3, 0])
    assert (found.diameter, found.collar, found.depth) == (0.06, 0.1, 0.4)
    assert (found.body, found.width, found.offset) == ("pool", None, None)


def test_the_file_may_give_each_value() -> None:
    found = fitting(kind="return inlet", at=[3, 0], width="200 mm", height=0.1, collar=0, depth=1)
    assert (found.diameter, found.width, found.height) == (None, 0.2, 0.1)
    assert (found.collar, found.depth) == (0.0, 1.0)
    assert fitting(kind="ladder", at=[3, 0], offset=-0.1, spacing=0.4).spacing == 0.4


def test_what_was_taken_is_listed() -> None:
    found = design_from(BARE | {"fittings": [{"kind": "light niche", "at": [3, 0]}]}).defaults()
    listed = {key[2]: text for key, _, text in found if key[:2] == ("fittings", 0)}
    assert listed == {
        "body": "pool",
        "diameter": "0.270 m",
        "collar": "0.100 m",
        "depth": "0.600 m",
    }


AT = {"at": [3, 0]}


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        ({"kind": "retrun inlet", **AT}, "did you mean 'return inlet'?"),
        ({"kind": "spa jet"}, "'fittings[0].start' must be given, or 'at' or 'point' in its place"),
        ({"kind": "spa jet", **AT, "point": [0, 0]}, "'at' and 'point' must not both be given"),
        ({"kind": "spa jet", **AT, "start": 1, "count": 2}, "must not be given beside 'at'"),
        ({"kind": "spa jet", "start": 1}, "'fittings[0].count' must be given beside 'start'"),
        ({"kind": "spa jet", **AT, "count": 2}, "'fittings[0].count' must not be given without"),
        ({"kind": "spa jet", **AT, "end": 2}, "end' must not be given without 'start'"),
        ({"kind": "spa jet", "start": 1, "end": 1, "count": 2}, "end' must differ from"),
        ({"kind": "spa jet", "start": 1, "count": 1}, "a whole number from 2 to 500 (got 1)"),
        ({"kind": "main drain", **AT}, "'fittings[0].offset' must be given, or 'depth' or 'point'"),
        ({"kind": "spa jet", **AT, "depth": 1, "offset": 1}, "must not be given beside 'depth'"),
        ({"kind": "spa jet", "point": [0, 0], "depth": 1}, "must not be given beside 'point'"),
        ({"kind": "fitting", "point": [0, 0]}, "a fitting has no usual size"),
        ({"kind": "spa jet", **AT, "width": 1}, "height' must be given beside 'width'"),
        ({"kind": "spa jet", **AT, "height": 1}, "must not be given without 'width'"),
        ({"kind": "spa jet", **AT, "width": 1, "height": 1, "diameter": 1}, "beside 'diameter'"),
        ({"kind": "spa jet", **AT, "spacing": 1}, "must be given for a ladder only"),
        ({"kind": "spa jet", **AT, "protection": "x"}, "must be given for a suction only"),
        ({"kind": "spa jet", "dam_wall": "spa", "point": [0, 0]}, "on a dam wall there must be a"),
        ({"kind": "spa jet", **AT, "collar": -1}, "'fittings[0].collar' must not be below 0"),
    ],
)  # fmt: skip
def test_what_does_not_go_together_is_refused(entry: dict[str, Any], message: str) -> None:
    with pytest.raises(PoolFileError) as caught:
        fitting(**entry)
    assert message in str(caught.value)
