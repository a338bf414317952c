"""Random pools with ledges and with flights of every shape hold every fact."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings

from ..strategies import PoolDict
from ..strategies_steps import pools_with_ledges
from .test_pools import MANY, check

SLOW_IS_FINE = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


@settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    phases=[Phase.generate],
    suppress_health_check=SLOW_IS_FINE,
)
@given(pools_with_ledges())
def test_a_pool_with_ledges_holds_every_fact(file: PoolDict) -> None:
    """60 pools, the same in each run."""
    event(check(file))


@pytest.mark.slow
@settings(
    max_examples=MANY,
    deadline=None,
    print_blob=True,
    phases=[Phase.generate],
    suppress_health_check=SLOW_IS_FINE,
)
@given(pools_with_ledges())
def test_many_pools_with_ledges_hold_every_fact(file: PoolDict) -> None:
    """As many as the environment says, other ones in every run."""
    event(check(file))
