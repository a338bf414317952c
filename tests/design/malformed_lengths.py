"""Pool files with a length, a slope or an angle that is none, or that is out of bounds."""

from __future__ import annotations

from .malformed_making import case, pool


def circle(radius: str) -> bytes:
    """Write a pool file with a circle."""
    return pool(outline=f"{{shape: circle, radius: {radius}}}")


LENGTHS = (
    case("zero", circle("0"), 3, "'outline.radius' must be above 0", "got 0 mm"),
    case("negative", circle("-3 m"), 3, "'outline.radius' must be above 0", "got '-3 m'"),
    case("tiny", circle("1e-30"), 3, "'outline.radius' must be at least 1 mm"),
    case("huge", circle("1e300"), 3, "'outline.radius' must be at most 1000 m", "1e+300 mm"),
    case("overflow", circle("1e999"), 3, "'outline.radius' must be finite", "got inf"),
    case(
        "length that is no number", circle(".nan"), 3, "'outline.radius' must be finite", "got nan"
    ),
    case("thousand digits", circle("9" * 1000), 3, "'outline.radius' must be finite"),
    case("five thousand digits", circle("1" + "0" * 5000), 3, "'outline.radius' must be"),
    case("true as length", circle("true"), 3, "'outline.radius' must be a length", "got true"),
    case("no length", circle("~"), 3, "'outline.radius' must be a length", "got nothing"),
    case(
        "length in a list", circle("[4000]"), 3, "'outline.radius' must be a length", "got [4000]"
    ),
    case("length in a mapping", circle("{mm: 4000}"), 3, "must be a length", "got a mapping of mm"),
    case("length in words", circle("big"), 3, "must be a length", "300 mm", "3' 6 1/2\""),
    case("number in quotes", circle("'4000'"), 3, "must be a length", "without quotes"),
    case("unknown unit", circle("4 furlongs"), 3, "must be a length", "got '4 furlongs'"),
    case("decimal comma", circle("'4,5 m'"), 3, "must be a length", "got '4,5 m'"),
    case("two units", circle("4 m 20 cm"), 3, "must be a length"),
    case("fourteen inches", circle("3' 14\""), 3, "less than 12 inches beside its feet"),
    case("division by nothing", circle("1/0 in"), 3, "must be a length"),
    case("date as length", circle("2024-05-01"), 3, "must be a length", "got '2024-05-01'"),
    case(
        "tolerance too fine",
        pool("tolerance: 0.0001"),
        5,
        "'tolerance' must be at least 0.01 mm",
    ),
    case("tolerance too coarse", pool("tolerance: 1 m"), 5, "'tolerance' must be at most 50 mm"),
    case("wall of no thickness", pool("shell: {wall: 0}"), 5, "'shell.wall' must be above 0"),
    case(
        "slope of words",
        pool(floor="{shape: plane, depth: 1000, at: [0, 0], fall: steep}"),
        4,
        "'floor.fall' must be a slope",
        "1:20",
    ),
    case(
        "slope over nothing",
        pool(floor="{shape: plane, depth: 1000, at: [0, 0], fall: 1:0}"),
        4,
        "'floor.fall' must be a slope",
        "got '1:0'",
    ),
    case(
        "slope of a cliff",
        pool(floor="{shape: plane, depth: 1000, at: [0, 0], fall: 50}"),
        4,
        "'floor.fall' must be from -10 to 10",
    ),
    case(
        "degrees beyond",
        pool(outline="{shape: ellipse, length: 9000, width: 4000, rotation: 400}"),
        3,
        "'outline.rotation' must be a number of degrees from -360 to 360",
    ),
    case(
        "degrees in words",
        pool(outline="{shape: ellipse, length: 9000, width: 4000, rotation: 45 deg}"),
        3,
        "'outline.rotation' must be a number of degrees",
        "got '45 deg'",
    ),
)
