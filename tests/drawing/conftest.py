"""The hand-made pool as fixtures."""

from __future__ import annotations

import pytest

from poolgeo.model import Model
from poolgeo.quantities import Takeoff

from ..write import hand_made


@pytest.fixture(scope="session")
def model() -> Model:
    """The hand-made pool, in metres."""
    return hand_made.model()


@pytest.fixture(scope="session")
def takeoff() -> Takeoff:
    """What there is in the hand-made pool."""
    return hand_made.takeoff()
