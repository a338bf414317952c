"""The outside of the shell in every report: the same rows everywhere."""

from __future__ import annotations

import csv
import io
import json

import pytest

from poolgeo.quantities import Takeoff
from poolgeo.write.tables import csv_text, json_text
from poolgeo.write.terminal import takeoff_text

from .quantities import level, pool, rectangle, takeoff_of


@pytest.fixture(scope="module")
def takeoff() -> Takeoff:
    """A box with a footing, in the ground."""
    footing = {"projection": 0.3, "thickness": 0.2}
    file = pool(rectangle(8.0, 4.0), level(1.5), freeboard=0.2, setting="in ground")
    return takeoff_of(file | {"shell": {"footing": footing}})


def test_the_json_has_areas_and_edges(takeoff: Takeoff) -> None:
    found = json.loads(json_text(takeoff))
    areas = {row["kind"]: row["area_m2"] for row in found["outside"]}
    assert areas["footing top"] == pytest.approx(9.1 * 5.1 - 8.5 * 4.5)
    assert list(areas)[-2:] == ["formwork", "blinding"]
    edges = found["outside_edges"]
    assert {tuple(edge) for edge in edges} == {
        ("run", "body", "sense", "kind", "length_m", "angle_deg")
    }
    assert len({edge["run"] for edge in edges}) == len(edges) == len(takeoff.outside_edges) > 0


def test_the_csv_has_a_section_for_each(takeoff: Takeoff) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(takeoff))))
    outside = [row for row in rows if row["section"] == "outside"]
    assert len(outside) == 2 * len(takeoff.outside)
    foot = [row for row in rows if row["kind"] == "outer wall/footing top"]
    assert {row["section"] for row in foot} == {"outside edge"}
    assert {row["sense"] for row in foot} == {"internal"}
    lengths = [float(row["value"]) for row in foot if row["measure"] == "length"]
    assert sum(lengths) == pytest.approx(26.0)


def test_the_table_has_a_line_for_every_row(takeoff: Takeoff) -> None:
    text = takeoff_text(takeoff, "m")
    assert "sense seen from outside the concrete" in text
    lines = text.splitlines()
    starts = {line.split()[0] for line in lines if line.strip()}
    assert {run.number for run in takeoff.outside_edges} <= starts
    assert any(line.split()[:2] == ["all", "blinding"] for line in lines)


def test_a_pool_that_does_not_say_how_it_stands_lists_no_outer_edges() -> None:
    found = takeoff_of(pool(rectangle(8.0, 4.0), level(1.5)))
    text = takeoff_text(found, "m")
    assert "Outside of the shell" in text
    assert "Edges of the outside" not in text
