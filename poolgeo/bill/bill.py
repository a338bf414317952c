"""The bill: work at the rates of what is measured, materials at the prices of what is ordered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, fsum
from typing import Any

from ..supply.rows import Order
from ..system.prices import PriceBook
from .measured import Measured


def cents(amount: float) -> float:
    """Return an amount of money rounded to hundredths, half of one upwards.

    Example:
        >>> cents(26.65 * 1.5), cents(0.125)
        (39.98, 0.13)
    """
    return floor(amount * 100.0 + 0.5 + 1e-7) / 100.0


@dataclass(frozen=True)
class Line:
    """One line of the bill.

    Args:
        part: ``work`` or ``materials``.
        item: Of the work, or material.
        unit: Of measurement, or pack.
        quantity: [unit]
        rate: Of one; None where none is known.
        used: Share of the quantity that ends up in place; 1 for work.
    """

    part: str
    item: str
    unit: str
    quantity: float
    rate: float | None
    used: float = 1.0

    @property
    def amount(self) -> float:
        """Quantity times rate, to hundredths; 0 without a rate."""
        return cents(self.quantity * (self.rate or 0.0))

    def as_dict(self) -> dict[str, Any]:
        """Return the line as JSON has it."""
        return {
            "part": self.part,
            "item": self.item,
            "unit": self.unit,
            "quantity": self.quantity,
            "rate": self.rate,
            "amount": None if self.rate is None else self.amount,
            "used": self.used,
        }


@dataclass(frozen=True)
class Bill:
    """All lines, with tax.

    Args:
        lines: Work, then materials.
        tax: Share of the subtotal.
        currency: Empty where it is not known.
    """

    lines: tuple[Line, ...]
    tax: float
    currency: str

    def subtotal(self, part: str = "") -> float:
        """Return the sum of a part, or of all."""
        return fsum(line.amount for line in self.lines if part in {"", line.part})

    @property
    def waste(self) -> float:
        """What materials cost that do not end up in place: loss, and what whole packs leave."""
        return fsum(line.amount * (1.0 - line.used) for line in self.lines)

    @property
    def taxes(self) -> float:
        """What the tax comes to, to hundredths."""
        return cents(self.subtotal() * self.tax)

    @property
    def total(self) -> float:
        """With tax."""
        return self.subtotal() + self.taxes

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Items without a rate, in order."""
        return tuple(dict.fromkeys(line.item for line in self.lines if line.rate is None))

    def as_dict(self) -> dict[str, Any]:
        """Return the bill as JSON has it."""
        return {
            "currency": self.currency or None,
            "lines": [line.as_dict() for line in self.lines],
            "work": self.subtotal("work"),
            "materials": self.subtotal("materials"),
            "waste": self.waste,
            "tax_share": self.tax,
            "tax": self.taxes,
            "total": self.total,
            "unpriced": list(self.unpriced),
        }


def bill_of(
    measured: Sequence[Measured], orders: Sequence[Order], prices: PriceBook, tax: float
) -> Bill:
    """Price what is measured and what is ordered.

    Args:
        measured: Items of work.
        orders: Materials in packs, with their prices.
        prices: Rates.
        tax: Share of the subtotal.

    Returns:
        The bill; what has no rate stands in it without an amount.
    """
    lines = []
    for row in measured:
        if row.quantity:
            rate = prices.rate(row.name, row.unit, prices.rate(row.item, row.unit))
            lines.append(Line("work", row.name, row.unit, row.quantity, rate))
    for order in orders:
        used = order.net / order.ordered if order.ordered else 1.0
        for pack in order.packs:
            if pack.count:
                count = float(pack.count)
                lines.append(Line("materials", order.material, pack.name, count, pack.price, used))
    return Bill(tuple(lines), tax, prices.currency)
