"""Labels keep clear of lines and of each other."""

from __future__ import annotations

import pytest
import shapely

from poolgeo.drawing.labels import Label, placed
from poolgeo.drawing.plan_lines import PlanLine
from poolgeo.drawing.positions import Position, along, text_width

LINE = PlanLine(((0, 0), (10, 0)))


def box(label: Label, at: Position, height: float) -> shapely.Polygon:
    width = text_width(label.text, height)
    (x, y) = at.centre
    level = shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
    return shapely.affinity.rotate(level, at.angle, origin=at.centre)


def number(text: str, line: PlanLine, height: float = 0.2) -> Label:
    return Label(text, tuple(along(line, text_width(text, height), height)))


def test_no_labels_have_no_places() -> None:
    assert placed([], [LINE], 0.2) == []


def test_a_label_alone_stands_beside_the_middle_of_its_line() -> None:
    (at,) = placed([number("P1.1", LINE)], [LINE], 0.2)
    assert at.centre[0] == pytest.approx(5)
    assert abs(at.centre[1]) > 0.5 * 0.2
    assert at.angle == 0


def test_a_label_lies_along_a_sloping_line() -> None:
    (at,) = placed([number("P1.1", PlanLine(((0, 0), (3, 3))))], [], 0.2)
    assert at.angle == pytest.approx(45)


def test_two_runs_in_one_place_get_two_labels_apart() -> None:
    labels = [number("P1.1", LINE), number("P2.1", LINE)]
    boxes = [box(*pair, 0.2) for pair in zip(labels, placed(labels, [LINE], 0.2), strict=True)]
    assert not boxes[0].intersects(boxes[1])
    assert not any(one.intersects(shapely.LineString(LINE.points)) for one in boxes)


def test_a_label_goes_to_where_no_line_is() -> None:
    """A line runs where the label would stand on either side of the middle."""
    across = [PlanLine(((x, -1), (x, 1))) for x in (4.6, 5.0, 5.4)]
    label = number("P1.1", LINE)
    (at,) = placed([label], [LINE, *across], 0.2)
    lines = shapely.MultiLineString([line.points for line in across])
    assert not box(label, at, 0.2).intersects(lines)


def test_an_earlier_label_makes_room_for_a_later_one() -> None:
    """The later one has a single place, the one that the earlier one likes best."""
    first = number("P1.1", LINE)
    wanted = placed([first], [LINE], 0.2)[0]
    later = Label("P2.1", (wanted,))
    one, other = placed([first, later], [LINE], 0.2)
    assert other == wanted
    assert not box(first, one, 0.2).intersects(box(later, other, 0.2))


def test_leaders_do_not_cross() -> None:
    """The second label would go to the far left, across the leader of the first."""
    first = Position((10.5, 5.0), 0.0, 0.0, ((0.0, 0.0), (10.0, 5.0)))
    across = Position((-0.5, 5.0), 0.0, 0.0, ((10.0, 0.0), (0.0, 5.0)))
    beside = Position((20.5, 5.0), 0.0, 1.0, ((10.0, 0.0), (20.0, 5.0)))
    labels = [Label("P1.1", (first,)), Label("P2.1", (across, beside))]
    assert placed(labels, [], 0.2) == [first, beside]


def test_leaders_of_one_place_do_not_cross() -> None:
    """They meet where they begin, and neither gives way."""
    one, other = (Position((x, 5.0), 0.0, 0.0, ((0.0, 0.0), (0.9 * x, 5.0))) for x in (-10.0, 10.0))
    wanted = Label("P2.1", (other, Position((0.0, -5.0), 0.0, 1.0)))
    assert placed([Label("P1.1", (one,)), wanted], [], 0.2) == [one, other]


def test_a_label_without_room_goes_as_far_as_need_be() -> None:
    only = Position((0.0, 0.0), 0.0, 0.0)
    labels = [Label(f"P{number}.1", (only,)) for number in range(40)]
    found = placed(labels, [], 0.2)
    boxes = [box(label, at, 0.2) for label, at in zip(labels, found, strict=True)]
    assert shapely.union_all(boxes).area == pytest.approx(sum(item.area for item in boxes))
    assert [at.leader is None for at in found].count(True) == 1


def test_a_label_keeps_clear_of_what_is_there() -> None:
    there = Position((5.0, 0.19), 0.0, 0.0)
    label = number("P1.1", LINE)
    (at,) = placed([label], [LINE], 0.2, [("1.250", there)])
    assert not box(label, at, 0.2).intersects(box(Label("1.250", (there,)), there, 0.2))


def test_where_there_is_no_room_a_leader_ties_a_label_to_its_run() -> None:
    """Runs in three rows, each a third as long as its number."""
    runs = [PlanLine(((0.3 * n, y), (0.3 * n + 0.3, y))) for n in range(6) for y in (0, 0.3, 0.6)]
    labels = [number(f"P10.{n + 2}", run) for n, run in enumerate(runs)]
    places = placed(labels, runs, 0.2)
    assert any(at.leader for at in places)
    for run, at in zip(runs, places, strict=True):
        if at.leader:
            (x, y), _ = run.points
            assert at.leader[0] == pytest.approx((x + 0.15, y))
    boxes = [box(*pair, 0.2) for pair in zip(labels, places, strict=True)]
    assert sum(one.area for one in boxes) == pytest.approx(shapely.union_all(boxes).area)


def test_a_leader_does_not_run_through_another_label() -> None:
    """The first label has one place, right where the shortest leader of the second would go."""
    wall = Label("P1.1", (Position((0.9, 0.0), 0.0, 0.0),))
    leaders = [Position((2.2, 0.0), 0.0, 0.9, ((0, 0), (1.8, 0))), Position((0, 3), 0.0, 2.0)]
    assert placed([wall, Label("P2.1", tuple(leaders))], [], 0.2)[1] == leaders[1]
