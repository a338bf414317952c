"""Prints: a page for each sheet, and a view by itself."""

from __future__ import annotations

import re
import zlib
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from ezdxf.math import Vec2
from ezdxf.npshapes import NumpyPath2d
from ezdxf.path import Path as Curve

from poolgeo.design.layer_table import layer_table
from poolgeo.drawing.drawing_set import DrawingSet, drawing_set
from poolgeo.errors import OutputError
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.write.paper import operators
from poolgeo.write.prints import write_prints, write_svg

TABLE = layer_table("trade-words")
NUMBER = r"-?\d+\.\d+"


@pytest.fixture(scope="module")
def drawn(model: Model, takeoff: Takeoff) -> DrawingSet:
    return drawing_set(model, takeoff)


@pytest.fixture(scope="module")
def prints(drawn: DrawingSet, tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("pdf") / "pool.pdf"
    write_prints(drawn, TABLE, path)
    return path.read_bytes()


def pages(prints: bytes) -> list[str]:
    """Return what stands on each page, as operators."""
    streams = re.findall(rb"stream\r?\n(.*?)endstream", prints, re.DOTALL)
    return [zlib.decompress(stream).decode("ascii") for stream in streams]


def test_every_sheet_is_a_page_of_its_size(drawn: DrawingSet, prints: bytes) -> None:
    boxes = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", prints)
    sizes = [tuple(float(side) * 25.4 / 72.0 for side in box) for box in boxes]
    assert len(sizes) == len(drawn.sheets) == len(pages(prints))
    for size in sizes:
        assert size == pytest.approx((420.0, 297.0), abs=0.01)


def test_the_frame_stands_20_mm_from_the_left_and_10_mm_from_the_other_sides(prints: bytes) -> None:
    """Source: ISO 5457 (from memory)."""
    for page in pages(prints):
        places = [
            (float(x), float(y)) for x, y in re.findall(rf"({NUMBER}) ({NUMBER}) [ml]\b", page)
        ]
        xs, ys = zip(*places, strict=True)
        assert (min(xs), max(xs)) == pytest.approx((20.0, 410.0), abs=0.01)
        assert (min(ys), max(ys)) == pytest.approx((10.0, 287.0), abs=0.01)


def test_dashes_are_as_long_on_paper_as_in_model_space_at_scale(prints: bytes) -> None:
    """Internal edges: dashes of one text height, 2.5 mm; the line is 0.7 mm wide."""
    wide = re.findall(r"\b0\.700 w\n(.*?) w\n", pages(prints)[0], re.DOTALL)[1]  # 0: the frame
    lines = re.findall(rf"({NUMBER}) ({NUMBER}) m ({NUMBER}) ({NUMBER}) l", wide)
    lengths = [
        abs(complex(float(a), float(b)) - complex(float(c), float(d))) for a, b, c, d in lines
    ]
    whole = [length for length in lengths if length > 2.4]
    assert len(whole) > 20
    assert max(whole) == pytest.approx(2.5, abs=0.01)


def test_the_same_set_gives_the_same_bytes(
    drawn: DrawingSet, prints: bytes, tmp_path: Path
) -> None:
    write_prints(drawn, TABLE, tmp_path / "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == prints


def test_a_parabola_becomes_the_cubic_curve_that_it_is() -> None:
    curve = Curve((0.0, 0.0))
    curve.curve3_to((2.0, 0.0), (1.0, 2.0))
    start, cubic = operators(NumpyPath2d(curve))
    assert start == "0.000 0.000 m"
    a, b, c, d, x, y = map(float, cubic.split()[:-1])
    for t in (0.25, 0.5, 0.75):
        s = 1.0 - t
        ours = (3 * s * s * t * a + 3 * s * t * t * c + t**3 * x,
                3 * s * s * t * b + 3 * s * t * t * d + t**3 * y)  # fmt: skip
        theirs = Vec2(1.0, 2.0) * (2 * s * t) + Vec2(2.0, 0.0) * t * t
        assert ours == pytest.approx((theirs.x, theirs.y), abs=2e-3)


@pytest.mark.parametrize("name", ["plan", "section A", "walls of pool 1"])
def test_any_view_is_written_as_svg_in_its_scale(
    drawn: DrawingSet, tmp_path: Path, name: str
) -> None:
    """On paper it is as wide as its lines at scale, and 5 mm more on either side."""
    path = tmp_path / "view.svg"
    write_svg(drawn, TABLE, name, path)
    root = ET.parse(path).getroot()  # noqa: S314 - our own file
    (view,) = [item.view for item in drawn.views if item.view.name == name]
    (left, _), (right, _) = view.reach
    width = (right - left) / view.ratio * 1000.0 + 10.0
    assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(width, rel=0.1)


def test_a_view_that_is_not_there_is_refused_with_those_that_are(
    drawn: DrawingSet, tmp_path: Path
) -> None:
    words = re.escape("(got 'section Q'): 'plan', 'legend', 'notes', 'section A', 'section B'")
    with pytest.raises(OutputError, match=words):
        write_svg(drawn, TABLE, "section Q", tmp_path / "view.svg")
    assert not list(tmp_path.iterdir())


def test_other_suffixes_are_refused(drawn: DrawingSet, tmp_path: Path) -> None:
    with pytest.raises(OutputError, match=r"must end in \.pdf"):
        write_prints(drawn, TABLE, tmp_path / "sheets.ps")
    with pytest.raises(OutputError, match=r"must end in \.svg"):
        write_svg(drawn, TABLE, "plan", tmp_path / "plan.png")
