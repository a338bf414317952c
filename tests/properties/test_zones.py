"""Random pools with random bands and returns: every fact holds, and nothing else changes."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure

from ..strategies import PoolDict, metres, pools
from .facts import FACTS

BANDS = st.fixed_dictionaries({"above": metres(0.0, 0.3), "below": metres(0.0, 1.9)})
"""Down to floors, coves, treads and benches."""

RETURNS = st.sampled_from([0.0, 0.04, 0.1, 0.124, 0.2, 0.3])
"""[m] Wider than walls, too."""


@settings(
    max_examples=60,
)
@given(pools(), BANDS, RETURNS)
def test_a_band_splits_and_changes_nothing(file: PoolDict, band: PoolDict, wide: float) -> None:
    """Volumes, areas and runs are those of the pool without band and return."""
    plain = {"waterline": {"above": 0.0, "below": 0.0}}
    split = {"waterline": band, "coping": {"membrane_return": wide}}
    try:
        want = measure(build(design_from(file | plain)))
    except PoolFileError:
        assume(condition=False)
    model = build(design_from(file | split))
    found = measure(model)
    for fact in FACTS:
        fact(model, found)
    assert found.water == pytest.approx(want.water, rel=1e-4)
    assert found.shell == pytest.approx(want.shell, rel=1e-5)
    sizes, wanted = ({(r.body, r.kind): r.area for r in t.areas} for t in (found, want))
    assert sizes == pytest.approx(wanted, rel=2e-4, abs=2e-4)
    runs, wanted_runs = ({r.number: r.length for r in t.edges} for t in (found, want))
    assert runs == pytest.approx(wanted_runs, abs=1e-3)
