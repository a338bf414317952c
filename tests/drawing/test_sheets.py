"""Sheets: windows stand within the frame, apart, and clear of the title block."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from poolgeo.design.drawings import Drawings, Revision, SheetSize
from poolgeo.drawing.north import _part
from poolgeo.drawing.paper import SIZES
from poolgeo.drawing.sheets import BLOCK, GAP, Box, Sheet, Window, arranged, field_of, fitting
from poolgeo.drawing.title_block import block_height, sheet_view

BLOCK_HIGH = block_height(Drawings())


def window(wide: float, high: float) -> Window:
    """Return a window that is as large on paper [mm], at 1:50 of a drawing in millimetres."""
    return Window("", (100.0, 200.0), (100.0 + 50 * wide, 200.0 + 50 * high), 50, "1:50")


SIZED = st.tuples(st.floats(5.0, 380.0), st.floats(5.0, 270.0))


@given(st.lists(st.tuples(st.sampled_from(["Sections", "Details"]), SIZED), min_size=1))
def test_windows_stand_apart_within_the_frame_and_beside_the_title_block(
    asked: list[tuple[str, tuple[float, float]]],
) -> None:
    windows = [(group, window(*size)) for group, size in asked]
    sheets = arranged(windows, "A3", 1.0, BLOCK_HIGH)
    placed = [item for sheet in sheets for item in sheet.shown]
    assert sorted(id(item.window) for item in placed) == sorted(id(item) for _, item in windows)
    field = field_of("A3", 0.0)
    title = Box(field.right - BLOCK, field.bottom, field.right, field.bottom + BLOCK_HIGH - GAP)
    for sheet in sheets:
        boxes = [item.box for item in sheet.shown]
        if len(boxes) == 1:
            continue  # it may be larger than the field
        for box in boxes:
            assert box.left >= field.left - 1e-6
            assert box.right <= field.right + 1e-6
            assert box.bottom >= field.bottom - 1e-6
            assert box.top <= field.top + 1e-6
        for one, other in combinations([*boxes, title], 2):
            apart = (
                one.right <= other.left + 1e-6
                or other.right <= one.left + 1e-6
                or one.top <= other.bottom + 1e-6
                or other.top <= one.bottom + 1e-6
            )
            assert apart


@given(st.lists(SIZED, min_size=1))
def test_sections_keep_their_order(sizes: list[tuple[float, float]]) -> None:
    windows = [window(*size) for size in sizes]
    sheets = arranged([("Sections", item) for item in windows], "A3", 1.0, BLOCK_HIGH)
    assert [item.window for sheet in sheets for item in sheet.shown] == windows


def test_a_sheet_is_named_by_what_is_on_it() -> None:
    windows = [("Plan", window(100, 50)), ("Sections", window(100, 50))]
    (sheet,) = arranged(windows, "A3", 1.0, BLOCK_HIGH)
    assert sheet.title == "Plan, sections"
    assert sheet.scales == "1:50"


@pytest.mark.parametrize(
    ("wide", "high", "size"),
    [(200, 100, "A4"), (300, 200, "A3"), (500, 300, "A2"), (700, 500, "A1"), (2000, 50, "A1")],
)
def test_the_smallest_sheet_that_holds_a_window_is_taken(
    wide: float, high: float, size: SheetSize
) -> None:
    assert fitting("A4", [window(wide, high)], 1.0, BLOCK_HIGH) == size


def test_no_smaller_sheet_is_taken_than_asked_for() -> None:
    assert fitting("A2", [window(10, 10)], 1.0, BLOCK_HIGH) == "A2"
    assert fitting("ANSI B", [window(10, 10)], 1.0, BLOCK_HIGH) == "ANSI B"


@pytest.mark.parametrize("size", list(SIZES))
def test_the_title_block_lies_within_every_sheet_and_no_text_on_another(size: SheetSize) -> None:
    revision = Revision(mark="A", date="20 May", what="x" * 80, by="office")
    asked = Drawings(
        project="p" * 80, client="c" * 80, number="n" * 40, status="s" * 30, drawn_by="office",
        checked_by="office", date="20 May", revisions=(revision,) * 3,
    )  # fmt: skip
    view = sheet_view(_sheet(size), "y" * 60, asked, 3, 12)
    width, height = SIZES[size]
    (left, low), (right, top) = view.reach
    assert (left, low) == (20.0, 10.0)
    assert (right, top) == (width - 10.0, height - 10.0)
    boxes = [list(zip(*corners, strict=True)) for corners in view.boxes]
    for (xs, ys), (us, vs) in combinations(boxes, 2):
        assert (
            max(xs) <= min(us) + 1e-9 or max(us) <= min(xs) + 1e-9
            or max(ys) <= min(vs) + 1e-9 or max(vs) <= min(ys) + 1e-9
        )  # fmt: skip


def _sheet(size: SheetSize) -> Sheet:
    return arranged([("Plan", window(10, 10))], size, 1.0, BLOCK_HIGH)[0]


@given(st.floats(1e-3, 1e4))
def test_parts_of_a_scale_bar_are_round_and_as_long_as_may_be(longest: float) -> None:
    part = _part(longest)
    assert part <= longest * (1 + 1e-9)
    assert part * 2.5 > longest * (1 - 1e-9)
    digits = f"{part:.0e}"[0]
    assert digits in "125"
