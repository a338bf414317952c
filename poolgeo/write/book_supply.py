"""Sheets of layers and materials: live, so that a changed film, loss or price recalculates."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..design.scale import Scale
from ..supply.orders import is_mixed_whole
from ..supply.rows import Coating, Order, Use
from ..system.layers import Layer
from ..works import Works
from .book_packs import Sources, taken_at
from .sheets import Column, Formula, Input, Sheet, at, letter

LAYERS, MATERIALS = "Layers", "Materials"


@dataclass
class Cells:
    """Where figures stand that other sheets read.

    Args:
        counts: Of each material and pack.
        prices: Of each material and pack.
        used: Share in place of each material and pack.
        packs: Of materials whose packs are chosen on a sheet of their own.
    """

    counts: dict[tuple[str, str], str] = field(default_factory=dict)
    prices: dict[tuple[str, str], str] = field(default_factory=dict)
    used: dict[tuple[str, str], str] = field(default_factory=dict)
    packs: dict[str, Sources] = field(default_factory=dict)


def layer_columns(scale: Scale) -> list[Column]:
    """Return the columns of the sheet of layers."""
    film = f"{scale.film}"
    return [
        Column("Layer", 30), Column("Material", 20), Column("Body", 10), Column("Surface", 22),
        Column("Zone", 16), Column(f"Surface, {scale.area}", 11, "#,##0.00"),
        Column("Share", 8, "0%"), Column(f"Area, {scale.area}", 11, "#,##0.00"),
        Column("Coats", 8, "0"), Column(f"Dry film a coat, {film}", 11, "0.000"),
        Column("Solids", 8, "0%"), Column(f"Wet film a coat, {film}", 11, "0.000"),
        Column(f"Roughness, {film}", 11, "0.000"), Column("Loss", 8, "0.0%"),
        Column(f"Net, {scale.volume}", 11, "#,##0.00"),
        Column(f"Gross, {scale.volume}", 11, "#,##0.00"),
    ]  # fmt: skip


SURFACE, SHARE, AREA, COATS, DRY, SOLIDS, WET, ROUGH, LOSS, NET, GROSS = range(5, 16)


def write_layers(sheet: Sheet, works: Works, scale: Scale) -> None:
    """Write each layer with what may be changed, and under it the surfaces that it covers."""
    sheet.head()
    for layer in works.source.system.layers:
        rows = [row for row in works.supply.coatings if row.layer == layer.name]
        if rows:
            _write_layer(sheet, works, layer, rows, scale)


def _write_layer(
    sheet: Sheet, works: Works, layer: Layer, rows: list[Coating], scale: Scale
) -> None:
    """Write one layer: its row of figures, then its surfaces."""
    material = works.source.system.liquid(layer.material)
    head, unit = sheet.row + 1, scale.film_metres
    first, last = head + 1, head + len(rows)
    solids = 1.0 if material.solids is None else material.solids
    wet = rows[0].film / layer.coats / unit
    cell = {k: f"{letter(k)}{head}" for k in range(SURFACE, GROSS + 1)}
    if layer.dry_film is not None:
        dry: Input | None = Input(layer.dry_film / unit)
        film: Input | Formula = Formula(f"={cell[DRY]}/{cell[SOLIDS]}", wet)
    else:
        dry, film = None, Input(wet)
    sums = [
        Formula(f"=SUM({letter(k)}{first}:{letter(k)}{last})", whole)
        for k, whole in (
            (SURFACE, sum(row.area for row in rows) / layer.share / scale.square_metres),
            (AREA, sum(row.area for row in rows) / scale.square_metres),
            (NET, sum(row.net for row in rows) / scale.cubic_metres),
            (GROSS, sum(row.gross for row in rows) / scale.cubic_metres),
        )
    ]
    sheet.add(
        layer.name, layer.material, "", "", "", sums[0], Input(layer.share), sums[1],
        Input(layer.coats), dry, Input(solids), film, Input(layer.roughness / unit),
        Input(layer.loss), sums[2], sums[3], bold=True,
    )  # fmt: skip
    fixed = {k: f"${letter(k)}${head}" for k in range(SURFACE, GROSS + 1)}
    depth = f"({fixed[COATS]}*{fixed[WET]}+{fixed[ROUGH]}/{fixed[SOLIDS]})"
    for row in rows:
        here = sheet.row + 1
        net = f"={letter(AREA)}{here}*{depth}*{scale.spread!r}"
        gross = f"={letter(NET)}{here}/(1-{fixed[LOSS]})"
        sheet.add(
            "", "", row.body, row.kind, row.zone,
            row.area / layer.share / scale.square_metres, None,
            Formula(f"={letter(SURFACE)}{here}*{fixed[SHARE]}", row.area / scale.square_metres),
            None, None, None, None, None, None,
            Formula(net, row.net / scale.cubic_metres),
            Formula(gross, row.gross / scale.cubic_metres),
        )  # fmt: skip
    sheet.gap()


@dataclass(frozen=True)
class Counts:
    """How the packs of a material are counted.

    Args:
        chosen: Where their counts stand; empty where they are fixed, None to count them here.
        whole: Rows of the layers whose coats take whole packs.
    """

    chosen: list[str] | None
    whole: list[int]

    def formula(self, row: int, scale: Scale) -> str:
        """Return how many packs hold what is bought."""
        parts = [f"ROUNDUP(H{row}/I{row}-0.000001,0)"]
        coats = [_whole_packs(layer, f"I{row}", scale) for layer in self.whole]
        if coats:
            parts.append("+".join(coats))
        return f"=MAX(0,{','.join(parts)})"


def _whole_packs(row: int, size: str, scale: Scale) -> str:
    """Return how many packs the coats of a layer take, each whole ones."""
    area, coats, wet, rough, solids, loss = (
        at(LAYERS, k, row) for k in (AREA, COATS, WET, ROUGH, SOLIDS, LOSS)
    )
    buy = f"*{scale.spread!r}/(1-{loss})/{size}-0.000001,0)"
    first = f"ROUNDUP({area}*({wet}+{rough}/{solids}){buy}"
    return f"{first}+({coats}-1)*ROUNDUP({area}*{wet}{buy}"


def material_columns() -> list[Column]:
    """Return the columns of the sheet of materials."""
    return [
        Column("Material", 22), Column("Use, or pack", 42), Column("Unit", 9),
        Column("Extent", 11, "#,##0.00"), Column("of", 8), Column("Net", 11, "#,##0.000"),
        Column("Loss", 8, "0.0%"), Column("Gross", 11, "#,##0.000"),
        Column("In a pack", 10, "#,##0.000"), Column("Packs", 8, "#,##0"),
        Column("Price of one", 11, "#,##0.00"), Column("Cost", 12, "#,##0.00"),
        Column("In place", 9, "0%"),
    ]  # fmt: skip


def write_materials(sheet: Sheet, works: Works, scale: Scale) -> Cells:
    """Write each material: what it is used for, and its packs; return where these stand."""
    cells = Cells()
    places, chosen = layer_rows(works), taken_at(works)
    sheet.head()
    for order in works.supply.orders:
        counts = chosen.get(order.material)
        if order.material in works.supply.plans:
            counts = []
        whole = []
        if is_mixed_whole(works.source.system.materials[order.material]):
            whole = [places[use.use] for use in order.uses if use.is_layer]
        _write_order(sheet, order, scale, places, Counts(counts, whole), cells)
    return cells


def layer_rows(works: Works) -> dict[str, int]:
    """Return the row of each layer on its sheet: each takes its surfaces and two rows."""
    row, found = 5, {}
    for layer in works.source.system.layers:
        count = sum(item.layer == layer.name for item in works.supply.coatings)
        if count:
            found[layer.name] = row
            row += count + 2
    return found


def _write_order(
    sheet: Sheet, order: Order, scale: Scale, places: dict[str, int], counts: Counts, cells: Cells,
) -> None:  # fmt: skip
    """Write one material.

    Args:
        sheet: Of the materials.
        order: Of the material.
        scale: Units.
        places: Rows of the layers on their sheet.
        counts: How its packs are counted.
        cells: Where what is written stands.
    """
    unit, size = scale.of(order.unit)
    first = sheet.row + 1
    for use in order.uses:
        _write_use(sheet, use, scale, places)
    last = sheet.row
    top, end = last + 1, last + len(order.packs)
    whole = f"SUMPRODUCT(I{top}:I{end},J{top}:J{end})"
    for k, pack in enumerate(order.packs):
        here = sheet.row + 1
        net = Formula(f"=SUM(F{first}:F{last})", order.net / size)
        gross = Formula(f"=SUM(H{first}:H{last})", order.gross / size)
        count: Formula | float = float(pack.count)
        if counts.chosen is None:
            count = Formula(counts.formula(here, scale), float(pack.count))
        elif counts.chosen:
            count = Formula(f"={counts.chosen[k]}", float(pack.count))
        price = Input(pack.price)
        cost = Formula(f"=J{here}*K{here}", (pack.price or 0.0) * pack.count)
        used = Formula(f"=IF({whole}=0,0,F{here}/{whole})", _used(order))
        sheet.add(order.material, pack.name, unit, None, None, net, None, gross, pack.size / size,
                  count, price, cost, used, bold=True)  # fmt: skip
        pair = order.material, pack.name
        cells.counts[pair] = at(MATERIALS, 9, here)
        cells.prices[pair] = at(MATERIALS, 10, here)
        cells.used[pair] = at(MATERIALS, 12, here)
    rows = range(top, end + 1)
    cells.packs[order.material] = Sources(
        at(MATERIALS, 7, top),
        tuple(at(MATERIALS, 8, row) for row in rows),
        tuple(at(MATERIALS, 10, row) for row in rows),
    )
    sheet.gap()


def _write_use(sheet: Sheet, use: Use, scale: Scale, places: dict[str, int]) -> None:
    """Write one use: of a layer from its sheet, of a detail with its own loss."""
    unit, size = scale.of(use.unit)
    of, extent = scale.of(use.measure)
    here = sheet.row + 1
    if use.is_layer:
        row = places[use.use]
        sheet.add("", use.use, unit, Formula(f"={at(LAYERS, AREA, row)}", use.extent / extent), of,
                  Formula(f"={at(LAYERS, NET, row)}", use.amount / size),
                  Formula(f"={at(LAYERS, LOSS, row)}", use.loss),
                  Formula(f"={at(LAYERS, GROSS, row)}", use.gross / size))  # fmt: skip
    else:
        loss = Input(use.loss) if use.unit == "m3" else None
        sheet.add("", use.use, unit, use.extent / extent, of, use.amount / size, loss,
                  Formula(f"=F{here}/(1-G{here})", use.gross / size))  # fmt: skip


def _used(order: Order) -> float:
    return order.net / order.ordered if order.ordered else 0.0
