"""Random pools with floors, coves and walls of every form hold every fact."""

from __future__ import annotations

import pytest
from hypothesis import event, given

from ..strategies import PoolDict
from ..strategies_forms import pools_of_forms
from .test_pools import check, many


@pytest.mark.slow
@many
@given(pools_of_forms(forms=("cove",)))
def test_many_pools_of_every_form_hold_every_fact(file: PoolDict) -> None:
    """As many as the environment says, other ones in every run.

    Without fillets: where one meets itself over a break, the sense listed may be the break's.
    """
    event(check(file))
