"""Dimensions between corners of lines are tied to them."""

from __future__ import annotations

from typing import Any

import pytest
from ezdxf.document import Drawing
from ezdxf.entities.dimension import Dimension
from ezdxf.entities.lwpolyline import LWPolyline

from . import hand_made
from .drawing import points, read, write_whole

CODES = {"dimension": 330, "flags": 90, "line": 331, "segment": 91, "place": 10, "kind": 72}
"""What is asked of an association -> its group code. Source: DXF reference, DIMASSOC."""


@pytest.fixture(scope="module")
def drawing(tmp_path_factory: pytest.TempPathFactory) -> Drawing:
    path = tmp_path_factory.mktemp("dxf") / "pool.dxf"
    write_whole(hand_made.model(), hand_made.takeoff(), path)
    return read(path)


def associations(drawing: Drawing) -> list[dict[str, list[Any]]]:
    """Return what each association says."""
    found = []
    for entity in drawing.objects.query("DIMASSOC"):
        tags = entity.xtags.get_subclass("AcDbDimAssoc")  # type: ignore[attr-defined]
        found.append({
            name: [tag.value for tag in tags if tag.code == code] for name, code in CODES.items()
        })  # fmt: skip
    return found


def test_overall_dimensions_of_the_plan_are_tied(drawing: Drawing) -> None:
    """Four on the plan: water and concrete, both ways; their ends are corners of outlines."""
    tied = {str(item["dimension"][-1]) for item in associations(drawing)}
    plan = [item for item in drawing.modelspace().query("DIMENSION") if item.dxf.handle in tied]
    lengths = sorted(
        round(float(item.get_measurement()), 6) for item in plan if isinstance(item, Dimension)
    )
    assert {4.0, 4.5, 8.0, 8.5} <= set(lengths)


def test_an_association_names_both_points_of_its_dimension(drawing: Drawing) -> None:
    for item in associations(drawing):
        dimension = drawing.entitydb[str(item["dimension"][-1])]
        assert item["flags"] == [3]  # the first point and the second
        assert item["kind"] == [1, 1]  # ends of what is snapped to
        ends = [tuple(dimension.dxf.defpoint2)[:2], tuple(dimension.dxf.defpoint3)[:2]]
        places = [tuple(place)[:2] for place in item["place"]]
        for place, end in zip(places, ends, strict=True):
            assert place == pytest.approx(end)


def test_the_point_is_an_end_of_the_segment_that_is_named(drawing: Drawing) -> None:
    for item in associations(drawing):
        for handle, segment, place in zip(
            item["line"], item["segment"], item["place"], strict=True
        ):
            line = drawing.entitydb[str(handle)]
            assert isinstance(line, LWPolyline)
            path = points(line)
            number = int(segment)
            ends = path[number - 1], path[number % len(path)]
            x, y, *_ = place
            assert any(end == pytest.approx((x, y)) for end in ends)


def test_lines_and_dimension_know_of_the_association(drawing: Drawing) -> None:
    for entity in drawing.objects.query("DIMASSOC"):
        tags = entity.xtags.get_subclass("AcDbDimAssoc")  # type: ignore[attr-defined]
        for line in (tag.value for tag in tags if tag.code == CODES["line"]):
            assert entity.dxf.handle in drawing.entitydb[line].get_reactors()
        dimension = drawing.entitydb[tags.get_first_value(CODES["dimension"])]
        held = dimension.get_extension_dict().dictionary
        assert held["ACAD_DIMASSOC"] is entity
