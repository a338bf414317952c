"""Where a file says something: for findings about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from poolgeo.errors import Finding, Key


@dataclass(frozen=True)
class Origin:
    """Where a design was written down.

    Args:
        file: Name of the pool file; empty when the design was made in Python.
        lines: Key path -> line in that file, counted from 1.
    """

    file: str = ""
    lines: Mapping[Key, int] = field(default_factory=dict)

    def place(self, finding: Finding) -> Finding:
        """Return a finding with its file and line, or the line of the nearest key around it."""
        key = finding.key
        while key and key not in self.lines:
            key = key[:-1]
        line = self.lines.get(key) if finding.line is None else finding.line
        return finding.at(self.file, line)
