"""The best seat elsewhere on the set-up card, with the dials that the passes start on there."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.times import clock
from core.base.words import bearing_text
from core.mount.evening.moment import start_axes
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount
from core.mount.seat.words import loss_words
from core.place.declination import magnetic_from_true
from core.sheet.dials import NO_DIAL, PrintedDial, printed_axes
from core.sheet.words import clean
from core.studies import SeatElsewhere


@dataclass(frozen=True)
class SecondStart:
    """Where a pass starts on the dials in the second best seat.

    Attributes:
        number: the pass' place in the evening of the seat planned.
        satellite, utc: which.
        verdict: the word in that seat.
        azimuth, elevation: the dials; empty when out of reach.
    """

    number: int
    satellite: str
    utc: str
    verdict: str
    azimuth: PrintedDial
    elevation: PrintedDial


@dataclass(frozen=True)
class SecondSeat:
    """The best seat in another place, for when the ground forbids the one that is planned.

    Attributes:
        keyway_true_deg, keyway_magnetic_deg, hole: figures and name.
        words: what it costs.
        starts: the worked passes.
    """

    keyway_true_deg: str
    keyway_magnetic_deg: str
    hole: str
    words: str
    starts: tuple[SecondStart, ...]


def second_seat(elsewhere: SeatElsewhere, declination_deg: float) -> SecondSeat:
    """The seat in words, and where each contact's pass starts there."""
    seat = elsewhere.seat
    return SecondSeat(
        keyway_true_deg=bearing_text(seat.keyway_bearing_deg),
        keyway_magnetic_deg=bearing_text(magnetic_from_true(seat.keyway_bearing_deg, declination_deg)),
        hole=clean(seat.index_hole, 24),
        words=loss_words(seat),
        starts=tuple(
            _second_start(number, check, elsewhere.mount)
            for number, check in enumerate(elsewhere.checks, start=1)
        ),
    )


def _second_start(number: int, check: PassCheck, mount: Mount) -> SecondStart:
    place = start_axes(check)
    azimuth, elevation = (NO_DIAL, NO_DIAL) if place is None else printed_axes(*place, mount)
    return SecondStart(
        number=number,
        satellite=clean(check.pass_.satellite, 24),
        utc=clock(check.pass_.aos.utc_s, seconds=False),
        verdict=check.verdict,
        azimuth=azimuth,
        elevation=elevation,
    )
