"""The takeoff on a terminal, whole outputs."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from rich.console import Console

from poolgeo.design.lengths import Units
from poolgeo.write.terminal import print_takeoff, takeoff_text

from .small import small_takeoff

METRIC = """\
Areas in m2

 body    surface     area   under water   in plan
 ────────────────────────────────────────────────
 pool    floor      32.50         32.50     32.00
 spa     spa wall    7.25          6.00      0.00

 total              39.75         38.50     32.00

Areas by zone in m2

 body    surface    below band   waterline band   freeboard   wall top   coping return
 ─────────────────────────────────────────────────────────────────────────────────────
 pool    floor           32.50                -           -          -               -
 spa     spa wall         5.00             2.00        0.25          -               -

 total                   37.50             2.00        0.25          -               -

Internal edges

 no.     body   edge            angle    length   under water
 ────────────────────────────────────────────────────────────
 P1.1    pool   floor/wall   90.0 deg   4000 mm       4000 mm

 total                                  4000 mm       4000 mm

External edges

 no.     body   edge                angle    length   under water
 ────────────────────────────────────────────────────────────────
 P2.1    pool   wall/wall top   270.0 deg   4000 mm          0 mm

 total                                      4000 mm          0 mm

Coves

 no.     body   form   radius    length   area in m2   mortar in m3
 ──────────────────────────────────────────────────────────────────
 P3.1    pool   cove   150 mm   4000 mm         0.94        0.01930

 total                          4000 mm         0.94        0.01930

Lengths by zone

 body   what             below band   waterline band   freeboard   wall top   coping return
 ──────────────────────────────────────────────────────────────────────────────────────────
 pool   internal edges      4000 mm                -           -          -               -
 pool   external edges            -                -           -    4000 mm               -
 pool   coves               4000 mm                -           -          -               -

Volumes

 what                      volume
 ───────────────────────────────────
 water, pool             48.00 m3
 water, spa               2.00 m3
 water, together         50.00 m3
 concrete of the shell   12.35 m3

p.yaml:7: warning: 'bench[0].width' is narrow (got 200 mm); widen it
"""

FEET = """\
Areas in ft2

 body    surface      area   under water   in plan
 ─────────────────────────────────────────────────
 pool    floor      349.83        349.83    344.45
 spa     spa wall    78.04         64.58      0.00

 total              427.87        414.41    344.45

Areas by zone in ft2

 body    surface    below band   waterline band   freeboard   wall top   coping return
 ─────────────────────────────────────────────────────────────────────────────────────
 pool    floor          349.83                -           -          -               -
 spa     spa wall        53.82            21.53        2.69          -               -

 total                  403.65            21.53        2.69          -               -

Internal edges

 no.     body   edge            angle       length   under water
 ───────────────────────────────────────────────────────────────
 P1.1    pool   floor/wall   90.0 deg   13' 1 1/2"    13' 1 1/2"

 total                                  13' 1 1/2"    13' 1 1/2"

External edges

 no.     body   edge                angle       length   under water
 ───────────────────────────────────────────────────────────────────
 P2.1    pool   wall/wall top   270.0 deg   13' 1 1/2"            0"

 total                                      13' 1 1/2"            0"

Coves

 no.     body   form   radius       length   area in ft2   mortar in ft3
 ───────────────────────────────────────────────────────────────────────
 P3.1    pool   cove   5 7/8"   13' 1 1/2"         10.14         0.68157

 total                          13' 1 1/2"         10.14         0.68157

Lengths by zone

 body   what             below band   waterline band   freeboard     wall top   coping return
 ────────────────────────────────────────────────────────────────────────────────────────────
 pool   internal edges   13' 1 1/2"                -           -            -               -
 pool   external edges            -                -           -   13' 1 1/2"               -
 pool   coves            13' 1 1/2"                -           -            -               -

Volumes

 what                        volume
 ─────────────────────────────────────────────────
 water, pool             1695.1 ft3   12680 US gal
 water, spa                70.6 ft3     528 US gal
 water, together         1765.7 ft3   13209 US gal
 concrete of the shell    436.0 ft3

p.yaml:7: warning: 'bench[0].width' is narrow (got 200 mm); widen it
"""
"""By hand: 1 ft2 = 0.09290304 m2, 1 ft3 = 0.028316847 m3, 1 US gal = 0.003785412 m3; 4 m is
157.48 in, so 13 ft and 1.48 in, to the nearest sixteenth 1 1/2; 0.15 m is 5.906 in."""


@pytest.mark.parametrize(("units", "expected"), [("mm", METRIC), ("ft", FEET)])
def test_the_takeoff_on_a_terminal(units: Units, expected: str) -> None:
    assert takeoff_text(small_takeoff(), units) == expected


@pytest.mark.parametrize(
    ("units", "length", "gallons"),
    [("m", "4.000 m", False), ("in", '157 1/2"', True)],
)
def test_other_units(units: Units, length: str, *, gallons: bool) -> None:
    text = takeoff_text(small_takeoff(), units)
    assert length in text
    assert ("US gal" in text) is gallons


def test_tables_that_would_be_empty_are_left_out() -> None:
    text = takeoff_text(replace(small_takeoff(), edges=(), coves=()), "m")
    titles = [line for line in text.splitlines() if line and not line.startswith(" ")]
    assert titles[:3] == ["Areas in m2", "Areas by zone in m2", "Volumes"]


def test_what_looks_like_markup_is_printed_as_it_is() -> None:
    warning = replace(small_takeoff().warnings[0], value="[bold]200[/bold]")
    text = takeoff_text(replace(small_takeoff(), warnings=(warning,)), "m")
    assert "(got [bold]200[/bold])" in text


def test_a_narrow_terminal_keeps_every_figure() -> None:
    text = takeoff_text(small_takeoff(), "m", width=50)
    assert "39.75" in text
    assert max(len(line) for line in text.splitlines()[:40]) <= 50


def test_a_console_with_colours_gets_them() -> None:
    paper = io.StringIO()
    print_takeoff(small_takeoff(), "m", Console(file=paper, force_terminal=True, width=80))
    assert "\x1b[" in paper.getvalue()
