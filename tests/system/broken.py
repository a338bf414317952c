"""Broken system files: what is changed in a sound one, and what must be said of it."""

from __future__ import annotations

from dataclasses import dataclass

SOUND = """\
name: Small system
units: mm
materials:
  primer:
    form: liquid
    role: primer
    immersion: permanent
    density: 1.1 kg/L
    packs: [{name: can, mass: 10 kg, price: 60}]
  slurry:
    form: liquid
    role: membrane
    immersion: permanent
    density: 1.65 kg/L
    solids: 70 %
    packs:
      - name: kit
        parts: [{name: powder, mass: 20 kg}, {name: liquid, mass: 5 kg}]
    pot_life: [{at: 20 C, takes: 40 min}]
    recoat: [{at: 20 C, earliest: 4 h, latest: 24 h}]
  tape:
    form: roll
    role: reinforcement
    length: 50 m
    width: 120
  corner:
    form: piece
    role: corner piece
    pack: 10
layers:
  - {name: primer, material: primer, consumption: 0.2 kg/m2}
  - name: membrane
    material: slurry
    coats: 2
    dry_film: 1 mm
    loss: 8 %
edges:
  - name: internal
    where: {sense: internal, kinds: [floor/wall], angle: [45, 135]}
    work:
      - {do: strip, material: tape, bed: {material: slurry, wet_film: 1 mm}}
  - name: any
    work: []
fittings:
  - name: pipe
    work:
      - {do: bead, material: slurry, width: 10}
corners:
  - name: inside
    where: {sense: inside, edges: 3}
    work: [{do: piece, material: corner}]
readings: {spots: 5, per: 10 m2, each: 3, source: a book}
"""
"""A system file with which nothing is wrong."""


@dataclass(frozen=True)
class Broken:
    """A change that breaks it.

    Args:
        name: What is wrong.
        old: Text of the sound file.
        new: What stands there instead.
        key: Key path that the finding names; empty where it has none.
        words: What it says.
    """

    name: str
    old: str
    new: str
    key: str
    words: tuple[str, ...]


def _of(name: str, old: str, new: str, key: str, *words: str) -> Broken:
    return Broken(name, old, new, key, words)


BROKEN = (
    _of("no name", "name: Small system\n", "", "name", "must be given"),
    _of("units unknown", "units: mm", "units: inches", "units", "must be one of mm, m, ft, in"),
    _of("key unknown", "units: mm", "units: mm\ncolour: blue", "colour", "keys allowed here"),
    _of("key misspelt", "coats: 2", "cotas: 2", "layers[1].cotas", "did you mean 'coats'?"),
    _of("density without a unit", "density: 1.1 kg/L", "density: 1.1", "materials.primer.density",
        "must be a density", "1.6 kg/L"),
    _of("density in a unit of something else", "density: 1.1 kg/L", "density: 1.1 kg",
        "materials.primer.density", "must be a density"),
    _of("density of a gas", "density: 1.1 kg/L", "density: 1.1 kg/m3", "materials.primer.density",
        "must be at least 20 kg/m3"),
    _of("solids of more than all", "solids: 70 %", "solids: 170 %", "materials.slurry.solids",
        "must be at most 100%"),
    _of("negative film", "dry_film: 1 mm", "dry_film: -1 mm", "layers[1].dry_film",
        "must be at least 1e-06 m"),
    _of("film in metres by a slip", "dry_film: 1 mm", "dry_film: 1 m", "layers[1].dry_film",
        "must be at most 0.1 m"),
    _of("two figures for one film", "dry_film: 1 mm", "dry_film: 1 mm\n    wet_film: 2 mm",
        "layers[1]", "dry_film, wet_film"),
    _of("no figure for a film", "    dry_film: 1 mm\n", "", "layers[1]",
        "none of the three"),
    _of("loss of all", "loss: 8 %", "loss: 95 %", "layers[1].loss", "must be at most 90%"),
    _of("no coats", "coats: 2", "coats: 0", "layers[1].coats", "must be at least 1"),
    _of("coats in words", "coats: 2", "coats: two", "layers[1].coats", "a whole number", "'two'"),
    _of("form unknown", "form: piece", "form: sheet", "materials.corner.form",
        "must be one of liquid, roll, piece"),
    _of("form missing", "    form: piece\n", "", "materials.corner.form", "must be given"),
    _of("role unknown", "role: corner piece", "role: corner", "materials.corner.role",
        "did you mean 'corner piece'?"),
    _of("immersion in words", "    immersion: permanent\n    density: 1.65",
        "    immersion: yes\n    density: 1.65", "materials.slurry.immersion",
        "must be one of permanent, splash, none"),
    _of("pack without a size", "{name: can, mass: 10 kg, price: 60}", "{name: can, price: 60}",
        "materials.primer.packs[0].parts", "none of them"),
    _of("pack of two sizes", "{name: can, mass: 10 kg, price: 60}",
        "{name: can, mass: 10 kg, volume: 9 L}", "materials.primer.packs[0].parts",
        "mass, volume"),
    _of("kit of parts that do not add up", "{name: liquid, mass: 5 kg}",
        "{name: liquid, volume: 5 L}", "materials.slurry.packs[0].parts",
        "must give all parts by mass or all by volume"),
    _of("no packs", "packs: [{name: can, mass: 10 kg, price: 60}]", "packs: []",
        "materials.primer.packs", "must have at least 1 entries"),
    _of("window that ends before it begins", "earliest: 4 h, latest: 24 h",
        "earliest: 4 h, latest: 2 h", "materials.slurry.recoat[0].latest",
        "must be later than 'earliest'"),
    _of("temperature without its unit", "[{at: 20 C, takes: 40 min}]", "[{at: 20, takes: 40 min}]",
        "materials.slurry.pot_life[0].at", "20 C or 68 F"),
    _of("temperature given twice", "[{at: 20 C, takes: 40 min}]",
        "[{at: 20 C, takes: 40 min}, {at: 68 F, takes: 30 min}]",
        "materials.slurry.pot_life", "must give each temperature once"),
    _of("layer of a material that is not there", "material: primer, consumption",
        "material: primmer, consumption", "layers[0].material", "did you mean 'primer'?"),
    _of("layer of a tape", "material: primer, consumption", "material: tape, consumption",
        "layers[0].material", "must be a liquid", "'tape', a roll"),
    _of("two layers of one name", "{name: primer, material", "{name: membrane, material",
        "layers[1].name", "must be another than those before"),
    _of("surface unknown", "    loss: 8 %", "    where: {kinds: [flor]}",
        "layers[1].where.kinds[0]", "did you mean 'floor'?"),
    _of("edge of one surface", "kinds: [floor/wall]", "kinds: [floor]",
        "edges[0].where.kinds[0]", "two kinds of surface"),
    _of("edge of an unknown surface", "kinds: [floor/wall]", "kinds: [floor/roof]",
        "edges[0].where.kinds[0]", "must be a kind that poolgeo knows"),
    _of("angles the wrong way round", "angle: [45, 135]", "angle: [135, 45]",
        "edges[0].where.angle", "must be the least angle, then the largest"),
    _of("work unknown", "do: strip", "do: paint", "edges[0].work[0].do", "must be one of arris"),
    _of("work at the wrong place", "{do: piece, material: corner}",
        "{do: fillet, material: slurry, size: 30}", "corners[0].work[0].do",
        "must be work that can be done at a corner"),
    _of("fillet at edges of either sense",
        "where: {sense: internal, kinds: [floor/wall], angle: [45, 135]}\n    work:\n",
        "where: {kinds: [floor/wall]}\n    work:\n"
        "      - {do: fillet, material: slurry, size: 30}\n",
        "edges[0].where.sense", "must be 'internal' for 'fillet'"),
    _of("arris at an internal edge", "    work:\n      - {do: strip",
        "    work:\n      - {do: arris, section: rounded, size: 10}\n      - {do: strip",
        "edges[0].where.sense", "must be 'external' for 'arris'"),
    _of("angle of a joint", "where: {sense: internal, kinds: [floor/wall], angle: [45, 135]}",
        "where: {of: joint, angle: [45, 135]}", "edges[0].where.angle",
        "must not be given for a joint"),
    _of("bead at an edge without a width", "    work: []",
        "    work: [{do: bead, material: slurry}]", "edges[1].work[0].width", "it has no gap"),
    _of("rate of nothing", "readings: {",
        "rates: [{item: membrain, unit: m2, rate: 3}]\nreadings: {", "rates[0].item",
        "did you mean 'membrane'?"),
    _of("rate in another unit", "readings: {",
        "rates: [{item: 'inside: piece', unit: m, rate: 3}]\nreadings: {", "rates[0].unit",
        "must be 'pieces'"),
    _of("bead about a fitting without a width", "material: slurry, width: 10",
        "material: slurry", "fittings[0].work[0].width", "must be given about a fitting"),
    _of("dry film of a material without solids", "consumption: 0.2 kg/m2", "dry_film: 0.1 mm",
        "layers[0].dry_film", "'solids'"),
    _of("no layers", "layers:\n  - {name: primer, material: primer, consumption: 0.2 kg/m2}\n  -"
        " name: membrane\n    material: slurry\n    coats: 2\n    dry_film: 1 mm\n    loss: 8 %\n",
        "layers: []\n", "layers", "must have at least 1 entries"),
    _of("solids of nothing", "solids: 70 %", "solids: 0", "materials.slurry.solids",
        "must be above 0"),
    _of("lap longer than the roll", "width: 120", "width: 120\n    lap: 60 m",
        "materials.tape.lap", "must be shorter than a roll", "60.000 m"),
    _of("a list for a map", "{sense: internal, kinds: [floor/wall], angle: [45, 135]}",
        "[internal]", "edges[0].where", "must be"),
    _of("two rates of one item", "readings: {",
        "rates: [{item: membrane, unit: m2, rate: 3}, {item: membrane, unit: m2, rate: 4}]\n"
        "readings: {", "rates[1].item", "must stand once for each unit"),
    _of("key twice", "name: Small system", "name: Small system\nname: Other", "name",
        "must stand once"),
    _of("not YAML", "units: mm", "units: [mm", "", "the file must be YAML"),
    _of("an alias", "units: mm", "units: &u mm\nthis: *u", "units", "anchor"),
)  # fmt: skip
