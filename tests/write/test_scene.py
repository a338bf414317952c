"""The picture: the pool, its edges by sense, and a legend of what is there."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

from poolgeo.design.load import Design
from poolgeo.design.schema import Pool
from poolgeo.drawing.palette import EDGES, SURFACES, Rgb
from poolgeo.errors import MissingSystemLibraryError, OutputError
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.write import scene
from poolgeo.write.scene import show, write_picture

from . import hand_made

Pixels = npt.NDArray[np.int64]
SIZE = (800, 500)
LEGEND = 664
"""[px] Where the legend begins: it takes up 17 % of the width."""

SWATCH = 250
"""[px] Less than a swatch covers, 13 by 30 but for its rim; more than grey rims of letters do."""


@pytest.fixture(scope="module")
def picture(tmp_path_factory: pytest.TempPathFactory, model: Model, takeoff: Takeoff) -> Pixels:
    path = tmp_path_factory.mktemp("png") / "pool.png"
    write_picture(model, takeoff, path, SIZE)
    return pixels(path)


def pixels(path: Path) -> Pixels:
    with Image.open(path) as image:
        return np.asarray(image.convert("RGB")).astype(np.int64)


def count(part: Pixels, rgb: Rgb, tolerance: int = 4) -> int:
    """Count the pixels of a colour."""
    return int((np.abs(part - np.array(rgb)).max(axis=2) <= tolerance).sum())


def test_a_picture_has_the_size_that_was_asked_for(picture: Pixels) -> None:
    assert picture.shape == (500, 800, 3)


def test_the_pool_stands_on_white_in_the_middle(picture: Pixels) -> None:
    ink = picture[60:460, :LEGEND].min(axis=2) < 250
    across, down = np.flatnonzero(ink.any(axis=0)), np.flatnonzero(ink.any(axis=1))
    assert picture[0, 0].tolist() == [255, 255, 255]
    assert 0.2 < ink.mean() < 0.8
    assert across[0] < 0.1 * LEGEND
    assert across[-1] > 0.9 * LEGEND
    assert down[0] < 40
    assert down[-1] > 280


def test_the_legend_has_the_kinds_that_are_there_and_no_others(picture: Pixels) -> None:
    there = {"floor", "wall", "cove", "tread", "riser", "wall top"}
    legend = picture[:, LEGEND:]
    found = {kind for kind in SURFACES if count(legend, SURFACES[kind].rgb) > SWATCH}
    assert found - {"water surface"} == there


def test_the_legend_shows_water_as_thin_as_it_is_drawn(picture: Pixels) -> None:
    style = SURFACES["water surface"]
    red, green, blue = (round(255 + style.opacity * (value - 255)) for value in style.rgb)
    assert count(picture[:, LEGEND:], (red, green, blue)) > SWATCH


@pytest.mark.parametrize("sense", EDGES)
def test_edges_of_both_senses_are_drawn_and_explained(picture: Pixels, sense: str) -> None:
    assert count(picture[:, LEGEND:], EDGES[sense].rgb, 40) > 40
    assert count(picture[:, :LEGEND], EDGES[sense].rgb, 40) > 200


def test_an_internal_edge_is_broken_in_the_legend_and_an_external_one_is_not(
    picture: Pixels,
) -> None:
    for sense, pieces in (("internal", 3), ("external", 1)):
        ink = np.abs(picture[:, LEGEND:] - np.array(EDGES[sense].rgb)).max(axis=2) < 40
        row = ink[np.flatnonzero(ink.any(axis=1))[0] + 1].astype(int)
        assert (np.diff(np.concatenate([[0], row])) == 1).sum() == pieces


def test_the_inside_is_seen_and_the_outside_is_not(picture: Pixels) -> None:
    """Treads near the viewer, which the near wall would hide, are in sight; no outer wall is."""
    assert count(picture[:, :LEGEND], SURFACES["tread"].rgb, 25) > 500
    assert count(picture[:, :LEGEND], SURFACES["outer wall"].rgb, 2) < SWATCH


def test_numbers_can_be_left_out(
    tmp_path: Path, model: Model, takeoff: Takeoff, picture: Pixels
) -> None:
    write_picture(model, takeoff, tmp_path / "pool.png", SIZE, numbers=False)
    without = pixels(tmp_path / "pool.png")
    assert (without[:, LEGEND:] == picture[:, LEGEND:]).all()
    changed = (np.abs(without - picture).max(axis=2) > 20).sum()
    assert changed > 20 * len(takeoff.edges)


def test_the_same_pool_gives_the_same_picture(
    tmp_path: Path, model: Model, takeoff: Takeoff, picture: Pixels
) -> None:
    write_picture(model, takeoff, tmp_path / "pool.png", SIZE)
    assert (pixels(tmp_path / "pool.png") == picture).all()


def test_a_name_with_dollars_is_no_formula(tmp_path: Path, takeoff: Takeoff) -> None:
    """A formula would be written without its dollars, and a backslash would be seen."""
    reach = {}
    for name in ("Pool 5", "Pool $5$", "Pool 555"):
        write_picture(hand_made.model(name=name), takeoff, tmp_path / "pool.png", SIZE)
        title = pixels(tmp_path / "pool.png")[10:32, :200] < 128
        reach[name] = int(np.flatnonzero(title.any(axis=(0, 2)))[-1])
    assert reach["Pool 5"] + 10 < reach["Pool $5$"]
    assert reach["Pool $5$"] == pytest.approx(reach["Pool 555"], abs=3)


def test_another_suffix_is_refused(tmp_path: Path, model: Model, takeoff: Takeoff) -> None:
    words = f"'{tmp_path / 'pool.gif'}' must end in .png; name another file"
    with pytest.raises(OutputError, match=f"^{re.escape(words)}$"):
        write_picture(model, takeoff, tmp_path / "pool.gif")


def test_a_picture_that_fails_leaves_the_old_file(
    tmp_path: Path, model: Model, takeoff: Takeoff, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: Any, **__: Any) -> None:
        raise MemoryError

    monkeypatch.setattr(scene, "camera_for", broken)
    (tmp_path / "pool.png").write_text("old")
    with pytest.raises(MemoryError):
        write_picture(model, takeoff, tmp_path / "pool.png", SIZE)
    assert (tmp_path / "pool.png").read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["pool.png"]


def test_a_picture_on_which_nothing_was_drawn_is_refused(
    tmp_path: Path, model: Model, takeoff: Takeoff, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A driver that is asked for too much returns black without a word."""

    def black(_: object, path: Path) -> Pixels:
        path.touch()
        return np.zeros((500, 800, 3), np.int64)

    monkeypatch.setattr("pyvista.Plotter.screenshot", black)
    words = re.escape("(got 800 x 500 px, and nothing was drawn); ask for less")
    with pytest.raises(OutputError, match=words):
        write_picture(model, takeoff, tmp_path / "pool.png", SIZE)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("size", [(10, 10), (40, 30), (100, 900), (900, 100)])
def test_small_and_narrow_pictures_have_their_size(
    tmp_path: Path, model: Model, takeoff: Takeoff, size: tuple[int, int]
) -> None:
    write_picture(model, takeoff, tmp_path / "pool.png", size)
    with Image.open(tmp_path / "pool.png") as image:
        assert image.size == size


def test_a_window_without_a_display_is_refused(
    model: Model, takeoff: Takeoff, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("DISPLAY", raising=False)
    with pytest.raises(MissingSystemLibraryError, match="a window needs a"):
        show(model, takeoff)


def test_a_window_is_opened_on_screen(
    model: Model, takeoff: Takeoff, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[object] = []

    class Window:
        def show(self) -> None:
            done.append("shown")

    def made(*_: object, off_screen: bool, **__: object) -> Window:
        done.append(off_screen)
        return Window()

    monkeypatch.setattr(scene, "ready_for_windows", lambda: done.append("ready"))
    monkeypatch.setattr(scene, "make_scene", made)
    show(model, takeoff)
    assert done == ["ready", False, "shown"]


@pytest.mark.parametrize(
    ("outline", "size"),
    [
        ({"shape": "rectangle", "length": 9, "width": 4, "rotation": 30}, (9, 4)),
        ({"shape": "ellipse", "length": 12, "width": 6}, (12, 6)),
        ({"shape": "circle", "radius": 3.5}, (7, 7)),
        ({"shape": "polygon", "points": ((0, 0), (8, 0), (8, 4), (0, 4))}, (8, 4)),
    ],
)
def test_the_size_is_what_the_file_says_where_it_says_it(
    model: Model, outline: dict[str, Any], size: tuple[float, float]
) -> None:
    """A polygon's is measured on the outline, here that of the hand-made pool."""
    pool = Pool.model_validate({**hand_made.FILE, "outline": outline})
    assert scene._size(replace(model, design=Design(pool))) == pytest.approx(size)
