"""Whether fittings fit where they are, each finding with what to do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from ..arrays import Floats, Ints
from ..design.fittings import USUAL
from ..errors import Findings
from ..mesh import Mesh, Patch
from ..model import Lie
from ..placed import SLANT, Placed
from ..plan.tolerances import GRID
from ..surface.kinds import EASING
from .borders import OPEN, borders_of
from .clearance import frames_of, over_edges, overlaps
from .wanted import Wanted, below

MOST_BOW = 0.005
"""[m] A wall that leaves the flange by more is worth a warning; common practice, no source."""


def check_ground(
    piece: Wanted, patch: Patch, point: Floats, *, stands: bool, findings: Findings
) -> bool:
    """Check the face that a fitting has found.

    Args:
        piece: The fitting.
        patch: The face.
        point: (3,) Where it is [m].
        stands: Whether the face stands.
        findings: Where to leave what is wrong.

    Returns:
        Whether it may sit there.
    """
    key = (*piece.key, "depth") if piece.inward is not None else piece.where
    came = f"{piece.label} at {_text(point)} comes out on a {patch.kind} of the {patch.body}"
    ground = USUAL[piece.entry.kind].on
    fits = {
        "a floor": patch.kind.endswith("floor"),
        "a face that stands": stands,
        "a face that lies": not stands,
        "any face": True,
    }[ground]
    if patch.kind in EASING:
        rule = f"must keep clear of the {patch.kind}"
        findings.error(key, rule, came, "move it to where the face is flat")
    elif not fits:
        remedy = {
            "a floor": "give a 'point' on the floor",
            "a face that stands": "give a station 'at' and a 'depth'",
            "a face that lies": "give a 'point', or an 'offset' from a station",
            "any face": "",
        }[ground]
        findings.error(key, f"must sit on {ground}", came, remedy)
    elif piece.inward is not None and not _is_its_wall(piece, patch):
        findings.warn(key, "meets another face before the wall", came)
    elif piece.bow > MOST_BOW:
        findings.warn(
            piece.where,
            f"sets {piece.label} on a curved wall, which a straight flange would leave",
            f"by {piece.bow:.3f} m over the width of its collar",
            "have the flange made to the curve, or the wall flat there",
        )
    return fits and patch.kind not in EASING


def _is_its_wall(piece: Wanted, patch: Patch) -> bool:
    """Whether a face is the wall that a fitting was meant for."""
    if piece.entry.dam_wall is not None:
        return patch.kind == "dam wall face"
    return patch.kind.endswith("wall")


def check_water(items: Sequence[Placed], waters: Mapping[str, float], findings: Findings) -> None:
    """Check openings against the water level: a skimmer's is across it, most others below."""
    for item in items:
        rule = USUAL[item.kind].water  # type: ignore[index]
        half = item.rise(item.size[0] / 2.0, item.size[1] / 2.0)
        level = waters[item.body]
        above, under = item.point[2] + half - level, level - item.point[2] + half
        key = (*item.key[:2], "depth") if _is_on_wall(item) else item.key
        came = f"it reaches from {below(-above)} to {below(under)}"
        if rule == "across" and min(above, under) < GRID:
            findings.error(
                key,
                f"must set {item.number} ({item.kind}) across the water level of the {item.body}",
                came,
                "give a depth less than half of its height",
            )
        elif rule == "below" and above > GRID:
            findings.warn(
                key,
                f"leaves the opening of {item.number} ({item.kind}) above the water",
                came,
                "give a greater depth if that is not meant",
            )


def check_neighbours(
    mesh: Mesh,
    lies: Mapping[Patch, Lie | None],
    items: Sequence[Placed],
    patch: Ints,
    findings: Findings,
) -> None:
    """Check that collars stay on their own face, and clear of each other."""
    frames = frames_of(items)
    found = over_edges(frames, patch, borders_of(mesh, np.unique(patch), lies))
    for k, beyond, over, place in found:
        item = items[k]
        kind = "outside" if beyond == OPEN else mesh.patches[beyond].kind
        other = "a corner" if beyond == patch[k] else f"the {kind}"
        aside = abs(place[2] - item.point[2]) < SLANT * np.linalg.norm(place - item.point)
        findings.error(
            item.key if aside or not _is_on_wall(item) else (*item.key[:2], "depth"),
            f"must leave room for the collar of {item.number} ({item.kind}) on the {item.surface}",
            f"it reaches {over:.3f} m over the edge towards {other} at {_text(place)}",
            "move it, or make its collar smaller",
        )
    for one, other_ in overlaps(frames):
        first, second = items[one], items[other_]
        apart = float(np.linalg.norm(np.subtract(first.point, second.point)))
        findings.error(
            second.key,
            f"must keep {second.number} ({second.kind}) clear of {first.number} ({first.kind})",
            f"their collars overlap; their middles are {apart:.3f} m apart",
            "move one of them, or make a collar smaller",
        )


def check_suction(items: Sequence[Placed], findings: Findings) -> None:
    """Warn of a body of water that a pump draws from through one opening."""
    for body in dict.fromkeys(item.body for item in items):
        drains = [item for item in items if item.body == body and USUAL[item.kind].suction]  # type: ignore[index]
        if len(drains) == 1 and not drains[0].protection:
            findings.warn(
                drains[0].key[:2],
                f"is the only drain of the {body}: whoever blocks it can be held under water by"
                " the pump (entrapment)",
                f"{drains[0].number} alone",
                "follow the local code on suction outlets, and write in 'protection' how it is made"
                " safe",
            )


def _is_on_wall(item: Placed) -> bool:
    """Whether a fitting sits on a face that stands."""
    return abs(item.normal[2]) < SLANT


def _text(point: Floats) -> str:
    x, y, z = point.tolist()
    return f"({x:.3f}, {y:.3f}, {z:.3f}) m"
