"""The tables of layers."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS

from poolgeo.design.layer_table import LayerTable, layer_table
from poolgeo.design.tables import shipped
from poolgeo.drawing.contents import CONTENTS, EDGE_CONTENTS
from poolgeo.drawing.layers import PATTERNS, layers_of, line_type_name
from poolgeo.drawing.palette import EDGES
from poolgeo.errors import PoolFileError

TABLES = shipped("layer_tables")


@pytest.fixture(params=TABLES)
def table(request: pytest.FixtureRequest) -> LayerTable:
    """Return each table that comes with poolgeo."""
    return layer_table(request.param)


def test_every_content_has_a_layer_of_its_own(table: LayerTable) -> None:
    assert list(layers_of(table)) == list(CONTENTS)
    assert len({row.name for row in table.layers.values()}) == len(CONTENTS)


def test_weights_are_known_to_drawings(table: LayerTable) -> None:
    assert {row.weight for row in table.layers.values()} <= set(VALID_DXF_LINEWEIGHTS)


def test_every_pattern_is_used(table: LayerTable) -> None:
    assert {row.line for row in table.layers.values()} == {"continuous", *PATTERNS}


def test_trade_words_are_plain() -> None:
    names = [row.name for row in layer_table("trade-words").layers.values()]
    assert all(re.fullmatch(r"[A-Z]+(-[A-Z]+)*", name) for name in names)


def test_names_after_iso_13567_have_its_fields() -> None:
    """Agent, two characters; element, six; presentation, two."""
    names = [row.name for row in layer_table("iso-13567").layers.values()]
    assert all(re.fullmatch(r"[A-Z]-[A-Z]{3,5}-+[A-Z]-", name) for name in names)
    assert {len(name) for name in names} == {10}


def test_the_layers_of_edges_look_as_the_palette_says(table: LayerTable) -> None:
    layers = layers_of(table)
    for sense, style in EDGES.items():
        layer = layers[EDGE_CONTENTS[sense]]
        assert layer.colour == style.aci
        assert (layer.line_type != line_type_name("continuous")) is style.dashed
        assert layer.holds == style.label
    internal, external = (layers[EDGE_CONTENTS[sense]] for sense in ("internal", "external"))
    assert internal.weight > external.weight


def test_internal_edges_are_drawn_over_external_ones() -> None:
    order = [CONTENTS.index(EDGE_CONTENTS[sense]) for sense in ("external", "internal")]
    assert order == sorted(order)


def test_a_table_that_leaves_a_content_out_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "own.yaml"
    path.write_text("name: Own\nlayers:\n  outline: {name: A}\n")
    with pytest.raises(PoolFileError, match="must name a layer for each content"):
        layer_table(str(path))
