"""The pool as a scene: the picture and the viewer."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from poolgeo.design.lengths import format_length
from poolgeo.design.outlines import Circle, Ellipse, Rectangle
from poolgeo.errors import OutputError
from poolgeo.jointing.rows import FinishJoints
from poolgeo.model import Model
from poolgeo.quantities import CoveRun, JointRun, Run, Takeoff

from ..arrays import Floats, Ints
from ..drawing.palette import EDGES, FINISH_EDGE, FINISH_JOINT, JOINT, SURFACES, EdgeStyle
from ..drawing.plan_labels import named_runs
from ..drawing.zone_lines import zone_lines
from .atomic import whole_file
from .camera import VIEW_ANGLE, camera_for, sides
from .display import ready_for_pictures, ready_for_windows
from .paths import dashes, middle
from .plates import add_fittings, lifted
from .swatches import add_swatches

if TYPE_CHECKING:
    import pyvista

_PAPER = (255, 255, 255)
_INK = (30, 30, 30)
_SENSES = frozenset(style.label for style in EDGES.values())
_LEGEND = 17
"""[%] Share of the width that is left to the legend."""
_TUBE = 0.0015
"""Radius of an edge of width 1, against the diagonal of the pool."""
_ZONE_LINE, _THIN = (60, 60, 60), 0.5
"""Colour of a line between zones, and its width against an edge's."""
_DASH, _GAP = 0.014, 0.008
"""Dash and gap of a broken edge, against the diagonal of the pool."""

_LONGEST_SMOOTHED, _LARGEST_SMOOTHED = 8000, 16_000_000
"""[px], [px2] A picture with a longer side or more pixels is not smoothed: it would be rendered at
twice its size first, and there drivers end (at 16384 px), or their memory does."""


def write_picture(
    model: Model,
    takeoff: Takeoff,
    path: str | os.PathLike[str],
    size: tuple[int, int] = (1600, 1000),
    *,
    joints: FinishJoints | None = None,
    numbers: bool = True,
) -> None:
    """Write a picture of the pool as PNG; needs no display.

    What it needs of the machine, `poolgeo.write.display` looks for first.

    Args:
        model: The pool.
        takeoff: Its edge runs and coves.
        path: File to write; its name ends in ``.png``.
        size: Width and height [px].
        joints: Movement joints of its finish, if any.
        numbers: True to write the numbers of the runs beside them, as many as there is room for.

    Raises:
        OutputError: The name does not end in ``.png``, the file cannot be written, or nothing
            was drawn.
    """
    if Path(path).suffix.lower() != ".png":
        msg = f"'{os.fspath(path)}' must end in .png; name another file"
        raise OutputError(msg)
    with whole_file(path) as beside, ready_for_pictures():
        plotter = make_scene(model, takeoff, size, joints=joints, numbers=numbers, off_screen=True)
        try:
            drawn = plotter.screenshot(beside)
        finally:
            plotter.close()
        if drawn is None or np.ptp(drawn) == 0:
            msg = (
                f"'{os.fspath(path)}' cannot be written: its size must be within the graphics"
                f" driver's (got {size[0]} x {size[1]} px, and nothing was drawn); ask for less"
            )
            raise OutputError(msg)


def show(
    model: Model, takeoff: Takeoff, *, joints: FinishJoints | None = None, numbers: bool = True
) -> None:
    """Show the pool in a window, to be turned about, until the window is closed.

    What it needs of the machine, `poolgeo.write.display` looks for first.

    Args:
        model: The pool.
        takeoff: Its edge runs and coves.
        joints: Movement joints of its finish, if any.
        numbers: True to write the numbers of the runs beside them, as many as there is room for.
    """
    ready_for_windows()
    plotter = make_scene(
        model, takeoff, (1600, 1000), joints=joints, numbers=numbers, off_screen=False
    )
    plotter.show()


def make_scene(
    model: Model,
    takeoff: Takeoff,
    size: tuple[int, int],
    *,
    joints: FinishJoints | None = None,
    numbers: bool,
    off_screen: bool,
) -> pyvista.Plotter:
    """Put the pool into a scene: kinds in their colours, edges by sense, a legend beside it.

    Of the shell only the top of the walls is drawn, and faces are drawn from the water side only,
    so that near walls do not hide the inside.

    Args:
        model: The pool.
        takeoff: Its edge runs and coves.
        size: Width and height [px].
        joints: Movement joints of its finish, if any.
        numbers: True to write the numbers of the runs beside them, as many as there is room for.
        off_screen: True for a picture, False for a window.

    Returns:
        A plotter, ready to be shown or photographed.
    """
    plotter = _plotter(size, off_screen=off_screen)
    font_size = max(5, round(0.009 * size[1]))
    senses = sorted({run.sense for run in takeoff.edges})
    faces = list(_faces(model))
    plotter.subplot(0, 1)
    lines = zone_lines(model)
    words = {"Edge of a zone": _ZONE_LINE} if len(lines) else {}
    looks = list(_edges(takeoff, joints))
    words |= {style.label: style.rgb for _, style in looks if style.label not in _SENSES}
    kinds, has_fittings = {kind for kind, _ in faces}, bool(takeoff.fittings)
    add_swatches(plotter, kinds, senses, words, _INK, font_size, fittings=has_fittings)
    plotter.subplot(0, 0)
    for kind, mesh in faces:
        _add_faces(plotter, kind, mesh)
    diagonal = float(np.linalg.norm(np.ptp(model.surface.vertices, axis=0)))
    for paths, style in looks:
        _add_edges(plotter, paths, style, diagonal)
    if len(lines):
        tubes = _polylines(lines).tube(radius=_THIN * _TUBE * diagonal, n_sides=6)
        plotter.add_mesh(tubes, color=_ZONE_LINE, ambient=0.6, diffuse=0.4, reset_camera=False)
    if takeoff.fittings:
        add_fittings(plotter, takeoff.fittings)
    if numbers:
        _add_numbers(plotter, _named(takeoff, joints), font_size)
    _add_words(plotter, model, font_size)
    _aim(plotter, model)
    return plotter


def _plotter(size: tuple[int, int], *, off_screen: bool) -> pyvista.Plotter:
    """Return an empty plotter with room for the legend."""
    import pyvista

    plotter = pyvista.Plotter(
        shape=(1, 2),
        col_weights=[100 - _LEGEND, _LEGEND],
        border=False,
        off_screen=off_screen,
        window_size=list(size),
    )
    for renderer in plotter.renderers:
        renderer.set_background(_PAPER)
    if max(size) <= _LONGEST_SMOOTHED and size[0] * size[1] <= _LARGEST_SMOOTHED:
        plotter.enable_anti_aliasing("ssaa")
    return plotter


def _named(takeoff: Takeoff, joints: FinishJoints | None) -> list[tuple[str, Floats]]:
    """Return the numbers of all that has one, with their places."""
    runs: list[Run | CoveRun | JointRun] = [*takeoff.edges, *takeoff.coves, *takeoff.joints]
    runs += named_runs(joints, "intermediate")
    places = [(run.number, middle(run.points)) for run in runs]
    return [*places, *((item.number, lifted(item)) for item in takeoff.fittings)]


def _faces(model: Model) -> Iterator[tuple[str, pyvista.PolyData]]:
    """Yield what is drawn, kind by kind: the inside, the top of the walls, the water surface."""
    parts = [(model.surface, set(SURFACES)), (model.shell, {"wall top"})]
    parts += [(body.water, {"water surface"}) for body in model.bodies]
    for mesh, wanted in parts:
        for kind in SURFACES:
            members = [n for n, patch in enumerate(mesh.patches) if patch.kind == kind]
            triangles = mesh.triangles[np.isin(mesh.patch, members)]
            if kind in wanted and len(triangles):
                yield kind, _polydata(mesh.vertices, triangles)


def _polydata(vertices: Floats, triangles: Ints) -> pyvista.PolyData:
    import pyvista

    faces = np.column_stack([np.full(len(triangles), 3), triangles])
    return pyvista.PolyData(vertices, faces=faces.reshape(-1))


def _add_faces(plotter: pyvista.Plotter, kind: str, faces: pyvista.PolyData) -> None:
    style = SURFACES[kind]
    solid = style.opacity == 1
    plotter.add_mesh(
        faces,
        color=style.rgb,
        opacity=style.opacity,
        culling="back" if solid else None,
        ambient=0.7,  # so that a face in the shade keeps the colour that the legend gives
        diffuse=0.35,
        reset_camera=False,
    )


def _edges(
    takeoff: Takeoff, joints: FinishJoints | None
) -> Iterator[tuple[list[Floats], EdgeStyle]]:
    """Yield the lines of each look: edges by sense, joints of the structure, of the finish."""
    for sense in sorted({run.sense for run in takeoff.edges}):
        yield [run.points for run in takeoff.edges if run.sense == sense], EDGES[sense]
    if takeoff.joints:
        yield [row.points for row in takeoff.joints], JOINT
    for style, of_line in ((FINISH_JOINT, True), (FINISH_EDGE, False)):
        found = [
            run.points
            for joint in (() if joints is None else joints.joints)
            for run in joint.runs
            if joint.is_across == of_line
        ]
        if found:
            yield found, style


def _add_edges(
    plotter: pyvista.Plotter, paths: Iterable[Floats], style: EdgeStyle, diagonal: float
) -> None:
    """Draw lines of one look as tubes, broken where the palette says so."""
    if style.dashed:
        paths = [dash for path in paths for dash in dashes(path, _DASH * diagonal, _GAP * diagonal)]
    tubes = _polylines(paths).tube(radius=_TUBE * style.width * diagonal, n_sides=12)
    plotter.add_mesh(tubes, color=style.rgb, ambient=0.6, diffuse=0.4, reset_camera=False)


def _polylines(paths: Iterable[Floats]) -> pyvista.PolyData:
    """Make one object of many polylines."""
    import pyvista

    points, cells, start = [], [], 0
    for path in paths:
        points.append(path)
        cells += [len(path), *range(start, start + len(path))]
        start += len(path)
    return pyvista.PolyData(np.concatenate(points), lines=np.array(cells))


def _add_numbers(
    plotter: pyvista.Plotter, numbers: Iterable[tuple[str, Floats]], font_size: int
) -> None:
    """Write numbers, of runs at their middles."""
    texts, places = zip(*numbers, strict=True)
    plotter.add_point_labels(
        np.array(places),
        list(texts),
        font_size=2 * font_size - 4,
        text_color=_INK,
        shape_color=_PAPER,
        shape_opacity=0.6,
        show_points=False,
        always_visible=True,
        reset_camera=False,
    )


def _add_words(plotter: pyvista.Plotter, model: Model, font_size: int) -> None:
    """Write the name of the pool and its size."""
    pool = model.design.pool
    name = pool.name.replace("$", "\\$")
    deep = model.bodies[0].level - float(model.bodies[0].water.vertices[:, 2].min())
    length, width, depth = (format_length(size, pool.units) for size in (*_size(model), deep))
    size = f"{length} x {width} in plan, {depth} at its deepest"
    for text, height, scale in ((name, 0.945, 1.5), (size, 0.025, 1.0)):
        plotter.add_text(
            text,
            position=(0.015, height),
            viewport=True,
            color=_INK,
            font_size=round(scale * font_size),
        )


def _size(model: Model) -> tuple[float, float]:
    """Return length and width in plan [m], as the file gives them where it does."""
    match model.design.pool.outline:
        case Rectangle(length=length, width=width) | Ellipse(length=length, width=width):
            return length, width
        case Circle(radius=radius):
            return 2 * radius, 2 * radius
        case _:
            return sides(model.outlines["pool", "water"])[0]


def _aim(plotter: pyvista.Plotter, model: Model) -> None:
    """Point the camera of the active part at the pool."""
    width, height = plotter.renderer.GetSize()
    chosen = camera_for(model.surface.vertices, model.outlines["pool", "water"], width / height)
    camera = plotter.camera
    camera.view_angle = VIEW_ANGLE
    camera.position = chosen.position
    camera.focal_point = chosen.focus
    camera.up = (0.0, 0.0, 1.0)
    plotter.reset_camera_clipping_range()
