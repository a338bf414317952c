"""How deep the treads of a flight lie: at the rises of the file, or at equal ones to the floor."""

from __future__ import annotations

from itertools import accumulate

from ...design import schema
from ...design.steps import MOST_TREADS
from ...errors import Key
from .flight_plan import FlightPlan
from .site import Site

SAME_RISE = 1e-6
"""[m] Two risers that differ by less are as high."""


def depths_of(
    site: Site, flight: schema.Descent, plan: FlightPlan, key: Key, name: str
) -> list[float]:
    """Return the depths of the treads below the water, top first [m].

    Args:
        site: The body of water that the flight stands in.
        flight: From the pool file.
        plan: Its plan.
        key: Its key.
        name: For findings.
    """
    rise, top = flight.rise, flight.top_tread
    count = flight.risers if flight.risers is not None else plan.count
    if rise is None:
        return _equal(site, plan, count or 1, top, key, name)
    key = (*key, "rise")
    if isinstance(rise, tuple):
        depths = list(accumulate((rise[0] if top is None else top, *rise)))
    else:
        depths = [rise if top is None else top]
        if count is not None:
            depths = [depths[0] + k * rise for k in range(count)]
        else:
            _go_down(site, plan, depths, rise, key, name)
    left = _left(site, plan, depths)
    if left <= 0.0:
        site.findings.error(
            key,
            f"must put every tread of the {name} above the floor",
            f"tread {len(depths)} at {depths[-1]:.3f} m, floor at {left + depths[-1]:.3f} m",
            "use a smaller rise or a higher top tread",
        )
    elif count is not None and not isinstance(rise, tuple) and left > rise + SAME_RISE:
        site.findings.warn(
            key,
            f"leaves a last riser of the {name} that is higher than the others",
            f"{left:.3f} m down to the floor, the others {rise:.3f} m",
            "give more treads, or leave 'rise' out for equal risers",
        )
    return depths


def _left(site: Site, plan: FlightPlan, depths: list[float]) -> float:
    """Return how far the floor at the foot of the last tread lies below it [m]."""
    return float(site.depth(plan.foot(len(depths)))) - depths[-1]


def _go_down(
    site: Site, plan: FlightPlan, depths: list[float], rise: float, key: Key, name: str
) -> None:
    """Add treads to the first one till the floor is no further than a rise."""
    while (left := _left(site, plan, depths)) > rise + SAME_RISE:
        if len(depths) == MOST_TREADS:
            site.findings.error(
                key,
                f"must lead the {name} down to the floor in at most {MOST_TREADS} treads",
                f"{rise:.3f} m; {left:.3f} m are left below the last of them",
                "use a larger rise",
            )
            return
        depths.append(depths[-1] + rise)


def _equal(
    site: Site, plan: FlightPlan, count: int, top: float | None, key: Key, name: str
) -> list[float]:
    """Depths of treads at equal steps down to the floor."""
    foot = float(site.depth(plan.foot(count)))
    rise = (foot - top) / count if top is not None else foot / (count + 1)
    if rise <= 0.0:
        site.findings.error(
            (*key, "top_tread"),
            f"must be less than the depth of the floor at the foot of the {name}",
            f"{top or 0.0:.3f} m; the floor there is {foot:.3f} m deep",
            "raise the top tread",
        )
        rise = 0.1
    first = top if top is not None else rise
    return [first + k * rise for k in range(count)]
