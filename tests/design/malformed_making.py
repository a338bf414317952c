"""What the malformed pool files are made with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

Maker = Callable[[Path], Path]


@dataclass(frozen=True)
class Malformed:
    """A pool file that must be refused.

    Args:
        id: Short name for test reports.
        content: Bytes of the file, or a function that makes it in a folder and returns its path.
        words: What must stand in the findings, each of them.
        line: A line that one of the findings must name; None where there is none to name.
        stage: What refuses it: reading it, or building it; ``warning`` where neither does, and
            the building warns.
    """

    id: str
    content: bytes | Maker
    words: tuple[str, ...]
    line: int | None = None
    stage: Literal["file", "build", "warning"] = "file"

    def write(self, folder: Path) -> Path:
        """Make the file in a folder and return its path."""
        if not isinstance(self.content, bytes):
            return self.content(folder)
        path = folder / "pool.yaml"
        path.write_bytes(self.content)
        return path


RECTANGLE = "{shape: rectangle, length: 8000, width: 4000}"
LEVEL = "{shape: level, depth: 1500}"


def pool(
    extra: str = "",
    *,
    name: str = "Test pool",
    units: str = "mm",
    outline: str = RECTANGLE,
    floor: str = LEVEL,
) -> bytes:
    """Write a pool file: name, units, outline and floor on lines 1 to 4, the rest from line 5."""
    text = f"name: {name}\nunits: {units}\noutline: {outline}\nfloor: {floor}\n{extra}\n"
    return text.encode()


def polygon(points: str, rest: str = "") -> str:
    """Write a polygon."""
    return f"{{shape: polygon, points: {points}{rest}}}"


def case(name: str, content: bytes | Maker, line: int | None, *words: str) -> Malformed:
    """Make a case of the stage ``file``."""
    return Malformed(name, content, words, line)


def doubtful(name: str, content: bytes, *words: str) -> Malformed:
    """Make a case of the stage ``warning``."""
    return Malformed(name, content, words, stage="warning")


def unbuildable(name: str, content: bytes, *words: str) -> Malformed:
    """Make a case of the stage ``build``."""
    return Malformed(name, content, words, stage="build")
