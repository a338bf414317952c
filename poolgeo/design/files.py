"""Read the files beside a pool file that its outlines stand in.

Only loading touches files: what is read becomes part of the design.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from poolgeo.errors import BadValueError, Finding, Key

from .drawing import DrawingError, read_drawing, scaled
from .joining import Joined, joined
from .lengths import format_length
from .outlines import Drawing, Part, PointList, Traced
from .pointlist import read_points
from .schema import Pool
from .tracing import XY, BulgedSide, Loop, ThroughPoints, Tracing, points_of
from .values import FARTHEST

METRES = {"mm": 0.001, "cm": 0.01, "m": 1.0, "ft": 0.3048, "in": 0.0254}
"""[m] Length of each unit; the international foot and inch."""

MOST_POINTS = {"straight": 10_000, "spline": 1_000}
"""Points that a file may list, as in the pool file itself."""

MOST_ENDS = 5
"""Open ends that a message names at most."""


def read_files(pool: Pool, folder: Path | None) -> list[Finding]:
    """Read what the outlines of a pool take from other files, into its shapes.

    Args:
        pool: Fresh from its file, and handed to nobody yet.
        folder: Where the pool file stands; None where there is none.

    Returns:
        What is wrong with those files.
    """
    findings = []
    for key, shape in _traced(pool):
        if folder is None:
            rule = "stands beside a pool file, and this pool has none"
            remedy = "write the pool to a file and load that"
            findings.append(Finding((*key, "file"), rule, shape.file, remedy))
            continue
        try:
            shape._tracing = _read(shape, folder / shape.file, pool.units)  # noqa: SLF001 - its maker
        except DrawingError as error:
            findings.append(Finding((*key, error.key), error.rule, error.value, error.remedy))
        except BadValueError as error:
            findings.append(Finding((*key, "file"), error.rule, error.value, error.remedy))
    return findings


def _traced(part: Part, key: Key = ()) -> Iterator[tuple[Key, Traced]]:
    """Yield the shapes that stand in other files, with their keys, wherever a pool has a shape."""
    for name in type(part).model_fields:
        value = getattr(part, name)
        places = {(*key, name): value}
        if isinstance(value, tuple):
            places = {(*key, name, i): item for i, item in enumerate(value)}
        for here, item in places.items():
            if isinstance(item, Traced):
                yield here, item
            elif isinstance(item, Part):
                yield from _traced(item, here)


def _read(shape: Traced, path: Path, units: str) -> Tracing:
    if not path.exists():
        rule = "must be a file that exists"
        remedy = f"its path counts from the folder of the pool file: {path.parent}"
        raise BadValueError(rule, shape.file, remedy)
    if not path.is_file():
        rule = "must be a file"
        raise BadValueError(rule, f"{shape.file}, which is none")
    try:
        if isinstance(shape, PointList):
            return _point_list(shape, path, units)
        return _drawing(shape, path, units) if isinstance(shape, Drawing) else Tracing()
    except OSError as error:
        rule = "must be readable"
        raise BadValueError(rule, error.strerror or shape.file) from None


def _point_list(shape: PointList, path: Path, units: str) -> Tracing:
    factor = METRES[shape.units or units]
    points = tuple((x * factor, y * factor) for x, y in read_points(path, shape.columns))
    most = MOST_POINTS[shape.join]
    if not 3 <= len(points) <= most:
        rule = f"must hold from 3 to {most} points"
        raise BadValueError(rule, str(len(points)))
    _check_far(points)
    if shape.join == "spline":
        return Tracing(((ThroughPoints(points),),))
    ends = (*points[1:], points[0])
    loop: Loop = tuple(BulgedSide(a, b) for a, b in zip(points, ends, strict=True))
    return Tracing((loop,))


def _drawing(shape: Drawing, path: Path, units: str) -> Tracing:
    drawn = read_drawing(path, shape.layer)
    unit = METRES[shape.units] if shape.units else drawn.unit
    if unit is None:
        rule = "must be given: the drawing states no unit of length that is known here"
        raise DrawingError(
            rule, f"$INSUNITS {drawn.insunits}", f"write one of {', '.join(METRES)}", key="units"
        )
    chains = scaled(drawn.chains, unit * shape.scale)
    _check_far([point for chain in chains for side in chain for point in points_of(side)])
    found = joined(chains, shape.gap)
    if found.wrong:
        error = _open(found, shape, units)
        raise error
    if not found.loops:
        rule = "must hold a closed curve"
        raise DrawingError(rule, f"all on '{shape.layer}' is shorter than the gap")
    notes = []
    if drawn.left_out:
        kinds = ", ".join(f"{count} {kind}" for kind, count in sorted(drawn.left_out.items()))
        notes.append(f"leaves out what is no curve on layer '{shape.layer}': {kinds}")
    if found.doubled:
        notes.append(f"has {found.doubled} curves twice on layer '{shape.layer}'; each counts once")
    return Tracing(found.loops, tuple(notes))


def _check_far(points: Sequence[XY]) -> None:
    far = max((max(abs(x), abs(y)) for x, y in points), default=0.0)
    if far > FARTHEST:
        rule = f"must hold points within {FARTHEST:.0f} m of the origin"
        raise BadValueError(rule, f"{far:.4g} m", "check the units")


def _open(found: Joined, shape: Drawing, units: str) -> DrawingError:
    """Say which ends stay open, and what gap would close them."""
    texts = []
    for end in found.wrong[:MOST_ENDS]:
        x, y = (format_length(value, units) for value in end.place)
        if end.meets == 1:
            near = "" if end.gap == float("inf") else f", {end.gap:.4f} m from the next end"
            texts.append(f"an open end at ({x}, {y}){near}")
        else:
            texts.append(f"{end.meets} ends meet at ({x}, {y})")
    if len(found.wrong) > MOST_ENDS:
        texts.append("and more")
    rule = f"must join the ends on layer '{shape.layer}' to closed curves, two at each place"
    remedy = "close the drawing there, or widen the gap"
    return DrawingError(rule, "; ".join(texts), remedy, key="gap")
