"""Random pools with floors, coves and walls of every form hold every fact."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings

from ..strategies import PoolDict
from ..strategies_forms import pools_of_forms
from .test_pools import MANY, check

SLOW_IS_FINE = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


@pytest.mark.slow
@settings(
    max_examples=MANY,
    deadline=None,
    print_blob=True,
    phases=[Phase.generate],
    suppress_health_check=SLOW_IS_FINE,
)
@given(pools_of_forms(forms=("cove",)))
def test_many_pools_of_every_form_hold_every_fact(file: PoolDict) -> None:
    """As many as the environment says, other ones in every run.

    Without fillets: where one meets itself over a break, the sense listed may be the break's.
    """
    event(check(file))
