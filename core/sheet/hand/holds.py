"""What is too fast to be set step by step: the switch is held from one line to a later one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.mount.drive.slew import move_seconds, slew_seconds
from core.mount.evening.drawn import DrawnPass
from core.mount.model.station import Mount
from core.sheet.hand.steered import Setting, hand_off_deg, moments_between

#: The motor runs more of the time between two lines than this: it is held and not set.
_BUSY = 0.6
#: The hand may be this much further off the satellite than the plan is without being off the beam for it.
_EDGE_DEG = 0.5
#: Of the time that the motor does not need: how much passes before a hold begins.
_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)


@dataclass(frozen=True)
class Told:
    """One setting as it is told.

    Attributes:
        setting: the axes to go to.
        until_s: until when the switch of azimuth is held to get there; None where it is only set.
        azimuth: it is told; in the middle of a hold only elevation is.
    """

    setting: Setting
    until_s: float | None = None
    azimuth: bool = True


def held_where_fast(
    drawn: DrawnPass, mount: Mount, settings: Sequence[Setting], limit_deg: float, end_s: float = np.inf
) -> list[Told]:
    """The settings of one stretch, runs in which the motor hardly rests made into one hold each.

    A run is held as one only where that keeps the satellite in the beam; else it is halved. The other hand
    goes on setting elevation meanwhile.

    Args:
        drawn, mount: the pass and what follows it.
        settings: in order, the first one where the stretch begins.
        limit_deg: a satellite further off is lost.
        end_s: second at which the stretch ends; nothing is held any longer.
    """
    fast = _fast_runs(mount, settings)
    told = [Told(settings[0])] if settings else []
    place = 1
    while place < len(settings):
        last = fast.get(place, place)
        held = _held(drawn, mount, settings, place, last, limit_deg, end_s)
        while held is None:
            last = (place + last) // 2
            held = _held(drawn, mount, settings, place, last, limit_deg, end_s)
        told += held
        place = last + 1
    return told


def _fast_runs(mount: Mount, settings: Sequence[Setting]) -> dict[int, int]:
    """For each place that a busy gap comes after: where the run of busy gaps of one sense ends."""
    found: dict[int, int] = {}
    if len(settings) < 3:
        return found
    m, e, t = (
        np.array(values) for values in zip(*((s.m_deg, s.e_deg, s.utc_s) for s in settings), strict=True)
    )
    running_s = move_seconds(mount, m[:-1], m[1:], e[:-1], e[1:]) - mount.drive.settle_s
    busy = running_s > _BUSY * np.diff(t)
    sense = np.sign(np.diff(m))
    for place in range(len(settings) - 2, 0, -1):
        if busy[place]:
            goes_on = place + 1 in found and sense[place + 1] == sense[place]
            found[place] = found[place + 1] if goes_on else place + 1
    return found


def _held(
    drawn: DrawnPass,
    mount: Mount,
    settings: Sequence[Setting],
    first: int,
    last: int,
    limit_deg: float,
    end_s: float,
) -> list[Told] | None:
    """One hold from one line to another, begun when it keeps the satellite best; None where none keeps it.

    A motor that is faster than the satellite would be there too soon if it began with the first line.
    """
    if last == first:
        return [Told(settings[first])]
    start, end, before = settings[first], settings[last], settings[first - 1]
    seconds = float(slew_seconds(before.m_deg, end.m_deg, mount.azimuth))
    spare_s = max(end.utc_s - start.utc_s - seconds, 0.0)
    begins = sorted({start.utc_s + float(np.floor(share * spare_s)) for share in _SHARES})
    beyond_s = settings[last + 1].utc_s if last + 1 < len(settings) else end_s
    tried = [_hold(settings[first - 1 : last + 1], begin, seconds, beyond_s) for begin in begins]
    around = (settings[first - 1], *settings[last + 1 : last + 2])
    over = [_over_deg(drawn, mount, around, one, end.utc_s, limit_deg) for one in tried]
    best = int(np.argmin(over))
    return None if over[best] > 0.0 else tried[best]


def _hold(settings: Sequence[Setting], begin_s: float, seconds: float, beyond_s: float) -> list[Told]:
    """The hold that begins there, with elevation set as the lines have it; the first is the line before."""
    before, *inside = settings
    end = inside[-1]
    until_s = min(max(float(np.ceil(begin_s + seconds)), begin_s + 1.0), beyond_s)
    early = [one for one in inside if one.utc_s <= begin_s]
    told = [
        Told(Setting(one.utc_s, before.m_deg, one.e_deg), azimuth=False)
        for one in early
        if one.utc_s < begin_s
    ]
    e_deg = early[-1].e_deg if early else before.e_deg
    told.append(Told(Setting(begin_s, end.m_deg, e_deg), until_s))
    late = [one for one in inside if one.utc_s > begin_s]
    return told + [Told(Setting(one.utc_s, end.m_deg, one.e_deg), azimuth=False) for one in late]


def _over_deg(
    drawn: DrawnPass,
    mount: Mount,
    around: Sequence[Setting],
    held: Sequence[Told],
    end_s: float,
    limit_deg: float,
) -> float:
    """How far the satellite gets out of the beam under a hold where the plan has it inside; 0 or less: not.

    ``around`` are the setting before the hold and the one after it, if any.
    """
    before, *after = around
    told = [before, *(one.setting for one in held), *after]
    moments = moments_between(before.utc_s, after[0].utc_s if after else end_s)
    off = hand_off_deg(drawn, mount, told, moments)
    planned = np.interp(moments, drawn.utc_s, drawn.off_deg)
    return float(np.max(off - np.maximum(limit_deg, planned + _EDGE_DEG)))
