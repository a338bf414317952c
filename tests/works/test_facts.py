"""The waterproofing of every sample, and of random pools, holds every fact."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import event, given, settings

import poolgeo
from poolgeo.design.load import design_from
from poolgeo.design.waterproofing import Waterproofing
from poolgeo.errors import PoolFileError
from poolgeo.works import waterproof

from ..properties.test_pools import many
from ..strategies import PoolDict
from ..strategies_all import pools_of_all
from .facts import FACTS

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "samples").glob("*.yaml"))
JOBS = (
    Waterproofing(system="cementitious-slurry"),
    Waterproofing.model_validate(
        {"system": "reaction-resin", "method": "girth-bands", "temperature": "12 C", "tax": "20 %"}
    ),
)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample(path: Path) -> None:
    model = poolgeo.build(poolgeo.load(path))
    takeoff = poolgeo.measure(model)
    for job in JOBS:
        works = waterproof(model, takeoff, job)
        for fact in FACTS:
            fact(model, takeoff, works)


@settings(max_examples=12)
@given(pools_of_all())
def test_random_pools(file: PoolDict) -> None:
    check(file)


@pytest.mark.slow
@many
@given(pools_of_all())
def test_many_random_pools(file: PoolDict) -> None:
    check(file)


def check(file: PoolDict) -> None:
    """Work a pool out and check every fact, unless it is refused."""
    try:
        model = poolgeo.build(design_from(file))
        takeoff = poolgeo.measure(model)  # which refuses an arris that does not fit
    except PoolFileError:
        event("refused")
        return
    for job in JOBS:
        works = waterproof(model, takeoff, job)
        for fact in FACTS:
            fact(model, takeoff, works)
