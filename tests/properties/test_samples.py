"""Every sample holds every fact."""

from __future__ import annotations

from pathlib import Path

import pytest

import poolgeo

from .facts import FACTS

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "samples").glob("*.yaml"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_fact(path: Path) -> None:
    """It is closed, adds up, and its labels agree with its shape."""
    model = poolgeo.build(poolgeo.load(path))
    takeoff = poolgeo.measure(model)
    for fact in FACTS:
        fact(model, takeoff)
