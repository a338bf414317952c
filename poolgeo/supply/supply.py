"""All that a pool takes of a system: layers, orders, cutting plans, mixes and readings."""

from __future__ import annotations

from dataclasses import dataclass

from ..design.waterproofing import Waterproofing
from ..detailing.rows import Detailing
from ..model import Model
from ..quantities import Takeoff
from ..rolls.cutting import CuttingPlan, Need, cutting_plan
from ..system.prices import PriceBook
from ..system.schema import System
from .coatings import coatings_of
from .mixes import film_checks_of, mixes_of
from .orders import orders_of
from .rows import Coating, FilmCheck, Mixing, Order


@dataclass(frozen=True)
class Supply:
    """What a pool takes of a system.

    Args:
        coatings: Layers on surfaces.
        orders: Materials in whole packs.
        plans: Cutting plans of rolls by material.
        mixes: Of each coat of each layer.
        film_checks: Readings of the film.
    """

    coatings: tuple[Coating, ...]
    orders: tuple[Order, ...]
    plans: dict[str, CuttingPlan]
    mixes: tuple[Mixing, ...]
    film_checks: tuple[FilmCheck, ...]


def supply(
    model: Model, takeoff: Takeoff, detailing: Detailing, system: System, job: Waterproofing,
    prices: PriceBook,
) -> Supply:  # fmt: skip
    """Work out what a pool takes of a system.

    Args:
        model: The pool.
        takeoff: Measured on it.
        detailing: What is done at its edges, fittings and corners.
        system: Checked.
        job: Temperature and crew.
        prices: Those of packs go before the packs' own.

    Returns:
        Typed rows (SI units).
    """
    coatings = coatings_of(model, takeoff, detailing, system)
    plans = {name: _plan(system, name, detailing) for name in _rolls(detailing)}
    orders = orders_of(system, coatings, detailing, plans, prices)
    mixes = mixes_of(system, job, coatings, orders)
    return Supply(coatings, orders, plans, mixes, film_checks_of(system, coatings))


def _rolls(detailing: Detailing) -> list[str]:
    return list(dict.fromkeys(cut.material for cut in detailing.cuts))


def _plan(system: System, name: str, detailing: Detailing) -> CuttingPlan:
    roll = system.roll(name)
    needs = [Need(cut.number, cut.length) for cut in detailing.cuts if cut.material == name]
    return cutting_plan(
        needs,
        roll.length,
        lap=roll.lap or 0.0,
        least=roll.least_piece or 0.0,
        joins=roll.joins,
    )
