"""Drawings, as the pool file asks for them: views, sheets, and what the title block says."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from poolgeo.errors import BadValueError

from .joints import APART
from .outlines import Part
from .values import Degrees, Form, Name, Point, WhenLeftOut

SheetSize = Literal["A4", "A3", "A2", "A1", "ANSI A", "ANSI B", "ANSI C", "ANSI D"]
"""Sizes of sheets. Sources: ISO 216; ANSI/ASME Y14.1 (from memory)."""

Text = Annotated[
    str,
    Field(min_length=1, max_length=80, pattern=r"^[^\x00-\x1f\x7f]*$"),
    Form("text of 1 to 80 characters on one line"),
]
"""What a field of the title block says."""

Mark = Annotated[
    str, Field(min_length=1, max_length=4), Form("text of 1 to 4 characters, such as A or 1")
]


SectionName = Annotated[
    str,
    Field(min_length=1, max_length=20, pattern=r"^[^\x00-\x1f\x7f]*$"),
    Form("text of 1 to 20 characters on one line, such as A"),
]
"""Stands at both ends of a line on the plan, and in the title of a view."""


class CutLine(Part):
    """A line in plan along which a section is cut; it is seen from its right."""

    name: SectionName = Field(description="Of the section, such as A.")
    start: Point = Field(description="Where it starts: left on the drawing.")
    end: Point = Field(description="Where it ends: right on the drawing.")

    @model_validator(mode="after")
    def _apart(self) -> Self:
        if max(abs(a - b) for a, b in zip(self.start, self.end, strict=True)) < APART:
            rule = "must have an 'end' that differs from its 'start'"
            raise BadValueError(rule, remedy="write the other end of the line")
        return self


class Revision(Part):
    """A row of the table of revisions."""

    mark: Mark = Field(description="Such as A or 1.")
    date: Text = Field(description="As it is to be read.")
    what: Text = Field(description="What was changed.")
    by: Annotated[Text | None, WhenLeftOut("left open")] = Field(default=None, description="Who.")


class Drawings(Part):
    """How the pool is drawn."""

    sheet: Annotated[SheetSize | None, WhenLeftOut("the smallest that holds the plan")] = Field(
        default=None, description="Size of the sheets."
    )
    layers: Name = Field(
        default="trade-words",
        description="Table of layers: the name of one, or a file that ends in .yaml.",
    )
    sections: Annotated[
        tuple[CutLine, ...] | None,
        Field(max_length=20),
        WhenLeftOut("A along the pool and B across it, through its deepest place"),
    ] = Field(default=None, description="Where sections are cut.")
    north: Annotated[Degrees | None, WhenLeftOut("none is drawn")] = Field(
        default=None, description="Direction of north, from x."
    )
    exaggeration: Annotated[float, Field(ge=1, le=50)] = Field(
        default=10.0, description="How many times thicker than they are layers stand in details."
    )
    project: Annotated[Text | None, WhenLeftOut("left open")] = Field(
        default=None, description="Project, for the title block."
    )
    client: Annotated[Text | None, WhenLeftOut("left open")] = Field(
        default=None, description="Client, for the title block."
    )
    number: Annotated[Text | None, WhenLeftOut("left open")] = Field(
        default=None, description="Number of the drawing; sheets add theirs."
    )
    drawn_by: Annotated[Text | None, WhenLeftOut("left open")] = Field(
        default=None, description="Who drew it."
    )
    checked_by: Annotated[Text | None, WhenLeftOut("left open")] = Field(
        default=None, description="Who checked it."
    )
    date: Annotated[Text | None, WhenLeftOut("left open")] = Field(
        default=None, description="Date of the drawing, as it is to be read."
    )
    status: Annotated[Text | None, WhenLeftOut("left open")] = Field(
        default=None, description="What it may be used for, such as for construction."
    )
    revisions: Annotated[tuple[Revision, ...], Field(max_length=20)] = Field(
        default=(), description="Table of revisions, the first one first."
    )

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        names = [item.name for item in self.sections or ()]
        alike = [name.casefold() for name in names]
        twice = [name for name in dict.fromkeys(names) if alike.count(name.casefold()) > 1]
        if twice:
            rule = "must have names that differ by more than capitals"
            came = f"{', '.join(twice)} twice" if len(twice) == 1 else ", ".join(twice)
            raise BadValueError(rule, came, "give each section its own")
        return self
