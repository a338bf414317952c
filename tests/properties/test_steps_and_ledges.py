"""Random pools with ledges and with flights of every shape hold every fact."""

from __future__ import annotations

import pytest
from hypothesis import event, given, settings

from ..strategies import PoolDict
from ..strategies_steps import pools_with_ledges
from .test_pools import check, many


@settings(
    max_examples=30,
)
@given(pools_with_ledges())
def test_a_pool_with_ledges_holds_every_fact(file: PoolDict) -> None:
    """30 pools, the same in each run."""
    event(check(file))


@pytest.mark.slow
@many
@given(pools_with_ledges())
def test_many_pools_with_ledges_hold_every_fact(file: PoolDict) -> None:
    """As many as the environment says, other ones in every run."""
    event(check(file))
