"""The part as a solid, STEP (ISO 10303): for shops that cut from one. Needs the optional extra ``shop``."""

from __future__ import annotations

import io
import re
from importlib.util import find_spec
from typing import Any

from core.base.errors import SolidError
from core.plate.body.features import Feature
from core.plate.body.shape import Hole, step_radii
from core.plate.part import PlatePart

#: A through hole's cylinder goes so far beyond both faces, so that no two faces coincide.
_BEYOND_MM = 1.0
_NO_TIME = "1970-01-01T00:00:00"


def solids_can_be_made() -> bool:
    """Whether the kernel is installed."""
    return find_spec("OCP") is not None


def step_bytes(part: PlatePart) -> bytes:
    """STEP AP214, millimetres, x and y as in the hole table, z upward from the lowest plane.

    A tapped hole is its drill, as in the computed mass. The header's time is none: the part's identity tells.

    Raises:
        SolidError: the kernel cannot write it.
    """
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Interface import Interface_Static
    from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer
    from OCP.TCollection import TCollection_HAsciiString

    _quieten()
    writer = STEPControl_Writer()
    Interface_Static.SetCVal_s("write.step.product.name", f"part {part.identity}")
    done = writer.Transfer(_solid(part), STEPControl_AsIs) == IFSelect_RetDone
    header = APIHeaderSection_MakeHeader(writer.Model())
    header.SetName(TCollection_HAsciiString(f"adapter plate, part {part.identity}"))
    header.SetTimeStamp(TCollection_HAsciiString(_NO_TIME))
    header.SetAuthorValue(1, TCollection_HAsciiString(""))
    header.Apply(writer.Model())
    stream = io.BytesIO()
    if not done or writer.WriteStream(stream) != IFSelect_RetDone:
        raise SolidError(part.identity)
    # The kernel numbers what it has written so far; the same part shall give the same bytes.
    return re.sub(rf"(part {part.identity}) \d+'".encode(), rb"\1'", stream.getvalue())


def _quieten() -> None:
    """The kernel tells of its transfers on standard output, where a script reads our answer."""
    from OCP.Message import Message, Message_Gravity

    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)


def _solid(part: PlatePart) -> Any:
    """Body and step, less the step's inside and every hole."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    plate, step = part.plate, part.plate.step
    thick_mm, outside_mm = plate.thickness_mm, plate.outside_diameter_mm / 2.0
    solid = _cylinder(Hole(0.0, 0.0, outside_mm, 0.0, thick_mm))
    cuts: list[Any] = []
    if step is not None:
        inner_mm, outer_mm = step_radii(plate)
        ends = (-_BEYOND_MM, step.height_mm)
        if step.side == "above":
            ends = (thick_mm - step.height_mm, thick_mm + _BEYOND_MM)
        around = _cylinder(Hole(0.0, 0.0, outside_mm + _BEYOND_MM, *ends))
        cuts.append(BRepAlgoAPI_Cut(around, _cylinder(Hole(0.0, 0.0, outer_mm, *ends))).Shape())
        if inner_mm > 0.0:
            cuts.append(_cylinder(Hole(0.0, 0.0, inner_mm, *ends)))
    cuts += [_cylinder(_bored(part, one.cut, one)) for one in part.features if one.cut is not None]
    for cut in cuts:
        solid = BRepAlgoAPI_Cut(solid, cut).Shape()
    return solid


def _bored(part: PlatePart, cut: Hole, feature: Feature) -> Hole:
    """What a tool takes away: a through hole from beyond both faces, a blind one from beyond its own.

    The counterpart of the computed mass, which takes a through hole through all there is.
    """
    low_mm, high_mm = cut.low_mm, cut.high_mm
    if feature.kind == "through hole" or feature.role == "centre":
        low_mm, high_mm = -_BEYOND_MM, part.plate.thickness_mm + _BEYOND_MM
    return Hole(cut.x_mm, cut.y_mm, cut.radius_mm, low_mm, high_mm)


def _cylinder(hole: Hole) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    axis = gp_Ax2(gp_Pnt(hole.x_mm, hole.y_mm, hole.low_mm), gp_Dir(0.0, 0.0, 1.0))
    return BRepPrimAPI_MakeCylinder(axis, hole.radius_mm, hole.high_mm - hole.low_mm).Shape()
