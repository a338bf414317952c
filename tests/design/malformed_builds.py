"""Pool files that are well-formed, and describe what cannot be built."""

from __future__ import annotations

from .malformed_making import doubtful, polygon, pool, unbuildable

HUMP = (
    "{shape: spots, spots: [{at: [-4000, -2000], depth: 1500}, {at: [4000, -2000], depth: 1500},"
    " {at: [4000, 2000], depth: 1500}, {at: [-4000, 2000], depth: 1500}, {at: [0, 0], depth: %d}]}"
)
BASIN = "basin: {width: 800, drop: 400, depth: 600"

OUTLINES = (
    unbuildable(
        "bow tie",
        pool(outline=polygon("[[0, 0], [8000, 4000], [8000, 0], [0, 4000]]")),
        "outline",
        "cross",
    ),
    unbuildable(
        "point listed twice",
        pool(outline=polygon("[[0, 0], [8000, 0], [8000, 0], [8000, 4000], [0, 4000]]")),
        "outline.points[1]",
        "twice",
    ),
    unbuildable(
        "first point again at the end",
        pool(outline=polygon("[[0, 0], [8000, 0], [8000, 4000], [0, 0]]")),
        "outline.points[3]",
        "twice",
    ),
    unbuildable(
        "nothing enclosed",
        pool(outline=polygon("[[0, 0], [4000, 0], [8000, 0]]")),
        "outline",
    ),
    unbuildable(
        "side that runs back",
        pool(outline=polygon("[[0, 0], [8000, 0], [8000, 4000], [8000, 0], [0, 4000]]")),
        "outline",
    ),
    unbuildable(
        "arcs that cross",
        pool(
            outline="{shape: polyline, points: [[0, 0], [4000, 0, 4], [4400, 0, 4], [8000, 0],"
            " [8000, 4000], [0, 4000]]}"
        ),
        "outline",
        "cross",
    ),
    unbuildable(
        "spline that crosses itself",
        pool(outline="{shape: spline, points: [[0, 0], [8000, 4000], [8000, 0], [0, 4000]]}"),
        "outline",
        "cross",
    ),
    unbuildable(
        "corners rounder than the rectangle",
        pool(outline="{shape: rectangle, length: 8000, width: 4000, corner_radius: 2100}"),
        "outline.corner_radius",
        "fit",
    ),
    unbuildable(
        "one corner rounder than its sides",
        pool(outline=polygon("[[0, 0], [8000, 0], [8000, 500]]", ", corner_radius: [0, 0, 700]")),
        "outline.corner_radius",
        "fit",
    ),
)

FLOORS = (
    unbuildable(
        "hump higher than the walls",
        pool(floor=HUMP % -600),
        "'floor' must lie below the wall's top",
        "0.600 m above the water at (0.000, 0.000) m; the wall top is at 0.150 m",
    ),
    unbuildable(
        "floor above the water",
        pool(floor="{shape: plane, depth: 300, at: [0, 0], fall: 1:5}"),
        "floor",
    ),
    unbuildable("cove higher than the wall", pool("cove: {radius: 1700}"), "cove"),
    unbuildable(
        "cove wider than the pool",
        pool("cove: {radius: 1000}", outline="{shape: rectangle, length: 8000, width: 1500}"),
        "cove",
    ),
    unbuildable(
        "cove rounder than the corner",
        pool(
            "cove: {radius: 500}",
            outline="{shape: rectangle, length: 8000, width: 4000, corner_radius: 300}",
        ),
        "cove",
    ),
)

FITTINGS = (
    unbuildable(
        "bench wider than the pool", pool("bench: [{width: 2500, depth: 400}]"), "bench[0]"
    ),
    unbuildable("bench below the floor", pool("bench: [{width: 400, depth: 1800}]"), "bench[0]"),
    unbuildable(
        "bench of no length",
        pool("bench: [{width: 400, depth: 400, start: [0, -2000], end: [0, -2500]}]"),
        "bench[0]",
    ),
    unbuildable(
        "station beyond the outline",
        pool("bench: [{width: 400, depth: 400, start: 3000, end: 90 m}]"),
        "bench[0].end",
    ),
    unbuildable(
        "end steps longer than the pool",
        pool("steps: [{shape: end, direction: 0, going: 1800, risers: 5}]"),
        "steps[0]",
    ),
    unbuildable(
        "steps all round, with no floor left",
        pool("steps: [{shape: following, going: 700, risers: 4}]"),
        "steps[0]",
    ),
    unbuildable(
        "top tread below the floor",
        pool("steps: [{shape: end, direction: 0, going: 300, risers: 3, top_tread: 1600}]"),
        "steps[0]",
    ),
    unbuildable(
        "rise higher than the pool is deep",
        pool("steps: [{shape: end, direction: 0, going: 300, rise: 1600}]"),
        "steps[0]",
    ),
)

ROUND = "outline: {shape: circle, radius: 900, centre: [%s, %s]}, depth: 900"
INSIDE = ROUND % (2000, 0)

SPAS = (
    unbuildable(
        "risers in a spa",
        pool(f"spas: [{{{INSIDE}, cove: {{radius: 50, also_at: [bench faces, risers]}}}}]"),
        "'spas[0].cove.also_at[1]' must name what stands in the spa: only 'bench faces'",
    ),
    unbuildable(
        "stretch counted along a basin",
        pool(
            "overflows: [{start: [-1000, -2000], end: [1000, -2000], crest: 0, "
            f"{BASIN}, cove: {{radius: 50, stretches: [{{start: 500, end: [0, -2900],"
            " radius: 0}]}}}]"
        ),
        "'overflows[0].basin.cove.stretches[0].start' must be a plan point",
        "got 0.500 m",
    ),
    unbuildable(
        "bench in a basin",
        pool(
            "overflows: [{start: [-1000, -2000], end: [1000, -2000], crest: 0, "
            f"{BASIN}, cove: {{radius: 50, also_at: [bench faces]}}}}}}]"
        ),
        "'overflows[0].basin.cove.also_at[0]' must name what stands in the basin: nothing does",
    ),
    unbuildable(
        "spa that touches only the wall", pool(f"spas: [{{{ROUND % (0, 2900)}}}]"), "spas[0]"
    ),
    unbuildable(
        "spa larger than the pool",
        pool("spas: [{outline: {shape: circle, radius: 9000}, depth: 900}]"),
        "spas[0]",
    ),
    unbuildable(
        "spa that crosses itself",
        pool(
            "spas: [{depth: 900, outline: "
            + polygon("[[0, 0], [900, 900], [900, 0], [0, 900]]")
            + "}]"
        ),
        "spas[0].outline",
        "cross",
    ),
    unbuildable(
        "spillway of a free-standing spa",
        pool(f"spas: [{{{ROUND % (0, 9000)}, spillways: [{{at: [0, 8100], width: 300}}]}}]"),
        "spas[0].spillways[0]",
    ),
    unbuildable(
        "spillway away from the dam wall",
        pool(f"spas: [{{{ROUND % (0, 2000)}, spillways: [{{at: [0, 2900], width: 300}}]}}]"),
        "spas[0].spillways[0]",
    ),
    unbuildable(
        "spillway below the spa floor",
        pool(f"spas: [{{{INSIDE}, spillways: [{{at: [1100, 0], width: 300, drop: 950}}]}}]"),
        "spas[0].spillways[0]",
    ),
    unbuildable(
        "seat wider than the spa",
        pool(f"spas: [{{{INSIDE}, seats: [{{width: 950, depth: 450}}]}}]"),
        "spas[0].seats[0]",
    ),
    unbuildable(
        "seat below the spa floor",
        pool(f"spas: [{{{INSIDE}, seats: [{{width: 350, depth: 950}}]}}]"),
        "spas[0].seats[0]",
    ),
    unbuildable(
        "cove wider than the spa",
        pool(f"spas: [{{{INSIDE}, cove: {{radius: 920}}}}]"),
        "spas[0].cove",
    ),
)

DOUBTFUL = (
    doubtful(
        "a bench that the floor rises through",
        pool(
            "bench: [{width: 400, depth: 400}]",
            floor="{shape: plane, depth: 300, at: [-4000, 0], fall: 1:10}",
        ),
        "'bench[0].depth' the bench 1 runs into the floor",
        "up to 0.100 m higher, at (-4.000, ",
    ),
    doubtful(
        "hump out of the water",
        pool(floor=HUMP % -100),
        "'floor' rises out of the water: a hump between the walls",
        "0.100 m above the water at (0.000, 0.000) m",
    ),
    doubtful(
        "bench higher than the weir behind it",
        pool(
            "bench: [{start: [-1000, -2000], end: [1000, -2000], width: 500, depth: 300}]\n"
            f"overflows: [{{start: [-1000, -2000], end: [1000, -2000], crest: -400, {BASIN}}}}}]"
        ),
        "'overflows[0].crest' lies below 'bench 1' before it, which stands in the overflow",
        "0.100 m lower",
    ),
    doubtful(
        "break lines that miss the pool",
        pool(floor="{shape: breaks, breaks: [{at: 90 m, depth: 1000}, {at: 95 m, depth: 2000}]}"),
        "floor.breaks",
        "misses the pool",
    ),
    doubtful(
        "steps longer than the pool",
        pool("steps: [{shape: side, at: [0, -2000], width: 1500, going: 900, risers: 5}]"),
        "steps[0]",
    ),
    doubtful(
        "steps wider than the pool",
        pool("steps: [{shape: side, at: [0, -2000], width: 9000, going: 300, risers: 3}]"),
        "steps[0]",
    ),
    doubtful(
        "spillway wider than the spa",
        pool(f"spas: [{{{INSIDE}, raised: 300, spillways: [{{at: [1100, 0], width: 7000}}]}}]"),
        "spas[0].spillways[0]",
    ),
)
