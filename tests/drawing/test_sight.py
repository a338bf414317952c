"""What stands in front of something."""

from __future__ import annotations

import numpy as np

from poolgeo.arrays import Floats
from poolgeo.drawing.sight import Sight


def square(depth: float) -> Floats:
    """A unit square across the way of sight, in two faces."""
    corners = np.array([(0, 0, depth), (1, 0, depth), (1, 1, depth), (0, 1, depth)], float)
    return corners[[[0, 1, 2], [0, 2, 3]]]


def test_a_face_hides_what_lies_behind_it() -> None:
    points = np.array([(0.6, 0.2, 2.0), (0.6, 0.2, 0.5), (0.6, 0.2, 1.0), (1.2, 0.2, 2.0)])
    assert Sight.of(square(1.0)).hides(points).tolist() == [True, False, False, False]


def test_what_stands_behind_the_eye_hides_nothing() -> None:
    assert not Sight.of(square(-1.0)).hides(np.array([(0.6, 0.2, 2.0)])).any()


def test_a_face_on_edge_is_left_out() -> None:
    on_edge = np.array([[(0, 0, 0), (1, 0, 0), (1, 0, 1)]], float)
    assert len(Sight.of(on_edge).faces) == 0
    assert not Sight.of(on_edge).hides(np.array([(0.5, 0.0, 2.0)])).any()


def test_a_line_of_sight_meets_a_face_once_and_at_its_depth() -> None:
    leaning = np.array([[(0, 0, 1), (2, 0, 3), (0, 2, 1)]], float)
    met = Sight.of(leaning).meetings(np.array([(0.5, 0.5), (3.0, 3.0)]), 0.0)
    assert (met.which.tolist(), met.face.tolist(), met.depth.tolist()) == ([0], [0], [1.5])
    beside = Sight.of(leaning).meetings(np.array([(0.5, 0.5)]), 0.0, np.array([(0.75, 0.5)]))
    assert beside.depth.tolist() == [1.75]
