"""Set-out dimensions: how far each movement joint lies from the origin, along the rows or across.

Distance dimensions, so that no error adds up: each is measured from the one origin.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from ..design.lengths import format_length
from ..jointing.frame import Frame
from ..jointing.rows import FinishJoint, FinishJoints

CLEAR = 0.5
"""Distance from what else is drawn to the text of a dimension, in text heights."""

APART = 1.7
"""Distance of two dimensions beside each other, in text heights."""


@dataclass(frozen=True)
class Distance:
    """One set-out dimension, in the frame of the rows of tiles.

    Args:
        axis: 0 along the rows, 1 across them.
        at: Distance from the origin [m].
        start: Where the joint comes nearest to the dimension, across that axis [m].
        end: Where the leader ends: along that axis, moved where two stand too near, and across [m].
        text: The distance.
    """

    axis: int
    at: float
    start: float
    end: tuple[float, float]
    text: str


def ordinates(joints: FinishJoints, taken: Floats, height: float, units: str) -> Iterator[Distance]:
    """Yield the set-out dimensions of joints, below the plan and to its left.

    Args:
        joints: Of the finish.
        taken: Corners of what else is drawn (n, 2) [m].
        height: Of text [m].
        units: Of the pool file.

    Yields:
        One for each distance.
    """
    frame = frame_of(joints)
    outer = frame.coordinates(np.column_stack([taken, np.zeros(len(taken))]))
    for axis in (0, 1):
        edge = float(outer[:, 1 - axis].min()) - CLEAR * height
        own = {
            round(joint.at, 4): joint
            for joint in reversed(joints.joints)
            if joint.axis == axis and joint.is_across
        }
        places = spread(sorted(own), APART * height)
        for (at, joint), place in zip(sorted(own.items()), places, strict=True):
            start = _lowest(joint, frame, 1 - axis)
            yield Distance(axis, joint.at, start, (place, edge), format_length(at, units))


def frame_of(joints: FinishJoints) -> Frame:
    """Return the set-out frame of joints."""
    return Frame(joints.origin, math.radians(joints.direction))


def spread(values: list[float], least: float) -> list[float]:
    """Move values apart that are nearer than a distance, as little as need be.

    Example:
        >>> spread([0.0, 0.1, 5.0], 1.0)
        [-0.45, 0.55, 5.0]

    Returns:
        As many values, rising.
    """
    groups: list[tuple[float, int]] = []  # middle, and how many stand there
    for value in values:
        groups.append((value, 1))
        while len(groups) > 1:
            (a, m), (b, n) = groups[-2:]
            if b - a >= least * (m + n) / 2.0 - 1e-9:
                break
            groups[-2:] = [((a * m + b * n) / (m + n), m + n)]
    return [
        round(middle + least * (k - (count - 1) / 2.0), 9)
        for middle, count in groups for k in range(count)
    ]  # fmt: skip


def _lowest(joint: FinishJoint, frame: Frame, axis: int) -> float:
    return min(
        (float(frame.coordinates(run.points)[:, axis].min()) for run in joint.runs), default=0.0
    )
