"""Single changes to what is sound, what must be said of each, and how far one may go without."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from poolgeo.errors import Severity
from poolgeo.system.requirements import PRACTICE

from .sound import GONE, JOB, MATERIALS, TAPE, Changes, Mixed

SHEET = "data sheet of the maker"
"""Where the materials' data come from."""


@dataclass(frozen=True)
class Change:
    """A change, and what is found.

    Args:
        name: What is wrong.
        rule: Name of the function that finds it.
        wrong: What stands where.
        severity: Of the finding.
        key: Key path that it names.
        words: What it says.
        source: Where its rule comes from.
        right: What may stand there instead; nothing is found then that is not found without.
    """

    name: str
    rule: str
    wrong: Changes
    severity: Severity
    key: str
    words: tuple[str, ...]
    source: str
    right: Changes


def _of(
    name: str, rule: str, wrong: Changes, severity: Severity, key: str, *words: str,
    right: Changes, source: str = PRACTICE,
) -> Change:  # fmt: skip
    return Change(name, rule, wrong, severity, key, words, source, right)


def of(material: str, **data: Any) -> Changes:
    """Change the data of a material."""
    return {f"system.materials.{material}.{key}": value for key, value in data.items()}


def tiled(**bed: Any) -> Changes:
    """Lay tile in a bed."""
    tile = {"length": "200 mm", "width": "100 mm", "thickness": "8 mm"}
    finish = {"name": "tile", "type": "tile", "tile": tile, "joint": "3 mm", "bed": bed}
    return {"pool.finishes": [finish]}


def layer(number: int, **data: Any) -> Changes:
    """Change a layer: 0 repair, 1 primer, 2 membrane, 3 protection."""
    return {f"system.layers.{number}.{key}": value for key, value in data.items()}


def step(number: int, **data: Any) -> Changes:
    """Change a step: 0 repair, 1 primer, 2 and 3 the membrane's coats, 4 protection."""
    return {f"job.programme.coats.{number}.{key}": value for key, value in data.items()}


def without_layer(number: int) -> Changes:
    """Leave a layer of one coat out, with its step of the programme."""
    return {
        f"system.layers.{number}": GONE,
        f"job.programme.coats.{number if number < 3 else number + 1}": GONE,
        f"system.rates.{number}": GONE,
    }


def before_pool(depth: float, ground_water: float, **more: Any) -> Changes:
    """Change the depth, with ground water that does not reach the floor."""
    pool = {f"pool.{key}": value for key, value in more.items()}
    return {"pool.floor.depth": depth, "job.ground_water": ground_water, **pool}


def primed_but(kind: str) -> Changes:
    """Prime all kinds of surface but one."""
    kinds = {"floor", "wall", "bench top", "bench face", "wall top"} - {kind}
    return layer(1, where={"kinds": sorted(kinds)})


def film(dry: float, solids: float = 0.8) -> Changes:
    """Change the dry film of both coats together [mm]; no coat gets too thick by it."""
    wet = f"{dry / solids / 2:.6f} mm"
    return {**layer(2, dry_film=GONE, wet_film=wet), **of("slurry", most_coat="5 mm")}


def pot_life_of(minutes: float) -> Changes:
    """Change the pot life of the membrane, whatever the temperature."""
    return of("slurry", pot_life=[{"at": f"{at} C", "takes": f"{minutes} min"} for at in (10, 30)])


LATE = {"job.programme.filling": "20 d"}
"""The water comes when everything has long cured."""


def at_15(**steps: str) -> Changes:
    """Work at 15 C; the membrane's second coat and the protection start at other times."""
    found: dict[str, Any] = {"job.temperature": "15 C", **LATE}
    for number, name in ((3, "second"), (4, "protection")):
        found |= step(number, starts=steps[name])
    return found


def internal_tape(width: float, **more: Any) -> Changes:
    """Change the width of the tape over the fillets [mm]."""
    return of("tape", width=width, **more)


DRY_ONLY: Changes = {
    "pool.joints": [],
    "pool.fittings": [{"kind": "fitting", "at": [0, 1], "depth": -0.12, "diameter": 0.05,
                       "collar": 0.02}],
}  # fmt: skip
"""No joint, and one fitting, above the water."""

ONLY_WARM: list[Mixed] = [
    {"at": "20 C", "earliest": "6 h", "latest": "48 h"},
    {"at": "30 C", "earliest": "3 h", "latest": "24 h"},
]
STEPS: list[Mixed] = JOB["programme"]["coats"]
BANDED: Mixed = {**MATERIALS["guard"], "role": "membrane", "family": "mineral"}
OFFSET: Mixed = {**TAPE, "offset": 10}

MATERIAL_CHANGES = (
    _of("membrane not for immersion", "immersion", of("slurry", immersion="splash"), "error",
        "materials.slurry.immersion", "must be permanent for a material under water", "'splash'",
        "a coat over it does not help", right=of("guard", immersion="splash")),
    _of("membrane without a word on immersion", "immersion", of("slurry", immersion=GONE),
        "error", "materials.slurry.immersion", "must be stated for a material under water",
        "in writing", right=of("guard", immersion=GONE)),
    _of("primer that stands dryness only", "immersion", of("primer", immersion="none"), "error",
        "materials.primer.immersion", "must be permanent", "'none'",
        right=of("guard", immersion="none")),
    _of("sealant not for immersion", "immersion", of("sealant", immersion="splash"), "error",
        "materials.sealant.immersion", "must be permanent for a sealant under water",
        right=of("sealant", immersion="splash") | DRY_ONLY),
    _of("bond breaker not for immersion", "immersion", of("breaker", immersion="none"), "error",
        "materials.breaker.immersion", "must be permanent for a bond breaker under water",
        right=of("breaker", immersion="none") | DRY_ONLY),
    _of("backer rod without a word on immersion", "immersion", of("rod", immersion=GONE), "error",
        "materials.rod.immersion", "must be stated for a backer rod under water",
        right=of("rod", immersion=GONE) | DRY_ONLY),
    _of("collar of what corrodes", "immersion", of("collar", immersion="splash"), "error",
        "materials.collar.immersion", "must be permanent for a material under water",
        right=of("collar", immersion="splash") | DRY_ONLY),
    _of("mortar weaker than the concrete", "repair", of("mortar", strength="29.9 MPa"), "error",
        "materials.mortar.strength", "must not be less than that of the concrete",
        "got 29.9 MPa; the concrete has 30 MPa", right=of("mortar", strength="30 MPa")),
    _of("mortar of no class", "repair",
        {**of("mortar", strength="9.9 MPa"), "job.concrete.strength": "9 MPa"}, "error",
        "materials.mortar.strength", "must be at least 10 MPa, class R1", "9.9 MPa",
        source="repair rule",
        right=of("mortar", strength="10 MPa", bond="0.8 MPa") | {"job.concrete.strength": "9 MPa"}),
    _of("mortar without a strength", "repair", of("mortar", strength=GONE), "warning",
        "materials.mortar.strength", "must be stated for a repair mortar",
        right=of("mortar", strength="40 MPa")),
    _of("mortar that bonds less than its class asks", "repair", of("mortar", bond="0.79 MPa"),
        "error", "materials.mortar.bond", "must be at least 0.8 MPa for class R1", "0.79 MPa",
        source="repair rule", right=of("mortar", bond="0.8 MPa")),
    _of("mortar without a bond", "repair", of("mortar", bond=GONE), "warning",
        "materials.mortar.bond", "must be stated for class R1", source="repair rule",
        right=of("mortar", bond="2 MPa")),
    _of("membrane that bonds too little", "membranes", of("slurry", bond="0.49 MPa"), "error",
        "materials.slurry.bond", "must be at least 0.5 MPa for a membrane", "0.49 MPa",
        source="bond rule", right=of("slurry", bond="0.49 MPa") | {"pool.finishes": []}),
    _of("membrane without a bond", "membranes", of("slurry", bond=GONE), "warning",
        "materials.slurry.bond", "must be stated for a membrane", source="bond rule",
        right={**of("slurry", bond=GONE), "requirements.bond": GONE}),
    _of("membrane that bridges too little", "membranes", of("slurry", crack_bridging="0.7 mm"),
        "error", "materials.slurry.crack_bridging", "must be at least 0.75 mm", "0.7 mm",
        source="crack rule", right=of("slurry", crack_bridging="0.75 mm")),
    _of("membrane without a word on cracks", "membranes", of("slurry", crack_bridging=GONE),
        "warning", "materials.slurry.crack_bridging", "must be stated", source="crack rule",
        right={**of("slurry", crack_bridging=GONE), "requirements.crack_bridging": GONE}),
    _of("primer for dry concrete", "substrate", of("primer", substrate="dry"), "error",
        "materials.primer.substrate", "must suit the concrete", "'dry' on damp concrete",
        right={**of("primer", substrate="dry"), "job.concrete.moisture": "dry"}),
    _of("primer without a word on moisture", "substrate", of("primer", substrate=GONE), "warning",
        "materials.primer.substrate", "must be stated", right=of("slurry", substrate=GONE)),
)  # fmt: skip

LAYER_CHANGES = (
    _of("film below the data sheet's", "films", film(2.41) | of("slurry", least_film="2.42 mm"),
        "error", "layers[2].wet_film", "must be at least 2.42 mm dry", "2.41 mm dry", source=SHEET,
        right=film(2.42) | of("slurry", least_film="2.42 mm")),
    _of("film below the family's", "films", film(2.39) | of("slurry", least_film=GONE), "error",
        "layers[2].wet_film", "must be at least 2.4 mm dry under 1.400 m of water", "2.39 mm dry",
        source="film rule", right=film(2.4) | of("slurry", least_film=GONE)),
    _of("film below what deep water asks", "films", before_pool(3.01, 3.01), "error",
        "layers[2].dry_film", "must be at least 2.5 mm dry under 3.010 m of water", "2.40 mm dry",
        source="deep rule (from memory)", right=before_pool(3.0, 3.0)),
    _of("deep water, film too thin by a hair", "films", before_pool(3.01, 3.01) | film(2.499),
        "error", "layers[2].wet_film", "must be at least 2.5 mm dry",
        source="deep rule (from memory)", right=before_pool(3.01, 3.01) | film(2.5)),
    _of("coat too thick", "films", of("slurry", most_coat="1.49 mm"), "error", "layers[2].coats",
        "must be more", "1.50 mm wet a coat; the data sheet allows 1.49 mm",
        right=of("slurry", most_coat="1.5 mm")),
    _of("coat of a mortar too thick", "films", of("mortar", most_coat="9 mm"), "error",
        "layers[0].coats", "10.00 mm wet a coat", right=of("mortar", most_coat="10 mm")),
    _of("membrane without solids", "films", of("slurry", solids=GONE)
        | layer(2, dry_film=GONE, wet_film="1.5 mm"), "warning", "materials.slurry.solids",
        "must be stated so that the dry film is known",
        right=layer(2, dry_film=GONE, wet_film="1.5 mm")),
    _of("membrane of a family that no requirement knows", "films", of("slurry", family="bitumen"),
        "warning", "materials.slurry.family", "for which the requirements give a least film",
        "'bitumen'", right={**of("slurry", family="bitumen"),
                            "requirements.films.0.family": "bitumen"}),
    _of("no primer", "primers", without_layer(1), "error", "layers[1].material",
        "must have a primer under it", "floor of the pool, below band; 5 more",
        right=without_layer(1) | of("slurry", needs_primer=False)),
    _of("no primer on the bench", "primers", primed_but("bench top"), "error",
        "layers[2].material", "must have a primer under it",
        "(got bench top of the pool, below band)", right=primed_but("")),
    _of("not a word on primers", "primers", of("slurry", needs_primer=GONE), "warning",
        "materials.slurry.needs_primer", "must be stated", right=of("primer", needs_primer=GONE)),
    _of("bench face without a membrane", "bare_surfaces",
        layer(2, where={"kinds": ["floor", "wall", "bench top", "wall top"]}), "error", "layers",
        "must put a membrane on every wet surface", "(got bench face of the pool, below band)",
        right=layer(2, where={"kinds": ["floor", "wall", "bench *", "wall top"]})),
    _of("no membrane below the band", "bare_surfaces",
        layer(2, where={"zones": ["waterline band", "freeboard", "wall top", "coping return"]}),
        "error", "layers", "must put a membrane", "1 more",
        right=layer(2, where={"zones": ["below band", "waterline band", "coping return"]})),
    _of("layers that do not get on", "neighbours", of("slurry", not_beside=["dispersion"]),
        "error", "materials.slurry.not_beside", "the family of 'primer', which it touches",
        "'dispersion'", right=of("slurry", not_beside=["bitumen"])),
    _of("sealant against the rod", "neighbours",
        of("sealant", not_beside=["foam"]) | of("rod", family="foam"), "error",
        "materials.sealant.not_beside", "'rod'", "'foam'",
        right=of("sealant", not_beside=["foam"]) | of("collar", family="sponge")),
    _of("sealant against the membrane", "neighbours", of("sealant", not_beside=["mineral"]),
        "error", "materials.sealant.not_beside", "'slurry', which it touches", "'mineral'",
        right=of("sealant", not_beside=["bitumen"])),
    _of("tape against the membrane", "neighbours",
        of("tape", not_beside=["mineral"]), "error", "materials.tape.not_beside",
        "'slurry', which it touches", right=of("tape", not_beside=["dispersed"])),
    _of("kit that sets before it is spread", "mixes", pot_life_of(17), "error",
        "materials.slurry.divisible", "a kit be applied before its pot life ends",
        "takes 1.1 times as long with a crew of 2", right=pot_life_of(18.001)),
    _of("one person alone", "mixes", {"job.crew": 1}, "error", "materials.slurry.divisible",
        "2 times as long with a crew of 1",
        right={"job.crew": 1} | of("slurry", divisible=True)),
    _of("no speed", "mixes", layer(2, speed=GONE), "warning", "layers[2].speed",
        "must be stated so that mixes can be sized", right=layer(2, speed="14.99 m2/h")),
    _of("no pot life", "mixes", of("slurry", pot_life=[]), "warning", "materials.slurry.pot_life",
        "must be stated", right=pot_life_of(60)),
    _of("no pot life at that temperature", "mixes",
        of("slurry", pot_life=[{"at": "21 C", "takes": "30 min"}]), "error",
        "materials.slurry.pot_life", "must be given for the temperature of the works", "20 C",
        right=of("slurry", pot_life=[{"at": "20 C", "takes": "30 min"}])),
    _of("heavy stones on the membrane", "coping", without_layer(3), "error", "layers",
        "must put a protection coat under heavy or rough coping stones", "'coping return'",
        right=without_layer(3) | {"job.heavy_coping": False}),
    _of("stones not spoken of", "coping", without_layer(3) | {"job.heavy_coping": GONE},
        "warning", "layers", "if its stones are heavy or rough", "'heavy_coping'",
        right={"job.heavy_coping": GONE}),
    _of("protection on a part", "coping", layer(3, share=0.9), "error", "layers",
        "must put a protection coat", right=layer(3, share=1.0)),
    _of("no return, no stones on it", "coping", without_layer(3), "error", "layers",
        "must put a protection coat", right=without_layer(3) | {"pool.coping": GONE}),
)  # fmt: skip

DETAIL_CHANGES = (
    _of("body that is none", "bodies", {"system.corners.0.where.bodies": ["pool", "spaa"]},
        "warning", "corners[0].where.bodies[1]", "is no body of this pool", "'spaa'",
        right={"system.corners.0.where.bodies": ["pool"]}),
    _of("fillet larger than the seat's face leaves room for", "fillets",
        {"system.edges.3.work.0.size": 900} | internal_tape(2000), "error", "edges[3].work",
        "must have a fillet no larger than the faces at", "0.900 m on",
        right={"system.edges.3.work.0.size": 390} | internal_tape(2000)),
    _of("backer rod as wide as the joint", "rods", of("rod", width=20), "error",
        "materials.rod.width", "must be wider than the joint J1", "20 mm in 20 mm",
        right=of("rod", width=20.1)),
    _of("backer rod without a width", "rods", of("rod", width=GONE), "warning",
        "materials.rod.width", "must be stated for a backer rod",
        right=of("rod", width=GONE, role="hydrophilic strip")),
    _of("edges without a rule", "undecided", {"system.edges.3.where.kinds": [
        "floor/wall", "wall/wall", "bench face/floor", "wall/bench top"]}, "error", "edges",
        "must have a rule for wall/bench face", "(got P16.10, P16.30)", "an empty 'work'",
        right={"system.edges.3.where.kinds": [
            "floor/wall", "wall/wall", "floor/bench face", "bench top/wall", "bench face/wall"]}),
    _of("corners without a rule", "undecided", {"system.corners.1": GONE}, "warning", "corners",
        "should have a rule for every corner", ", ...",
        right={"system.corners.1": GONE, "system.corners.0.where": {}}),
    _of("tape narrower than the fillet and its bond", "tapes", internal_tape(102.4), "error",
        "edges[3].work[1].material", "must be a tape at least",
        "102 mm: 42 mm across the fillet or cove and 30 mm at either side",
        right=internal_tape(102.43)),
    _of("tape on the joint too narrow", "tapes", of("joint tape", width=99.9), "error",
        "edges[0].work[3].material", "must be a tape at least 100 mm wide",
        "the edge and 50 mm at either side", right=of("joint tape", width=100)),
    _of("tape off the middle", "tapes", {"system.edges.3.work.1": OFFSET}, "error",
        "edges[3].work[1].material", "must be a tape at least 123 mm wide",
        right={"system.edges.3.work.1": OFFSET} | internal_tape(122.43)),
    _of("tape without a width", "tapes", internal_tape(120) | of("tape", width=GONE), "warning",
        "materials.tape.width", "must be stated for a tape", right=of("breaker", width=GONE)),
    _of("tape without a bond", "tapes", of("tape", least_bond=GONE), "warning",
        "materials.tape.least_bond", "must be stated for a tape",
        right=of("tape", role="backer rod", least_bond=GONE)),
    _of("strip about a drain longer than its roll", "rolls",
        of("swelling", length="640 mm", least_piece=600, lap=10), "error",
        "materials.swelling.least_piece", "must let every run be cut", "(got F3, 0.690 m)",
        right=of("swelling", length="700 mm", least_piece=600, lap=10)),
    _of("sealant without its movement", "movement", of("sealant", movement=GONE), "warning",
        "materials.sealant.movement", "must be stated for a sealant",
        right=of("sealant", movement="5 %")),
)  # fmt: skip

PROGRAMME_CHANGES = (
    _of("coat in less time than the crew takes", "programme", step(3, takes="0.9 h"), "warning",
        "waterproofing.programme.coats[3].takes",
        "should be 1.0 h at the speed of 'membrane' with a crew of 2", "0.9 h",
        right=step(3, takes="1 h")),
    _of("no filling", "programme", {"job.programme.filling": GONE}, "warning",
        "waterproofing.programme.filling", "should be stated", right=step(3, takes="4.9 h")),
    _of("second coat too early", "programme", step(3, starts="41.9 h"), "error",
        "waterproofing.programme.coats[3].starts",
        "must leave 'membrane' 6.0 h before 'membrane', coat 2", "5.9 h", source=SHEET,
        right=step(3, starts="42 h")),
    _of("membrane too early on its primer", "programme", step(2, starts="30.5 h"), "error",
        "waterproofing.programme.coats[2].starts",
        "must leave 'primer' 1.0 h before 'membrane', coat 1", "0.5 h", source=SHEET,
        right=step(2, starts="31.5 h") | step(3, starts="42.5 h") | step(4, starts="53.5 h")
        | LATE),
    _of("membrane too late on its primer", "programme",
        step(2, starts="38.1 h") | step(3, starts="50 h") | step(4, starts="70 h") | LATE, "error",
        "waterproofing.programme.coats[2].starts",
        "must follow 'primer' within 8.0 h with 'membrane', coat 1", "8.1 h", source=SHEET,
        right=step(2, starts="38 h") | step(3, starts="50 h") | step(4, starts="70 h") | LATE),
    _of("second coat too early, between two rows", "programme",
        at_15(second="43.9 h", protection="57 h"), "error",
        "waterproofing.programme.coats[3].starts", "must leave 'membrane' 8.0 h", "7.9 h",
        source=SHEET, right=at_15(second="44 h", protection="57 h")),
    _of("second coat too late, between two rows", "programme",
        at_15(second="94.9 h", protection="110 h"), "error",
        "waterproofing.programme.coats[3].starts", "within 58.8 h", "58.9 h", source=SHEET,
        right=at_15(second="94.7 h", protection="110 h")),
    _of("recoat not known at that temperature", "programme",
        at_15(second="50 h", protection="70 h") | of("slurry", recoat=ONLY_WARM), "error",
        "materials.slurry.recoat", "must be given for the temperature of the works", "15 C",
        right=at_15(second="50 h", protection="70 h")),
    _of("recoat not stated", "programme", of("primer", recoat=[]), "error",
        "materials.primer.recoat", "must be stated, as another coat follows",
        right=of("guard", recoat=[])),
    _of("water before the protection has cured", "programme",
        {"job.programme.filling": "221.5 h"}, "error", "waterproofing.programme.filling",
        "must leave 'protection', coat 1, 7.0 d to cure", source=SHEET,
        right={"job.programme.filling": "222 h"}),
    _of("cure not stated", "programme", of("guard", cure=[]), "error", "materials.guard.cure",
        "must be stated, as water follows", right=of("primer", cure=[])),
    _of("test of the shell after the first coat", "programme",
        {"job.programme.tightness_test": "1 h"}, "error",
        "waterproofing.programme.tightness_test", "must end before the first coat",
        "1 h; the first coat starts at 0 h", source="test rule",
        right={"job.programme.tightness_test": "1 h", "requirements.tightness_test_first": GONE}),
    _of("test of the shell not stated", "programme", {"job.programme.tightness_test": GONE},
        "warning", "waterproofing.programme.tightness_test", "should be stated",
        source="test rule",
        right={"job.programme.tightness_test": GONE, "requirements.tightness_test_first": GONE}),
    _of("coat missing", "programme", {"job.programme.coats.3": GONE}, "error",
        "waterproofing.programme.coats", "must hold coat 2 of 'membrane'",
        right={"job.programme.coats": STEPS[::-1]}),
    _of("layer missing", "programme", {"job.programme.coats.4": GONE}, "error",
        "waterproofing.programme.coats", "must hold coat 1 of 'protection'",
        right=without_layer(3) | {"job.heavy_coping": False}),
    _of("step of no layer", "programme",
        {"job.programme.coats.5": {"layer": "varnish", "starts": "60 h"}}, "error",
        "waterproofing.programme.coats[5].layer", "must be a layer of the system", "'varnish'",
        source="", right={"job.programme.coats": STEPS[2:] + STEPS[:2]}),
    _of("coat too many", "programme",
        {"job.programme.coats.5": {"layer": "protection", "coat": 2, "starts": "60 h"}}, "error",
        "waterproofing.programme.coats[5].coat", "must be a coat of its layer", "2",
        right={"job.programme.coats": STEPS[1:] + STEPS[:1]}),
)  # fmt: skip

SITE_CHANGES = (
    _of("ground water not spoken of", "negative_pressure", {"job.ground_water": GONE}, "warning",
        "waterproofing.ground_water", "should be stated", "an emptied pool can float",
        right={"job.ground_water": GONE, "pool.setting": "suspended"}),
    _of("ground water not spoken of, nor the setting", "negative_pressure",
        {"job.ground_water": GONE, "pool.setting": GONE}, "warning", "waterproofing.ground_water",
        "should be stated", right={"pool.setting": GONE}),
    _of("ground water that the membrane stands", "negative_pressure", {"job.ground_water": 0.4},
        "warning", "waterproofing.ground_water", "an emptied pool can float",
        "1.000 m above the deepest floor", "engineer", right={"job.ground_water": 1.4}),
    _of("depth beyond all classes", "depth_class", before_pool(4.01, 4.01) | film(2.5), "warning",
        "waterproofing", "puts the basin beyond class deep", "4.010 m deep", source="class rule",
        right=before_pool(4.01, 4.01) | film(2.5) | {"requirements.classes": []}),
    _of("deeper than the first class", "depth_class", before_pool(1.41, 1.41), "note",
        "waterproofing", "puts the basin in class deep", "1.410 m deep", source="class rule",
        right={"pool.floor.depth": 1.4}),
    _of("strength of the concrete not stated", "unstated", {"job.concrete.strength": GONE},
        "warning", "waterproofing.concrete", "should give its 'strength'",
        right={"job.concrete.strength": "25 MPa"}),
    _of("moisture of the concrete not stated", "unstated", {"job.concrete.moisture": GONE},
        "warning", "waterproofing.concrete", "should give its 'moisture'",
        right={"job.concrete.moisture": "damp"}),
    _of("tile that is held too little", "bedding", tiled(contact="94 %"), "error",
        "finishes[0].bed.contact", "must hold at least 95% of the tile's back", "94%",
        source="bed rule", right=tiled(contact="95 %")),
    _of("a bed that is too thin", "bedding", tiled(thickness="1.9 mm"), "error",
        "finishes[0].bed.thickness", "must be at least 2 mm", "1.9 mm", source="bed rule",
        right=tiled(thickness="2 mm")),
    _of("no programme", "unstated", {"job.programme": GONE}, "warning", "waterproofing.programme",
        "should be given", right={"job.crew": 3}),
    _of("no readings", "unstated", {"system.readings": GONE}, "error", "readings",
        "must say how the film is checked", right={"system.readings.spots": 1}),
    _of("a caution", "cautions", {"system.cautions": ["wear gloves"]}, "note", "cautions[0]",
        "be careful: wear gloves", source="", right={"system.cautions": []}),
    _of("no price of a material and none of work", "unpriced",
        of("collar", price=GONE) | {"system.rates.0": GONE}, "warning", "waterproofing.prices",
        "leaves items without a price, which are not in the total: 2", "(got repair, collar)",
        right=of("collar", price=0)),
)  # fmt: skip

CHANGES = (
    *MATERIAL_CHANGES, *LAYER_CHANGES, *DETAIL_CHANGES, *PROGRAMME_CHANGES, *SITE_CHANGES,
)  # fmt: skip
