"""A lens as a solid of a CAD kernel (Open CASCADE): the outline swept along z, cut by the front and by the back.

Right-handed, as a kernel wants it: x to the observer's right, y up, z toward the observer; the z of the other files, toward
the eye, is −z here. Every surface is an arc revolved (or moved along a line), never the kernel's own torus, which overlaps
itself where the larger radius is under twice the smaller.

Units: mm, mm³.
"""

import math

from OCP.BRepAlgoAPI import BRepAlgoAPI_Splitter
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Transform,
)
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.collections import Array1_gp_Pnt, List_TopoDS_Shape
from OCP.Geom import Geom_BezierCurve
from OCP.gp import gp_Ax1, gp_Ax2, gp_Circ, gp_Dir, gp_Elips, gp_Lin, gp_Pnt, gp_Quaternion, gp_Trsf, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer

# No outline reaches so far from its reference point.
REACH = 60.0
# An arc ends a degree before half a circle.
WIDEST = math.radians(89.0)
# The block that is cut, before and behind the front's vertex.
BEFORE, BEHIND = 25.0, 75.0
# Relative error asked of the integration of the lens, and tolerance for points.
EPSILON, TOLERANCE = 1e-9, 1e-9


def half_angle(radius):
    return min(WIDEST, math.asin(min(1.0, REACH / abs(radius))))


def moved(shape, transformation):
    return BRepBuilderAPI_Transform(shape, transformation, True).Shape()


def shift(x, y, z):
    transformation = gp_Trsf()
    transformation.SetTranslation(gp_Vec(x, y, z))
    return transformation


def swept(large, small, along):
    """A face through the origin, level there: the arc of the smaller radius carried round with the larger.

    `along` is the direction of the meridian of the larger radius, radians. A radius is positive where the surface is hollow
    toward the eye, None where it is straight.
    """
    u, w = gp_Dir(math.cos(along), math.sin(along), 0), gp_Dir(-math.sin(along), math.cos(along), 0)
    if small is None:
        step = gp_Vec(w).Multiplied(REACH)
        edge = BRepBuilderAPI_MakeEdge(gp_Pnt(step.Reversed().XYZ()), gp_Pnt(step.XYZ())).Edge()
    else:
        # From the middle of the circle the vertex lies toward the observer where the radius is positive.
        toward = gp_Dir(0, 0, math.copysign(1, small))
        circle = gp_Circ(gp_Ax2(gp_Pnt(0, 0, -small), u, toward), abs(small))
        edge = BRepBuilderAPI_MakeEdge(circle, -half_angle(small), half_angle(small)).Edge()
    if large is None:
        step = gp_Vec(u).Multiplied(REACH)
        start = moved(edge, shift(-step.X(), -step.Y(), 0))
        return BRepPrimAPI_MakePrism(start, step.Multiplied(2)).Shape()
    axis, angle = gp_Ax1(gp_Pnt(0, 0, -large), w), half_angle(large)
    back = gp_Trsf()
    back.SetRotation(axis, -angle)
    return BRepPrimAPI_MakeRevol(moved(edge, back), axis, 2 * angle).Shape()


def front_of(radius, at):
    return moved(swept(radius, radius, 0.0), shift(at[0], at[1], 0.0))


def back_of(radii, axis, lean, t, at):
    """Radii along the axis and across it; `lean` is the slope toward +x and +y that prism wants at the vertex."""
    large, small, along = radii[0], radii[1], axis
    if large is not None and (small is None or abs(large) < abs(small)):
        large, small, along = small, large, axis + 0.5 * math.pi
    face = swept(large, small, along)
    if lean != (0.0, 0.0):
        # The least turn that brings the normal, away from the lens, to where it belongs.
        turn = gp_Trsf()
        turn.SetRotation(gp_Quaternion(gp_Vec(0, 0, -1), gp_Vec(-lean[0], -lean[1], -1)))
        face = moved(face, turn)
    return moved(face, shift(at[0], at[1], -t))


def block(outline):
    """The outline swept along z."""
    wire = BRepBuilderAPI_MakeWire()
    for edge in edges(outline):
        wire.Add(edge)
    face = BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, -BEFORE - BEHIND)).Shape()


def edges(outline):
    """Piece by piece: the kernel integrates each face by a fixed number of nodes."""
    if outline.ellipse:
        a, b = outline.ellipse
        axes = gp_Ax2(gp_Pnt(0, 0, BEFORE), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0) if a >= b else gp_Dir(0, 1, 0))
        curve, step = gp_Elips(axes, max(a, b), min(a, b)), 2 * math.pi / outline.count
        return [BRepBuilderAPI_MakeEdge(curve, step * i, step * (i + 1)).Edge() for i in range(outline.count)]
    curves = []
    for piece in outline.bezier:
        poles = Array1_gp_Pnt(1, 4)
        for i, (x, y) in enumerate(piece):
            poles.SetValue(i + 1, gp_Pnt(float(x), float(y), BEFORE))
        curves.append(Geom_BezierCurve(poles))
    return [BRepBuilderAPI_MakeEdge(curve).Edge() for curve in curves]


def listed(*shapes):
    found = List_TopoDS_Shape()
    for shape in shapes:
        found.Append(shape)
    return found


def properties(shape, *epsilon):
    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found, *epsilon)
    return found


class Cad:
    """A lens cut from its block."""

    def __init__(self, outline, front, back):
        self.front, self.back = front, back
        cut = BRepAlgoAPI_Splitter()
        cut.SetArguments(listed(block(outline)))
        cut.SetTools(listed(front, back))
        cut.Build()
        explorer, parts = TopExp_Explorer(cut.Shape(), TopAbs_ShapeEnum.TopAbs_SOLID), []
        while explorer.More():
            parts.append(explorer.Current())
            explorer.Next()
        if len(parts) != 3:
            raise ValueError(f"two cuts leave three parts, not {len(parts)}")
        parts.sort(key=lambda part: properties(part).CentreOfMass().Z())
        self.volume = properties(parts[1], EPSILON).Mass()

    def thickness(self, x, y):
        """Along a line through both faces."""
        return self.meets(self.front, x, y) - self.meets(self.back, x, y)

    @staticmethod
    def meets(face, x, y):
        line = IntCurvesFace_ShapeIntersector()
        line.Load(face, TOLERANCE)
        line.Perform(gp_Lin(gp_Pnt(x, y, 0), gp_Dir(0, 0, 1)), -BEHIND, BEFORE)
        if line.NbPnt() != 1:
            raise ValueError(f"the line at ({x}, {y}) meets the face {line.NbPnt()} times")
        return line.Pnt(1).Z()
