"""In how many ways the part goes together: into the tripod plate, and the rotator onto it."""

from __future__ import annotations

import math

from core.base.angles import wrap_360
from core.mount.model.station import Mount
from core.plate.body.features import Feature, features_of, pin_screw
from core.plate.body.shape import at_angle, bolt_places, faces_at
from core.plate.model import Plate
from core.plate.tables.screws import cap_screw
from core.plate.tables.threads import thread_named

#: Two places are the same to a bolt in its clearance hole when they are nearer than this share of the
#: clearance.
_SAME_SHARE = 0.5


def keyway_ends_deg(plate: Plate) -> tuple[float, ...]:
    """Where the keyway leads out of the centre, clockwise from its own bearing."""
    return (0.0, 180.0) if plate.keyway.right_across else (0.0,)


def fits_ways(plate: Plate, mount: Mount) -> int:
    """In how many ways the part, with its pin in the hole in use, goes into the tripod plate.

    The pin's head goes into each end of the keyway; the step is round and adds none. Turned over, the part
    goes in again only where nothing tells its two sides apart: no step, no counterbore, and an index hole
    that is tapped right through.
    """
    return len(keyway_ends_deg(plate)) * (2 if turns_over(plate, features_of(plate, mount)) else 1)


def turns_over(plate: Plate, features: tuple[Feature, ...]) -> bool:
    """Whether the part fits the tripod plate upside down, too."""
    if plate.step is not None or plate.bolts is not None:
        return False
    holes = [feature.cut for feature in features if feature.role == "index" and feature.cut is not None]
    through = [(hole.low_mm, hole.high_mm) == faces_at(plate, hole.x_mm, hole.y_mm) for hole in holes]
    return all(through)


def rotator_ways(plate: Plate) -> int:
    """In how many turns about the centre the bolt pattern lies on itself, as far as its clearance lets it.

    One means that the rotator goes on in one way only. Without bolts there is nothing to tell: 1.
    """
    if plate.bolts is None:
        return 1
    places = bolt_places(plate.bolts)
    clearance_mm = _clearance_mm(plate)
    return sum(_lies_on_itself(places, turn_deg, clearance_mm) for turn_deg in _turns_deg(places))


def _clearance_mm(plate: Plate) -> float:

    assert plate.bolts is not None
    thread = plate.bolts.thread
    return cap_screw(thread).clearance_mm(plate.bolts.fit) - thread_named(thread).diameter_mm


def _turns_deg(places: tuple[tuple[float, float], ...]) -> list[float]:
    """Turns that bring the outermost bolt onto another one, or leave it."""
    first = max(places, key=lambda place: math.hypot(*place))
    away_mm = math.hypot(*first)
    angles = [math.degrees(math.atan2(x, y)) for x, y in places if abs(math.hypot(x, y) - away_mm) < 1.0]
    base = math.degrees(math.atan2(*first))
    turns: list[float] = []
    for angle in angles:
        turn = wrap_360(angle - base)
        if all(abs(math.remainder(turn - known, 360.0)) > 1e-6 for known in turns):
            turns.append(turn)
    return turns


def _lies_on_itself(places: tuple[tuple[float, float], ...], turn_deg: float, clearance_mm: float) -> bool:
    """Whether every bolt finds a hole after a turn."""
    for x_mm, y_mm in places:
        turned = at_angle(math.hypot(x_mm, y_mm), math.degrees(math.atan2(x_mm, y_mm)) + turn_deg)
        if all(math.dist(turned, place) > _SAME_SHARE * clearance_mm + 1e-9 for place in places):
            return False
    return True


def pin_clearance_mm(plate: Plate) -> float:
    """Keyway's width less the pin's head; below 0 it does not go in."""
    return plate.keyway.width_mm - pin_screw(plate).head_mm


def step_clearance_mm(plate: Plate) -> float:
    """What is between step and bore after anodising; 0 where no step goes there, or nothing is known of it.

    An anodic layer grows half its thickness outward, so the step's diameter grows by the whole of it
    (finishers' rule for hard layers; thin ones grow a third).
    """
    step = plate.step
    if step is None or step.side != "below" or step.clearance_mm is None:
        return 0.0
    return step.clearance_mm - plate.anodise_um / 1000.0


def play_deg(plate: Plate) -> float:
    """How far the part turns each way with its pin free in the keyway.

    The pin's centre at radius r may stray (d + d_s) / 2 from the keyway's middle, d and d_s being the
    diametral clearances of pin and step: asin((d + d_s) / 2r); the trade's (d + d_s) / 2r for small angles.
    """
    stray_mm = max(0.0, pin_clearance_mm(plate)) / 2.0 + max(0.0, step_clearance_mm(plate)) / 2.0
    return _turn_deg(stray_mm, plate.index_pin.circle_radius_mm)


def pushed_deg(plate: Plate) -> tuple[float, float]:
    """Pushed to one side: how far the pin then stands off the middle, and what is left of the play each way.

    Pin on the flank, only the step's clearance is left to stray: asin(d / 2r), then asin(d_s / 2r).
    """
    radius_mm = plate.index_pin.circle_radius_mm
    off_deg = _turn_deg(max(0.0, pin_clearance_mm(plate)) / 2.0, radius_mm)
    return off_deg, _turn_deg(max(0.0, step_clearance_mm(plate)) / 2.0, radius_mm)


def _turn_deg(stray_mm: float, radius_mm: float) -> float:
    return math.degrees(math.asin(min(1.0, stray_mm / radius_mm)))
