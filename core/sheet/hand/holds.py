"""What is too fast to be set step by step: the switch is held from one line to a later one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.mount.drive.slew import move_seconds
from core.mount.evening.drawn import DrawnPass
from core.mount.model.station import Mount
from core.sheet.hand.steered import Setting, hand_off_deg, moments_between

#: The motor runs more of the time between two lines than this: it is held and not set.
_BUSY = 0.6
#: The hand may be this much further off the satellite than the plan is without being off the beam for it.
_EDGE_DEG = 0.5


@dataclass(frozen=True)
class Held:
    """One setting, and until when the switch is held to get there; None where it is only set."""

    setting: Setting
    until_s: float | None


def held_where_fast(
    drawn: DrawnPass, mount: Mount, settings: Sequence[Setting], limit_deg: float
) -> list[Held]:
    """The settings of one stretch, runs in which the motor hardly rests made into one hold each.

    A run is held as one only where that keeps the satellite in the beam; else it is halved.

    Args:
        drawn, mount: the pass and what follows it.
        settings: in order, the first one where the stretch begins.
        limit_deg: a satellite further off is lost.
    """
    fast = _fast_runs(mount, settings)
    told = [Held(settings[0], None)] if settings else []
    place = 1
    while place < len(settings):
        last = fast.get(place, place)
        while last > place and not _keeps(drawn, mount, settings, place, last, limit_deg):
            last = (place + last) // 2
        told.append(_held(mount, settings, place, last))
        place = last + 1
    return told


def _fast_runs(mount: Mount, settings: Sequence[Setting]) -> dict[int, int]:
    """For each place in a run of busy gaps of one sense: where the run ends."""
    found: dict[int, int] = {}
    if len(settings) < 3:
        return found
    m, e, t = (
        np.array(values) for values in zip(*((s.m_deg, s.e_deg, s.utc_s) for s in settings), strict=True)
    )
    busy = move_seconds(mount, m[:-1], m[1:], e[:-1], e[1:]) > _BUSY * np.diff(t)
    sense = np.sign(np.diff(m))
    for place in range(len(settings) - 1, 0, -1):
        gap = place - 1
        onward = gap + 1 < busy.size and busy[gap] and busy[gap + 1] and sense[gap] == sense[gap + 1]
        found[place] = found.get(place + 1, place + 1) if onward else place
    return found


def _held(mount: Mount, settings: Sequence[Setting], first: int, last: int) -> Held:
    if last == first:
        return Held(settings[first], None)
    start, end = settings[first], settings[last]
    before = settings[first - 1]
    seconds = float(move_seconds(mount, before.m_deg, end.m_deg, before.e_deg, end.e_deg))
    held = Setting(start.utc_s, end.m_deg, end.e_deg)
    return Held(held, max(float(np.ceil(start.utc_s + seconds)), start.utc_s + 1.0))


def _keeps(
    drawn: DrawnPass, mount: Mount, settings: Sequence[Setting], first: int, last: int, limit_deg: float
) -> bool:
    """Holding from one line to another keeps the satellite in the beam wherever the plan does."""
    held = _held(mount, settings, first, last).setting
    told = [settings[first - 1], held, *settings[last + 1 : last + 2]]
    moments = moments_between(told[0].utc_s, told[-1].utc_s if len(told) > 2 else settings[last].utc_s)
    off = hand_off_deg(drawn, mount, told, moments)
    planned = np.interp(moments, drawn.utc_s, drawn.off_deg)
    return bool(np.all(off <= np.maximum(limit_deg, planned + _EDGE_DEG)))
