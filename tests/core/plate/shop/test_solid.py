"""The solid read back: its volume is the computed mass, its holes are the hole table."""

from __future__ import annotations

import io
import math

import pytest

from core.plate.shop.files import NO_SOLID, WRITERS, writers
from core.plate.shop.solid import solids_can_be_made, step_bytes
from core.plate.tables.strengths import MATERIALS
from tests.core.plate.samples import demo_part, mount_of, part_of, plate_of

needs_kernel = pytest.mark.skipif(not solids_can_be_made(), reason="the extra 'shop' is not installed")

PARTS = {
    "demo": demo_part,
    "step above": lambda: part_of(
        plate_of(
            step={"outer_diameter_mm": 90.0, "inner_diameter_mm": 70.0, "height_mm": 6.0, "side": "above"}
        )
    ),
    "spigot": lambda: part_of(
        plate_of(step={"outer_diameter_mm": 40.0, "height_mm": 5.0, "side": "below"}), mount_of(-30.0, 75.0)
    ),
    "counterbores above": lambda: part_of(plate_of(bolts__counterbore_side="above")),
    "bare": lambda: part_of(plate_of(step=None, bolts=None, centre_thread=None)),
}


def read_back(content):
    from OCP.STEPControl import STEPControl_Reader

    reader = STEPControl_Reader()
    reader.ReadStream("part", io.BytesIO(content))
    reader.TransferRoots()
    return reader.OneShape()


def cylinders_of(shape):
    """Axis' x and y, radius, lowest and highest point of every cylindrical face."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepBndLib import BRepBndLib
    from OCP.GeomAbs import GeomAbs_Cylinder
    from OCP.TopAbs import TopAbs_FACE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    found = []
    faces = TopExp_Explorer(shape, TopAbs_FACE)
    while faces.More():
        face = TopoDS.Face(faces.Current())
        surface = BRepAdaptor_Surface(face)
        if surface.GetType() == GeomAbs_Cylinder:
            box = Bnd_Box()
            BRepBndLib.AddOptimal_s(face, box, False, False)
            place = surface.Cylinder().Axis().Location()
            corners = box.CornerMin(), box.CornerMax()
            found.append((place.X(), place.Y(), surface.Cylinder().Radius(), *(one.Z() for one in corners)))
        faces.Next()
    return found


@needs_kernel
@pytest.mark.parametrize("name", PARTS)
def test_its_volume_is_the_computed_mass_and_its_holes_the_hole_table(name):
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    part = PARTS[name]()
    solid = read_back(step_bytes(part))
    measured = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid, measured)
    mass_kg = measured.Mass() * MATERIALS[part.plate.material].density_kg_mm3
    assert mass_kg == pytest.approx(part.mass_kg, rel=1e-3)
    cylinders = cylinders_of(solid)
    for one in part.features:
        if one.cut is None:
            continue
        here = [
            face
            for face in cylinders
            if math.dist(face[:2], (one.x_mm, one.y_mm)) < 0.01 and abs(face[2] - one.cut.radius_mm) < 0.01
        ]
        assert here, one.name
        assert (
            max(face[4] for face in here) == pytest.approx(one.cut.high_mm, abs=0.01)
            or one.kind == "through hole"
        )
        if one.kind != "through hole":
            assert min(face[3] for face in here) == pytest.approx(one.cut.low_mm, abs=0.01)
    holes = {(round(x, 2), round(y, 2)) for x, y, *_ in cylinders} - {(0.0, 0.0)}
    places = {(round(one.x_mm, 2) + 0.0, round(one.y_mm, 2) + 0.0) for one in part.features} - {(0.0, 0.0)}
    assert holes == places


@needs_kernel
def test_the_same_part_gives_the_same_bytes_and_says_nothing(capfd):
    part = demo_part()
    content = step_bytes(part)
    assert content == step_bytes(part)
    assert content.startswith(b"ISO-10303-21;")
    assert f"part {part.identity}".encode() in content
    assert capfd.readouterr() == ("", "")


def test_without_the_kernel_the_other_files_are_made(monkeypatch):
    monkeypatch.setattr("core.plate.shop.files.solids_can_be_made", lambda: False)
    assert writers() == WRITERS
    monkeypatch.setattr("core.plate.shop.files.solids_can_be_made", lambda: True)
    assert [name for name, _ in writers()][len(WRITERS) :] == ["solid.step"]
    assert "shop" in NO_SOLID
