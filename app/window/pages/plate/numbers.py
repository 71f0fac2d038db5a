"""Every number and choice of the plate with its words."""

from __future__ import annotations

from typing import get_args

from app.window.widgets.typed.choices import Choice
from app.window.widgets.typed.values import Value
from core.plate.model import GivesFirst, ThreadName
from core.plate.tables.screws import Fit
from core.plate.tables.strengths import Material, Strength, Surface


def _same(kind: object) -> tuple[tuple[str, str], ...]:
    """Each word of a kind is what is shown of it."""
    return tuple((word, word) for word in get_args(kind))


_WORKED_OUT = "worked out"
_THREADS = _same(ThreadName)
_SIDES = (("below", "below, the tripod's side"), ("above", "above, the rotator's side"))

BODY = (
    Value("plate.thickness_mm", "&Thickness", "mm", "the whole of it, step and all", "", needed=True),
    Value("plate.outside_diameter_mm", "&Outside", "mm", "diameter", "", needed=True),
    Value("plate.anodise_um", "Anodised", "um", "0: not; half of it grows outward", ""),
    Value(
        "plate.stock.width_mm",
        "Blank's width",
        "mm",
        "or its diameter; else 10 mm over the outside",
        "",
        _WORKED_OUT,
    ),
    Value("plate.stock.thickness_mm", "Blank is thick", "mm", "before it is cut", "", "as the part"),
)
BODY_CHOICES = (
    Choice("plate.material", "Material", _same(Material)),
    Choice("plate.stock.form", "Cut from", (("plate", "plate"), ("round bar", "round bar"))),
    Choice("plate.units", "Told in", (("mm", "mm"), ("inch", "inches")), "what drawings and tables are in"),
)
STEP_SIDE = Choice(
    "step", "Step", (("none", "none"), *_SIDES), "a ring that goes into the tripod plate's bore"
)
STEP = (
    Value("plate.step.outer_diameter_mm", "Outer diameter", "mm", "it goes into the bore", "", needed=True),
    Value("plate.step.inner_diameter_mm", "Inner diameter", "mm", "0: a solid spigot", ""),
    Value("plate.step.height_mm", "Height", "mm", "how far it stands proud of its side", "", needed=True),
    Value("plate.step.clearance_mm", "Play in the bore", "mm", "bore less step, diameters", "", "not known"),
)
PIN = (
    Value("plate.index_pin.circle_radius_mm", "Pin's &radius", "mm", "from the centre", "", needed=True),
    Value("plate.index_pin.head_diameter_mm", "Pin's head", "mm", "diameter as measured", "", "standard"),
    Value("plate.index_pin.engaged_mm", "Thread deep", "mm", "full thread in the part", "", "2 diameters"),
    Value("plate.index_pin.torque_nm", "Pin's torque", "Nm", "torque", "", _WORKED_OUT),
)
PIN_CHOICES = (
    Choice("plate.index_pin.thread", "Pin's thread", _THREADS),
    Choice("plate.index_pin.strength", "Pin's class", _same(Strength)),
    Choice("plate.index_pin.surface", "Pin's surface", _same(Surface), "of its threads, for the torque"),
)
KEYWAY = (
    Value("plate.keyway.width_mm", "&Keyway's width", "mm", "the pin's head sits in it", "", needed=True),
    Value("plate.keyway.depth_mm", "Keyway's depth", "mm", "from the tripod plate's face", "", needed=True),
)
KEYWAY_CHOICES = (
    Choice("plate.keyway.right_across", "It is cut", ((False, "to one side"), (True, "right across"))),
    Choice("plate.keyway.material", "Tripod plate of", _same(Material)),
)
PATTERN = Choice(
    "bolts",
    "Bolts lie",
    (
        ("none", "nowhere: no bolts"),
        ("circle", "on a circle"),
        ("rectangle", "in a rectangle"),
        ("points", "at free places"),
    ),
    "the rotator's bolts",
)
CIRCLE = (
    Value("plate.bolts.count", "Number", "", "on the circle", ""),
    Value("plate.bolts.circle_diameter_mm", "Circle", "mm", "through their middles", "", needed=True),
)
BOLTS = (
    Value("plate.bolts.first_angle_deg", "First at", "deg", "clockwise from the datum mark, from above", ""),
    Value("plate.bolts.engaged_mm", "In the rotator", "mm", "thread engaged", "", "2 diameters"),
    Value("plate.bolts.torque_nm", "Bolts' torque", "Nm", "torque", "", _WORKED_OUT),
    Value("plate.bolts.body_shear_mpa", "Rotator's shear", "MPa", "shear strength of its body", ""),
)
BOLT_CHOICES = (
    Choice("plate.bolts.thread", "Bolts' thread", _THREADS),
    Choice("plate.bolts.counterbore_side", "Heads lie", _SIDES),
    Choice("plate.bolts.fit", "Holes fit", _same(Fit)),
    Choice("plate.bolts.strength", "Bolts' class", _same(Strength)),
    Choice("plate.bolts.surface", "Bolts' surface", _same(Surface), "of their threads, for the torque"),
)
CENTRE = Choice("plate.centre_thread", "Clamp's thread", ((None, "none: no clamp"), *_THREADS))
CLAMP = (
    Value("plate.clamp.engaged_mm", "Thread engaged", "mm", "in the part", "", "all of it"),
    Value("plate.clamp.torque_nm", "Clamp's torque", "Nm", "torque", "", _WORKED_OUT),
    Value("plate.clamp.contact_diameter_mm", "Plates touch to", "mm", "diameter", "", "the outside"),
)
CLAMP_CHOICES = (
    Choice("plate.clamp.strength", "Clamp's class", _same(Strength)),
    Choice("plate.clamp.surface", "Clamp's surface", _same(Surface), "of its threads, for the torque"),
)
LOADS = (
    Value("plate.loads.wind_m_s", "Gust", "m/s", "that it stands", ""),
    Value("plate.loads.area_m2", "Area", "m2", "in the wind", ""),
    Value("plate.loads.drag", "Drag", "", "coefficient", ""),
    Value("plate.loads.lever_mm", "Off the axis", "mm", "the area's middle", ""),
    Value(
        "plate.loads.drag_area_height_m3",
        "Area moment",
        "m3",
        "drag x area x height, summed",
        "",
    ),
    Value("plate.loads.inertia_kg_m2", "Inertia", "kg m2", "of what turns", ""),
    Value("plate.loads.stop_s", "Halted within", "s", "at the stop", ""),
    Value("plate.loads.hand_n", "A hand", "N", "on the boom's tip", ""),
    Value("plate.loads.boom_mm", "Boom's tip", "mm", "from the axis", "", "the longest"),
    Value("plate.loads.friction", "Friction", "", "between plates", ""),
)
LOAD_CHOICES = (Choice("plate.loads.gives_first", "Gives first", _same(GivesFirst), "what is meant to"),)
