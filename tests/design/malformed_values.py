"""Pool files that are sound YAML, with keys or values that the schema refuses."""

from __future__ import annotations

from .malformed_making import case, polygon, pool

KEYS = (
    case(
        "empty mapping",
        b"{}\n",
        1,
        "'name' must be given",
        "'units' must",
        "'outline' must",
        "'floor' must",
    ),
    case(
        "no units", pool().replace(b"units: mm", b""), 1, "'units' must be given", "mm, m, ft, in"
    ),
    case("unknown units", pool(units="yd"), 2, "'units' must be one of mm, m, ft, in", "'yd'"),
    case("units in a list", pool(units="[mm]"), 2, "'units' must be one of", "['mm']"),
    case("name is a number", pool(name="2024"), 1, "'name' must be text", "got 2024", "quotes"),
    case("name is empty", pool(name="''"), 1, "'name' must be text of 1 to 100 characters"),
    case("name is nothing", pool(name=""), 1, "'name' must be text", "got nothing"),
    case("name of two lines", pool(name='"a\\nb"'), 1, "on one line", r"'a\nb'"),
    case("endless name", pool(name="x" * 9000), 1, "'name' must be text", "xxx..."),
    case("misspelt key", pool("tolerence: 1"), 5, "'tolerence' must be a key", "'tolerance'?"),
    case(
        "unknown key",
        pool("colour: blue"),
        5,
        "'colour' must be a key",
        "keys allowed here: name, units",
    ),
    case(
        "misspelt inner key",
        pool(outline="{shape: circle, raduis: 9}"),
        3,
        "outline.raduis",
        "did you mean 'radius'?",
        "'outline.radius' must be given",
    ),
    case("capitals", pool("COVE: {radius: 50}"), 5, "'COVE' must be a key", "did you mean 'cove'?"),
    case("control character in a key", pool('"\\e[31m": 1'), 5, r"'['\x1b[31m']' must be a key"),
    case(
        "no shape",
        pool(outline="{length: 8000, width: 4000}"),
        3,
        "'outline.shape' must be given",
        "polygon, rectangle",
    ),
    case(
        "unknown shape",
        pool(outline="{shape: oval}"),
        3,
        "'outline.shape' must be one of polygon",
        "got 'oval'",
    ),
    case("misspelt shape", pool(outline="{shape: elipse}"), 3, "did you mean 'ellipse'?"),
    case(
        "shape is a list",
        pool(outline="{shape: [circle]}"),
        3,
        "'outline.shape' must be one of",
        "got ['circle']",
    ),
    case("shape is nothing", pool(outline="{shape: }"), 3, "'outline.shape' must"),
    case(
        "outline is text",
        pool(outline="circle"),
        3,
        "'outline' must be a mapping with a 'shape'",
        "got 'circle'",
    ),
    case("outline is nothing", pool(outline=""), 3, "'outline' must be a mapping", "got nothing"),
    case(
        "floor is a number",
        pool(floor="1500"),
        4,
        "'floor' must be a mapping",
        "level, plane, breaks",
    ),
    case(
        "cove is a number",
        pool("cove: 50"),
        5,
        "'cove' must be a mapping with the keys form, radius, deepens, stretches, corners, also_at",
    ),
    case(
        "bench is a mapping", pool("bench: {width: 400, depth: 400}"), 5, "'bench' must be a list"
    ),
    case("steps are nothing", pool("steps:"), 5, "'steps' must be a list", "got nothing"),
    case(
        "spas are a mapping", pool("spas: {depth: 900}"), 5, "'spas' must be a list, each entry a"
    ),
    case(
        "foot unknown",
        pool("cove: {radius: 50, also_at: [riser]}"),
        5,
        "'cove.also_at[0]' must be one of risers, bench faces, dam walls",
        "did you mean 'risers'?",
    ),
)

SIDE = "shape: side, at: [0, -2000], width: 1500, going: 300"

PARTS = (
    case(
        "two points",
        pool(outline=polygon("[[0, 0], [1, 1]]")),
        3,
        "'outline.points' must have at least 3 entries",
        "got 2",
    ),
    case(
        "no points", pool(outline=polygon("[]")), 3, "'outline.points' must have at least 3 entries"
    ),
    case(
        "too many points",
        pool(outline=polygon(f"[{'[0, 0],' * 10_001}]")),
        3,
        "'outline.points' must have at most 10000 entries",
        "got 10001",
    ),
    case(
        "point of one",
        pool(outline=polygon("[[0, 0], [9000], [9000, 9000]]")),
        3,
        "'outline.points[1]' must be a point [x, y]",
        "got [9000]",
    ),
    case(
        "point of three",
        pool(outline=polygon("[[0, 0], [9000, 0, 0], [9000, 9000]]")),
        3,
        "'outline.points[1]' must be a point [x, y]",
    ),
    case(
        "point of none",
        pool(outline=polygon("[[0, 0], [], [9000, 9000]]")),
        3,
        "'outline.points[1]' must be a point [x, y]",
    ),
    case(
        "point by name",
        pool(outline=polygon("[[0, 0], {x: 1, y: 2}, [9000, 9000]]")),
        3,
        "'outline.points[1]' must be a point [x, y]",
        "a mapping of x, y",
    ),
    case(
        "coordinate in words",
        pool(outline=polygon("[[0, 0], [9000, up], [9000, 9000]]")),
        3,
        "'outline.points[1][1]' must be a length",
        "got 'up'",
    ),
    case(
        "coordinate without end",
        pool(outline=polygon("[[0, 0], [.inf, 0], [9000, 9000]]")),
        3,
        "'outline.points[1][0]' must be finite",
    ),
    case(
        "coordinate on the moon",
        pool(outline=polygon("[[0, 0], [1e12, 0], [9000, 9000]]")),
        3,
        "'outline.points[1][0]' must be at most 10000000 m",
    ),
    case(
        "bulge in words",
        pool(outline="{shape: polyline, points: [[0, 0, round], [4000, 0, 1]]}"),
        3,
        "'outline.points[0][2]' must be a bulge",
        "got 'round'",
    ),
    case(
        "bulge without end",
        pool(outline="{shape: polyline, points: [[0, 0, 1e9], [4000, 0, 1]]}"),
        3,
        "'outline.points[0][2]' must be a bulge",
    ),
    case(
        "bend of four",
        pool(outline="{shape: polyline, points: [[0, 0, 1, 1], [4000, 0, 1]]}"),
        3,
        "'outline.points[0]' must be a point [x, y] or [x, y, bulge]",
    ),
    case(
        "radii for other points",
        pool(outline=polygon("[[0, 0], [9000, 0], [9000, 9000]]", ", corner_radius: [1, 2]")),
        3,
        "'outline.corner_radius' must hold one radius for each of the 3 points",
        "got 2 radii",
    ),
    case(
        "radius below 0",
        pool(outline=polygon("[[0, 0], [9000, 0], [9000, 9000]]", ", corner_radius: [1, 2, -3]")),
        3,
        "'outline.corner_radius[2]' must not be below 0",
    ),
    case(
        "one break",
        pool(floor="{shape: breaks, breaks: [{at: 0, depth: 1000}]}"),
        4,
        "'floor.breaks' must have at least 2 entries",
    ),
    case(
        "breaks out of order",
        pool(floor="{shape: breaks, breaks: [{at: 9, depth: 1000}, {at: 0, depth: 1500}]}"),
        4,
        "'floor.breaks' must stand in rising order of 'at'",
    ),
    case(
        "breaks in one place",
        pool(floor="{shape: breaks, breaks: [{at: 9, depth: 1000}, {at: 9, depth: 1500}]}"),
        4,
        "no two at the same place",
    ),
    case(
        "neither risers nor rise",
        pool(f"steps:\n- {{{SIDE}}}"),
        6,
        "'steps[0].rise' must be given, or 'risers' in its place",
    ),
    case(
        "risers and rise",
        pool(f"steps:\n- {{{SIDE}, risers: 3, rise: 200}}"),
        6,
        "'steps[0].rise' must not be given beside 'risers'",
    ),
    case(
        "half a riser",
        pool(f"steps:\n- {{{SIDE}, risers: 3.5}}"),
        6,
        "'steps[0].risers' must be a whole number from 1 to 100",
        "got 3.5",
    ),
    case(
        "no riser",
        pool(f"steps:\n- {{{SIDE}, risers: 0}}"),
        6,
        "'steps[0].risers' must be a whole number",
    ),
    case(
        "a thousand risers",
        pool(f"steps:\n- {{{SIDE}, risers: 1000}}"),
        6,
        "'steps[0].risers' must be a whole number",
    ),
    case(
        "two flights wrong",
        pool("steps:\n- {shape: stairs}\n- {shape: end, going: 0, risers: 3}"),
        7,
        "'steps[0].shape' must be one of side, end, following",
        "'steps[1].going' must be above 0",
        "'steps[1].direction' must be given",
    ),
    case(
        "station in words",
        pool("steps:\n- {shape: side, at: left, width: 900, going: 300, risers: 3}"),
        6,
        "'steps[0].at' must be a point [x, y], or a length along the outline",
    ),
    case(
        "station of one",
        pool("bench:\n- {width: 400, depth: 400, start: [1], end: 3 m}"),
        6,
        "'bench[0].start' must be a point [x, y], or a length along the outline",
        "got [1]",
    ),
    case(
        "station before the start",
        pool("bench:\n- {width: 400, depth: 400, start: -1, end: 3 m}"),
        6,
        "'bench[0].start' must not be below 0",
    ),
    case(
        "start without end",
        pool("bench:\n- {width: 400, depth: 400, start: 0}"),
        6,
        "'bench[0].end' must be given beside 'start'",
    ),
    case(
        "end without start",
        pool("bench:\n- {width: 400, depth: 400, end: 0}"),
        6,
        "'bench[0].end' must not be given without 'start'",
    ),
    case(
        "start and end the same",
        pool("bench:\n- {width: 400, depth: 400, start: 3000, end: 3 m}"),
        6,
        "'bench[0].end' must differ from 'start'",
    ),
    case(
        "bench without depth",
        pool("bench:\n- width: 400\n- depth: 400"),
        7,
        "'bench[0].depth' must be given",
        "water depth over the bench",
        "'bench[1].width' must be given",
    ),
    case(
        "spa without depth",
        pool("spas: [{outline: {shape: circle, radius: 900}}]"),
        5,
        "'spas[0].depth' must be given",
    ),
    case(
        "spa below its pool",
        pool("spas: [{outline: {shape: circle, radius: 900}, depth: 900, raised: -5}]"),
        5,
        "'spas[0].raised' must not be below 0",
        "got -5 mm",
    ),
)
