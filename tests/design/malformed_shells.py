"""Shells, walls and recesses that the schema refuses, or that cannot be built."""

from __future__ import annotations

from .malformed_making import case, doubtful, polygon, pool, unbuildable

ANGLE = polygon("[[0, 0], [7000, 0], [7000, 3000], [3500, 3000], [3500, 6000], [0, 6000]]")
NARROW = polygon(
    "[[0, 0], [7000, 0], [7000, 4000], [4000, 4000], [4000, 2000], [3700, 2000], [3700, 4000],"
    " [0, 4000]]"
)
STRETCH = "start: [-1000, -2000], end: [1000, -2000]"

SHELLS = (
    case(
        "unknown setting",
        pool("setting: buried"),
        5,
        "'setting' must be one of in ground, suspended",
        "'buried'",
    ),
    case(
        "a stretch of wall that is like the others",
        pool(f"walls: [{{{STRETCH}}}]"),
        5,
        "'walls[0].thickness' must be given, or 'height'",
        "what is different",
    ),
    case(
        "wall below the water",
        pool(f"walls: [{{{STRETCH}, height: -100}}]"),
        5,
        "'walls[0].height' must be above 0",
    ),
    case(
        "half a stretch of recess",
        pool("recess: [{start: [0, 0], width: 50, depth: 200}]"),
        5,
        "'recess[0].end' must be given beside 'start'",
    ),
    case("beam without depth", pool("shell: {beam: {width: 400}}"), 5, "'shell.beam.depth' must"),
    unbuildable(
        "stretch of wall too short",
        pool("walls: [{start: 1000, end: 1030, height: 600}]"),
        "walls[0].end",
        "must lie at least 0.050 m from 'start'",
        "0.030 m",
    ),
    unbuildable(
        "stretches of wall that overlap",
        pool(
            "walls: [{start: 1000, end: 3000, height: 600}, {start: 2900, end: 4000, height: 700}]"
        ),
        "walls[1]",
        "must not overlap 'walls[0]'",
        "from 2.900 m to 4.000 m",
    ),
    unbuildable(
        "stretch of wall beside one that goes all round",
        pool("walls: [{height: 300}, {start: 2000, end: 4000, height: 700}]"),
        "walls[1]",
        "must not overlap 'walls[0]'",
    ),
    unbuildable(
        "wall lower than the cove",
        pool(
            f"cove: {{radius: 1100}}\nwalls: [{{{STRETCH}, height: 50}}]",
            floor="{shape: level, depth: 1020}",
        ),
        "walls[0].height",
        "must leave the cove wall to touch below it",
        "use a smaller cove",
    ),
    unbuildable(
        "recess as wide as the wall",
        pool("recess: [{width: 250, depth: 200}]"),
        "recess[0].width",
        "must leave wall behind",
        "the wall is 0.250 m thick",
    ),
    unbuildable(
        "recess that cuts the neck of a spit of land through",
        pool(
            "recess: [{width: 98, depth: 200}]",
            outline="{shape: polygon, points: [[0, 0], [8000, 0], [8000, 5000], [4700, 5000], "
            "[4700, 4000], [4100, 4000], [4100, 2400], [4400, 2400], [4400, 2000], [3600, 2000], "
            "[3600, 2400], [3900, 2400], [3900, 4000], [3300, 4000], [3300, 5000], [0, 5000]]}",
        ),
        "recess[0].width",
        "must leave wall behind",
        "0.098 m; near (3.949, 3.",
    ),
    unbuildable(
        "recess through a thin wall between two arms of the pool",
        pool(
            "recess: [{width: 60, depth: 200}]",
            outline="{shape: polygon, points: [[0, 0], [8000, 0], [8000, 5000], [4100, 5000], "
            "[4100, 2000], [4000, 2000], [4000, 5000], [0, 5000]]}",
        ),
        "recess[0].width",
        "must leave wall behind",
        "0.060 m; near (4.050, 3.",
    ),
    unbuildable(
        "recess on one side of a thin wall between two arms of the pool",
        pool(
            "recess: [{width: 60, depth: 200, start: [4100, 4500], end: [4100, 2500]}]",
            outline="{shape: polygon, points: [[0, 0], [8000, 0], [8000, 5000], [4100, 5000], "
            "[4100, 2000], [4000, 2000], [4000, 5000], [0, 5000]]}",
        ),
        "recess[0].width",
        "must be at most half as wide as the land behind",
        "0.060 m; near (4.050, ",
    ),
    unbuildable(
        "recess under the floor",
        pool("recess: [{width: 50, depth: 1600}]"),
        "recess[0].depth",
        "depth of the floor beside",
        "1.500 m deep",
    ),
    unbuildable(
        "recess in the cove",
        pool("cove: {radius: 200}\nrecess: [{width: 50, depth: 1400}]"),
        "recess[0].depth",
        "must leave the cove wall to touch below it",
        "1.300 m below the water",
    ),
    unbuildable(
        "beam narrower than the wall",
        pool("shell: {wall: 300, beam: {width: 250, depth: 300}}"),
        "shell.beam.width",
        "must be more than the thickness of the wall",
    ),
    unbuildable(
        "beam deeper than the shell",
        pool("shell: {beam: {width: 400, depth: 3000}}"),
        "shell.beam.depth",
        "some wall below the bond beam",
    ),
    unbuildable(
        "footing swallows the wall",
        pool("shell: {footing: {projection: 300, thickness: 2500}}"),
        "shell.footing.thickness",
        "below the wall's top",
    ),
    unbuildable(
        "footing up to the bond beam",
        pool(
            "shell: {footing: {projection: 300, thickness: 900}, beam: {width: 400, depth: 1000}}"
        ),
        "shell.footing.thickness",
        "below the bond beam",
    ),
    unbuildable(
        "thickened edges that meet",
        pool("shell: {thickened_edge: {width: 2000, depth: 300, splay: 300}}"),
        "shell.thickened_edge.width",
        "between the edges of opposite walls",
    ),
    doubtful(
        "tread above a recess",
        pool(
            "recess: [{width: 60, depth: 300}]\n"
            "steps: [{shape: side, at: [0, -2000], width: 1000, going: 300, risers: 8}]"
        ),
        "recess[0]",
        "'steps 1 tread 1' stands higher",
    ),
    doubtful("shell in the ground", pool("setting: in ground"), "setting", "can float"),
    doubtful(
        "blinding without ground under it",
        pool("shell: {blinding: 150}\nsetting: suspended"),
        "'shell.blinding' counts for nothing: only a shell in the ground has blinding",
        "(got setting suspended); give 'setting: in ground'",
    ),
)
