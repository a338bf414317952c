"""A pool, a system, a job and a table of requirements that fit each other, most at their limits."""

from __future__ import annotations

import copy
import json
import tempfile
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

from poolgeo.builder import build
from poolgeo.design.load import design_from
from poolgeo.design.waterproofing import Waterproofing
from poolgeo.measure.takeoff import measure
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.review.case import Case, Remark
from poolgeo.review.review import review
from poolgeo.works import Works, waterproof

Mixed = dict[str, Any]
Changes = dict[str, Any]
"""What is put at a place: ``system.layers.2.coats``; of a list, one past its end adds to it."""

GONE = object()
"""Put at a place, it takes away what stands there."""

POOL: Mixed = {
    "name": "box",
    "units": "m",
    "freeboard": 0.2,
    "outline": {"shape": "rectangle", "length": 4, "width": 2},
    "floor": {"shape": "level", "depth": 1.4},
    "shell": {"wall": 0.25, "floor": 0.25},
    "setting": "in ground",
    "coping": {"membrane_return": 0.15},
    "bench": [{"name": "seat", "start": [-1, -1], "end": [1, -1], "width": 0.4, "depth": 0.5}],
    "joints": [{"start": [1.5, -1.25], "end": [1.5, 1.25], "width": 0.02}],
    "fittings": [
        {"kind": "main drain", "point": [0.5, 0.3], "diameter": 0.2, "collar": 0.1},
        {"kind": "return inlet", "at": [-2, 0], "depth": 0.4, "diameter": 0.1, "collar": 0.05},
        {"kind": "skimmer", "at": [0, 1], "depth": 0, "width": 0.2, "height": 0.14},
    ],
}
"""4 m by 2 m, 1.4 m deep, with a bench, a joint across it, and fittings in floor, wall and band."""


def by_temperature(**times: Any) -> list[Mixed]:
    """Return rows that say the same at 10, 20 and 30 C."""
    return [{"at": f"{at} C", **times} for at in (10, 20, 30)]


LIQUID: Mixed = {
    "form": "liquid",
    "immersion": "permanent",
    "solids": 1.0,
    "needs_primer": False,
    "substrate": "any",
    "divisible": True,
    "pot_life": by_temperature(takes="60 min"),
    "cure": by_temperature(takes="7 d"),
    "source": "data sheet of the maker",
}
ROLL: Mixed = {
    "form": "roll", "immersion": "permanent", "family": "elastomer", "length": "50 m", "price": 50,
}  # fmt: skip
MATERIALS: Mixed = {
    "mortar": {
        **LIQUID, "role": "repair mortar", "family": "grout", "density": "2 kg/L",
        "strength": "30 MPa", "bond": "1.5 MPa", "recoat": by_temperature(earliest="24 h"),
        "packs": [{"name": "bag", "mass": "20 kg", "price": 20}],
    },
    "primer": {
        **LIQUID, "role": "primer", "family": "dispersion", "density": "1 kg/L",
        "substrate": "damp", "recoat": by_temperature(earliest="1 h", latest="8 h"),
        "packs": [{"name": "can", "mass": "5 kg", "price": 30}],
    },
    "slurry": {
        **LIQUID, "role": "membrane", "family": "mineral", "density": "1.6 kg/L", "solids": "80 %",
        "least_film": "2.4 mm", "most_coat": "1.5 mm", "bond": "0.5 MPa",
        "crack_bridging": "0.75 mm", "negative_pressure": "10 kPa", "needs_primer": True,
        "divisible": False, "pot_life": by_temperature(takes="18.1 min"),
        "recoat": [
            {"at": "10 C", "earliest": "10 h", "latest": "72 h"},
            {"at": "20 C", "earliest": "6 h", "latest": "48 h"},
            {"at": "30 C", "earliest": "3 h", "latest": "24 h"},
        ],
        "packs": [{"name": "kit", "price": 90, "parts": [{"name": "powder", "mass": "18 kg"},
                                                         {"name": "liquid", "mass": "6 kg"}]}],
    },
    "guard": {
        **LIQUID, "role": "protection coat", "family": "grout", "density": "2 kg/L",
        "recoat": by_temperature(earliest="24 h"),
        "packs": [{"name": "bag", "mass": "20 kg", "price": 25}],
    },
    "fillet mortar": {
        **LIQUID, "role": "fillet mortar", "family": "grout", "density": "2 kg/L",
        "packs": [{"name": "bag", "mass": "20 kg", "price": 22}],
    },
    "sealant": {
        **LIQUID, "role": "sealant", "family": "polymer", "density": "1.3 kg/L",
        "movement": "25 %", "packs": [{"name": "sausage", "volume": "600 mL", "price": 11}],
    },
    "tape": {**ROLL, "role": "reinforcement", "width": 102.5, "lap": 50, "least_bond": 30},
    "joint tape": {**ROLL, "role": "reinforcement", "width": 200, "lap": 50, "least_bond": 50},
    "breaker": {**ROLL, "role": "bond breaker", "width": 30},
    "rod": {**ROLL, "role": "backer rod", "width": 25},
    "swelling": {**ROLL, "role": "hydrophilic strip", "width": 20},
    "corner": {"form": "piece", "role": "corner piece", "immersion": "permanent", "pack": 10,
               "price": 60},
    "collar": {"form": "piece", "role": "collar", "immersion": "permanent", "price": 9},
}  # fmt: skip

TAPE: Mixed = {"do": "strip", "name": "tape", "material": "tape",
               "bed": {"material": "slurry", "consumption": "1.6 kg/m2"}}  # fmt: skip
EDGES: list[Mixed] = [
    {"name": "joint", "where": {"of": "joint"}, "work": [
        {"do": "rod", "material": "rod"},
        {"do": "bead", "material": "sealant", "loss": "10 %"},
        {"do": "strip", "name": "breaker", "material": "breaker"},
        {"do": "strip", "name": "joint tape", "material": "joint tape"},
    ]},
    {"name": "outer", "where": {"sense": "external", "zones": ["wall top", "coping return"]},
     "work": [{"do": "arris", "section": "rounded", "size": 10}]},
    {"name": "nose", "where": {"sense": "external"},
     "work": [{"do": "arris", "section": "rounded", "size": 10}, TAPE]},
    {"name": "inner", "where": {"sense": "internal"},
     "work": [{"do": "fillet", "material": "fillet mortar", "size": 30, "loss": "10 %"}, TAPE]},
]  # fmt: skip
FITTINGS: list[Mixed] = [
    {"name": "fitting", "along": "opening", "work": [
        {"do": "rod", "material": "swelling"},
        {"do": "bead", "material": "sealant", "width": 10, "depth": 10, "loss": "10 %"},
        {"do": "piece", "material": "collar"},
    ]},
]  # fmt: skip
CORNERS: list[Mixed] = [
    {"name": "inside", "where": {"sense": "inside", "edges": 3},
     "work": [{"do": "piece", "material": "corner"}]},
    {"name": "folded", "work": []},
]  # fmt: skip
LAYERS: list[Mixed] = [
    {"name": "repair", "material": "mortar", "share": "5 %", "wet_film": "10 mm", "loss": "10 %",
     "speed": "4 m2/h"},
    {"name": "primer", "material": "primer", "consumption": "0.2 kg/m2", "loss": "5 %",
     "speed": "20 m2/h"},
    {"name": "membrane", "material": "slurry", "coats": 2, "dry_film": "1.2 mm", "loss": "10 %",
     "speed": "15 m2/h"},
    {"name": "protection", "material": "guard", "where": {"zones": ["coping return"]},
     "wet_film": "3 mm", "loss": "10 %", "speed": "8 m2/h"},
]  # fmt: skip
RATES: list[Mixed] = [
    {"item": item, "unit": unit, "rate": rate}
    for item, unit, rate in (
        ("repair", "m2", 40), ("primer", "m2", 4), ("membrane", "m2", 16), ("protection", "m2", 9),
        ("joint: rod", "m", 2), ("joint: bead", "m", 5), ("joint: breaker", "m", 2),
        ("joint: joint tape", "m", 14), ("outer: arris", "m", 5), ("nose: arris", "m", 5),
        ("nose: tape", "m", 8), ("inner: fillet", "m", 6), ("inner: tape", "m", 8),
        ("fitting: rod", "m", 4), ("fitting: bead", "m", 6), ("fitting: piece", "pieces", 18),
        ("inside: piece", "pieces", 5),
    )
]  # fmt: skip
SYSTEM: Mixed = {
    "name": "sound",
    "units": "mm",
    "currency": "units of account",
    "materials": MATERIALS,
    "layers": LAYERS,
    "edges": EDGES,
    "fittings": FITTINGS,
    "corners": CORNERS,
    "rates": RATES,
    "readings": {"spots": 5, "per": "10 m2", "each": 3, "source": "a book"},
}

JOB: Mixed = {
    "temperature": "20 C",
    "crew": 2,
    "concrete": {"strength": "30 MPa", "moisture": "damp"},
    "ground_water": 1.4,
    "heavy_coping": True,
    "programme": {
        "tightness_test": "0 h",
        "coats": [
            {"layer": "repair", "starts": "0 h", "takes": "4 h"},
            {"layer": "primer", "starts": "28 h", "takes": "2 h"},
            {"layer": "membrane", "starts": "31 h", "takes": "5 h"},
            {"layer": "membrane", "coat": 2, "starts": "42 h", "takes": "5 h"},
            {"layer": "protection", "starts": "53 h", "takes": "1 h"},
        ],
        "filling": "222 h",
    },
}
"""Each coat as early as the one before lets it, the water as soon as the last has cured."""

REQUIREMENTS: Mixed = {
    "name": "test requirements",
    "units": "m",
    "films": [
        {"family": "mineral", "least": "2.4 mm", "source": "film rule"},
        {"family": "mineral", "least": "2.5 mm", "deeper_than": 3, "source": "deep rule",
         "from_memory": True},
    ],
    "classes": [
        {"up_to": 1.4, "name": "shallow", "source": "class rule"},
        {"up_to": 4, "name": "deep", "source": "class rule"},
    ],
    "bond": {"least": "0.5 MPa", "source": "bond rule"},
    "crack_bridging": {"least": "0.75 mm", "source": "crack rule"},
    "repair": [
        {"name": "R1", "strength": "10 MPa", "bond": "0.8 MPa", "source": "repair rule"},
        {"name": "R3", "strength": "25 MPa", "bond": "1.5 MPa", "source": "repair rule"},
    ],
    "bedding": {"contact": "95 %", "thickness": "2 mm", "source": "bed rule"},
    "tightness_test_first": {"source": "test rule"},
}  # fmt: skip

SOUND: Mixed = {"pool": POOL, "system": SYSTEM, "job": JOB, "requirements": REQUIREMENTS}
"""All four, as `changed` changes them."""


def changed(changes: Changes) -> Mixed:
    """Return a sound whole with something else at some places."""
    whole = copy.deepcopy(SOUND)
    for place, value in changes.items():
        *way, last = place.split(".")
        inside: Any = whole
        for step in way:
            inside = inside[int(step)] if isinstance(inside, list) else inside[step]
        key = int(last) if isinstance(inside, list) else last
        if value is GONE:
            del inside[key]
        elif key == len(inside):
            inside.append(value)
        else:
            inside[key] = value
    return whole


@cache
def _built(text: str) -> tuple[Model, Takeoff]:
    model = build(design_from(json.loads(text)))
    return model, measure(model)


def built(pool: Mixed) -> tuple[Model, Takeoff]:
    """Build and measure a pool, each once."""
    return _built(json.dumps(pool))


def works_of(changes: Changes, **files: str) -> tuple[Works, Case]:
    """Work a changed whole out, from files.

    Args:
        changes: To what is sound.
        files: Names in the job (``prices``) with the text of the files that they stand for.

    Returns:
        The works, and what the review looked at.
    """
    whole = changed(changes)
    seen: list[Case] = []

    def looked_at(case: Case) -> tuple[Remark, ...]:
        seen.append(case)
        return review(case)

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        named = {"system": whole["system"], "requirements": whole["requirements"],
                 "method": whole.get("method")}  # fmt: skip
        job = dict(whole["job"])
        for key, value in named.items():
            if value is not None:
                path = folder / f"{key}.yaml"
                path.write_text(json.dumps(value, indent=1), encoding="utf-8")
                job[key] = str(path)
        for key, text in files.items():
            (folder / f"{key}.csv").write_text(text, encoding="utf-8")
            job[key] = str(folder / f"{key}.csv")
        job["programme"] = _with_tuples(job.get("programme"))
        checked = Waterproofing.model_validate(job, context={"units": "m"})
        with patch("poolgeo.works.review", looked_at):
            works = waterproof(*built(whole["pool"]), checked)
    return works, seen[0]


def _with_tuples(programme: Mixed | None) -> Mixed | None:
    """Return a programme with its list as a tuple, as a pool file is read."""
    if programme is None:
        return None
    return {key: tuple(item) if isinstance(item, list) else item for key, item in programme.items()}
