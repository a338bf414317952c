"""What rendering needs of the machine is looked for first, and named when it is missing."""

from __future__ import annotations

import builtins
import ctypes
import os
import re
import sys
from typing import Any

import pytest

from poolgeo.errors import MissingSystemLibraryError
from poolgeo.write import display
from poolgeo.write.display import ready_for_pictures, ready_for_windows

CHOICE = "VTK_DEFAULT_OPENGL_WINDOW"


@pytest.fixture(autouse=True)
def linux_without_display(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every test here is on Linux, without a display and without a choice of the user's."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv(CHOICE, raising=False)


def without(monkeypatch: pytest.MonkeyPatch, *libraries: str) -> None:
    """Hide system libraries from whoever opens them."""
    real = ctypes.CDLL

    def opened(name: str, *rest: Any) -> ctypes.CDLL:
        if name in libraries:
            msg = f"{name}: cannot open shared object file: No such file or directory"
            raise OSError(msg)
        return real(name, *rest)

    monkeypatch.setattr(ctypes, "CDLL", opened)


def failing_import(monkeypatch: pytest.MonkeyPatch, words: str) -> None:
    """Have the import of pyvista fail with the given words."""
    real = builtins.__import__

    def importing(name: str, *rest: Any) -> Any:
        if name.startswith("pyvista"):
            raise ImportError(words)
        return real(name, *rest)

    monkeypatch.setattr(builtins, "__import__", importing)


def fails(words: str) -> pytest.RaisesExc[MissingSystemLibraryError]:
    return pytest.raises(MissingSystemLibraryError, match=f"^{re.escape(words)}$")


@pytest.mark.parametrize(
    ("library", "package"),
    [("libGL.so.1", "libgl1"), ("libX11.so.6", "libx11-6"), ("libXrender.so.1", "libxrender1")],
)
def test_a_library_that_the_import_misses_is_named_with_its_package(
    monkeypatch: pytest.MonkeyPatch, library: str, package: str
) -> None:
    failing_import(monkeypatch, f"{library}: cannot open shared object file: No such file")
    words = (
        f"a picture needs the system library {library}, which is not on this machine;"
        f" on Debian install the package {package}"
    )
    with fails(words), ready_for_pictures():
        pytest.fail("VTK was used")
    with fails(words):
        ready_for_windows()


def test_a_library_without_a_known_package_is_named_with_where_to_look(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    failing_import(monkeypatch, "libodd-2.5.so.3: cannot open shared object file")
    words = (
        "a picture needs the system library libodd-2.5.so.3, which is not on this machine;"
        " look with 'apt-file search libodd-2.5.so.3' for the Debian package that has it"
    )
    with fails(words), ready_for_pictures():
        pytest.fail("VTK was used")


def test_another_fault_of_the_import_is_left_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    failing_import(monkeypatch, "cannot import name 'x' from 'y'")
    with pytest.raises(ImportError, match="cannot import name") as caught:
        ready_for_windows()
    assert not isinstance(caught.value, MissingSystemLibraryError)


def test_a_picture_without_egl_is_refused_before_vtk_ends_the_process(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    without(monkeypatch, "libEGL.so.1")
    words = (
        "a picture needs the system library libEGL.so.1, which is not on this machine;"
        " on Debian install the package libegl1"
    )
    with fails(words), ready_for_pictures():
        pytest.fail("VTK was used")


def test_a_picture_without_a_driver_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(display, "_egl_works", lambda: False)
    words = (
        "a picture needs a driver behind the system library libEGL.so.1 (got none that works);"
        " on Debian install the packages libegl-mesa0 and libgl1-mesa-dri"
    )
    with fails(words), ready_for_pictures():
        pytest.fail("VTK was used")


def test_vtk_is_told_to_use_egl_only_while_a_picture_is_made() -> None:
    with ready_for_pictures():
        assert os.environ[CHOICE] == "vtkEGLRenderWindow"
    assert CHOICE not in os.environ


def test_a_choice_of_the_user_s_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(CHOICE, "vtkOSOpenGLRenderWindow")
    with ready_for_pictures():
        assert os.environ[CHOICE] == "vtkOSOpenGLRenderWindow"
    assert os.environ[CHOICE] == "vtkOSOpenGLRenderWindow"


def test_a_picture_is_made_on_the_display_where_there_is_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(display, "_on_display", lambda: True)
    with ready_for_pictures():
        assert CHOICE not in os.environ


@pytest.mark.parametrize("system", ["darwin", "win32"])
def test_other_systems_bring_their_libraries(monkeypatch: pytest.MonkeyPatch, system: str) -> None:
    without(monkeypatch, "libEGL.so.1", "libX11.so.6")
    monkeypatch.setattr(sys, "platform", system)
    ready_for_windows()
    with ready_for_pictures():
        assert CHOICE not in os.environ


@pytest.mark.parametrize(
    ("library", "package"), [("libX11.so.6", "libx11-6"), ("libGL.so.1", "libgl1")]
)
def test_a_window_names_the_library_that_it_misses(
    monkeypatch: pytest.MonkeyPatch, library: str, package: str
) -> None:
    without(monkeypatch, library)
    words = (
        f"a window needs the system library {library}, which is not on this machine;"
        f" on Debian install the package {package}"
    )
    with fails(words):
        ready_for_windows()


@pytest.mark.parametrize("name", [None, ":4711"])
def test_a_window_needs_a_display_that_answers(
    monkeypatch: pytest.MonkeyPatch, name: str | None
) -> None:
    if name:
        monkeypatch.setenv("DISPLAY", name)
    words = (
        f"a window needs a display (got DISPLAY='{name or ''}');"
        " run this on a desktop, or write a picture, which needs no display"
    )
    with fails(words):
        ready_for_windows()
