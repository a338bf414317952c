"""Mesh files: GLB, STL, PLY and OBJ, in metres.

STL, PLY and OBJ keep poolgeo's axes: z up, z = 0 at the pool's water level. GLB has y up, as glTF
requires: a point (x, y, z) is written as (x, z, -y).
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal

import numpy as np

from poolgeo.errors import OutputError
from poolgeo.mesh import Mesh
from poolgeo.model import Model

from ..arrays import Floats, Ints
from ..drawing.palette import SURFACES
from .atomic import whole_file

What = Literal["surface", "water", "shell"]


def write_mesh(model: Model, path: str | os.PathLike[str], what: What | None = None) -> None:
    """Write a mesh of the pool; the file's suffix says which format.

    ========  ==================================================================================
    ``.glb``  a node for each body and kind, such as ``pool floor``, in its colour; y up. Faces are
              seen from the water side only, so that near walls do not hide the inside
    ``.obj``  a group for each body and kind, such as ``pool_floor``; no colours
    ``.ply``  binary, a colour for each face; no names
    ``.stl``  binary, neither names nor colours: take the shell, which is closed, to print it
    ========  ==================================================================================

    Args:
        model: The pool.
        path: File to write.
        what: ``surface``, the inside of the concrete (open at the top); ``water``, the bodies of
            water (closed); ``shell``, the concrete (closed). Where it is not given, the shell for
            STL and the surface for the others.

    Raises:
        OutputError: The suffix is none of the four, or the file cannot be written.
    """
    suffix = Path(path).suffix.lower()
    if suffix not in _FORMATS:
        msg = (
            f"'{os.fspath(path)}' must end in {', '.join(_FORMATS)} (got '{suffix}');"
            " name a file in one of these formats"
        )
        raise OutputError(msg)
    if what is None:
        what = "shell" if suffix == ".stl" else "surface"
    meshes = {
        "surface": (model.surface,),
        "water": tuple(body.water for body in model.bodies),
        "shell": (model.shell,),
    }[what]
    data = _FORMATS[suffix](_one(meshes))
    with whole_file(path) as beside:
        beside.write_bytes(data)


def _one(meshes: tuple[Mesh, ...]) -> Mesh:
    """Put meshes beside each other into one."""
    vertices = [mesh.vertices for mesh in meshes]
    vertex_starts = np.cumsum([0, *map(len, vertices)])
    patch_starts = np.cumsum([0, *(len(mesh.patches) for mesh in meshes)])
    return Mesh(
        vertices=np.concatenate(vertices),
        triangles=np.concatenate(
            [mesh.triangles + start for mesh, start in zip(meshes, vertex_starts, strict=False)]
        ),
        patch=np.concatenate(
            [mesh.patch + start for mesh, start in zip(meshes, patch_starts, strict=False)]
        ),
        patches=tuple(patch for mesh in meshes for patch in mesh.patches),
    )


def _groups(mesh: Mesh) -> Iterator[tuple[str, str, Ints]]:
    """Yield body, kind and triangles of each group, in the order of the palette."""
    kinds = list(SURFACES)
    for body, kind in sorted(
        {(patch.body, patch.kind) for patch in mesh.patches},
        key=lambda pair: (pair[0], kinds.index(pair[1])),
    ):
        members = [
            index
            for index, patch in enumerate(mesh.patches)
            if (patch.body, patch.kind) == (body, kind)
        ]
        triangles = mesh.triangles[np.isin(mesh.patch, members)]
        if len(triangles):
            yield body, kind, triangles


def _glb(mesh: Mesh) -> bytes:
    import trimesh

    scene = trimesh.Scene()
    for body, kind, triangles in _groups(mesh):
        part = trimesh.Trimesh(_y_up(mesh.vertices), triangles, process=False)
        part.remove_unreferenced_vertices()
        part.visual = trimesh.visual.TextureVisuals(material=_material(kind))
        scene.add_geometry(part, node_name=f"{body} {kind}", geom_name=f"{body} {kind}")
    data: bytes = trimesh.exchange.gltf.export_glb(
        scene, include_normals=False, tree_postprocessor=_finish
    )
    return data


def _y_up(vertices: Floats) -> Floats:
    """Turn z up into y up."""
    return np.column_stack([vertices[:, 0], vertices[:, 2], -vertices[:, 1]])


def _material(kind: str) -> Any:
    """Make the glTF material of a kind of surface, but for its colour."""
    from trimesh.visual.material import PBRMaterial

    mode = "OPAQUE" if SURFACES[kind].opacity == 1 else "BLEND"
    return PBRMaterial(name=kind, metallicFactor=0.0, roughnessFactor=0.9, alphaMode=mode)


def _finish(tree: dict[str, Any]) -> None:
    """Fill in the colours, which trimesh would round, and say who wrote the file.

    Source: glTF 2.0 specification, 3.9.2: the base colour factor is linear, not sRGB.
    """
    tree["asset"]["generator"] = "poolgeo"
    for material in tree["materials"]:
        style = SURFACES[material["name"]]
        colour = [round(_linear(value / 255), 6) for value in style.rgb]
        material["pbrMetallicRoughness"]["baseColorFactor"] = [*colour, style.opacity]


def _linear(value: float) -> float:
    """Return the linear light of an sRGB value, both 0 to 1 (IEC 61966-2-1)."""
    return float(value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4)


def _ply(mesh: Mesh) -> bytes:
    import trimesh

    colours = np.array([[*SURFACES[patch.kind].rgb, 255] for patch in mesh.patches], np.uint8)
    whole = trimesh.Trimesh(
        mesh.vertices, mesh.triangles, process=False, face_colors=colours[mesh.patch]
    )
    data: bytes = trimesh.exchange.ply.export_ply(whole, include_attributes=False)
    return data


def _stl(mesh: Mesh) -> bytes:
    import trimesh

    whole = trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)
    data: bytes = trimesh.exchange.stl.export_stl(whole)
    return data


def _obj(mesh: Mesh) -> bytes:
    """Write OBJ by hand: trimesh would give each group vertices of its own and open the solid."""
    lines = ["# poolgeo; metres, z up"]
    lines += [f"v {x:.6f} {y:.6f} {z:.6f}" for x, y, z in mesh.vertices.tolist()]
    for body, kind, triangles in _groups(mesh):
        name = f"{body}_{kind}".replace(" ", "_")
        lines.append(f"g {name}")
        lines += [f"f {a} {b} {c}" for a, b, c in (triangles + 1).tolist()]
    return ("\n".join(lines) + "\n").encode()


_FORMATS: dict[str, Callable[[Mesh], bytes]] = {
    ".glb": _glb,
    ".stl": _stl,
    ".ply": _ply,
    ".obj": _obj,
}
