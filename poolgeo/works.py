"""The waterproofing of a pool: what is done, with what, how much, and whether it is right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from .bill.bill import Bill, bill_of
from .bill.measured import Measured, measured_of
from .design.load import Design, placed_in
from .design.waterproofing import Waterproofing
from .detailing.detail import detail
from .detailing.rows import Detailing
from .errors import Finding, PoolFileError
from .measure.pieces import pieces_of
from .model import Model
from .quantities import Takeoff
from .review.case import Case, Remark
from .review.review import review
from .supply.supply import Supply, supply
from .system.items import CUSTOMARY_UNITS, Item, items_of
from .system.load import Source, load_system
from .system.methods import Method, load_method
from .system.prices import PriceBook, read_prices
from .system.requirements import load_requirements
from .system.schema import System


@dataclass(frozen=True)
class Works:
    """The waterproofing of a pool.

    Args:
        source: The system, and where it is written.
        job: What the pool file says of it.
        method: Rules of measurement.
        detailing: What is done at edges, fittings and corners.
        supply: Layers, orders, cutting plans, mixes, readings.
        measured: Items of work, net and as the rules measure them.
        bill: What it costs.
        remarks: What the review finds.
    """

    source: Source
    job: Waterproofing
    method: Method
    detailing: Detailing
    supply: Supply
    measured: tuple[Measured, ...]
    bill: Bill
    remarks: tuple[Remark, ...]

    def as_dict(self) -> dict[str, Any]:
        """Return what the JSON contract has of it (SI units)."""
        return {
            "system": self.source.system.name,
            "details": [row.as_dict() for row in self.detailing.details],
            "corners": [row.as_dict() for row in self.detailing.corners],
            "layers": [row.as_dict() for row in self.supply.coatings],
            "materials": [row.as_dict() for row in self.supply.orders],
            "mixes": [row.as_dict() for row in self.supply.mixes],
            "film_readings": [row.as_dict() for row in self.supply.film_checks],
            "method": self.method.name,
            "measured": [row.as_dict() for row in self.measured],
            "bill": self.bill.as_dict(),
            "rolls": {name: plan.as_dict() for name, plan in self.supply.plans.items()},
            "findings": [remark.as_dict() for remark in self.remarks],
        }


def job_of(design: Design, system: str | None = None) -> Waterproofing | None:
    """Return what a pool file says of its waterproofing, with another system where one is named.

    Args:
        design: The pool.
        system: Name of a system, or a file (from the working directory); None keeps the file's.
    """
    job = design.pool.waterproofing
    if system is None:
        return job
    if system.endswith((".yaml", ".yml")):
        system = str(Path(system).absolute())
    return (
        Waterproofing(system=system) if job is None else job.model_copy(update={"system": system})
    )


def waterproof(model: Model, takeoff: Takeoff, job: Waterproofing | None = None) -> Works:
    """Work the waterproofing of a pool out.

    Args:
        model: The pool.
        takeoff: Measured on it.
        job: In place of what the pool file says.

    Returns:
        The works.

    Raises:
        PoolFileError: The pool file names no system, or what it names is not there or not sound.
    """
    origin = model.design.origin
    job = job or model.design.pool.waterproofing
    if job is None:
        rule = "must be given for details and materials"
        finding = Finding(("waterproofing",), rule, remedy="write 'waterproofing: {system: ...}'")
        raise PoolFileError([origin.place(finding)])
    folder = Path(origin.file).parent
    try:
        source = load_system(job.system, folder)
        method, _ = load_method(job.method, folder)
        asked, _ = load_requirements(job.requirements, folder)
        prices = _prices(source.system, job, method, folder)
    except PoolFileError as error:
        raise PoolFileError(placed_in(_asked(error.findings, model, job), origin)) from None
    detailing = detail(model, takeoff, source.system)
    items = supply(model, takeoff, detailing, source.system, job, prices)
    pieces = pieces_of(model)
    measured = measured_of(model, pieces, takeoff, detailing, items, source.system, method)
    bill = bill_of(measured, items.orders, prices, job.tax)
    case = Case(model, pieces, takeoff, source.system, job, asked, detailing, items, bill, prices)
    own, units = source.origin, model.design.pool.units
    remarks = (
        *(item.placed(origin if item.of_pool else own, units) for item in review(case)),
        *(Remark(item, "") for item in prices.unused),
    )
    return Works(source, job, method, detailing, items, measured, bill, remarks)


def _asked(found: Iterable[Finding], model: Model, job: Waterproofing) -> list[Finding]:
    """Say of a system that the pool file does not name that something else does."""
    own = model.design.pool.waterproofing
    if own is not None and own.system == job.system:
        return list(found)
    key = ("waterproofing", "system")
    return [
        replace(item, key=(), rule=f"the system {item.rule}") if item.key == key and not item.file
        else item for item in found
    ]  # fmt: skip


def _prices(system: System, job: Waterproofing, method: Method, folder: Path) -> PriceBook:
    """Return the rates of the system file, and before them those of the price book."""
    rates: dict[Item, float] = {}
    for item in system.rates:
        unit, size = CUSTOMARY_UNITS.get(item.unit, (item.unit, 1.0))
        rates[item.item, unit] = item.rate / size
    unused: list[Finding] = []
    if job.prices is not None:
        more, unused = read_prices(folder / job.prices, items_of(system, method))
        rates |= more
    return PriceBook(rates, system.currency or "", tuple(unused))
