"""The next moves of the hand: when to leave, how far to turn, and when the first contact is joined."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.times import clock
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.results import Contact, Move
from core.mount.model.station import Mount
from core.replan import Replanned


@dataclass(frozen=True)
class NextMove:
    """A move to a contact.

    Attributes:
        satellite: whose contact it leads to.
        start_utc_s: of the contact.
        leave_utc_s: latest start of the move, POSIX seconds; earlier than the moment it can start where it
            does not fit.
        fits: it is done in time.
        first: the mount stands where it was read to stand, and moves at once where the move does not fit.
        turn_deg: of azimuth, clockwise positive.
        azimuth, elevation: what the dials show at its end, as printed.
        needed_s, there_s: seconds it takes, and seconds there are, not below 0.
        joined_utc_s: of the first, when the mount is on the pass if it moves at once; None where it cannot
            be, and of the others.
    """

    satellite: str
    start_utc_s: float
    leave_utc_s: float
    fits: bool
    first: bool
    turn_deg: float
    azimuth: str
    elevation: str
    needed_s: float
    there_s: float
    joined_utc_s: float | None

    @property
    def turn_words(self) -> str:
        """``clockwise 40 deg``."""
        sense = "clockwise" if self.turn_deg >= 0.0 else "counter-clockwise"
        return f"{sense} {abs(self.turn_deg):.0f} deg"


def next_moves(again: Replanned, most: int = 3) -> tuple[NextMove, ...]:
    """The moves to the next contacts of a re-planned evening, in order."""
    contacts = again.result.order.contacts[:most]
    moves = ((place, contact, contact.move_before) for place, contact in enumerate(contacts))
    return tuple(
        _next_move(contact, move, again.plan.mount, place == 0, again.on_first_utc_s)
        for place, contact, move in moves
        if move is not None
    )


def _next_move(
    contact: Contact, move: Move, mount: Mount, first: bool, on_first_utc_s: float | None
) -> NextMove:
    return NextMove(
        satellite=contact.check.pass_.satellite,
        start_utc_s=contact.start_utc_s,
        leave_utc_s=contact.start_utc_s - move.seconds_needed,
        fits=move.feasible,
        first=first,
        turn_deg=move.m_to_deg - move.m_from_deg,
        azimuth=azimuth_dial(move.m_to_deg, mount.azimuth).text,
        elevation=elevation_dial(move.e_to_deg, mount.elevation).text,
        needed_s=move.seconds_needed,
        there_s=max(move.seconds_there, 0.0),
        joined_utc_s=on_first_utc_s if first else None,
    )


def move_words(move: NextMove) -> str:
    """A sentence."""
    leave = clock(move.leave_utc_s)
    when = f"leave by {leave}" if move.fits else "leave at once"
    if not move.fits and not move.first:
        when = f"does not fit, leave by {leave} or lose its start"
    line = (
        f"{move.satellite}, {clock(move.start_utc_s)}: {when}, turn {move.turn_words} "
        f"to azimuth {move.azimuth}, elevation {move.elevation} "
        f"({move.needed_s:.0f} s of {move.there_s:.0f} s)"
    )
    if move.first and not move.fits:
        joined = move.joined_utc_s
        line += f"; on it at {clock(joined)}" if joined is not None else "; too late for it"
    return line + "."
