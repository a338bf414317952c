"""What drawings hold: each content has a layer of its own, which a table names.

The two contents of edges show what is taped, filleted or rounded, each run once; the others show
the pool as it is built. In plan an edge lies on a line of those, and an internal edge can lie under
an external one (a riser's foot under its nosing). Freeze the edges to see the pool alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..design.layer_table import ContentKey


@dataclass(frozen=True)
class Content:
    """Something that a drawing holds.

    Args:
        key: Its name in a table of layers.
        holds: As the legend says it.
    """

    key: ContentKey
    holds: str


SHELL = Content("outer face", "Outer face of the shell")
WATER = Content("waterline", "Edge of the water")
OUTLINE = Content("outline", "Pool outline, inner face of the wall")
BREAKS = Content("floor breaks", "Break line of the floor")
STEPS = Content("steps", "Steps")
BENCHES = Content("benches", "Benches")
SPA = Content("spa", "Spa, its seats, dam wall and spillway")
OVERFLOW = Content("overflow", "Weir, basin and channel")
RECESSES = Content("recesses", "Recess in the wall at the waterline")
COVE = Content("coves", "Cove or fillet, both edges")
EXTERNAL = Content("external edges", "External edge")
INTERNAL = Content("internal edges", "Internal edge")
JOINTS = Content("structure joints", "Movement joint of the structure")
FINISH_EDGES = Content("finish edge joints", "Movement joint of the finish at an edge")
FINISH_JOINTS = Content("finish joints", "Movement joint of the finish")
FITTINGS = Content("fittings", "Fittings through the shell, with their collars")
NUMBERS = Content("run numbers", "Number of an edge run or a cove")
FITTING_NUMBERS = Content("fitting numbers", "Number of a fitting")
JOINT_NUMBERS = Content("structure joint numbers", "Number of a stretch of a structure's joint")
FINISH_NUMBERS = Content("finish joint numbers", "Number of a movement joint of the finish")
SET_OUT = Content("set-out", "Set-out origin, and distances of joints from it")
DEPTHS = Content("depths", "Depth below the water level; + above it")
LEGEND = Content("legend", "Legend")
TITLE = Content("title", "Title and notes")
HIDDEN = Content("hidden lines", "Edges under something that stands over them")
OVERHEAD = Content("overhead lines", "Edges above the water level")
CUT_LINES = Content("cut lines", "Where a section is cut, and which way it is seen")
CONCRETE = Content("cut concrete", "Concrete that a section cuts")
HATCH = Content("concrete hatch", "Hatching of concrete that a section cuts")
WATER_LEVEL = Content("water level", "Water level in a section or on a wall")
BEYOND = Content("beyond", "Edges seen beyond a section")
WALL_LINES = Content("wall lines", "Where a developed wall ends, or meets something")
BUILD_UP = Content("build-up", "Layers of the build-up, thicker than they are")
DIMENSIONS = Content("dimensions", "Dimensions")
SLOPES = Content("slopes", "Slope of the floor; the arrow points down")
RADII = Content("radii", "Radius of a curve of the outline")
AREAS = Content("areas", "Area of a surface")
NOTES = Content("notes", "Names and notes of views")
TABLES = Content("tables", "Schedules")
NORTH = Content("north", "North, and scale bar")
FRAME = Content("sheet frame", "Frame of the sheet")
TITLE_BLOCK = Content("title block", "Title block and revisions")
VIEWPORTS = Content("viewports", "Borders of viewports; not printed")
WHOLE = Content(
    "whole outlines", "Outlines of pool and islands, whole, to be read back; not printed"
)

CONTENTS: tuple[Content, ...] = (
    SHELL, WATER, OUTLINE, BREAKS, STEPS, BENCHES, SPA, OVERFLOW, RECESSES, COVE, EXTERNAL,
    INTERNAL, JOINTS, FINISH_EDGES, FINISH_JOINTS, FITTINGS, NUMBERS, FITTING_NUMBERS,
    JOINT_NUMBERS, FINISH_NUMBERS, SET_OUT, DEPTHS, LEGEND, TITLE, HIDDEN, OVERHEAD, CUT_LINES,
    CONCRETE, HATCH, WATER_LEVEL, BEYOND, WALL_LINES, BUILD_UP, DIMENSIONS, SLOPES, RADII,
    AREAS, NOTES, TABLES, NORTH, FRAME, TITLE_BLOCK, VIEWPORTS, WHOLE,
)  # fmt: skip
"""All, in the order in which they are drawn and stand in the legend. Edges are drawn over the lines
of the pool, internal ones last: through their gaps an external one stays in sight."""

UNPRINTED = {VIEWPORTS, WHOLE}
"""Contents that stand on no print."""

EDGE_CONTENTS = {"internal": INTERNAL, "external": EXTERNAL}
"""Sense of an edge -> its content."""
