"""How soon a pass can be joined: from the idle position, from where the mount stands, from anywhere.

Nothing has moved yet at the given moment. The mount then goes straight to where boresight has to be at some
later moment of the pass, and the pass is joined at the first moment that is reached in time. Going for where
the satellite is now would never meet one that runs away faster than the mount turns.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from core.base.angles import Floats
from core.base.curves import halve_bracket
from core.base.runs import runs_of
from core.mount.drive.slew import move_seconds
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import PassCheck, Pointing
from core.mount.model.station import Mount

_HALVINGS = 30
#: A pass that is reached for less than this before the mask hides it is not joined.
LEAST_FOLLOWED_S = 1.0


class AxisAngles(NamedTuple):
    """Where the mount stands: mechanical azimuth and elevation axis angle, degrees."""

    m_deg: float
    e_deg: float


def seconds_between(mount: Mount, start: AxisAngles, end: AxisAngles) -> float:
    """Seconds from one place to another, settling included; 0 where nothing moves."""
    return float(move_seconds(mount, start.m_deg, end.m_deg, start.e_deg, end.e_deg))


def idle_place(mount: Mount, idle_m_deg: float | None = None) -> AxisAngles:
    """Where the mount waits between passes: mid travel unless told, elevation as level as it goes."""
    guard, top = guarded_travel_deg(mount.azimuth)
    middle = mount.azimuth.travel_deg / 2.0
    m_deg = middle if idle_m_deg is None else min(max(idle_m_deg, guard), top)
    return AxisAngles(m_deg, min(max(0.0, mount.elevation.minimum_deg), mount.elevation.maximum_deg))


def corners(mount: Mount) -> tuple[AxisAngles, ...]:
    """The far ends of both axes: from any place no move takes longer than from the worst of these."""
    ends = guarded_travel_deg(mount.azimuth), (mount.elevation.minimum_deg, mount.elevation.maximum_deg)
    return tuple(AxisAngles(m_deg, e_deg) for m_deg, e_deg in product(*ends))


def place_at(pointing: Pointing, utc_s: float) -> AxisAngles:
    """Where the axes are at a moment of a pass."""
    m_deg, e_deg = (np.interp(utc_s, pointing.utc_s, axis) for axis in (pointing.m_deg, pointing.e_deg))
    return AxisAngles(float(m_deg), float(e_deg))


def joined_at(
    check: PassCheck, mount: Mount, starts: tuple[AxisAngles, ...], leave_utc_s: float
) -> float | None:
    """First worked moment at which the mount, started at ``leave_utc_s``, is on the pass.

    Args:
        check: the pass as it is worked.
        mount: for rates and settling.
        starts: where it may stand; the moment is reached from every one of them.
        leave_utc_s: when it starts to move.

    Returns:
        POSIX seconds, or None where it is too late or the pass is out of reach. Gaps in the mask and the
        last second before one are no moments to join.
    """
    pointing = check.pointing
    if pointing is None:
        return None

    places = np.array(starts)
    m_start, e_start = places[:, 0, None], places[:, 1, None]

    def spare_s(utc_s: ArrayLike, m_deg: ArrayLike, e_deg: ArrayLike) -> Floats:
        needed = move_seconds(mount, m_start, m_deg, e_start, e_deg)
        return np.asarray(np.asarray(utc_s) - leave_utc_s - needed.max(axis=0))

    free = pointing.worked & ~pointing.moving
    for first, beyond in runs_of(free):
        found = _first_in(pointing, first, beyond - 1, spare_s)
        if found is not None:
            return found
    return None


def _first_in(
    pointing: Pointing, first: int, last: int, spare_s: Callable[[ArrayLike, ArrayLike, ArrayLike], Floats]
) -> float | None:
    """The first moment of samples first to last that is reached and leaves a second to follow."""
    end_s = float(pointing.utc_s[last]) - LEAST_FOLLOWED_S
    here = pointing.utc_s[first : last + 1]
    moments = np.append(here[here < end_s], end_s) if end_s >= here[0] else here[:0]
    if not moments.size:
        return None
    m_deg, e_deg = (np.interp(moments, pointing.utc_s, v) for v in (pointing.m_deg, pointing.e_deg))
    reached = spare_s(moments, m_deg, e_deg) >= 0.0
    if not reached.any():
        return None
    index = int(reached.argmax())
    late = float(moments[index])
    if index == 0:
        return late

    def in_time(utc_s: float) -> bool:
        return bool(spare_s(utc_s, *place_at(pointing, utc_s)) >= 0.0)

    return halve_bracket(float(moments[index - 1]), late, in_time, _HALVINGS)[1]


@dataclass(frozen=True)
class Joining:
    """How soon one pass can be joined.

    Attributes:
        start_utc_s: the first worked moment.
        from_idle_utc_s, from_anywhere_utc_s: on the pass when nothing has moved before ``start_utc_s``;
            None where it is over before.
        leave_idle_utc_s, leave_anywhere_utc_s: latest start of a move that is there at ``start_utc_s``.
        caution: sentences, where such a move may strike (`core.mount.evening.cautions.joining_with_caution`).
    """

    start_utc_s: float
    from_idle_utc_s: float | None
    from_anywhere_utc_s: float | None
    leave_idle_utc_s: float
    leave_anywhere_utc_s: float
    caution: str = ""


def joining(check: PassCheck, mount: Mount, idle: AxisAngles) -> Joining | None:
    """How soon a pass can be joined from a dead start; None where it is out of reach."""
    pointing = check.pointing
    if pointing is None or not pointing.worked.any():
        return None
    start_s = float(pointing.utc_s[int(pointing.worked.argmax())])
    there, anywhere = place_at(pointing, start_s), corners(mount)
    return Joining(
        start_utc_s=start_s,
        from_idle_utc_s=joined_at(check, mount, (idle,), start_s),
        from_anywhere_utc_s=joined_at(check, mount, anywhere, start_s),
        leave_idle_utc_s=start_s - seconds_between(mount, idle, there),
        leave_anywhere_utc_s=start_s - max(seconds_between(mount, place, there) for place in anywhere),
    )
