"""The evening by simple rules: each pass in its best way taken alone, and whether the moves between fit.

The joint choice of passes and ways is another matter; here nothing is left out to make room.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.mount.motion import Steering
from core.mount.nouns import Contact, EveningOrder, Move, PassCheck, Reason
from core.mount.reasons import reason_for
from core.mount.stack import Antenna, Mount, Posture
from core.mount.tracks import MountTrack
from core.mount.verdict import in_way
from core.times import clock


@dataclass(frozen=True)
class Wanted:
    """A pass somebody wants: its index among the checks, its worth, the way (posture, turn) insisted on."""

    index: int
    worth: float
    way: tuple[Posture, int] | None = None


def order_evening(
    checks: tuple[PassCheck, ...],
    reasons: tuple[Reason, ...],
    tracks: tuple[MountTrack, ...],
    mount: Mount,
    antennas: tuple[Antenna, ...],
    steering: Steering,
    shortest_contact_s: float,
    wanted: tuple[Wanted, ...] | None,
    unmatched: tuple[str, ...] = (),
) -> EveningOrder:
    """The contacts by time with the moves between them.

    Args:
        checks, reasons, tracks: all passes, why, and their tracks in the mount frame.
        mount, antennas, steering: for moves, the cable's twist, and ways insisted on.
        shortest_contact_s: shorter ones are left out where nobody picked them.
        wanted: the picks matched to passes; None without picks, then all passes are wanted.
        unmatched: sentences about picks that match no pass, handed on.
    """
    picked = wanted is not None
    chosen = wanted if wanted is not None else tuple(Wanted(index, 1.0) for index in range(len(checks)))
    contacts: list[Contact] = []
    left_out: list[tuple[PassCheck, str]] = []
    told = list(unmatched)
    for want in sorted(chosen, key=lambda w: checks[w.index].pass_.aos.utc_s):
        check, reason = checks[want.index], reasons[want.index]
        if want.way is not None:
            track = tracks[want.index]
            insisted = in_way(check, track, mount, antennas, steering, want.way)
            if insisted is None:
                told.append(_no_such_way(check, *want.way))
            else:
                check, reason = insisted, reason_for(insisted, track, mount, antennas, steering)
        why = _why_not(check, shortest_contact_s, picked)
        if why:
            left_out.append((check, why))
            continue
        contacts.append(_contact(check, reason, want.worth, picked, contacts, mount))
    return EveningOrder(tuple(contacts), tuple(left_out), tuple(told))


def _no_such_way(check: PassCheck, posture: Posture, turn: int) -> str:
    held = ", ".join(f"{way.posture} turn {way.turn}" for way in check.ways) or "none"
    return (
        f"{check.pass_.satellite} at {clock(check.pass_.aos.utc_s)} UTC does not hold {posture} in turn "
        f"{turn} (ways that hold: {held}): its verdict's way is used."
    )


def _why_not(check: PassCheck, shortest_contact_s: float, picked: bool) -> str:
    if check.pointing is None:
        return "out of reach"
    start, end = worked_span(check)
    if not picked and end - start < shortest_contact_s:
        return f"{end - start:.0f} s, shorter than the least contact of {shortest_contact_s:.0f} s"
    return ""


def worked_span(check: PassCheck) -> tuple[float, float]:
    """First and last worked moment of a check that has a pointing, POSIX seconds."""
    assert check.pointing is not None
    here = np.flatnonzero(check.pointing.worked)
    return float(check.pointing.utc_s[here[0]]), float(check.pointing.utc_s[here[-1]])


def _contact(
    check: PassCheck, reason: Reason, worth: float, picked: bool, before: list[Contact], mount: Mount
) -> Contact:
    start, end = worked_span(check)
    first, last = _axes_at(check, start), _axes_at(check, end)
    middle = mount.azimuth.travel_deg / 2.0
    return Contact(
        check=check,
        reason=reason,
        worth=worth,
        picked=picked,
        start_utc_s=start,
        end_utc_s=end,
        move_before=_move(before[-1], start, first, mount) if before else None,
        wrap_before_deg=first[0] - middle,
        wrap_after_deg=last[0] - middle,
    )


def _axes_at(check: PassCheck, utc_s: float) -> tuple[float, float]:
    pointing = check.pointing
    assert pointing is not None
    m_deg = np.interp(utc_s, pointing.utc_s, pointing.m_deg)
    return float(m_deg), float(np.interp(utc_s, pointing.utc_s, pointing.e_deg))


def _move(before: Contact, start: float, there: tuple[float, float], mount: Mount) -> Move:
    """From the end of the contact before to the start of this one, both axes at once at their rates."""
    here = _axes_at(before.check, before.end_utc_s)
    needed = max(
        abs(there[0] - here[0]) / mount.azimuth.rate_deg_s,
        abs(there[1] - here[1]) / mount.elevation.rate_deg_s,
    )
    gap = start - before.end_utc_s
    return Move(needed, gap, here[0], there[0], here[1], there[1], feasible=needed <= gap)
