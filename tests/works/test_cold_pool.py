"""The cold pool taken off by hand: every figure of its waterproofing, with the arithmetic.

The pool is 6 m by 3 m, its floor falls from 1.3 m at the west wall to 1.6 m at the east wall. A
seat 0.5 m wide and 0.45 m under the water goes along the west wall; the walls end 0.15 m above the
water.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

import poolgeo
from poolgeo.supply.rows import Coating, Mixing, Order
from poolgeo.works import Works, waterproof

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "cold-pool.yaml"

SLANT = math.hypot(1.0, 1.0 / 20.0)
"""True length of the floor to its length in plan."""
FALL = math.atan(1.0 / 20.0)

FLOOR = 5.5 * 3.0 * SLANT
SEAT_TOP = 0.5 * 3.0
SEAT_FACE = (1.325 - 0.45) * 3.0  # the floor is 1.325 m deep before the seat
EAST_WALL = 3.0 * (1.6 + 0.15)
WEST_WALL = 3.0 * (0.45 + 0.15)
LONG_WALL = 5.5 * ((1.325 + 1.6) / 2.0 + 0.15) + 0.5 * (0.45 + 0.15)
WALLS = EAST_WALL + WEST_WALL + 2.0 * LONG_WALL
COPING_RETURN = 6.4 * 3.4 - 6.0 * 3.0  # 0.2 m of the wall top, all round
WALL_TOP = 6.5 * 3.5 - 6.0 * 3.0  # the wall is 0.25 m thick
GROSS_AREA = FLOOR + SEAT_TOP + SEAT_FACE + WALLS + WALL_TOP
OPENINGS = 2 * 0.3 * 0.3 + math.pi * 0.03**2 + math.pi * 0.135**2

SQUARE = 2 * 5.5 * SLANT + 2 * 1.6 + 2 * 0.45 + 3.0 + 2 * 0.5 + 2 * 0.875
"""[m] Wet internal edges of 90 degrees: floor at the long walls, corners of the walls up to the
water, seat at the walls, its face at the long walls."""
SHARP, BLUNT = 3.0, 3.0
"""[m] Floor at the east wall, 90 degrees less the fall; floor at the seat, 90 and the fall."""
INTERNAL = SQUARE + SHARP + BLUNT
DRY = 4 * 0.15  # corners of the walls above the water
NOSE = 3.0  # of the seat
COPING = 18.0  # the edge of the walls' top


@pytest.fixture(scope="module")
def works() -> Works:
    """The sample's waterproofing."""
    model = poolgeo.build(poolgeo.load(SAMPLE))
    return waterproof(model, poolgeo.measure(model))


def order(works: Works, material: str) -> Order:
    """Return the order of a material."""
    return next(item for item in works.supply.orders if item.material == material)


def layer(works: Works, name: str) -> list[Coating]:
    """Return the rows of a layer."""
    return [row for row in works.supply.coatings if row.layer == name]


def mix(works: Works, name: str, coat: int) -> Mixing:
    """Return how a coat is mixed."""
    return next(item for item in works.supply.mixes if (item.layer, item.coat) == (name, coat))


def packs(works: Works, material: str) -> int:
    """Return how many packs of a material are ordered."""
    (pack,) = order(works, material).packs
    return pack.count


def narrower(leg: float, phi: float) -> float:
    """Return by how much a straight fillet makes the surface narrower [m]."""
    return 2.0 * leg - 2.0 * leg * math.sin(phi / 2.0)


FILLETS = (
    SQUARE * narrower(0.03, math.pi / 2)
    + SHARP * narrower(0.03, math.pi / 2 - FALL)
    + BLUNT * narrower(0.03, math.pi / 2 + FALL)
)
"""[m2] Area that the fillets of 30 mm cut off."""
ARRIS = 2.0 * 0.01 - math.pi / 2.0 * 0.01
"""[m] A round of 10 mm makes two faces at 90 degrees so much narrower."""
NET_AREA = GROSS_AREA - OPENINGS - FILLETS - (COPING + NOSE) * ARRIS


def test_edges(works: Works) -> None:
    sums = {
        name: sum(item.length for item in works.detailing.details
                  if (item.rule, item.do) == (name, "strip"))
        for name in ("internal edge", "internal edge, dry", "external edge")
    }  # fmt: skip
    assert sums == pytest.approx(
        {"internal edge": INTERNAL, "internal edge, dry": DRY, "external edge": NOSE}
    )


def test_the_tape_comes_from_one_roll(works: Works) -> None:
    plan = works.supply.plans["sealing tape"]
    cut = sum(piece.length for roll in plan.rolls for piece in roll.pieces)
    assert cut == pytest.approx(INTERNAL + DRY + NOSE)  # 30.46 m of 50 m
    assert (len(plan.rolls), plan.bound) == (1, 1)
    # a corner of the walls takes one piece, from the floor to the wall's top
    pieces = [round(piece.length, 9) for roll in plan.rolls for piece in roll.pieces]
    assert (pieces.count(1.75), pieces.count(0.6)) == (2, 2)


def test_volume_of_the_fillets(works: Works) -> None:
    # half the leg squared times the sine of the angle between the faces
    sections = SQUARE + SHARP * math.cos(FALL) + BLUNT * math.cos(FALL)
    volume = 0.03**2 / 2.0 * sections
    assert order(works, "fillet mortar").net == pytest.approx(volume, rel=1e-9)
    assert volume == pytest.approx(12.085e-3, rel=1e-4)


def test_bags_of_the_fillets(works: Works) -> None:
    # 12.085 L / (1 - 10 %) = 13.43 L; a bag of 25 kg at 2.1 kg/L is 11.90 L
    assert order(works, "fillet mortar").gross * 1000 == pytest.approx(12.085 / 0.9, rel=1e-4)
    assert packs(works, "fillet mortar") == math.ceil(13.43 / 11.90) == 2


def test_area_of_the_membrane(works: Works) -> None:
    assert sum(row.area for row in layer(works, "membrane")) == pytest.approx(NET_AREA)


def test_wet_film_of_the_membrane(works: Works) -> None:
    # 1.0 mm dry of a slurry of 72 % solids
    assert mix(works, "membrane", 1).wet_film * 1000 == pytest.approx(1.0 / 0.72)


def test_spreading_rate_of_the_membrane(works: Works) -> None:
    # of the second coat, 8 % lost: 0.92 x 0.72 L/m2 to the millimetre
    assert mix(works, "membrane", 2).spread / 1000 == pytest.approx(0.92 * 0.72)


def test_kits_of_the_membrane(works: Works) -> None:
    film = (2 * 1.0 + 0.2) / 0.72  # mm = L/m2: two coats, and 0.2 mm of roughness
    bed = (INTERNAL + DRY + NOSE) * (0.12 + 2 * 0.02) * 1.5 / 1.65  # under the tape
    litres = (NET_AREA * film + bed) / (1 - 0.08)
    assert order(works, "slurry").gross * 1000 == pytest.approx(litres, rel=1e-9)
    kit = (24 + 8) / 1.65  # 19.39 L
    assert packs(works, "slurry") == math.ceil(litres / kit) == 9


def test_mixes_of_the_membrane(works: Works) -> None:
    # at 15 C the pot life stands between 75 min at 5 C and 60 min at 20 C: 64.6 min
    first, second = mix(works, "membrane", 1), mix(works, "membrane", 2)
    assert first.pot_life is not None
    assert first.pot_life / 60 == pytest.approx(75 ** (1 / 3) * 60 ** (2 / 3))
    assert 15 * 2 * first.pot_life / 3600 > 32.0  # m2 that two people coat in it
    covers = 32 / 1.65 * 0.92 / ((1.0 + 0.2) / 0.72)  # m2 of a kit, with the roughness
    assert first.mix_area == pytest.approx(covers)
    assert first.batches == math.ceil(NET_AREA / covers) == 5
    covers = 32 / 1.65 * 0.92 / (1.0 / 0.72)
    assert (second.limit, second.batches) == ("pack", math.ceil(NET_AREA / covers)) == (
        "pack", 4,
    )  # fmt: skip


def test_readings_of_the_membrane(works: Works) -> None:
    membrane = next(row for row in works.supply.film_checks if row.layer == "membrane")
    assert membrane.spots == 5 * math.ceil(NET_AREA / 10) == 25
    assert membrane.dry_film == pytest.approx(0.002)


def test_repair_mortar(works: Works) -> None:
    litres = 0.05 * NET_AREA * 10 / 0.9  # 5 % of the surface, 10 mm deep
    assert order(works, "repair mortar").gross * 1000 == pytest.approx(litres)
    assert packs(works, "repair mortar") == math.ceil(litres / (25 / 2.1)) == 3


def test_primer(works: Works) -> None:
    kilograms = NET_AREA * 1.0 / 0.95
    primer = order(works, "bonding primer")
    assert primer.density is not None
    assert primer.gross * primer.density == pytest.approx(kilograms)
    assert packs(works, "bonding primer") == math.ceil(kilograms / 20) == 3


def test_coat_under_the_coping(works: Works) -> None:
    litres = (COPING_RETURN - COPING * ARRIS) * 3 / 0.9
    assert order(works, "coping coat").gross * 1000 == pytest.approx(litres)
    assert packs(works, "coping coat") == math.ceil(litres / (20 / 1.9)) == 2


def test_round_the_fittings(works: Works) -> None:
    openings = 2 * 4 * 0.3 + math.pi * 0.06 + math.pi * 0.27
    assert order(works, "swelling strip").net == pytest.approx(openings)
    sealant = openings * 0.01 * 0.01 / 0.9
    assert order(works, "joint sealant").gross == pytest.approx(sealant)
    assert packs(works, "joint sealant") == math.ceil(sealant / 600e-6) == 1
    assert packs(works, "pipe collar") == 4


def test_corners(works: Works) -> None:
    # floor: two at the east wall, two at the seat; two on the seat at the west wall
    assert order(works, "inside corner").net == 6
    # four where the walls' corners meet their top, two where the seat's nose meets the walls
    mixed = [item for item in works.detailing.corners if item.sense == "mixed"]
    assert len(mixed) == 6


def test_measured_of_the_bill(works: Works) -> None:
    # openings up to half a square metre are not deducted, fillets and arrises not either
    membrane = next(row for row in works.measured if row.item == "membrane")
    assert membrane.net == pytest.approx(GROSS_AREA - OPENINGS)
    assert membrane.quantity == round(GROSS_AREA, 2) == 50.78


def test_total_of_the_bill(works: Works) -> None:
    work = (
        # layers; 17.25 of the price book; 50.78 x 17.25 = 875.955, to hundredths
        2.54 * 42 + 50.78 * 3.5 + 875.96 + 3.76 * 9
        + 26.86 * (6 + 8) + 0.60 * 8 + 3.00 * (5 + 8) + 18.00 * 5  # edges
        + 3.44 * (4 + 6) + 4 * 18 + 6 * 5  # fittings and corners
    )  # fmt: skip
    materials = (
        3 * 31 + 3 * 25 + 2 * 24 + 9 * 91.5 + 2 * 22 + 11 + 88 + 44 + 62 + 4 * 9
    )  # 25, 91.50 and 88 of the price book
    assert works.bill.subtotal("work") == pytest.approx(work)
    assert works.bill.subtotal("materials") == pytest.approx(materials)
    tax = round(3164.95 * 0.19, 2)
    assert work + materials == pytest.approx(3164.95)
    assert works.bill.total == pytest.approx(3164.95 + tax, abs=1e-9)


def test_nothing_is_wrong_with_it(works: Works) -> None:
    assert [item.finding for item in works.remarks if item.finding.severity == "error"] == []
    (warning,) = [item.finding for item in works.remarks if item.finding.severity == "warning"]
    assert "an emptied pool can float" in str(warning)
    assert "0.200 m above the deepest floor" in str(warning)
