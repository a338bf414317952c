"""Polylines in space by the length along them."""

from __future__ import annotations

import numpy as np
import pytest

from poolgeo.write.paths import dashes, middle


def test_dashes_start_and_end_with_one_and_go_round_corners() -> None:
    """Length 7; near 1 and 0.5: five dashes and four gaps in the proportion 2 to 1."""
    path = np.array([(0, 0, 0), (4, 0, 0), (4, 3, 0)], float)
    cut = dashes(path, 1.0, 0.5)
    lengths = [float(np.linalg.norm(np.diff(dash, axis=0), axis=1).sum()) for dash in cut]
    assert lengths == pytest.approx([1.0] * 5)
    assert cut[0][0].tolist() == [0, 0, 0]
    assert cut[-1][-1] == pytest.approx([4, 3, 0])
    assert cut[1][0] == pytest.approx([1.5, 0, 0])


def test_a_dash_over_a_corner_keeps_the_corner() -> None:
    path = np.array([(0, 0, 0), (1, 0, 0), (1, 1, 0)], float)
    (only,) = dashes(path, 5.0, 1.0)
    assert only.tolist() == path.tolist()


@pytest.mark.parametrize(
    ("path", "half"),
    [
        ([(0, 0, 0), (4, 0, 0)], (2, 0, 0)),
        ([(0, 0, 0), (1, 0, 0), (1, 3, 0)], (1, 1, 0)),
        ([(1, 2, 0), (1, 2, -2)], (1, 2, -1)),
        ([(1, 2, 3), (1, 2, 3)], (1, 2, 3)),
    ],
)
def test_the_middle_is_half_way_along(
    path: list[tuple[float, float, float]], half: tuple[float, float, float]
) -> None:
    assert middle(np.array(path, float)) == pytest.approx(half)
