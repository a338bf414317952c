"""Which cells are cut: the quick search against a slow and certain one."""

from __future__ import annotations

import numpy as np
import shapely
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from poolgeo.plan.canal import Size
from poolgeo.plan.cove import cove_cells
from poolgeo.plan.curves import FullEllipse
from poolgeo.plan.cut import NEAR, cut_cells
from poolgeo.plan.floor import level_floor
from poolgeo.plan.ring import ring_of
from poolgeo.plan.rolled import WallLine

RING = ring_of([FullEllipse(np.zeros(2), (3.0, 2.0), 0.4)], 2e-3)
CELLS = cove_cells([WallLine(RING.points, RING.normals)], level_floor(-1.4), Size(0.2), 2e-3)

places = st.integers(-350, 350).map(lambda k: k / 100.0)


@settings(max_examples=60)
@drawn(st.lists(st.tuples(places, places, places, places), min_size=1, max_size=4))
def test_cut_cells_are_those_that_lines_come_near(lines: list[tuple[float, ...]]) -> None:
    """Every cell that a line meets is found, and none that is far from all."""
    knives = np.array(lines).reshape(-1, 2, 2)
    knives = knives[(knives[:, 0] != knives[:, 1]).any(axis=1)]
    cell, by = cut_cells(CELLS, knives)
    cells = shapely.polygons(CELLS.vertices[CELLS.triangles, :2])
    for number, knife in enumerate(shapely.linestrings(knives)):
        away = shapely.distance(cells, knife)
        mine = np.isin(np.arange(len(cells)), cell[by == number])
        assert mine[away == 0.0].all()
        assert not mine[away > 3.0 * NEAR].any()
