"""The table of layers."""

from __future__ import annotations

import re

from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS

from poolgeo.write.layers import EDGE_LAYERS, LAYERS, PATTERNS
from poolgeo.write.palette import EDGES


def test_names_are_plain_words_and_differ() -> None:
    assert all(re.fullmatch(r"[A-Z]+(-[A-Z]+)*", layer.name) for layer in LAYERS)
    assert len({layer.name for layer in LAYERS}) == len(LAYERS)


def test_line_types_and_weights_are_known() -> None:
    for layer in LAYERS:
        assert layer.line_type in {"CONTINUOUS", *PATTERNS}
        assert layer.weight in VALID_DXF_LINEWEIGHTS


def test_every_pattern_is_used() -> None:
    assert {layer.line_type for layer in LAYERS} == {"CONTINUOUS", *PATTERNS}


def test_the_layers_of_edges_look_as_the_palette_says() -> None:
    for sense, style in EDGES.items():
        layer = EDGE_LAYERS[sense]
        assert layer.colour == style.aci
        assert (layer.line_type != "CONTINUOUS") is style.dashed
        assert layer.holds == style.label
    assert EDGE_LAYERS["internal"].weight > EDGE_LAYERS["external"].weight


def test_internal_edges_are_drawn_over_external_ones() -> None:
    assert LAYERS.index(EDGE_LAYERS["internal"]) > LAYERS.index(EDGE_LAYERS["external"])
