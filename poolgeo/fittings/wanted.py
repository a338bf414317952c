"""From entries of the pool file to single fittings, each with the place that it asks for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from ..arrays import Floats
from ..design.schema import Fitting, Pool, Station
from ..errors import Findings, Key
from ..plan.ring import Ring
from ..plan.stretch import note_long_way, station_of


@dataclass(frozen=True)
class Wanted:
    """One fitting before it has found its surface.

    Args:
        entry: Its entry in the pool file.
        number: ``F3``, or ``F3.2`` in a row.
        key: Key of its entry.
        where: Key that says where it is, for findings.
        plan: (2,) The plan point of its middle; on the wall a point of the outline's chord [m].
        off: (2,) From there to the true outline [m].
        inward: (2,) Unit normal of the true outline into the water, for one on the wall; on a dam
            wall out of the spa.
        along: (2,) Plan direction of its width, for one that lies.
        bow: How far the outline leaves a straight flange as wide as the collar [m]; 0 for one that
            lies.
    """

    entry: Fitting
    number: str
    key: Key
    where: Key
    plan: Floats
    off: Floats
    inward: Floats | None
    along: Floats
    bow: float = 0.0

    @property
    def label(self) -> str:
        """Number and kind, for findings."""
        return f"{self.number} ({self.entry.kind})"


def wanted(pool: Pool, rings: Mapping[str, Ring], findings: Findings) -> list[Wanted]:
    """List the single fittings of a pool.

    Args:
        pool: From the pool file.
        rings: The outline of each body of water.
        findings: Where to leave findings: a body that is none, a station off the outline.

    Returns:
        In the order of the file, and of each row.
    """
    found: list[Wanted] = []
    for i, entry in enumerate(pool.fittings):
        key = ("fittings", i)
        names = {"body": entry.body, "dam_wall": entry.dam_wall}
        unknown = [(word, name) for word, name in names.items() if name not in {None, *rings}]
        for word, name in unknown:
            findings.error(
                (*key, word),
                "must be a body of water of this pool",
                f"'{name}'",
                f"write {' or '.join(rings)}",
            )
        if unknown:
            continue
        if entry.point is not None:
            along = _direction(entry.direction or 0.0)
            plan = np.array(entry.point)
            found.append(
                Wanted(entry, f"F{i + 1}", key, (*key, "point"), plan, 0.0 * plan, None, along)
            )
        elif entry.body is not None:
            ring = rings[entry.dam_wall or entry.body]
            found += _on_outline(entry, f"F{i + 1}", key, ring, findings)
    return found


def below(depth: float) -> str:
    """Write where something is to the water: ``0.400 m below the water``."""
    return f"{abs(depth):.3f} m {'below' if depth >= 0.0 else 'above'} the water"


def _direction(degrees: float) -> Floats:
    return np.array([math.cos(math.radians(degrees)), math.sin(math.radians(degrees))])


def _on_outline(
    entry: Fitting, name: str, key: Key, ring: Ring, findings: Findings
) -> Iterator[Wanted]:
    """Yield the fittings of an entry that goes by stations."""
    places = [(word, getattr(entry, word)) for word in ("at", "start", "end")]
    given = [(word, place) for word, place in places if place is not None]
    lost = [word for word, place in given if not _is_on(ring, place, (*key, word), findings)]
    if lost:
        return
    stations = _stations(entry, ring)
    note_long_way(findings, key, (entry.start, entry.end), float(np.ptp(stations)), ring)
    if entry.spacing is not None:
        half = entry.spacing / 2.0
        stations = (stations[:, None] + np.array([-half, half])).ravel()
    chords, on_curve, inward = on_outline(ring, stations)
    if entry.dam_wall is not None:
        inward = -inward
    half = (entry.diameter or entry.width or 0.0) / 2.0 + (entry.collar or 0.0)
    before, after = (on_outline(ring, stations + by)[2] for by in (-half, half))
    turn = np.arccos(np.clip(np.sum(before * after, axis=1), -1.0, 1.0))
    bows = (half * np.tan(turn / 4.0)).tolist()
    for k in range(len(stations)):
        number = name if len(stations) == 1 else f"{name}.{k + 1}"
        tangent = np.array([inward[k, 1], -inward[k, 0]])
        along = tangent if entry.direction is None else _direction(entry.direction)
        where = (*key, given[0][0])
        if entry.offset is None:
            off = on_curve[k] - chords[k]
            yield Wanted(entry, number, key, where, chords[k], off, inward[k], along, bows[k])
        else:
            plan = on_curve[k] + entry.offset * inward[k]
            yield Wanted(entry, number, key, where, plan, 0.0 * plan, None, along)


def _is_on(ring: Ring, place: Station, key: Key, findings: Findings) -> bool:
    """Whether a station given as a length lies on the outline."""
    if isinstance(place, tuple) or place <= ring.perimeter:
        return True
    findings.error(
        key,
        "must be no longer than the outline",
        f"{place:.3f} m; the outline is {ring.perimeter:.3f} m long",
        "count from the outline's first point, anticlockwise",
    )
    return False


def _stations(entry: Fitting, ring: Ring) -> Floats:
    """Return the stations of an entry: one, a row between two, or a row all round [m]."""
    if entry.start is None or entry.count is None:
        return np.array([station_of(ring, 0.0 if entry.at is None else entry.at)])
    start = station_of(ring, entry.start)
    if entry.end is None:
        return start + np.arange(entry.count) * ring.perimeter / entry.count
    length = (station_of(ring, entry.end) - start) % ring.perimeter
    return start + np.linspace(0.0, length, entry.count)


def on_outline(ring: Ring, stations: Floats) -> tuple[Floats, Floats, Floats]:
    """Return the places of an outline at stations (k,) [m].

    Returns:
        (k, 2) places on the chords [m], (k, 2) beside them on the true curve [m], and (k, 2) unit
        normals of the true curve into the water.
    """
    stations = stations % ring.perimeter
    on = np.searchsorted(ring.stations, stations, side="right") - 1
    on = np.clip(on, 0, len(ring.points) - 1)
    share = np.clip((stations - ring.stations[on]) / ring.lengths[on], 0.0, 1.0)
    chord = (np.roll(ring.points, -1, axis=0) - ring.points)[on]
    places = ring.points[on] + share[:, None] * chord
    a, b = ring.chord_normals[on, 0], ring.chord_normals[on, 1]
    inward = a * (1.0 - share[:, None]) + b * share[:, None]
    inward /= np.hypot(*inward.T)[:, None]
    return places, ring.curve(on, share), inward
