"""Rows of movement joints of the finish, as every report reads them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal, get_args

from ..design.joint_rules import JointRules
from ..quantities import JointRun
from ..review.case import Remark

JointKind = Literal[
    "over the structure", "intermediate", "change of plane", "perimeter", "round fitting"
]

KINDS: tuple[JointKind, ...] = get_args(JointKind)
"""In the order of reports."""

ACROSS_FINISH: tuple[JointKind, ...] = ("over the structure", "intermediate")
"""Joints that run over the finish, not along an edge of it or round a fitting."""

HOLDS = ("along the rows", "across the rows", "height")
"""What a joint holds all along it: a distance from the origin along the rows of tiles or across
them, or a height."""


@dataclass(frozen=True)
class FinishJoint:
    """A movement joint of the finish.

    Args:
        number: ``J1`` over the structure's, ``M1`` intermediate; else of the run or the fitting.
        kind: Why it is there.
        name: For people; of edges what meets there.
        axis: Which coordinate of the frame it holds: a number of `HOLDS`; None for none.
        at: Its value there, from the origin [m].
        width: Of the joint [m].
        needed: What its movement asks [m].
        movement: That it takes at most [m].
        depth: Of the sealant [m].
        rod: Diameter of the backer rod [m].
        runs: Its stretches by kind of surface.
    """

    number: str
    kind: JointKind
    name: str
    axis: int | None
    at: float
    width: float
    needed: float
    movement: float
    depth: float
    rod: float
    runs: tuple[JointRun, ...]

    @property
    def is_across(self) -> bool:
        """Whether it runs over the finish: one of `ACROSS_FINISH`."""
        return self.kind in ACROSS_FINISH

    @property
    def length(self) -> float:
        """True length [m]."""
        return sum(run.length for run in self.runs)

    @property
    def volume(self) -> float:
        """Of its sealant in place [m3]."""
        return self.length * self.width * self.depth

    def as_dicts(self) -> list[dict[str, Any]]:
        """Return its stretches as JSON has them (SI units)."""
        more = {
            "needed_m": self.needed,
            "movement_m": self.movement,
            "sealant_depth_m": self.depth,
            "rod_m": self.rod,
            "joint": self.number,
            "holds": None if self.axis is None else HOLDS[self.axis],
            "at_m": None if self.axis is None else self.at,
        }
        return [run.as_dict() | {"kind": self.kind, "name": self.name} | more for run in self.runs]


@dataclass(frozen=True)
class SealantRow:
    """Sealant and backer rod for the joints of one section.

    Args:
        width: Of the joints [m].
        depth: Of the sealant [m].
        rod: Diameter of the backer rod [m].
        length: Of the joints [m].
        net: Sealant in place [m3].
        gross: With loss [m3].
    """

    width: float
    depth: float
    rod: float
    length: float
    net: float
    gross: float

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "width_m": self.width,
            "depth_m": self.depth,
            "rod_m": self.rod,
            "length_m": self.length,
            "net_m3": self.net,
            "gross_m3": self.gross,
        }


@dataclass(frozen=True)
class FinishJoints:
    """The movement joints of a finish.

    Args:
        rules: That they obey.
        origin: Of the set-out frame [m].
        direction: Of the rows of tiles, from x [deg].
        drawn: Whether somebody drew them; else poolgeo planned them.
        joints: Kind after kind.
        bay: Longest bay that they leave [m].
        least: Length of the shortest plan found [m]; None where they were drawn.
        bound: No plan among the candidates is shorter [m]; None where they were drawn.
        temperatures: Lowest and highest of the finish [deg C].
        strain: How much the finish grows from cold and dry to warm and wet [-].
        sealant: Name of the sealant.
        capability: Movement that it bears, as a share of its width.
        sealing: What it takes, by the section of the joints.
        packs: Whole packs of it; None where a pack's volume is not given.
        remarks: What the check finds.
    """

    rules: JointRules
    origin: tuple[float, float]
    direction: float
    drawn: bool
    joints: tuple[FinishJoint, ...]
    bay: float
    least: float | None
    bound: float | None
    temperatures: tuple[float, float]
    strain: float
    sealant: str
    capability: float
    sealing: tuple[SealantRow, ...]
    packs: int | None
    remarks: tuple[Remark, ...]

    def of_kind(self, *kinds: JointKind) -> list[FinishJoint]:
        """Return the joints of some kinds."""
        return [joint for joint in self.joints if joint.kind in kinds]

    def as_dict(self) -> dict[str, Any]:
        """Return what the JSON contract has of it besides the joints themselves (SI units)."""
        return {
            "rules": self.rules.name,
            "source": self.rules.bays.cited,
            "origin": list(self.origin),
            "direction_deg": self.direction,
            "drawn": self.drawn,
            "longest_bay_m": self.bay,
            "limit_m": self.rules.bays.longest,
            "intermediate_m": length_of(self.of_kind("intermediate")),
            "least_m": self.least,
            "bound_m": self.bound,
            "temperatures_c": list(self.temperatures),
            "strain": self.strain,
            "sealant": self.sealant,
            "capability": self.capability,
            "sealing": [row.as_dict() for row in self.sealing],
            "packs": self.packs,
            "findings": [remark.as_dict() for remark in self.remarks],
        }


def length_of(joints: Iterable[FinishJoint]) -> float:
    """Return the length of some joints together [m]."""
    return sum(joint.length for joint in joints)
