"""Where a label could stand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.drawing.plan_lines import PlanLine
from poolgeo.drawing.positions import along, around, text_width, upright


@given(st.floats(-1000, 1000))
def test_text_never_stands_on_its_head(angle: float) -> None:
    turned = upright(angle)
    assert -85 < turned <= 95
    assert math.cos(math.radians(2 * (turned - angle))) == pytest.approx(1)


@pytest.mark.parametrize(
    ("angle", "read"), [(0, 0), (180, 0), (90, 90), (-90, 90), (135, -45), (-135, 45)]
)
def test_text_reads_from_below_or_from_the_right(angle: float, read: float) -> None:
    assert upright(angle) == pytest.approx(read)


def test_a_label_at_a_point_stands_right_of_it() -> None:
    width = text_width("1.200 m", 0.2)
    best = min(around((1, 2), width, 0.2), key=lambda at: at.cost)
    assert best.centre[0] > 1 + width / 2
    assert best.centre[1] == 2
    assert best.angle == 0


@given(st.lists(st.floats(0, 1), min_size=1, max_size=5))
def test_on_a_closed_line_a_label_stays_beside_the_line(shares: list[float]) -> None:
    ring = PlanLine(
        tuple((math.cos(a), math.sin(a)) for a in (math.tau * n / 40 for n in range(40))),
        closed=True,
    )
    positions = [at for at in along(ring, 0.3, 0.05) if not at.leader]
    for share in shares:
        at = positions[int(share * (len(positions) - 1))]
        assert 0.85 < math.hypot(*at.centre) < 1.15


def test_a_text_is_as_wide_as_common_fonts_make_it() -> None:
    """Digits of a drawing font are about 0.7 to 0.9 cap heights wide, points less."""
    assert 0.7 * 4 <= text_width("2000", 1.0) <= 4.0
    assert text_width("1.1", 1.0) < text_width("222", 1.0)


def test_a_leader_ends_beside_its_text() -> None:
    width = text_width("P1.1", 0.2)
    leaders = [(at, at.leader) for at in around((1, 2), width, 0.2) if at.leader]
    assert len(leaders) == 80
    for at, (start, (x, y)) in leaders:
        assert start == pytest.approx((1, 2))
        assert math.dist(start, (x, y)) >= 3 * 0.2 - 1e-9
        beside = abs(x - at.centre[0]) >= width / 2 and y == at.centre[1]
        above = x == at.centre[0] and abs(y - at.centre[1]) >= 0.2 / 2
        assert beside or above


def test_a_leader_costs_more_than_a_place_beside_the_middle_of_the_line() -> None:
    positions = list(along(PlanLine(((0, 0), (10, 0))), 0.8, 0.2))
    near = min(at.cost for at in positions if not at.leader)
    assert near < min(at.cost for at in positions if at.leader)
