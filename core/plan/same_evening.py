"""The same evening at another field, and what makes two plans' evenings differ."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from core.base.edits import changed, changed_together, reset
from core.base.model import Model
from core.base.words import listed
from core.mount.model.station import Mount
from core.plan.document import Plan
from core.stand.model import Stand

M = TypeVar("M", bound=Model)

#: What of a mount belongs to the ground that it stands on: how it leans, and what was measured there.
_OF_THE_GROUND = ("tilt", "sighting_correction")
#: What of a plan was measured at its field.
_MEASURED_THERE = (
    *("seat_limits", "landmarks", "level_readings", "compass", "sightings", "checklist", "log"),
)
#: What of a stand belongs to its field, and what of its wishes.
_STAND_THERE = ("near", "forecast")
_WISHED_THERE = ("downhill_deg", "wind_from_deg", "cable_toward_deg")
_SEAT = ("keyway_bearing_deg", "index_hole")


def at_field(first: Plan, other: Plan) -> Plan:
    """The first plan's evening at the other's field.

    Hours, satellites, picks, minimum elevation, mount, antennas and rules are the first's. The other's are
    its title and what belongs to its ground: place and mask, forbidden keyway bearings, the plate's lean, and
    the correction from sightings (void, unless it was fitted with the first's keyway and hole). Of the stand
    they are what is near by, the forecast and the bearings that are wished.
    """
    mount = first.mount
    for name in _OF_THE_GROUND:
        mount = _taken(mount, other.mount, name)
    plan = first if mount == first.mount else changed(first, "mount", mount)
    for name in _MEASURED_THERE:
        plan = _taken(plan, other, name)
    if plan.stand is not None:
        plan = changed(plan, "stand", _stand_there(plan.stand, other.stand or Stand()))
    site = _taken(other.site, first.site, "minimum_elevation_deg")
    return changed_together(plan, {"title": other.title, "site": site})


def _stand_there(stand: Stand, other: Stand) -> Stand:
    """The first's stand with what is near by, the wind and the slope of the other's field."""
    for name in _STAND_THERE:
        stand = _taken(stand, other, name)
    wishes = stand.wishes
    for name in _WISHED_THERE:
        wishes = _taken(wishes, other.wishes, name)
    return stand if wishes == stand.wishes else changed(stand, "wishes", wishes)


def _taken(model: M, source: M, name: str) -> M:
    """The model with one value of the source's, left out where the source leaves it out."""
    if name in source.model_fields_set:
        return changed(model, name, getattr(source, name))
    return reset(model, name) if name in model.model_fields_set else model


def differences(first: Plan, other: Plan) -> tuple[str, ...]:
    """In what two plans' evenings differ, their fields aside, in words; empty where they are the same."""
    return tuple(word for word, part in _PARTS if part(first) != part(other))


def difference_words(name: str, first_name: str, differs: tuple[str, ...]) -> str:
    """``Pine meadow plans another evening than Larch ridge: they differ in hours and picks.``."""
    if not differs:
        return ""
    return f"{name} plans another evening than {first_name}: they differ in {listed(differs)}."


def _satellites(plan: Plan) -> object:
    """Their elements, whatever they are called and in whatever order."""
    elements = {one.elements.norad_id: one.elements for one in plan.satellites}
    return plan.maximum_element_age_days, elements


def _mount(plan: Plan) -> object:
    """All of the rotator but where its keyway points and what belongs to the ground."""
    bare = Mount()
    aside: dict[str, object] = {name: getattr(bare, name) for name in (*_OF_THE_GROUND, *_SEAT)}
    return plan.mount.model_copy(update=aside), plan.antennas, plan.steering, plan.clearance


def _picks(plan: Plan) -> object:
    return sorted(plan.picks, key=repr)


#: What an evening is made of, each by its word.
_PARTS: tuple[tuple[str, Callable[[Plan], object]], ...] = (
    ("hours", lambda plan: plan.evening),
    ("satellites", _satellites),
    ("minimum elevation", lambda plan: plan.site.minimum_elevation_deg),
    ("mount", _mount),
    ("keyway", lambda plan: tuple(getattr(plan.mount, name) for name in _SEAT)),
    ("picks", _picks),
    ("rules", lambda plan: (plan.shortest_contact_s, plan.evening_rules)),
)
