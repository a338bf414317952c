"""The sheet on which packs of several sizes are chosen: live, so that a changed price chooses anew.

::

    material   in a pack    20    5       amount
               price        30   10
               taken         1    2       the row below with the least score
               1             0    6       score: the cost, and a hair for each pack
               2             1    2
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..design.scale import Scale
from ..supply.packing import EACH, Choice, cheapest, choices, costs_of, score
from ..supply.rows import Order
from ..works import Works
from .sheets import Column, Formula, Sheet, at, letter

PACKS = "Pack choice"
FIRST = 2
"""Column of the first pack."""
MOST = 4
"""Packs of one material, as `poolgeo.system.materials` allows them."""
AMOUNT = FIRST + MOST


@dataclass(frozen=True)
class Sources:
    """Where the figures of one material stand on the sheet of materials.

    Args:
        amount: What is to be bought.
        sizes: Of each pack.
        prices: Of each pack.
    """

    amount: str
    sizes: tuple[str, ...]
    prices: tuple[str, ...]


def is_chosen(works: Works, order: Order) -> bool:
    """Whether a material's packs are chosen on this sheet: no roll, and of several sizes."""
    return len(order.packs) > 1 and order.material not in works.supply.plans


def taken_at(works: Works) -> dict[str, list[str]]:
    """Return where the sheet has the counts of each material's packs."""
    found, row = {}, 5
    for order in works.supply.orders:
        if is_chosen(works, order):
            taken = row + 2
            found[order.material] = [
                at(PACKS, FIRST + k, taken) for k in range(len(order.packs))
            ]  # fmt: skip
            row += 4 + len(list(choices([pack.size for pack in order.packs])))
    return found


def pack_columns() -> list[Column]:
    """Return the columns of the sheet."""
    packs = [Column(f"Pack {k}", 10, "#,##0.###") for k in range(1, MOST + 1)]
    return [Column("Material", 22), Column("Choice", 14, "0"), *packs,
            Column("Amount, or score", 16, "#,##0.00#")]  # fmt: skip


def write_packs(
    sheet: Sheet, works: Works, scale: Scale, sources: dict[str, Sources]
) -> None:  # fmt: skip
    """Write the choices of each material that is sold in packs of several sizes."""
    sheet.head()
    for order in works.supply.orders:
        if is_chosen(works, order):
            _, unit = scale.of(order.unit)
            _write_choice(sheet, order, unit, sources[order.material])


def _write_choice(sheet: Sheet, order: Order, unit: float, sources: Sources) -> None:
    sizes = [pack.size for pack in order.packs]
    prices = [pack.price for pack in order.packs]
    costs, empty = costs_of(sizes, prices), [None] * (MOST - len(sizes))
    options = list(choices(sizes))
    head = sheet.row + 1
    places = Places(head, len(sizes), head + 3, head + 2 + len(options))
    sheet.add(order.material, "in a pack",
              *(Formula(f"={cell}", size / unit)
                for cell, size in zip(sources.sizes, sizes, strict=True)),
              *empty, Formula(f"={sources.amount}", order.gross / unit), bold=True)  # fmt: skip
    sheet.add("", "price of one" if None not in prices else "size to largest",
              *(Formula(f"={sources.prices[k]}" if None not in prices
                        else f"={places.size(k)}/{places.size(0)}", cost)
                for k, cost in enumerate(costs)))  # fmt: skip
    best = cheapest(order.gross, sizes, prices)
    sheet.add("", "taken", *(Formula(places.best(k), count) for k, count in enumerate(best)),
              *empty, Formula(f"=MIN({places.scores})", score(best, costs)))  # fmt: skip
    for number, option in enumerate(options, 1):
        counts = option.filled(order.gross, sizes)
        row = sheet.row + 1
        cells: list[float | Formula] = [float(count) for count in counts]
        cells[option.base] = Formula(places.rest(option, row), counts[option.base])
        sheet.add("", number, *cells, *empty, Formula(places.score(row), score(counts, costs)))
    sheet.gap()


@dataclass(frozen=True)
class Places:
    """Where the figures of one material stand on this sheet.

    Args:
        head: Row of sizes; that of costs is the next.
        packs: How many sizes there are.
        first: Row of the first choice.
        last: Row of the last choice.
    """

    head: int
    packs: int
    first: int
    last: int

    def size(self, k: int) -> str:
        """Return the cell of a size."""
        return f"${letter(FIRST + k)}${self.head}"

    @property
    def scores(self) -> str:
        """The scores of all choices."""
        return f"${letter(AMOUNT)}${self.first}:${letter(AMOUNT)}${self.last}"

    def best(self, k: int) -> str:
        """Return the count of a size in the choice with the least score."""
        column = letter(FIRST + k)
        return (f"=INDEX({column}{self.first}:{column}{self.last},"
                f"MATCH(MIN({self.scores}),{self.scores},0))")  # fmt: skip

    def rest(self, option: Choice, row: int) -> str:
        """Return how many packs hold what the others leave."""
        others: Sequence[str] = [
            f"-{letter(FIRST + k)}{row}*{self.size(k)}"
            for k in range(self.packs) if option.counts[k]
        ]  # fmt: skip
        left = f"(${letter(AMOUNT)}${self.head}{''.join(others)})"
        return f"=MAX(0,ROUNDUP({left}/{self.size(option.base)}-0.000001,0))"

    def score(self, row: int) -> str:
        """Return the score of a choice."""
        last = letter(FIRST + self.packs - 1)
        counts, start = f"{letter(FIRST)}{row}:{last}{row}", f"${letter(FIRST)}${self.head + 1}"
        costs = f"{start}:${last}${self.head + 1}"
        return f"=ROUND(SUMPRODUCT({counts},{costs}),6)+{EACH:.7f}*SUM({counts})"
