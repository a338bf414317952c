"""The finish of a pool: its movement joints, and what it takes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ..errors import Finding
from ..jointing.joints import finish_joints
from ..jointing.rows import FinishJoints
from ..model import Model
from ..quantities import Takeoff
from ..review.case import Remark
from .rows import FinishTakeoff
from .takeoff import take_off_finishes


@dataclass(frozen=True)
class Finishing:
    """The finish of a pool.

    Args:
        joints: Its movement joints; None where the pool file speaks of no finish.
        takeoff: What it takes; None where the pool file speaks of neither finish nor coping stones.
        idle: Finishes and stones of the pool file that hold nowhere.
    """

    joints: FinishJoints | None = None
    takeoff: FinishTakeoff | None = None
    idle: tuple[Remark, ...] = ()

    @property
    def remarks(self) -> tuple[Remark, ...]:
        """What the check of the joints finds, and what holds nowhere."""
        return (*(() if self.joints is None else self.joints.remarks), *self.idle)

    def as_dict(self) -> dict[str, Any]:
        """Return what the JSON contract has of it (SI units); the joints stand among `joints`."""
        found: dict[str, Any] = {}
        if self.joints is not None:
            found["joint_plan"] = self.joints.as_dict()
        if self.takeoff is not None:
            found["finishes"] = self.takeoff.as_dict()
        return found

    def joint_dicts(self) -> list[dict[str, Any]]:
        """Return its joints as JSON has them, stretch by stretch (SI units)."""
        rows = () if self.joints is None else self.joints.joints
        return [row for joint in rows for row in joint.as_dicts()]


def finish(model: Model, takeoff: Takeoff) -> Finishing:
    """Plan the movement joints of a pool's finish, and take the finish off.

    Args:
        model: The pool.
        takeoff: Measured on it.

    Returns:
        Joints and quantities, as far as the pool file speaks of a finish.
    """
    joints, found = finish_joints(model, takeoff), take_off_finishes(model, takeoff)
    return Finishing(joints, found, tuple(_idle(model, found)))


def _idle(model: Model, found: FinishTakeoff | None) -> Iterator[Remark]:
    """Yield finishes and stones that hold nowhere: a name mistyped, or an earlier one holds."""
    pool, origin = model.design.pool, model.design.origin
    if found is None:
        return
    rule = "should hold somewhere"
    for i, row in enumerate(found.supplies):
        if row.area <= 0.0:
            finding = Finding(("finishes", i), rule, f"nothing is left for '{row.finish}'",
                              "look at the names in its 'where', and at the finishes before it",
                              "warning")  # fmt: skip
            yield Remark(finding, "", of_pool=True).placed(origin, pool.units)
    if pool.coping.stones is not None and not found.coping:
        finding = Finding(("coping", "stones"), rule, "no wall top takes any",
                          "look at the names in its 'bodies'", "warning")  # fmt: skip
        yield Remark(finding, "", of_pool=True).placed(origin, pool.units)
