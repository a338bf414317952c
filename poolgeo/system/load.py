"""Load a system: one that comes with the package by its name, or a file of the user's own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from ..design.origin import Origin
from ..design.tables import read_table
from ..errors import Finding, PoolFileError
from .refer import check_references
from .schema import System


@dataclass(frozen=True)
class Source:
    """A checked file with its place, for findings about it.

    Args:
        system: What it holds.
        origin: Where it says so.
    """

    system: System
    origin: Origin

    def placed(self, found: Iterable[Finding]) -> list[Finding]:
        """Give findings their file and line, in the order of the file."""
        return sorted(map(self.origin.place, found), key=lambda item: item.line or 0)


def load_system(name: str, folder: Path = Path()) -> Source:
    """Load a system.

    Args:
        name: Of a system of the package, or a path that ends in ``.yaml`` or ``.yml``.
        folder: That a relative path starts from.

    Returns:
        The system and where it is written.

    Raises:
        PoolFileError: With everything that is wrong with it, in the order of its lines.

    Example:
        >>> load_system("cementitious-slurry").system.layers[0].name
        'repair'
    """
    system, origin = read_table(name, folder, "systems", System, ("waterproofing", "system"))
    source = Source(system, origin)
    found = check_references(system)
    if found:
        raise PoolFileError(source.placed(found))
    return source
