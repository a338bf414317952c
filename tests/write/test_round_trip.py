"""The outline that a drawing holds, read back as a pool file's outline, is the pool's."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

import poolgeo
from poolgeo.arrays import Floats
from poolgeo.drawing import contents
from poolgeo.drawing.layers import layers_of
from poolgeo.model import Model
from tests.drawn_samples import NAMES, file_of, sample

NEAR = 1e-6
"""[m] How far a corner may lie off: the drawing rounds it, then the plan's grid does."""


def read_back(name: str, folder: Path) -> Model:
    """Build a pool of one depth on the outline that stands in the drawing of a sample."""
    found = sample(name)
    (folder / "drawn.dxf").write_bytes(file_of(name))
    outline = {"shape": "dxf", "file": "drawn.dxf",
               "layer": layers_of(found.table)[contents.WHOLE].name}  # fmt: skip
    pool: dict[str, Any] = {
        "name": "Read back", "units": found.model.design.pool.units, "freeboard": "100 mm",
        "outline": outline, "floor": {"shape": "level", "depth": "1 m"},
        "shell": {"wall": "250 mm", "floor": "250 mm"},
    }  # fmt: skip
    path = folder / "pool.yaml"
    path.write_text(yaml.safe_dump(pool))
    return poolgeo.build(poolgeo.load(path))


def rings(model: Model) -> list[Floats]:
    """Return the pool's outline and those of its islands, the largest first."""
    found = [
        line for (body, role), line in model.outlines.items()
        if role == "island" or (body, role) == ("pool", "water")
    ]  # fmt: skip
    return sorted(found, key=lambda line: -abs(area(line)))


def area(line: Floats) -> float:
    """Return the area within a closed line, above 0 where it goes anticlockwise."""
    x, y = line.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2.0)


def off(one: Floats, other: Floats) -> float:
    """Return how far the corners of one ring lie off those of another, wherever it starts [m]."""
    if len(one) != len(other):
        return float("inf")
    start = int(np.hypot(*(other - one[0]).T).argmin())
    return float(np.abs(np.roll(other, -start, axis=0) - one).max())


@pytest.mark.parametrize("name", NAMES)
def test_the_outline_reads_back_as_it_is(name: str, tmp_path: Path) -> None:
    """Corner by corner, islands too, up to where each ring starts."""
    want, got = rings(sample(name).model), rings(read_back(name, tmp_path))
    assert len(got) == len(want)
    assert [off(one, other) for one, other in zip(want, got, strict=True)] == pytest.approx(
        [0.0] * len(want), abs=NEAR
    )
