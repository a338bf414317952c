"""Random pools: each builds and then holds every fact, or is refused in words."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, event, given, settings

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure

from ..strategies import PoolDict, pools
from .facts import FACTS

MANY = int(os.environ.get("POOLGEO_EXAMPLES", "4000"))
"""How many pools the slow test looks at; CI takes a part."""

SLOW_IS_FINE = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


def check(file: PoolDict) -> None:
    """Build a pool; if it is not refused, measure it and check every fact."""
    try:
        model = build(design_from(file))
    except PoolFileError as error:
        event("refused")
        findings = [item for item in error.findings if item.severity == "error"]
        assert findings, file
        for item in findings:
            assert "developers" not in item.remedy, f"{item}\n{file}"
        return
    event("built")
    takeoff = measure(model)
    for fact in FACTS:
        fact(model, takeoff)


@settings(max_examples=200, deadline=None, derandomize=True, suppress_health_check=SLOW_IS_FINE)
@given(pools())
def test_a_pool_holds_every_fact(file: PoolDict) -> None:
    """200 pools, the same ones in every run."""
    check(file)


@pytest.mark.slow
@settings(max_examples=MANY, deadline=None, print_blob=True, suppress_health_check=SLOW_IS_FINE)
@given(pools())
def test_many_pools_hold_every_fact(file: PoolDict) -> None:
    """4000 pools (or as many as the environment says), other ones in every run."""
    check(file)
