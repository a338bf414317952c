"""Sections that a pool file asks for: what is refused, and what is warned of."""

from __future__ import annotations

from typing import Any

import pytest

from poolgeo.drawing.section import cut_lines_of
from poolgeo.drawing.section_check import cut_findings
from poolgeo.errors import PoolFileError
from poolgeo.model import Model

from .pools import built


def asking(*lines: tuple[list[float], list[float]], names: str = "ABC") -> Model:
    """Return a box with sections along lines."""
    asked: list[dict[str, Any]] = [
        {"name": names[k], "start": start, "end": end} for k, (start, end) in enumerate(lines)
    ]
    return built(drawings={"sections": asked})


def test_a_line_from_outside_to_outside_is_right() -> None:
    model = asking(([-1, 1], [7, 1]), ([-0.25, 1], [6.25, 1]))
    assert cut_findings(model) == []
    assert list(cut_lines_of(model)) == ["A", "B"]


@pytest.mark.parametrize("end", [[-0.5, 1.0], [-0.25, 1.0], [-1.0, 9.0]])
def test_a_line_that_cuts_no_concrete_is_refused(end: list[float]) -> None:
    model = asking(([-1, 1], [7, 1]), ([-2.0, 1.0], end))
    (found,) = cut_findings(model)
    assert (found.severity, found.key) == ("error", ("drawings", "sections", 1))
    with pytest.raises(PoolFileError, match="must cut the pool"):
        cut_lines_of(model)


@pytest.mark.parametrize("end", [[3.0, 1.0], [6.1, 1.0]])
def test_a_line_that_ends_in_water_or_concrete_is_warned_of(end: list[float]) -> None:
    model = asking(([-1, 1], end))
    (found,) = cut_findings(model)
    assert (found.severity, found.key) == ("warning", ("drawings", "sections", 0, "end"))
    assert list(cut_lines_of(model)) == ["A"]


def test_both_ends_of_a_line_in_the_water_are_warned_of() -> None:
    found = cut_findings(asking(([1, 1], [5, 2])))
    assert [item.key[-1] for item in found] == ["start", "end"]


def test_the_usual_sections_are_no_matter_of_the_file() -> None:
    assert cut_findings(built()) == []


def test_names_that_differ_in_capitals_alone_are_refused() -> None:
    with pytest.raises(PoolFileError, match=r"differ by more than capitals \(got A, a\)"):
        asking(([-1, 1], [7, 1]), ([-1, 2], [7, 2]), names="Aa")


def test_a_long_name_is_refused() -> None:
    line = {"start": [-1, 1], "end": [7, 1]}
    built(drawings={"sections": [{"name": "x" * 20, **line}]})
    with pytest.raises(PoolFileError, match="text of 1 to 20 characters"):
        built(drawings={"sections": [{"name": "x" * 21, **line}]})
