"""What may be off, feature by feature, and from what it is counted.

Values of ISO 286-2 and ISO 2768-1 are from memory. What no standard gives is our choice, with its reason
beside it: half of what a bolt's clearance lets stray is left to the rotator's own holes.
"""

from __future__ import annotations

import math

from core.base.words import figure, plain
from core.plate.body.features import Feature
from core.plate.model import Plate
from core.plate.tables.screws import cap_screw
from core.plate.tables.threads import INCH_MM, thread_named

GENERAL = "ISO 2768-1 m where no tolerance stands"
#: Depth of a counterbore: a head that lies deeper does no harm.
COUNTERBORE_DEEPER_MM = 0.2
#: Place of an index hole, each coordinate.
INDEX_PLACE_MM = 0.1
#: Place of the centre hole to the step's axis: what the order of work lets the dial gauge show.
CENTRE_PLACE_MM = 0.02
#: ISO 286-2 H13: up to this diameter, mm, the hole may be so much larger, mm.
_H13_MM = ((3.0, 0.14), (6.0, 0.18), (10.0, 0.22), (18.0, 0.27), (30.0, 0.33), (50.0, 0.39), (80.0, 0.46))


def length(mm: float, units: str) -> str:
    """A length as a drawing has it, without its unit: two decimals of a millimetre, or four of an inch."""
    return figure(mm / INCH_MM, 4) if units == "inch" else figure(mm, 2)


def short_length(mm: float, units: str) -> str:
    """The same without noughts at its end."""
    return plain(mm / INCH_MM, 4) if units == "inch" else plain(mm, 2)


def drilled_text(diameter_mm: float, units: str) -> str:
    """``Ø9 +0.22/0``: a clearance hole or counterbore."""
    wider_mm = next((tolerance for top_mm, tolerance in _H13_MM if diameter_mm <= top_mm), 0.54)
    return f"Ø{short_length(diameter_mm, units)} +{short_length(wider_mm, units)}/0"


def thread_text(thread: str) -> str:
    """With its class: ``M6-6H``, ``1/2-13 UNC-2B``."""
    return f"{thread}-{'6H' if thread.startswith('M') else '2B'}"


def full_thread_text(feature: Feature, units: str) -> str:
    """Depth of a blind thread: at least so much, a pitch more at most."""
    pitch_mm = thread_named(feature.thread).pitch_mm
    return f"{short_length(feature.depth_mm, units)} +{short_length(pitch_mm, units)}/0 full thread"


def step_text(plate: Plate) -> str:
    """The step's outer diameter: under its nominal by at most a quarter of its clearance."""
    assert plate.step is not None
    size = f"Ø{short_length(plate.step.outer_diameter_mm, plate.units)}"
    if plate.step.clearance_mm is None or plate.step.side != "below":
        return size
    less_mm = max(0.01, math.floor(25.0 * plate.step.clearance_mm) / 100.0)
    return f"{size} 0/-{short_length(less_mm, plate.units)}"


def place_mm(plate: Plate, feature: Feature) -> float:
    """By how much x and y of a hole may be off, each.

    A bolt's screw may stray by half its clearance; the rotator's holes get half of that, and the diagonal of
    both coordinates is kept within the rest.
    """
    if feature.role == "index":
        return INDEX_PLACE_MM
    if feature.role == "bolt" and plate.bolts is not None:
        thread = plate.bolts.thread
        clearance_mm = cap_screw(thread).clearance_mm(plate.bolts.fit) - thread_named(thread).diameter_mm
        return max(0.05, math.floor(100.0 * clearance_mm / 4.0 / math.sqrt(2.0)) / 100.0)
    return CENTRE_PLACE_MM


def datums(plate: Plate) -> tuple[str, str, str]:
    """What places, angles and depths are counted from."""
    step_below = plate.step is not None and plate.step.side == "below"
    axis = "the step" if plate.step is not None else "the outside"
    return (
        "A: the face from below that lies on the tripod plate"
        + (", around the step." if step_below else "."),
        f"B: the axis of {axis}; x and y are 0 there.",
        "C: the line from B to the datum mark; h is 0 there and y runs along it.",
    )
