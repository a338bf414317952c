"""The takeoff as CSV and JSON, whole outputs."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import pytest

from poolgeo.quantities import Takeoff
from poolgeo.write import tables
from poolgeo.write.tables import COLUMNS, csv_text, json_text

from .small import small_takeoff

CSV = """\
section,number,body,kind,sense,measure,value,unit,note,zone
area,,pool,floor,,area,32.5,m2,,
area,,pool,floor,,wet area,32.5,m2,,
area,,pool,floor,,plan area,32,m2,,
area,,pool,floor,,zone area,32.5,m2,,below band
area,,spa,spa wall,,area,7.25,m2,,
area,,spa,spa wall,,wet area,6,m2,,
area,,spa,spa wall,,plan area,0,m2,,
area,,spa,spa wall,,zone area,5,m2,,below band
area,,spa,spa wall,,zone area,2,m2,,waterline band
area,,spa,spa wall,,zone area,0.25,m2,,freeboard
edge,P1.1,pool,floor/wall,internal,length,4,m,,
edge,P1.1,pool,floor/wall,internal,wet length,4,m,,
edge,P1.1,pool,floor/wall,internal,angle,90,deg,,
edge,P1.1,pool,floor/wall,internal,zone length,4,m,,below band
edge,P2.1,pool,wall/wall top,external,length,4,m,,
edge,P2.1,pool,wall/wall top,external,wet length,0,m,,
edge,P2.1,pool,wall/wall top,external,angle,270,deg,,
edge,P2.1,pool,wall/wall top,external,zone length,4,m,,wall top
cove,P3.1,pool,cove,,length,4,m,,
cove,P3.1,pool,cove,,area,0.9425,m2,,
cove,P3.1,pool,cove,,radius,0.15,m,,
cove,P3.1,pool,cove,,mortar,0.0193,m3,,
cove,P3.1,pool,cove,,zone length,4,m,,below band
cove,P3.1,pool,cove,,zone area,0.9425,m2,,below band
water,,pool,,,volume,48,m3,,
water,,pool,,,band bottom,-0.075,m,,waterline band
water,,pool,,,band top,0.075,m,,waterline band
water,,spa,,,volume,2,m3,,
water,,spa,,,band bottom,0.225,m,,waterline band
water,,spa,,,band top,0.375,m,,waterline band
shell,,,,,volume,12.345679,m3,,
warning,,,bench[0].width,,,,,p.yaml:7: warning: 'bench[0].width' is narrow (got 200 mm); widen it,
"""


def test_the_takeoff_as_csv() -> None:
    assert csv_text(small_takeoff()) == CSV


def test_every_row_has_every_column(takeoff: Takeoff) -> None:
    rows = list(csv.reader(io.StringIO(csv_text(takeoff))))
    assert {len(row) for row in rows} == {len(COLUMNS)}


def test_columns_measures_and_units_are_documented(takeoff: Takeoff) -> None:
    words = tables.__doc__ or ""
    rows = list(csv.DictReader(io.StringIO(csv_text(takeoff))))
    for column in COLUMNS:
        assert f"``{column}``" in words
    for column in ("section", "measure", "unit", "zone"):
        assert all(f"``{row[column]}``" in words for row in rows if row[column])


def test_lengths_add_up_in_a_spreadsheet(takeoff: Takeoff) -> None:
    rows = csv.DictReader(io.StringIO(csv_text(takeoff)))
    internal = [row for row in rows if (row["sense"], row["measure"]) == ("internal", "length")]
    total = sum(run.length for run in takeoff.edges if run.sense == "internal")
    assert sum(float(row["value"]) for row in internal) == pytest.approx(total, abs=1e-5)


def test_json_is_the_documented_contract() -> None:
    small = small_takeoff()
    warning = replace(small.warnings[0], value="Größe 200 mm")
    takeoff = replace(small, warnings=(warning,))
    text = json_text(takeoff)
    assert json.loads(text) == takeoff.as_dict()
    assert "Größe" in text
    assert text.startswith('{\n  "areas": [\n')
    assert text.endswith("}\n")
