"""Pool files with flights, ledges and rules that are none, or that cannot be built."""

from __future__ import annotations

from .malformed_making import Malformed, case, doubtful, pool, unbuildable


def steps(text: str) -> bytes:
    """Write a pool with one flight, on line 5."""
    return pool(f"steps: [{{{text}}}]")


def ledges(text: str) -> bytes:
    """Write a pool with one ledge, on line 5."""
    return pool(f"ledges: [{{{text}}}]")


CORNER = "shape: corner, at: [-4000, -2000]"
ISLAND = "shape: island, landing: {shape: rectangle, length: 800, width: 800"
ARC = "shape: arc, at: [-4000, 0], radius: 1000, going: 300, risers: 3"
SHELF = "shape: following, width: 800, depth: 300"
BOTTOM = "start: [-1000, -2000], end: [1000, -2000]"

STEPS: tuple[Malformed, ...] = (
    case(
        "more risers than goings",
        steps(f"{CORNER}, going: [300, 300], risers: 3"),
        5,
        "'steps[0].risers' must be as many as the 2 treads",
    ),
    case(
        "more rises than goings",
        steps(f"{CORNER}, going: [300, 300], rise: [200, 200]"),
        5,
        "'steps[0].rise' must hold one step less than the 2 treads: 1",
    ),
    case(
        "one going without a count",
        steps(f"{CORNER}, going: 300"),
        5,
        "'steps[0].rise' must be given, or 'risers'",
    ),
    case(
        "a going below nothing",
        steps(f"{CORNER}, going: [300, -300]"),
        5,
        "'steps[0].going[1]' must be above 0",
    ),
    case(
        "concave steps without a width",
        steps(f"{ARC}, bend: concave"),
        5,
        "'steps[0].width' must be given for a concave flight",
    ),
    case(
        "sides of a round island",
        steps("shape: island, landing: {shape: circle, radius: 500}, sides: [front], going: 300,"
              " risers: 2"),
        5,
        "'steps[0].sides' must be given only of a rectangle",
    ),
    case(
        "a side named twice",
        steps(f"{ISLAND}}}, sides: [front, front], going: 300, risers: 2"),
        5,
        "'steps[0].sides' must name each side once",
    ),
    case(
        "winders that hardly wind",
        steps("shape: winding, pivot: [0, 0], reach: 900, direction: 0, turn: 5, risers: 3"),
        5,
        "'steps[0].turn' must be from 10 to 300 degrees",
    ),
    case(
        "no treads",
        steps("shape: outlines, treads: []"),
        5,
        "'steps[0].treads' must have at least 1 entries",
    ),
    unbuildable(
        "an arc tighter than its flight is wide",
        steps(f"{ARC}, bend: concave, width: 1200"),
        "'steps[0].radius' must leave the last nosing",
        "0.400 m is left for a width of 1.200 m",
    ),
    unbuildable(
        "an island in the wall",
        steps(f"{ISLAND}, centre: [3600, 0]}}, going: 300, risers: 2"),
        "'steps[0]' must stand clear of the walls",
    ),
    unbuildable(
        "an island deeper than the floor",
        steps(f"{ISLAND}}}, going: [300, 300], rise: [400, 1300]"),
        "'steps[0].rise' must put every tread",
        "tread 3 at 2.100 m, floor at 1.500 m",
    ),
    unbuildable(
        "winders beside the pool",
        steps("shape: winding, pivot: [30000, 0], reach: 900, direction: 0, turn: 90, risers: 3"),
        "'steps[0].reach' must put the steps 1 into the pool's outline",
    ),
    unbuildable(
        "a tread under a higher one",
        steps("shape: outlines, treads: [{shape: circle, radius: 900}, {shape: circle,"
              " radius: 500}]"),
        "'steps[0].treads' must leave every tread",
        "let each tread reach beyond the higher ones",
    ),
    unbuildable(
        "a tread that crosses itself",
        steps("shape: outlines, treads: [{shape: polygon, points: [[0, 0], [900, 900], [900, 0],"
              " [0, 900]]}]"),
        "'steps[0].treads[0]' must not cross",
    ),
    unbuildable(
        "steps across two ends",
        pool(
            "steps: [{shape: end, direction: 180, going: 300, risers: 3}]",
            outline="{shape: polygon, points: [[0, 0], [9000, 0], [9000, 2000], [3000, 2000],"
            " [3000, 5000], [9000, 5000], [9000, 7000], [0, 7000]]}",
        ),
        "'steps[0].direction' must lead down from one end: the pool has 2 that way",
        "(9.000, 6.000) m and (9.000, 1.000) m",
    ),
    unbuildable(
        "a rise of no height to speak of",
        steps("shape: end, direction: 0, going: 10, rise: 10"),
        "'steps[0].rise' must lead the steps 1 down to the floor in at most 100 treads",
        "0.500 m are left below the last of them",
    ),
    doubtful(
        "a fan wider than the sides of its corner",
        steps(f"{CORNER}, going: 900, risers: 5"),
        "'steps[0].going' makes the fan wider than a side",
        "the sides are 4.000 m and 8.000 m long",
    ),
    doubtful(
        "a last riser higher than the others",
        steps(f"{CORNER}, going: [300, 300], rise: 200"),
        "'steps[0].rise' leaves a last riser",
        "1.100 m down to the floor",
    ),
)  # fmt: skip

LEDGES: tuple[Malformed, ...] = (
    case(
        "a fall along all round",
        ledges(f"{SHELF}, end_depth: 500"),
        5,
        "'ledges[0].end_depth' must be given only with 'start' and 'end'",
    ),
    case(
        "a fall both ways",
        ledges(f"{SHELF}, edge_depth: 500, end_depth: 500, {BOTTOM}"),
        5,
        "'ledges[0].end_depth' must not be given beside 'edge_depth'",
    ),
    case(
        "a beach from a slope",
        ledges(f"{SHELF}, edge_depth: 500, beach: {{slope: 1:4}}"),
        5,
        "'ledges[0].beach' must not be given beside 'edge_depth'",
    ),
    case(
        "a beach like a wall",
        ledges(f"{SHELF}, beach: {{slope: 3}}"),
        5,
        "'ledges[0].beach.slope' must be from 1:200 to 1:1",
    ),
    unbuildable(
        "a ledge as wide as the pool",
        ledges("shape: following, width: 2500, depth: 300"),
        "'ledges[0].width' must leave open water",
    ),
    unbuildable(
        "a ledge below the floor",
        ledges("shape: following, width: 500, depth: 1700"),
        "'ledges[0].depth' must be less than the depth of the floor",
    ),
    unbuildable(
        "a ledge out of the water",
        ledges("shape: outline, outline: {shape: circle, radius: 1000}, depth: 300, fall: 0.5"),
        "'ledges[0].depth' must put the ledge 1 under the water everywhere",
        "-0.200 m deep",
    ),
    unbuildable(
        "a ledge beside the pool",
        ledges("shape: outline, outline: {shape: circle, radius: 500, centre: [9000, 0]},"
               " depth: 300"),
        "'ledges[0]' must lie inside the pool's outline",
    ),
    unbuildable(
        "a fall along a tight curve",
        pool(
            "ledges: [{shape: following, width: 800, depth: 300, end_depth: 500,"
            " start: [-4000, 0], end: [0, -2000]}]",
            outline="{shape: rectangle, length: 8000, width: 4000, corner_radius: 300}",
        ),
        "'ledges[0].end_depth' must not be given where the outline turns more tightly",
        "near (",
    ),
    unbuildable(
        "a beach from below the floor",
        pool(
            "ledges: [{shape: following, width: 800, depth: 300, start: [-4000, 2000],"
            " end: [-4000, -2000], beach: {slope: 1:10}}]",
            floor="{shape: breaks, breaks: [{at: -4000, depth: 1000}, {at: -3500, depth: 200},"
            " {at: 0, depth: 200}, {at: 1000, depth: 2000}]}",
        ),
        "'ledges[0].beach' must begin above the floor",
        "raise the ledge 1, or leave 'beach' out",
    ),
    doubtful(
        "a ledge that dips into the floor",
        ledges("shape: following, width: 800, depth: 300, edge_depth: 1700"),
        "'ledges[0].depth' the ledge 1 runs into the floor",
        "up to 0.200 m higher",
    ),
)  # fmt: skip

RULES: tuple[Malformed, ...] = (
    case(
        "rules of nowhere",
        pool("rules: nowhere"),
        5,
        "'rules' must be a name that comes with poolgeo",
        "wisconsin-public",
    ),
    case(
        "rules in no file",
        pool("rules: not/there.yaml"),
        5,
        "'rules' the file must exist",
    ),
    doubtful(
        "a floor steeper than the rules",
        pool("rules: arizona-public", floor="{shape: plane, depth: 1500, at: [0, 0], fall: 1:8}"),
        "'floor' the floor should be no steeper than 1:10",
        "the code that holds at the site decides",
    ),
)
