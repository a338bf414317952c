"""Swimming pool and spa geometry: from a pool file to a labelled solid and what is measured on it.

The stages, in the order in which a pool goes through them::

    load        pool file  -> Design    checked parameters, metres
    build       Design     -> Model     labelled surface, water and shell as closed solids
    measure     Model      -> Takeoff   areas, edge runs, coves, volumes
    waterproof  both      -> Works     details, materials, cutting plans, bill, review
    finish      both      -> Finishing movement joints, tiles, grout, coping
    write       Model      -> a file    GLB, STL, PLY or OBJ

Names load when they are first used, so ``import poolgeo`` costs nothing.
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .builder import build
    from .design.load import Design, load
    from .errors import (
        Finding,
        MissingSystemLibraryError,
        OutputError,
        PoolFileError,
        PoolgeoError,
    )
    from .finishing.finish import Finishing, finish
    from .measure.takeoff import measure
    from .model import Model
    from .quantities import Takeoff
    from .works import Works, waterproof
    from .write.meshfile import write_mesh as write

    __version__: str

__all__ = [
    "Design",
    "Finding",
    "Finishing",
    "MissingSystemLibraryError",
    "Model",
    "OutputError",
    "PoolFileError",
    "PoolgeoError",
    "Takeoff",
    "Works",
    "__version__",
    "build",
    "finish",
    "load",
    "measure",
    "waterproof",
    "write",
]

_HOMES = {
    "Design": ("design.load", "Design"),
    "Finding": ("errors", "Finding"),
    "Finishing": ("finishing.finish", "Finishing"),
    "MissingSystemLibraryError": ("errors", "MissingSystemLibraryError"),
    "Model": ("model", "Model"),
    "OutputError": ("errors", "OutputError"),
    "PoolFileError": ("errors", "PoolFileError"),
    "PoolgeoError": ("errors", "PoolgeoError"),
    "Takeoff": ("quantities", "Takeoff"),
    "Works": ("works", "Works"),
    "build": ("builder", "build"),
    "finish": ("finishing.finish", "finish"),
    "load": ("design.load", "load"),
    "measure": ("measure.takeoff", "measure"),
    "waterproof": ("works", "waterproof"),
    "write": ("write.meshfile", "write_mesh"),
}
"""Public name -> the module below ``poolgeo`` that holds it, and its name there."""


def __getattr__(name: str) -> Any:
    """Return a public name from its own module (PEP 562)."""
    if name == "__version__":
        from importlib.metadata import version

        return version("poolgeo")
    if name not in _HOMES:
        msg = f"module 'poolgeo' has no attribute {name!r}"
        raise AttributeError(msg)
    home, name_there = _HOMES[name]
    return getattr(import_module(f".{home}", __name__), name_there)


def __dir__() -> list[str]:
    """List the public names, loaded or not."""
    return sorted(__all__)


class _Package(ModuleType):
    """A module that keeps ``poolgeo.measure`` and ``poolgeo.write`` the functions.

    Loading the stage folder of the same name would bind it here, so that what ``poolgeo.measure``
    means would depend on what was imported before. ``from poolgeo.measure.x import y`` works.
    """

    def __setattr__(self, name: str, value: Any) -> None:
        """Bind a name, but for a stage folder that is called as a public function is."""
        if not (name in _HOMES and isinstance(value, ModuleType)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package
