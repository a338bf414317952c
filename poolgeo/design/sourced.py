"""What stands in a table with its source."""

from __future__ import annotations

from pydantic import Field

from .outlines import Part
from .values import Name


class Sourced(Part):
    """Something that is written elsewhere."""

    source: Name = Field(description="Where that is written.")
    from_memory: bool = Field(
        default=False, description="Whether it was written down from memory, not from the source."
    )

    @property
    def cited(self) -> str:
        """Its source, and that it was not looked up where it was not."""
        return f"{self.source} (from memory)" if self.from_memory else self.source
