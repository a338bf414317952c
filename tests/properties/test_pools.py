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


@pytest.mark.slow
@many
@given(pools())
def test_many_pools_hold_every_fact(file: PoolDict) -> None:
    """4000 pools (or as many as the environment says), other ones in every run."""
    event(check(file))
