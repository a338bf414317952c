"""How deep a joint is sealed."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from .outlines import Part
from .values import Name, Positive


class SealantDepth(Part):
    r"""How deep a joint is sealed where its rule gives no depth.

    ::

        |<-width->|
         \_______/    depth = share x width, not below least, not above most
    """

    share: Annotated[float, Field(gt=0, le=2)] = Field(
        default=0.5, description="Depth of the sealant to the joint's width."
    )
    least: Positive = Field(default=0.006, description="Least depth.")
    most: Positive = Field(default=0.013, description="Largest depth.")
    source: Name = Field(
        default="sealant handbook: half the width, within 6 to 13 mm",
        description="Where that is written.",
    )

    def depth_of(self, width: float) -> float:
        """Return the depth of a joint's sealant [m] for its width [m].

        Example:
            >>> [round(SealantDepth().depth_of(width / 1000) * 1000, 1) for width in (8, 20, 40)]
            [6.0, 10.0, 13.0]
        """
        return min(max(self.share * width, self.least), self.most)
