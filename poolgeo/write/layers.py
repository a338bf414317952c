"""The layers of the drawing: one table of names, looks and contents.

The two layers of edges show what is taped, filleted or rounded, each run once; the others show the
pool as it is built. In plan an edge lies on a line of those, and an internal edge can lie under an
external one (a riser's foot under its nosing). Freeze the edges to see the pool alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from .palette import EDGES, JOINT

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
class Layer:
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


SHELL = Layer("SHELL-OUTER", "Outer face of the shell", 8, weight=35)
WATER = Layer("WATERLINE", "Edge of the water", 142, "POOL-WATER", 13)
OUTLINE = Layer("POOL-OUTLINE", "Pool outline, inner face of the wall", 7, weight=50)
BREAKS = Layer("FLOOR-BREAKS", "Break line of the floor", 94, "POOL-BREAK", 25)
STEPS = Layer("STEPS", "Steps", 34, weight=35)
BENCHES = Layer("BENCHES", "Benches", 214, weight=35)
SPA = Layer("SPA", "Spa, its seats, dam wall and spillway", 190, weight=35)
OVERFLOW = Layer("OVERFLOW", "Weir, basin and channel", 74, weight=35)
RECESSES = Layer("RECESSES", "Recess in the wall at the waterline", 114, weight=35)
COVE = Layer("COVE", "Cove or fillet, both edges", 54, "POOL-DOT", 18)
EXTERNAL = Layer("EDGES-EXTERNAL", "External edge", EDGES["external"].aci, weight=35)
INTERNAL = Layer("EDGES-INTERNAL", "Internal edge", EDGES["internal"].aci, "POOL-DASH", 60)
JOINTS = Layer("MOVEMENT-JOINTS", "Movement joint", JOINT.aci, "POOL-BREAK", 70)
FITTINGS = Layer("FITTINGS", "Fittings through the shell, with their collars", 6, weight=25)
NUMBERS = Layer("RUN-NUMBERS", "Number of an edge run or a cove", 7, weight=18)
FITTING_NUMBERS = Layer("FITTING-NUMBERS", "Number of a fitting", 6, weight=18)
JOINT_NUMBERS = Layer(
    "JOINT-NUMBERS", "Number of a stretch of a movement joint", JOINT.aci, weight=18
)
DEPTHS = Layer("DEPTHS", "Depth below the water level", 7, weight=18)
LEGEND = Layer("LEGEND", "Legend", 7, weight=18)
TITLE = Layer("TITLE", "Title and notes", 7, weight=25)

LAYERS: tuple[Layer, ...] = (
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
    FITTINGS,
    NUMBERS,
    FITTING_NUMBERS,
    JOINT_NUMBERS,
    DEPTHS,
    LEGEND,
    TITLE,
)
"""Every layer, in the order in which it is drawn and stands in the legend. Edges are drawn over
the lines of the pool, internal ones last: through their gaps an external one stays in sight."""

EDGE_LAYERS = {"internal": INTERNAL, "external": EXTERNAL}
"""Sense of an edge -> its layer."""
