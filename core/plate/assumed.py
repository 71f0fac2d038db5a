"""What the plan's plate leaves out, with the value taken."""

from __future__ import annotations

from core.base.edits import is_given, value_at
from core.mount.clearance.lengths import Clearance
from core.plate.holding.loads import boom_length_mm
from core.plate.model import Plate

_WORDS: tuple[tuple[str, str], ...] = (
    ("material", "material {}"),
    ("keyway.material", "tripod plate of {}"),
    ("keyway.right_across", "keyway cut to one side"),
    ("anodise_um", "not anodised"),
    ("index_pin.strength", "index pin of class {}"),
    ("index_pin.surface", "index pin {}"),
    ("loads.wind_m_s", "gust {:g} m/s"),
    ("loads.area_m2", "{:g} m2 in the wind"),
    ("loads.drag", "drag {:g}"),
    ("loads.lever_mm", "wind {:g} mm off the axis"),
    ("loads.drag_area_height_m3", "{:g} m3 of drag x area x height over the part"),
    ("loads.inertia_kg_m2", "{:g} kg m2 turning"),
    ("loads.stop_s", "halted at the stop within {:g} s"),
    ("loads.hand_n", "a hand of {:g} N"),
    ("loads.friction", "friction {:g} between plates"),
    ("loads.gives_first", "the {} is meant to give first"),
)
_OF_BOLTS = (
    ("bolts.fit", "{} clearance holes"),
    ("bolts.strength", "bolts of class {}"),
    ("bolts.surface", "bolts {}"),
    ("bolts.engaged_mm", "two diameters of thread in the rotator's body"),
    ("bolts.body_shear_mpa", "rotator's body of {:g} MPa shear strength"),
)
_OF_CLAMP = (
    ("clamp.strength", "clamp of grade {}"),
    ("clamp.surface", "clamp {}"),
    ("clamp.contact_diameter_mm", "tripod plate at least as large as the part"),
)


def assumed_of_plate(plate: Plate, clearance: Clearance | None) -> tuple[str, ...]:
    """One phrase for each value left to its default."""
    words = _WORDS
    words += () if plate.bolts is None else _OF_BOLTS
    words += () if plate.centre_thread is None else _OF_CLAMP
    words += () if plate.step is None else (("step.clearance_mm", "no play of the step in its bore"),)
    found = [phrase.format(value_at(plate, path)) for path, phrase in words if not is_given(plate, path)]
    if plate.loads.boom_mm is None:
        found.append(f"boom tip {boom_length_mm(plate.loads, clearance):.0f} mm from the axis")
    return tuple(found)
