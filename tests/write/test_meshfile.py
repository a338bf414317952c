"""Mesh files: closed where the solid is, at full size, kinds by name or colour."""

from __future__ import annotations

import json
import re
import struct
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh

from poolgeo.drawing.palette import SURFACES
from poolgeo.errors import OutputError
from poolgeo.mesh import Mesh, Patch
from poolgeo.model import Body, Model
from poolgeo.quantities import Takeoff
from poolgeo.write.meshfile import What, write_mesh

from . import hand_made

INSIDE = ["pool floor", "pool wall", "pool cove", "pool tread", "pool riser"]
LOW, HIGH = (0.0, 0.0, -2.0), (8.0, 4.0, 0.15)


def loaded(path: Path) -> Any:
    return trimesh.load(path, force="mesh")


def gltf(path: Path) -> dict[str, Any]:
    """Return the JSON part of a GLB file (glTF 2.0, 4.4: a 12-byte header, then chunks)."""
    data = path.read_bytes()
    length, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    tree = json.loads(data[20 : 20 + length])
    assert isinstance(tree, dict)
    return tree


@pytest.mark.parametrize("suffix", [".stl", ".ply", ".obj", ".glb"])
@pytest.mark.parametrize("what", ["water", "shell"])
def test_a_solid_is_closed_and_has_its_volume_in_every_format(
    tmp_path: Path, model: Model, takeoff: Takeoff, suffix: str, what: What
) -> None:
    write_mesh(model, tmp_path / f"pool{suffix}", what)
    mesh = loaded(tmp_path / f"pool{suffix}")
    mesh.merge_vertices(merge_norm=True, merge_tex=True)
    assert mesh.is_watertight
    volume = takeoff.shell if what == "shell" else takeoff.water["pool"]
    assert mesh.volume == pytest.approx(volume, rel=1e-6)


@pytest.mark.parametrize("suffix", [".stl", ".ply", ".obj"])
def test_z_is_up_and_the_length_is_in_metres(tmp_path: Path, model: Model, suffix: str) -> None:
    write_mesh(model, tmp_path / f"pool{suffix}", "surface")
    assert loaded(tmp_path / f"pool{suffix}").bounds == pytest.approx(np.array([LOW, HIGH]))


def test_y_is_up_in_glb(tmp_path: Path, model: Model) -> None:
    """The shallow end stays on the left, the far side (y = 4) goes to -z."""
    write_mesh(model, tmp_path / "pool.glb")
    low, high = loaded(tmp_path / "pool.glb").bounds
    assert low == pytest.approx([0, -2.0, -4.0])
    assert high == pytest.approx([8.0, 0.15, 0])


def test_faces_look_towards_the_water(tmp_path: Path, model: Model) -> None:
    """Floor and treads look up; the slope's normal has a y of 2.8 / hypot(2.8, 0.8)."""
    write_mesh(model, tmp_path / "pool.glb", "surface")
    scene: Any = trimesh.load(tmp_path / "pool.glb", force="scene")
    for name in ("pool floor", "pool tread"):
        assert scene.geometry[name].face_normals[:, 1].min() > 0.96


def test_a_glb_has_a_node_and_a_mesh_for_each_kind(tmp_path: Path, model: Model) -> None:
    write_mesh(model, tmp_path / "pool.glb")
    tree = gltf(tmp_path / "pool.glb")
    nodes = [node["name"] for node in tree["nodes"] if "mesh" in node]
    assert nodes == INSIDE
    assert [mesh["name"] for mesh in tree["meshes"]] == INSIDE
    assert tree["asset"] == {"version": "2.0", "generator": "poolgeo"}


def test_a_glb_has_a_node_for_each_body(tmp_path: Path, model: Model) -> None:
    water = model.bodies[0].water
    patches = tuple(Patch("spa", patch.kind, patch.feature) for patch in water.patches)
    lifted = Mesh(water.vertices + 20, water.triangles, water.patch, patches)
    spa = Body("spa", 0.3, (0.3, 0.3), lifted, hand_made.as_it_is, "S")
    two = Model(**{**vars(model), "bodies": (*model.bodies, spa)})
    write_mesh(two, tmp_path / "pool.glb", "water")
    names = {node["name"] for node in gltf(tmp_path / "pool.glb")["nodes"] if "mesh" in node}
    assert names == {
        f"{body} {kind}"
        for body in ("pool", "spa")
        for kind in ("floor", "wall", "cove", "tread", "riser", "water surface")
    }


def test_a_glb_has_the_colours_of_the_palette(tmp_path: Path, model: Model) -> None:
    """The factor is linear light: sRGB 236 is 0.8388 (IEC 61966-2-1)."""
    write_mesh(model, tmp_path / "pool.glb", "water")
    materials = {item["name"]: item for item in gltf(tmp_path / "pool.glb")["materials"]}
    assert SURFACES["floor"].rgb[0] == 236
    factor = materials["floor"]["pbrMetallicRoughness"]["baseColorFactor"]
    assert factor[0] == pytest.approx(0.8388, abs=1e-4)
    assert factor[3] == 1
    assert materials["water surface"]["alphaMode"] == "BLEND"
    assert materials["water surface"]["pbrMetallicRoughness"]["baseColorFactor"][3] < 1
    assert (
        len({tuple(m["pbrMetallicRoughness"]["baseColorFactor"]) for m in materials.values()}) == 6
    )


def test_a_ply_has_a_colour_for_each_face(tmp_path: Path, model: Model) -> None:
    write_mesh(model, tmp_path / "pool.ply")
    mesh: Any = trimesh.load(tmp_path / "pool.ply", process=False)
    kinds = [model.surface.patches[number].kind for number in model.surface.patch]
    expected = [(*SURFACES[kind].rgb, 255) for kind in kinds]
    assert mesh.visual.face_colors.tolist() == [list(colour) for colour in expected]


def test_an_obj_has_a_group_for_each_kind(tmp_path: Path, model: Model) -> None:
    write_mesh(model, tmp_path / "pool.obj")
    lines = (tmp_path / "pool.obj").read_text().splitlines()
    groups = [line for line in lines if line.startswith("g ")]
    assert groups == [f"g {name.replace(' ', '_')}" for name in INSIDE]
    assert sum(line.startswith("f ") for line in lines) == len(model.surface.triangles)


@pytest.mark.parametrize(
    ("suffix", "closed"), [(".stl", True), (".ply", False), (".obj", False), (".glb", False)]
)
def test_stl_is_the_shell_and_the_others_the_surface_when_nothing_is_said(
    tmp_path: Path, model: Model, suffix: str, *, closed: bool
) -> None:
    write_mesh(model, tmp_path / f"pool{suffix}")
    mesh = loaded(tmp_path / f"pool{suffix}")
    mesh.merge_vertices()
    assert bool(mesh.is_watertight) is closed


@pytest.mark.parametrize("suffix", [".stl", ".ply", ".obj", ".glb"])
def test_the_same_pool_gives_the_same_bytes(tmp_path: Path, model: Model, suffix: str) -> None:
    for name in ("one", "other"):
        write_mesh(model, tmp_path / f"{name}{suffix}")
    one, other = ((tmp_path / f"{name}{suffix}").read_bytes() for name in ("one", "other"))
    assert one == other


@pytest.mark.parametrize("name", ["pool.step", "pool"])
def test_another_suffix_is_refused_with_the_four_that_are_known(
    tmp_path: Path, model: Model, name: str
) -> None:
    words = (
        f"'{tmp_path / name}' must end in .glb, .stl, .ply, .obj"
        f" (got '{Path(name).suffix}'); name a file in one of these formats"
    )
    with pytest.raises(OutputError, match=f"^{re.escape(words)}$"):
        write_mesh(model, tmp_path / name)


def test_a_suffix_may_be_in_capitals(tmp_path: Path, model: Model) -> None:
    write_mesh(model, tmp_path / "POOL.STL")
    assert loaded(tmp_path / "POOL.STL").is_watertight


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path, model: Model) -> None:
    with pytest.raises(OutputError, match="the folder it goes into must exist"):
        write_mesh(model, tmp_path / "none" / "pool.glb")
