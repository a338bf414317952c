"""Random pools: each builds and then holds every fact, or is refused in words."""

from __future__ import annotations

import os

import pytest
from hypothesis import event, given, settings

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure

from ..strategies import PoolDict, pools
from .facts import FACTS

MANY = int(os.environ.get("POOLGEO_EXAMPLES", "4000"))
"""How many pools the slow test looks at; CI takes a part."""

many = settings(max_examples=MANY, derandomize="CI" in os.environ, print_blob=True)
"""Other pools in every run, but for CI."""

STAYED_OPEN: PoolDict = {
    "name": "stayed open",
    "units": "m",
    "outline": {
        "shape": "polygon",
        "points": [
            [4.433, 0.0],
            [2.206, 1.884],
            [-1.732, 1.404],
            [-4.489, 0.001],
            [-1.642, -1.394],
            [2.225, -1.889],
        ],
        "corner_radius": 0.25,
    },
    "floor": {"shape": "level", "depth": 1.006},
    "freeboard": 0.1,
    "steps": [
        {
            "shape": "following",
            "start": [-1.835, 19.916],
            "end": [19.774, 2.996],
            "going": 0.28,
            "rise": 0.276,
        }
    ],
}
"""A pool that an earlier kernel could not close: a following flight folds at a slight corner."""


def check(file: PoolDict) -> str:
    """Build a pool and check every fact, unless it is refused; return which.

    It may not be refused as not closed: that is a fault of the kernel, not of the pool.
    """
    try:
        model = build(design_from(file))
        takeoff = measure(model)  # which refuses an arris that does not fit
    except PoolFileError as error:
        findings = [item for item in error.findings if item.severity == "error"]
        assert findings, file
        assert not any("developers" in item.remedy for item in findings), file
        return "refused"
    for fact in FACTS:
        fact(model, takeoff)
    return "built"


@settings(
    max_examples=60,
)
@given(pools())
def test_a_pool_holds_every_fact(file: PoolDict) -> None:
    """60 pools, the same in each run of the same modules (hypothesis draws on constants)."""
    event(check(file))


def test_a_pool_that_stayed_open() -> None:
    """It is closed now."""
    assert check(STAYED_OPEN) == "built"


@pytest.mark.slow
@many
@given(pools())
def test_many_pools_hold_every_fact(file: PoolDict) -> None:
    """4000 pools (or as many as the environment says), other ones in every run."""
    event(check(file))
