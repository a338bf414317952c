"""What rendering needs of the machine, and plain words where it is not there.

VTK opens the system's graphics libraries while it runs, and where one is missing it does not raise
an error: it prints a warning and ends the process with a segmentation fault (VTK 9.6 and 9.7, seen
by hiding one library after the other). Older ones fail on import. So the libraries are tried
before VTK is asked to open a window. Windows and macOS bring theirs with them.
"""

from __future__ import annotations

import ctypes
import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from poolgeo.errors import MissingSystemLibraryError

_PACKAGES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11.so.6": "libx11-6",
    "libXrender.so.1": "libxrender1",
    "libXcursor.so.1": "libxcursor1",
    "libXext.so.6": "libxext6",
    "libXfixes.so.3": "libxfixes3",
    "libXt.so.6": "libxt6",
    "libSM.so.6": "libsm6",
    "libICE.so.6": "libice6",
    "libgomp.so.1": "libgomp1",
}
"""System library -> the Debian package that has it (looked up with ``dpkg -S`` on Debian 12)."""

_CHOICE = "VTK_DEFAULT_OPENGL_WINDOW"
"""Environment variable by which VTK is told how to open a window; a user's own choice is kept."""

_MOST_DEVICES = 16
"""Devices that EGL is asked for: cards and the one without a card."""


@contextmanager
def ready_for_pictures() -> Iterator[None]:
    """Make sure that pictures can be made, without a display where there is none.

    Yields:
        Nothing. On Linux VTK renders through EGL while the block runs, which takes neither an X
        server nor its libraries; where EGL does not work, through the display if there is one.

    Raises:
        MissingSystemLibraryError: VTK cannot be loaded, or there is neither EGL nor a display.
    """
    _load_vtk()
    if not sys.platform.startswith("linux") or _CHOICE in os.environ or _on_display():
        yield
        return
    if not _opens("libEGL.so.1"):
        raise MissingSystemLibraryError(_lacks("a picture", "libEGL.so.1"))
    if not _egl_works():
        msg = (
            "a picture needs a driver behind the system library libEGL.so.1 (got none that works);"
            " on Debian install the packages libegl-mesa0 and libgl1-mesa-dri"
        )
        raise MissingSystemLibraryError(msg)
    os.environ[_CHOICE] = "vtkEGLRenderWindow"
    try:
        yield
    finally:
        del os.environ[_CHOICE]


def ready_for_windows() -> None:
    """Make sure that a window can be opened.

    Raises:
        MissingSystemLibraryError: VTK cannot be loaded, a library is missing, or there is no
            display.
    """
    _load_vtk()
    if not sys.platform.startswith("linux"):
        return
    for library in ("libX11.so.6", "libGL.so.1"):
        if not _opens(library):
            raise MissingSystemLibraryError(_lacks("a window", library))
    if not _on_display():
        msg = (
            f"a window needs a display (got DISPLAY='{os.environ.get('DISPLAY', '')}');"
            " run this on a desktop, or write a picture, which needs no display"
        )
        raise MissingSystemLibraryError(msg)


def _load_vtk() -> None:
    """Import pyvista, and with it the part of VTK that draws.

    Raises:
        MissingSystemLibraryError: A system library that VTK is linked to is missing.
        ImportError: Something else is wrong with the installation.
    """
    try:
        import pyvista.plotting  # noqa: F401 - to see whether it can be
    except ImportError as error:
        missing = re.search(r"lib[\w.+-]+\.so[.\d]*", str(error))
        if missing is None:
            raise
        raise MissingSystemLibraryError(_lacks("a picture", missing[0])) from error


def _lacks(what: str, library: str) -> str:
    """Say which library is missing and what to install."""
    package = _PACKAGES.get(library)
    remedy = (
        f"on Debian install the package {package}"
        if package
        else f"look with 'apt-file search {library}' for the Debian package that has it"
    )
    return f"{what} needs the system library {library}, which is not on this machine; {remedy}"


def _opens(library: str) -> bool:
    """Tell whether a system library can be loaded."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def _on_display() -> bool:
    """Tell whether there is an X server that answers, and a library to draw on it."""
    if not (os.environ.get("DISPLAY") and _opens("libX11.so.6") and _opens("libGL.so.1")):
        return False
    x11 = ctypes.CDLL("libX11.so.6")
    x11.XOpenDisplay.restype = ctypes.c_void_p
    x11.XCloseDisplay.argtypes = [ctypes.c_void_p]
    display = x11.XOpenDisplay(None)
    if not display:
        return False
    x11.XCloseDisplay(display)
    return True


def _egl_works() -> bool:
    """Tell whether EGL has a device that starts (EGL_EXT_device_enumeration, _platform_device)."""
    egl = ctypes.CDLL("libEGL.so.1")
    egl.eglGetProcAddress.argtypes = [ctypes.c_char_p]
    egl.eglGetProcAddress.restype = ctypes.c_void_p
    egl.eglInitialize.argtypes = [ctypes.c_void_p] * 3
    addresses = [
        egl.eglGetProcAddress(name) for name in (b"eglQueryDevicesEXT", b"eglGetPlatformDisplayEXT")
    ]
    if not all(addresses):
        return False
    number = ctypes.POINTER(ctypes.c_int)
    pointers = ctypes.POINTER(ctypes.c_void_p)
    query = ctypes.CFUNCTYPE(ctypes.c_uint, ctypes.c_int, pointers, number)(addresses[0])
    display = ctypes.CFUNCTYPE(ctypes.c_void_p, ctypes.c_uint, ctypes.c_void_p, number)(
        addresses[1]
    )
    found = ctypes.c_int(0)
    devices = (ctypes.c_void_p * _MOST_DEVICES)()
    platform_device = 0x313F
    # What starts is not stopped again: that would end what another window draws with it.
    return bool(query(_MOST_DEVICES, devices, ctypes.byref(found))) and any(
        egl.eglInitialize(display(platform_device, device, None), None, None)
        for device in devices[: found.value]
    )
