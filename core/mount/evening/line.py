"""The evening as one line: what both axes do from the first start to stow, leg by leg.

Strokes of the contacts, the moves that join them, the waits at the next start or in the idle place, the way
to stow and the standing there. A move that does not fit is a straight leg from where the hand leaves to
where it is due.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.base.angles import Floats
from core.mount.drive.slew import move_angles, move_seconds
from core.mount.evening.joining import AxisAngles
from core.mount.evening.order.rules import MountStart
from core.mount.evening.results import Contact, EveningOrder, Halt
from core.mount.model.station import Mount

LegKind = Literal["contact", "move", "wait", "idle", "misfit", "stowing", "stowed", "left"]
#: A move is drawn from this many samples, so that gaining and losing speed is seen.
_MOVE_SAMPLES = 17
_ROUNDING_S = 1e-3


@dataclass(frozen=True, eq=False)
class Leg:
    """One piece of the line.

    Attributes:
        kind: "contact"; "move" to the next start or to the idle place, "wait" standing at the start and
            "idle" in the idle place; "misfit", a move that is not done in time or that the order holds for
            none; "stowing" after the last contact and "stowed", or "left" standing there where the plan has
            no stow.
        contact: place in the order of the contact worked, or led to; -1 at the end of the evening.
        utc_s, m_deg, e_deg: (N,) POSIX seconds and both axes. Times rise, but in a misfit of passes that
            overlap.
    """

    kind: LegKind
    contact: int
    utc_s: Floats
    m_deg: Floats
    e_deg: Floats

    @property
    def end(self) -> AxisAngles:
        """Both axes at its end."""
        return AxisAngles(float(self.m_deg[-1]), float(self.e_deg[-1]))


def wrap_deg(m_deg: float, mount: Mount) -> float:
    """The cable's twist at a mechanical azimuth: degrees from mid travel, clockwise positive."""
    return m_deg - mount.azimuth.travel_deg / 2.0


def evening_line(
    order: EveningOrder, mount: Mount, until_utc_s: float, mount_start: MountStart | None = None
) -> tuple[Leg, ...]:
    """The legs in order: each begins where and when the one before ends.

    Args:
        order: contacts by time, each with its pointing, and where the mount rests.
        mount: rates, acceleration, settling.
        until_utc_s: how long the mount is shown standing at the end; no shorter than it takes to get there.
        mount_start: where it stands first and from when on it can move; None: at the first contact's start.
    """
    legs: list[Leg] = []
    idle = {halt.after: halt for halt in order.rests if halt.kind == "idle"}
    for place, contact in enumerate(order.contacts):
        worked = _worked(place, contact)
        before = legs[-1] if legs else _standing(mount_start)
        if before is not None:
            fits = contact.move_before is None or contact.move_before.feasible
            legs += _between(before, worked, mount, fits, idle.get(place - 1))
        legs.append(worked)
    if legs:
        stow = next((halt for halt in order.rests if halt.kind == "stow"), None)
        legs += _ending(legs[-1], mount, stow, until_utc_s)
    return tuple(legs)


@dataclass(frozen=True)
class OnLine:
    """Where the mount is at a moment between contacts: the leg's kind and both axes."""

    kind: LegKind
    contact: int
    m_deg: float
    e_deg: float


def on_line(legs: tuple[Leg, ...], utc_s: float) -> OnLine | None:
    """Where the line is at a moment; None before its start and after its end, and in a misfit.

    Args:
        legs: of `evening_line`.
        utc_s: POSIX seconds.
    """
    for leg in legs:
        if leg.utc_s[0] <= utc_s <= leg.utc_s[-1] and leg.kind != "misfit":
            m_deg, e_deg = (float(np.interp(utc_s, leg.utc_s, axis)) for axis in (leg.m_deg, leg.e_deg))
            return OnLine(leg.kind, leg.contact, m_deg, e_deg)
    return None


def _standing(start: MountStart | None) -> Leg | None:
    """What the first move begins from: the mount at one moment."""
    if start is None:
        return None
    return _straight("left", -1, (start.utc_s, start.utc_s), start.axes, start.axes)


def _worked(place: int, contact: Contact) -> Leg:
    """The pointing cut to the contact, its ends set in between samples."""
    pointing = contact.check.pointing
    assert pointing is not None
    start, end = contact.start_utc_s, contact.end_utc_s
    inside = (pointing.utc_s > start) & (pointing.utc_s < end)
    utc_s = np.concatenate([[start], pointing.utc_s[inside], [end]])
    m_deg, e_deg = (np.interp(utc_s, pointing.utc_s, axis) for axis in (pointing.m_deg, pointing.e_deg))
    return Leg("contact", place, utc_s, m_deg, e_deg)


def _between(before: Leg, after: Leg, mount: Mount, fits: bool, idle: Halt | None) -> list[Leg]:
    """The move from one contact to the next and the wait there, by the idle place where it rests there."""
    leave, due = float(before.utc_s[-1]), float(after.utc_s[0])
    here, there = before.end, AxisAngles(float(after.m_deg[0]), float(after.e_deg[0]))
    legs: list[Leg] = []
    if fits and idle is not None and idle.end_utc_s is not None:
        away = straight_move("move", after.contact, leave, here, AxisAngles(idle.m_deg, idle.e_deg), mount)
        leave, here = max(idle.end_utc_s, float(away.utc_s[-1])), away.end
        stand = (float(away.utc_s[-1]), leave)
        legs = [away, _straight("idle", after.contact, stand, here, here)]
    move = straight_move("move", after.contact, leave, here, there, mount)
    arrived = float(move.utc_s[-1])
    if not fits or arrived > due + _ROUNDING_S:
        return [*legs, _straight("misfit", after.contact, (leave, due), here, there)]
    # A drive with a deadband may stand a little off the start; the line goes on there all the same.
    wait = _straight("wait", after.contact, (arrived, max(arrived, due)), move.end, there)
    return [*legs, move, wait]


def _ending(last: Leg, mount: Mount, stow: Halt | None, until_utc_s: float) -> list[Leg]:
    """To stow and standing there, or standing where the last contact leaves the mount."""
    leave = float(last.utc_s[-1])
    if stow is None:
        return [_straight("left", -1, (leave, max(until_utc_s, leave)), last.end, last.end)]
    move = straight_move("stowing", -1, leave, last.end, AxisAngles(stow.m_deg, stow.e_deg), mount)
    there = float(move.utc_s[-1])
    return [move, _straight("stowed", -1, (there, max(until_utc_s, there)), move.end, move.end)]


def straight_move(
    kind: LegKind, contact: int, leave: float, here: AxisAngles, there: AxisAngles, mount: Mount
) -> Leg:
    """A move of both axes at once made straight, settling counted, from its start on."""
    seconds = float(move_seconds(mount, here.m_deg, there.m_deg, here.e_deg, there.e_deg))
    passed = np.linspace(0.0, seconds, _MOVE_SAMPLES)
    m_deg, e_deg = move_angles(mount, here.m_deg, there.m_deg, here.e_deg, there.e_deg, passed)
    return Leg(kind, contact, leave + passed, m_deg, e_deg)


def _straight(
    kind: LegKind, contact: int, times: tuple[float, float], here: AxisAngles, there: AxisAngles
) -> Leg:
    axes = np.array([here, there])
    return Leg(kind, contact, np.array(times), axes[:, 0], axes[:, 1])
