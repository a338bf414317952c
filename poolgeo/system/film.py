"""Film thickness, consumption and loss: the arithmetic of coatings.

Volumes are of the mixed material as it is applied, without thinner. 1 L/m2 is a wet film of 1 mm.
"""

from __future__ import annotations

import math


def wet_film(dry_film: float, solids: float, thinned: float = 0.0) -> float:
    """Return the wet film that dries to a film [m].

    Args:
        dry_film: [m].
        solids: Share of the volume that stays.
        thinned: Volume of thinner to one of the material: raises the wet film, not what is bought.

    Returns:
        The thickness to comb off wet [m].

    Example:
        >>> mil = 0.0254e-3
        >>> round(wet_film(1.5 * mil, 0.42) / mil, 2), wet_film(2.8 * mil, 0.35, 0.1) / mil
        (3.57, 8.8)
    """
    return dry_film * (1.0 + thinned) / solids


def spreading_rate(dry_film: float, solids: float) -> float:
    """Return the area that a volume covers, without loss [m2/m3].

    Args:
        dry_film: [m].
        solids: Share of the volume that stays.

    Returns:
        Area by volume [m2/m3]; in m2/L it is 10 x solids [%] / film [um].

    Example:
        >>> round(spreading_rate(125e-6, 0.65) / 1000, 9)  # m2/L
        5.2
    """
    return solids / dry_film


def to_buy(net: float, loss: float) -> float:
    """Return how much must be bought so that a net amount ends up in place.

    Args:
        net: Any unit.
        loss: Share of what is bought that does not: 0.3 takes 1 / 0.7 = 1.43 times the net amount.

    Returns:
        In the same unit.

    Example:
        >>> round(to_buy(1.0, 0.3), 4)
        1.4286
    """
    return net / (1.0 - loss)


def packs_of(amount: float, size: float) -> int:
    """Return how many whole packs hold an amount, both in one unit.

    An amount that is over by less than a millionth of a pack is rounding, not another pack.
    """
    return max(0, math.ceil(amount / size - 1e-6))


def spots_of(area: float, spots: int, per: float) -> int:
    """Return at how many spots the film of an area is read.

    Args:
        area: [m2].
        spots: In each area of that size, or begun part of it.
        per: That size [m2].

    Returns:
        A count.

    Example:
        >>> spots_of(95.0, spots=5, per=10.0)
        50
    """
    return spots * packs_of(area, per)
