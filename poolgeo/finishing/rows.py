"""What the takeoff of finishes comes to: typed rows, in SI units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class FinishArea:
    """What a finish covers of one kind of surface of one body in one zone.

    Args:
        finish: Its name.
        type: Such as ``tile``.
        body: Body of water.
        kind: Kind of surface.
        zone: Zone.
        area: True area, less the openings of fittings [m2].
        curved: What of it counts as curved [m2].
        sloping: What of it slopes [m2].
    """

    finish: str
    type: str
    body: str
    kind: str
    zone: str
    area: float
    curved: float
    sloping: float

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "finish": self.finish,
            "type": self.type,
            "body": self.body,
            "kind": self.kind,
            "zone": self.zone,
            "area_m2": self.area,
            "curved_m2": self.curved,
            "sloping_m2": self.sloping,
        }


@dataclass(frozen=True)
class Supplies:
    """What one finish takes, over all places; None stands for what it does not take.

    Args:
        finish: Its name.
        type: Such as ``tile``.
        area: [m2].
        modules: Tiles, or pieces of mosaic, that are laid: area by that of a module.
        waste: Share that is bought more, the mean over the area.
        pieces: To order, whole, with waste; None for mosaic that comes on sheets.
        sheets: Of mosaic, to order, whole, with waste.
        cut_tiles: Tiles that are cut along borders.
        spacers: A cross at the corner of each tile. Common practice, no source.
        adhesive_net: Volume in place [m3].
        adhesive_gross: Volume to buy [m3].
        adhesive_mass: Of what is bought [kg]; None where the file states no density.
        grout_net: Volume in place [m3].
        grout_gross: Volume to buy [m3].
        plaster_net: Of render, pebble or plaster, in place [m3].
        plaster_gross: Of it, to buy [m3].
    """

    finish: str
    type: str
    area: float
    modules: float | None = None
    waste: float | None = None
    pieces: int | None = None
    sheets: int | None = None
    cut_tiles: int | None = None
    spacers: int | None = None
    adhesive_net: float | None = None
    adhesive_gross: float | None = None
    adhesive_mass: float | None = None
    grout_net: float | None = None
    grout_gross: float | None = None
    plaster_net: float | None = None
    plaster_gross: float | None = None

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "finish": self.finish,
            "type": self.type,
            "area_m2": self.area,
            "modules": self.modules,
            "waste": self.waste,
            "pieces": self.pieces,
            "sheets": self.sheets,
            "cut_tiles": self.cut_tiles,
            "spacers": self.spacers,
            "adhesive_net_m3": self.adhesive_net,
            "adhesive_gross_m3": self.adhesive_gross,
            "adhesive_mass_kg": self.adhesive_mass,
            "grout_net_m3": self.grout_net,
            "grout_gross_m3": self.grout_gross,
            "plaster_net_m3": self.plaster_net,
            "plaster_gross_m3": self.plaster_gross,
        }


@dataclass(frozen=True)
class NosingRow:
    """Pieces along an external edge.

    Args:
        run: Number of the edge run.
        finish: Name of the finish that they belong to.
        body: Body of water.
        kind: Of the edge, such as ``tread/riser``.
        length: Of the edge, as far as this finish holds on top of it [m].
        pieces: Whole ones.
    """

    run: str
    finish: str
    body: str
    kind: str
    length: float
    pieces: int

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "run": self.run,
            "finish": self.finish,
            "body": self.body,
            "kind": self.kind,
            "length_m": self.length,
            "pieces": self.pieces,
        }


@dataclass(frozen=True)
class CopingRow:
    """Coping stones along a stretch of the inner edge of a wall top.

    Args:
        run: Number of the edge run.
        body: Body of water.
        length: Of the inner edge [m].
        straight: What of it is straight [m].
        curved: What of it follows a curve [m].
        centre_length: At half the width of the stones, with its share of mitres [m].
        outer_length: At their backs, with its share of mitres [m].
        turn: How far the run turns towards the water in all, its ends not counted [deg]: 360 about
            a round pool, -360 about a round island.
        stones: Whole ones that are laid.
        joint_outside: Mean width at the back of the joints on the curved part, between stones that
            are cut square [m]; None where nothing is curved. Below 0 the stones have to taper.
        ordered: Whole stones with waste; the rows add up to what all runs take.
    """

    run: str
    body: str
    length: float
    straight: float
    curved: float
    centre_length: float
    outer_length: float
    turn: float
    stones: int
    joint_outside: float | None
    ordered: int

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "run": self.run,
            "body": self.body,
            "length_m": self.length,
            "straight_m": self.straight,
            "curved_m": self.curved,
            "centre_length_m": self.centre_length,
            "outer_length_m": self.outer_length,
            "turn_deg": self.turn,
            "stones": self.stones,
            "joint_outside_m": self.joint_outside,
            "ordered": self.ordered,
        }


@dataclass(frozen=True)
class BandRow:
    """A finish that holds in the waterline band only, in one body.

    Args:
        body: Body of water.
        finish: Its name.
        length: Of the band: area of what stands in it, by its height [m].
        height: Of the band [m].
        area: Less the openings of fittings [m2].
    """

    body: str
    finish: str
    length: float
    height: float
    area: float

    def as_dict(self) -> dict[str, Any]:
        """Return the row as JSON has it (SI units)."""
        return {
            "body": self.body,
            "finish": self.finish,
            "length_m": self.length,
            "height_m": self.height,
            "area_m2": self.area,
        }


@dataclass(frozen=True)
class FinishTakeoff:
    """What the finishes of a pool come to.

    Args:
        areas: By finish, body, kind and zone.
        supplies: One row for each finish of the pool file.
        nosings: By edge run.
        coping: By edge run.
        bands: Finishes that hold in the waterline band only.
    """

    areas: tuple[FinishArea, ...] = ()
    supplies: tuple[Supplies, ...] = ()
    nosings: tuple[NosingRow, ...] = ()
    coping: tuple[CopingRow, ...] = ()
    bands: tuple[BandRow, ...] = ()

    def as_dict(self) -> dict[str, Any]:
        """Return what the JSON contract has of it (SI units)."""
        return {
            "areas": [row.as_dict() for row in self.areas],
            "supplies": [row.as_dict() for row in self.supplies],
            "nosings": [row.as_dict() for row in self.nosings],
            "coping": [row.as_dict() for row in self.coping],
            "bands": [row.as_dict() for row in self.bands],
        }
