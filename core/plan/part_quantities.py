"""What the numbers of plate and stand may be when somebody types them: words and unit of each.

Their ranges are the plan file's own, which are those of parts and stations that a hand can carry.
"""

from __future__ import annotations

from collections.abc import Iterator

from core.base.edits import field_range
from core.base.model import Model
from core.base.typed import Quantity
from core.plate.model import Bolts, Clamp, IndexPin, Keyway, Loads, Plate, Step, Stock
from core.stand.model import Foot, Forecast, HungMass, Mass, Near, Stand, StandGuy, WindArea, Wishes

#: By model: its key path, and of each of its numbers the words and the unit.
_WORDS: tuple[tuple[type[Model], str, dict[str, tuple[str, str]]], ...] = (
    (
        Plate,
        "plate",
        {
            "thickness_mm": ("thickness", "mm"),
            "outside_diameter_mm": ("outside", "mm"),
            "anodise_um": ("anodised", "um"),
        },
    ),
    (
        Stock,
        "plate.stock",
        {"width_mm": ("blank's width", "mm"), "thickness_mm": ("blank's thickness", "mm")},
    ),
    (
        Step,
        "plate.step",
        {
            "outer_diameter_mm": ("step outside", "mm"),
            "inner_diameter_mm": ("step inside", "mm"),
            "height_mm": ("step's height", "mm"),
            "clearance_mm": ("play in its bore", "mm"),
        },
    ),
    (
        Bolts,
        "plate.bolts",
        {
            "count": ("number", ""),
            "circle_diameter_mm": ("circle", "mm"),
            "first_angle_deg": ("first at", "deg"),
            "torque_nm": ("bolts' torque", "Nm"),
            "engaged_mm": ("thread in the rotator", "mm"),
            "body_shear_mpa": ("rotator's shear strength", "MPa"),
        },
    ),
    (
        Clamp,
        "plate.clamp",
        {
            "torque_nm": ("clamp's torque", "Nm"),
            "engaged_mm": ("clamp's thread", "mm"),
            "contact_diameter_mm": ("plates touch to", "mm"),
        },
    ),
    (
        IndexPin,
        "plate.index_pin",
        {
            "circle_radius_mm": ("pin from the centre", "mm"),
            "torque_nm": ("pin's torque", "Nm"),
            "engaged_mm": ("pin's thread", "mm"),
            "head_diameter_mm": ("pin's head", "mm"),
        },
    ),
    (Keyway, "plate.keyway", {"width_mm": ("keyway's width", "mm"), "depth_mm": ("keyway's depth", "mm")}),
    (
        Loads,
        "plate.loads",
        {
            "wind_m_s": ("gust", "m/s"),
            "area_m2": ("area", "m2"),
            "drag": ("drag", ""),
            "lever_mm": ("off the axis", "mm"),
            "drag_area_height_m3": ("drag x area x height", "m3"),
            "inertia_kg_m2": ("inertia", "kg m2"),
            "stop_s": ("halted within", "s"),
            "hand_n": ("a hand", "N"),
            "boom_mm": ("boom's tip", "mm"),
            "friction": ("friction", ""),
        },
    ),
    (
        Stand,
        "stand",
        {
            "gust_factor": ("gust factor", ""),
            "margin": ("margin", ""),
            "air_density_kg_m3": ("air", "kg/m3"),
            "friction": ("friction", ""),
            "settling_mm": ("a foot sinks", "mm"),
            "tripod_mass_kg": ("tripod", "kg"),
            "tripod_height_mm": ("its middle", "mm"),
            "tripod_rating_kg": ("rated for", "kg"),
            "highest_mm": ("highest point", "mm"),
        },
    ),
    (
        Foot,
        "stand.legs",
        {"from_keyway_deg": ("leg from keyway", "deg"), "radius_mm": ("foot's radius", "mm")},
    ),
    (
        Mass,
        "stand.masses",
        {
            "mass_kg": ("mass", "kg"),
            "height_mm": ("height", "mm"),
            "from_keyway_deg": ("from keyway", "deg"),
            "radius_mm": ("radius", "mm"),
        },
    ),
    (
        WindArea,
        "stand.areas",
        {"area_m2": ("area", "m2"), "drag": ("drag", ""), "height_mm": ("height", "mm")},
    ),
    (HungMass, "stand.hung", {"mass_kg": ("mass", "kg"), "height_mm": ("height", "mm")}),
    (
        StandGuy,
        "stand.guys",
        {
            "from_keyway_deg": ("guy from keyway", "deg"),
            "height_mm": ("guy's height", "mm"),
            "peg_radius_mm": ("peg's radius", "mm"),
            "holds_n": ("guy holds", "N"),
        },
    ),
    (Near, "stand.near", {"distance_m": ("distance", "m"), "height_m": ("lowest part", "m")}),
    (Forecast, "stand.forecast", {"mean_m_s": ("mean wind", "m/s"), "gust_m_s": ("gusts", "m/s")}),
    (
        Wishes,
        "stand.wishes",
        {
            "lost_weight": ("a second lost", ""),
            "leg_downhill_s": ("leg downhill", "s"),
            "lee_s": ("the lee", "s"),
            "cable_s": ("cable's side", "s"),
        },
    ),
)
_BEARINGS = {
    "stand.near.bearing_deg": "bearing",
    "stand.wishes.downhill_deg": "downhill",
    "stand.wishes.wind_from_deg": "wind from",
    "stand.wishes.cable_toward_deg": "cable toward",
}


def _of_models() -> Iterator[tuple[str, Quantity]]:
    for model, path, numbers in _WORDS:
        for key, (words, unit) in numbers.items():
            yield f"{path}.{key}", Quantity(words, unit, *field_range(model, key))


#: By key path, the places of lists left out.
PART_QUANTITIES: dict[str, Quantity] = dict(_of_models()) | {
    path: Quantity(words, "deg", bearing=True) for path, words in _BEARINGS.items()
}
#: A side of the bolts' rectangle, and a free bolt's place from the centre.
RECTANGLE_SIDE = Quantity("side", "mm", 0.1, 500.0)
BOLT_PLACE = Quantity("place", "mm", -500.0, 500.0)
