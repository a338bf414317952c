"""Letters as pools: nearly all build, and measure what their outlines say.

The others are refused with reason: a letter of one font crosses itself.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from poolgeo.builder import build
from poolgeo.design.load import design_from, load
from poolgeo.errors import PoolFileError
from poolgeo.measure.takeoff import measure
from poolgeo.model import Model

from ..independent.corpus import Glyph, as_drawing, as_points, corpus, run
from .facts import FACTS

GLYPHS = tuple(corpus())
FEW = GLYPHS[::90]
"""What the default suite looks at."""

LEAST_SHARE = 0.98
"""Share of the pools that must build."""

CURVED = 5e-4
"""Relative: what chords of a flattened curve may lose, with what the comparison loses."""


def check(model: Model, glyph: Glyph, steps: int) -> None:
    """A level floor: V = A d, wet wall = P d, and every fact."""
    takeoff = measure(model)
    plan = glyph.polygon(steps)
    assert takeoff.water["pool"] == pytest.approx(plan.area * 1.5, rel=CURVED)
    (wall,) = (row for row in takeoff.areas if row.kind == "wall")
    assert wall.wet_area == pytest.approx(plan.length * 1.5, rel=CURVED)
    for fact in FACTS:
        fact(model, takeoff)


def test_there_are_many_of_all_sizes() -> None:
    """Several hundred, a third of them with holes, from 5 to 30 m."""
    sizes = [max(a - b for a, b in zip(g.polygon().bounds[2:], g.polygon().bounds[:2], strict=True))
             for g in GLYPHS]  # fmt: skip
    assert len(GLYPHS) >= 300
    assert sum(len(item.loops) > 1 for item in GLYPHS) > len(GLYPHS) / 4
    assert min(sizes) < 6
    assert max(sizes) > 29


@pytest.mark.parametrize("glyph", FEW, ids=lambda item: str(item.name))
def test_a_letter_measures_what_its_outline_says(tmp_path: Path, glyph: Glyph) -> None:
    check(build(load(as_drawing(glyph, tmp_path, "level"))), glyph, 200)
    check(build(design_from(as_points(glyph, "level", steps=12))), glyph, 12)


@pytest.mark.slow
def test_every_letter_measures_what_its_outline_says(tmp_path: Path) -> None:
    refused = []
    for glyph in GLYPHS:
        try:
            model = build(load(as_drawing(glyph, tmp_path, "level")))
        except PoolFileError:
            refused.append(glyph)
        else:
            check(model, glyph, 200)
    assert len(refused) <= (1 - LEAST_SHARE) * len(GLYPHS)
    assert not [item.name for item in refused if item.polygon().is_valid]


@pytest.mark.slow
def test_nearly_every_letter_builds_with_the_cove_that_fits() -> None:
    """With curves and with points, on a level and on a sloping floor; never left open."""
    outcomes = list(run(GLYPHS))
    built = [item for item in outcomes if item.cove >= 0.0]
    assert len(built) >= LEAST_SHARE * len(outcomes)
    assert not [item for item in outcomes if any("developers" in why for why in item.reasons)]
