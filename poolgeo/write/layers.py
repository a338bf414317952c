"""The layers of the drawing: one table of names, looks and contents.

The two layers of edges show what is taped, filleted or rounded, each run once; the others show the
pool as it is built. In plan an edge lies on a line of those, and an internal edge can lie under an
external one (a riser's foot under its nosing). Freeze the edges to see the pool alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from .palette import EDGES, FINISH_EDGE, FINISH_JOINT, JOINT

PATTERNS: dict[str, tuple[str, tuple[float, ...]]] = {
    "POOL-DASH": ("Dashed __ __ __", (1.6, 1.0, -0.6)),
    "POOL-DOT": ("Short dashes . . .", (0.6, 0.2, -0.4)),
    "POOL-BREAK": ("Dash dot __ . __", (3.2, 2.0, -0.5, 0.2, -0.5)),
    "POOL-WATER": ("Dash dot dot __ . . __", (3.4, 1.8, -0.4, 0.2, -0.4, 0.2, -0.4)),
}
"""Line type -> description and pattern (whole length; dash above, gap below 0) in text heights,
which the drawing's $LTSCALE turns into its units. Dots are short dashes, for programs that draw
no dots."""


@dataclass(frozen=True)
class DrawingLayer:
    """One layer of the drawing.

    Args:
        name: Its name.
        holds: What goes on it, as the legend says it.
        colour: DXF colour number (7 is black on white paper, white on a black screen).
        line_type: ``CONTINUOUS`` or a name in `PATTERNS`.
        weight: Width of the line [mm/100].
    """

    name: str
    holds: str
    colour: int
    line_type: str = "CONTINUOUS"
    weight: int = 25


SHELL = DrawingLayer("SHELL-OUTER", "Outer face of the shell", 8, weight=35)
WATER = DrawingLayer("WATERLINE", "Edge of the water", 142, "POOL-WATER", 13)
OUTLINE = DrawingLayer("POOL-OUTLINE", "Pool outline, inner face of the wall", 7, weight=50)
BREAKS = DrawingLayer("FLOOR-BREAKS", "Break line of the floor", 94, "POOL-BREAK", 25)
STEPS = DrawingLayer("STEPS", "Steps", 34, weight=35)
BENCHES = DrawingLayer("BENCHES", "Benches", 214, weight=35)
SPA = DrawingLayer("SPA", "Spa, its seats, dam wall and spillway", 190, weight=35)
OVERFLOW = DrawingLayer("OVERFLOW", "Weir, basin and channel", 74, weight=35)
RECESSES = DrawingLayer("RECESSES", "Recess in the wall at the waterline", 114, weight=35)
COVE = DrawingLayer("COVE", "Cove or fillet, both edges", 54, "POOL-DOT", 18)
EXTERNAL = DrawingLayer("EDGES-EXTERNAL", "External edge", EDGES["external"].aci, weight=35)
INTERNAL = DrawingLayer("EDGES-INTERNAL", "Internal edge", EDGES["internal"].aci, "POOL-DASH", 60)
JOINTS = DrawingLayer(
    "STRUCTURE-JOINTS", "Movement joint of the structure", JOINT.aci, "POOL-BREAK", 70
)
FINISH_JOINTS = DrawingLayer(
    "FINISH-JOINTS", "Movement joint of the finish", FINISH_JOINT.aci, "POOL-BREAK", 50
)
FINISH_EDGES = DrawingLayer(
    "FINISH-EDGE-JOINTS", "Movement joint of the finish at an edge", FINISH_EDGE.aci, weight=13
)
FITTINGS = DrawingLayer("FITTINGS", "Fittings through the shell, with their collars", 6, weight=25)
NUMBERS = DrawingLayer("RUN-NUMBERS", "Number of an edge run or a cove", 7, weight=18)
FITTING_NUMBERS = DrawingLayer("FITTING-NUMBERS", "Number of a fitting", 6, weight=18)
JOINT_NUMBERS = DrawingLayer(
    "JOINT-NUMBERS", "Number of a stretch of a joint of the structure", JOINT.aci, weight=18
)
FINISH_NUMBERS = DrawingLayer(
    "FINISH-JOINT-NUMBERS", "Number of a movement joint of the finish", FINISH_JOINT.aci, weight=18
)
SET_OUT = DrawingLayer(
    "SET-OUT", "Set-out origin, and distances of joints from it", FINISH_JOINT.aci, weight=13
)
DEPTHS = DrawingLayer("DEPTHS", "Depth below the water level", 7, weight=18)
LEGEND = DrawingLayer("LEGEND", "Legend", 7, weight=18)
TITLE = DrawingLayer("TITLE", "Title and notes", 7, weight=25)

LAYERS: tuple[DrawingLayer, ...] = (
    SHELL,
    WATER,
    OUTLINE,
    BREAKS,
    STEPS,
    BENCHES,
    SPA,
    OVERFLOW,
    RECESSES,
    COVE,
    EXTERNAL,
    INTERNAL,
    JOINTS,
    FINISH_EDGES,
    FINISH_JOINTS,
    FITTINGS,
    NUMBERS,
    FITTING_NUMBERS,
    JOINT_NUMBERS,
    FINISH_NUMBERS,
    SET_OUT,
    DEPTHS,
    LEGEND,
    TITLE,
)
"""Every layer, in the order in which it is drawn and stands in the legend. Edges are drawn over
the lines of the pool, internal ones last: through their gaps an external one stays in sight."""

EDGE_LAYERS = {"internal": INTERNAL, "external": EXTERNAL}
"""Sense of an edge -> its layer."""
