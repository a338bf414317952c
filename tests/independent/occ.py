"""Solids with labelled faces in a B-rep kernel: the few operations that a pool needs.

A face gets its label when it is made; history carries labels through every later operation. A
face that history does not account for is an error here, never a guess.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Literal

from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeWire,
)
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepFilletAPI import BRepFilletAPI_MakeFillet
from OCP.BRepGProp import BRepGProp
from OCP.BRepLProp import BRepLProp_SLProps
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.ChFi3d import ChFi3d
from OCP.ChFiDS import ChFiDS_TypeOfConcavity
from OCP.collections import Array1_gp_Pnt, List_TopoDS_Shape
from OCP.GC import GC_MakeArcOfCircle
from OCP.Geom import Geom_BezierCurve
from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_ShapeEnum, TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

Vertex = tuple[float, float, float]
LabelledEdge = tuple[Any, str]
"""An edge, and the label of the face that it will sweep out."""

PRECISION = 1e-9
"""Asked of the kernel's adaptive quadrature, relative, for each face."""
FILLET = 1e-6
"""How near the kernel keeps a cove to the true canal surface [m]; its default is 1e-4."""
TANGENT = 0.02
"""Sine of the angle below which two faces meet smoothly; a floor break of 1:12 has 0.08."""


@dataclass(frozen=True)
class Labelled:
    """A solid and the label of each of its faces."""

    shape: Any
    labels: tuple[tuple[Any, str], ...]


# --- edges ---------------------------------------------------------------------------------


def line(a: Vertex, b: Vertex) -> Any:
    """Return a straight edge."""
    return BRepBuilderAPI_MakeEdge(gp_Pnt(*a), gp_Pnt(*b)).Edge()


def arc(a: Vertex, middle: Vertex, b: Vertex) -> Any:
    """Return an edge along the arc through three points."""
    curve = GC_MakeArcOfCircle(gp_Pnt(*a), gp_Pnt(*middle), gp_Pnt(*b)).Value()
    return BRepBuilderAPI_MakeEdge(curve).Edge()


def bezier(poles: Sequence[Vertex]) -> Any:
    """Return an edge along a Bezier curve."""
    held = Array1_gp_Pnt(1, len(poles))
    for i, pole in enumerate(poles, 1):
        held.SetValue(i, gp_Pnt(*pole))
    return BRepBuilderAPI_MakeEdge(Geom_BezierCurve(held)).Edge()


def circle(centre: Vertex, radius: float) -> list[Any]:
    """Return a level circle as eight edges: coves along shorter edges come out truer."""
    curve = gp_Circ(gp_Ax2(gp_Pnt(*centre), gp_Dir(0, 0, 1)), radius)
    ends = [i * math.pi / 4 for i in range(9)]
    return [BRepBuilderAPI_MakeEdge(curve, a, b).Edge() for a, b in pairwise(ends)]


# --- solids --------------------------------------------------------------------------------


def prism(loop: Sequence[LabelledEdge], along: Vertex, first: str, last: str) -> Labelled:
    """Return the solid that a flat closed loop sweeps out.

    Args:
        loop: Edges in order, each with the label of its side face.
        along: The sweep [m].
        first: Label of the loop's own face.
        last: Label of the face at the far end.
    """
    wire, own = BRepBuilderAPI_MakeWire(), []
    for edge, name in loop:
        wire.Add(edge)
        own.append((wire.Edge(), name))  # the wire's copy, which shares its corners
    if not wire.IsDone():
        msg = "the loop does not close"
        raise ValueError(msg)
    face = BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()
    sweep = BRepPrimAPI_MakePrism(face, gp_Vec(*along))
    ends = [(sweep.FirstShape(), first), (sweep.LastShape(), last)]
    sides = [(made, name) for edge, name in own for made in sweep.Generated(edge)]
    return _checked(sweep.Shape(), [*ends, *sides])


def common(a: Labelled, b: Labelled, fuzzy: float = 0.0) -> Labelled:
    """Return what two solids share; ``fuzzy`` is how near faces count as coincident [m]."""
    return _boolean(BRepAlgoAPI_Common(), a, b, fuzzy)


def cut(a: Labelled, b: Labelled) -> Labelled:
    """Return the first solid without the second."""
    return _boolean(BRepAlgoAPI_Cut(), a, b, 0.0)


def _boolean(operation: Any, a: Labelled, b: Labelled, fuzzy: float) -> Labelled:
    for solid, hand_over in ((a, operation.SetArguments), (b, operation.SetTools)):
        shapes = List_TopoDS_Shape()
        shapes.Append(solid.shape)
        hand_over(shapes)
    operation.SetFuzzyValue(fuzzy)
    operation.Build()
    if not operation.IsDone() or not solids(operation.Shape()):
        msg = f"{type(operation).__name__} gave no solid"
        raise ArithmeticError(msg)
    return _checked(operation.Shape(), _carried(operation, [*a.labels, *b.labels]))


def fillet(solid: Labelled, radius: float, between: tuple[str, str], label: str) -> Labelled:
    """Return the solid with every edge between two kinds of face rounded."""
    maker = BRepFilletAPI_MakeFillet(solid.shape)
    maker.SetParams(1e-2, FILLET, FILLET / 10, FILLET, FILLET / 10, 1e-4)
    for edge, sides in seams(solid):
        if tuple(sorted(name for _, name in sides)) == tuple(sorted(between)):
            maker.Add(radius, edge)
    maker.Build()
    if not maker.IsDone():
        msg = f"no fillet of {radius} m: {maker.NbFaultyContours()} contours failed"
        raise ArithmeticError(msg)
    carried = _carried(maker, solid.labels)
    known = {face for face, _ in carried}
    new = [(face, label) for face in faces(maker.Shape()) if not any(face.IsSame(k) for k in known)]
    return _checked(maker.Shape(), [*carried, *new])


def _carried(operation: Any, labels: Iterable[tuple[Any, str]]) -> list[tuple[Any, str]]:
    found = []
    for face, name in labels:
        changed = list(operation.Modified(face))
        kept = [face] if not changed and not operation.IsDeleted(face) else changed
        found += [(item, name) for item in kept]
    return found


def _checked(shape: Any, labels: list[tuple[Any, str]]) -> Labelled:
    """Return the labels of the faces that the shape really has, each exactly one."""
    found = []
    for face in faces(shape):
        names = {name for item, name in labels if item.IsSame(face)}
        if len(names) != 1:
            msg = f"a face has labels {sorted(names)}"
            raise LookupError(msg)
        found.append((face, names.pop()))
    return Labelled(shape, tuple(found))


# --- looking at a solid --------------------------------------------------------------------


def _explore(shape: Any, kind: TopAbs_ShapeEnum) -> list[Any]:
    walk, found = TopExp_Explorer(shape, kind), []
    while walk.More():
        found.append(walk.Current())
        walk.Next()
    return found


def faces(shape: Any) -> list[Any]:
    """Return the faces of a shape."""
    return [TopoDS.Face(face) for face in _explore(shape, TopAbs_FACE)]


def edges(shape: Any) -> list[Any]:
    """Return the edges of a shape, as often as faces use them."""
    return [TopoDS.Edge(edge) for edge in _explore(shape, TopAbs_EDGE)]


def solids(shape: Any) -> int:
    """Return the number of solids."""
    return len(_explore(shape, TopAbs_SOLID))


def valid(shape: Any) -> bool:
    """Return whether the kernel's own check finds nothing."""
    return bool(BRepCheck_Analyzer(shape).IsValid())


def seams(solid: Labelled) -> list[tuple[Any, list[tuple[Any, str]]]]:
    """Return each edge with the two labelled faces that meet there."""
    found: dict[int, tuple[Any, list[tuple[Any, str]]]] = {}
    for face, name in solid.labels:
        for edge in edges(face):
            found.setdefault(hash(edge), (edge, []))[1].append((face, name))
    return list(found.values())


def sense(edge: Any, a: Any, b: Any) -> Literal["internal", "external", "smooth"]:
    """Return an edge's sense half-way along, seen from inside the solid, which is water."""
    across = _normal(edge, a).Crossed(_normal(edge, b)).Magnitude()
    if across < TANGENT:
        return "smooth"
    kind = ChFi3d.DefineConnectType_s(edge, a, b, TANGENT, True)
    return "internal" if kind == ChFiDS_TypeOfConcavity.ChFiDS_Convex else "external"


def _normal(edge: Any, face: Any) -> Any:
    """Return a face's unit normal half-way along one of its edges."""
    curve = BRepAdaptor_Curve(edge)
    middle = (curve.FirstParameter() + curve.LastParameter()) / 2
    place = BRep_Tool.CurveOnSurface_s(edge, face, 0.0, 1.0).Value(middle)
    surface = BRepLProp_SLProps(BRepAdaptor_Surface(face), place.X(), place.Y(), 1, 1e-9)
    return gp_Vec(surface.Normal())


def volume(shape: Any) -> float:
    """Return the volume [m3]."""
    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found, PRECISION)
    return float(found.Mass())


def area(face: Any) -> float:
    """Return the area [m2]."""
    found = GProp_GProps()
    BRepGProp.SurfaceProperties_s(face, found, PRECISION)
    return float(found.Mass())


def length(edge: Any) -> float:
    """Return the length [m]."""
    found = GProp_GProps()
    BRepGProp.LinearProperties_s(edge, found)
    return float(found.Mass())
