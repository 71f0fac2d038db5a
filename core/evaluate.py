"""`evaluate(plan, memo, progress)`: the list of pure stages from a plan to everything that is shown of it."""

from __future__ import annotations

from dataclasses import dataclass

from core.elements.model import ElementSet  # noqa: F401
from core.errors import PropagationError
from core.mount.nouns import EveningOrder, PassCheck, Reason
from core.track import Pass


@dataclass(frozen=True, eq=False)
class Seat:
    """Where the station sits tonight, in numbers for screen and paper.

    Attributes:
        keyway_true_deg: bearing of the keyway.
        declination_deg: east positive; magnetic = true - declination.
        declination_sigma_deg: its stated standard error.
        declination_note: empty, or what to know of it.
        keyway_magnetic_deg: what a compass shows.
        counter_clockwise_stop_deg, clockwise_stop_deg: true bearings of the stops.
        hole: name of the index hole in use.
        hole_offset_deg, hole_drilled_deg: iota, and where it is drilled from the datum mark.
    """

    keyway_true_deg: float
    declination_deg: float
    declination_sigma_deg: float
    declination_note: str
    keyway_magnetic_deg: float
    counter_clockwise_stop_deg: float
    clockwise_stop_deg: float
    hole: str
    hole_offset_deg: float
    hole_drilled_deg: float


@dataclass(frozen=True, eq=False)
class Result:
    """Everything computed from one plan.

    Attributes:
        identity: short hash of what it was computed from.
        passes: over mask and minimum elevation, by AOS.
        refused: satellites that could not be propagated, with the reason.
        checks: one per pass, same order.
        reasons: one per pass, same order.
        order: the evening.
        seat: the station's bearings.
        time_zone: name of the zone local times are in.
        element_ages: (satellite, norad_id, days at the evening's start) each.
        assumed: what the plan left out and which value was taken, in words.
    """

    identity: str
    passes: tuple[Pass, ...]
    refused: tuple[PropagationError, ...]
    checks: tuple[PassCheck, ...]
    reasons: tuple[Reason, ...]
    order: EveningOrder
    seat: Seat
    time_zone: str
    element_ages: tuple[tuple[str, int, float], ...]
    assumed: tuple[str, ...]
