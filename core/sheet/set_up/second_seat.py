"""The best seat elsewhere on the set-up card, with the dials at which the evening's contacts start there."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.times import clock
from core.base.words import bearing_text
from core.mount.evening.joining import place_at
from core.mount.model.results import PassCheck, Pointing
from core.mount.model.station import Mount
from core.mount.seat.words import loss_words
from core.place.declination import magnetic_from_true
from core.sheet.dials import NO_DIAL, PrintedDial, printed_axes
from core.sheet.words import clean
from core.studies import SeatElsewhere


@dataclass(frozen=True)
class SecondStart:
    """Where a contact starts on the dials in the second best seat.

    Attributes:
        number: the contact's place in the evening of the seat planned.
        satellite, utc: which, and when that evening joins it.
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
            _second_start(number, check, joined_s, elsewhere.mount)
            for number, (check, joined_s) in enumerate(
                zip(elsewhere.checks, elsewhere.joined_utc_s, strict=True), start=1
            )
        ),
    )


def _second_start(number: int, check: PassCheck, joined_s: float, mount: Mount) -> SecondStart:
    azimuth, elevation = NO_DIAL, NO_DIAL
    if check.pointing is not None:
        place = place_at(check.pointing, _on_from(check.pointing, joined_s))
        azimuth, elevation = printed_axes(place.m_deg, place.e_deg, mount)
    return SecondStart(
        number=number,
        satellite=clean(check.pass_.satellite, 24),
        utc=clock(joined_s),
        verdict=check.verdict,
        azimuth=azimuth,
        elevation=elevation,
    )


def _on_from(pointing: Pointing, joined_s: float) -> float:
    """When the pass is joined, or where it is not worked there yet the first moment that it is."""
    later = pointing.utc_s[pointing.worked & (pointing.utc_s >= joined_s)]
    before = pointing.utc_s[pointing.worked & (pointing.utc_s <= joined_s)]
    return joined_s if before.size or not later.size else float(later[0])
