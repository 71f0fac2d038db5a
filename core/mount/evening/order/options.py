"""What may be chosen of a pass: every way of following it that fits at all, on the evening's grid.

A posture and a turn that lies at least partly in the guarded travel is an option: the pointing is held at
the guards and limits, and only what is then on the beam over the mask counts, so that joining late and
leaving early come out of the choice of start and end. Where the verdict is a split, the best split is an
option too, pointed as the verdict points it. A pass that is out of reach has no options.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Floats
from core.base.progress import reported
from core.base.units import Progress, no_progress
from core.mount.check.ways import offset_deg, possible_postures, turn_of, turns_in_travel
from core.mount.drive.aim import aim, off_boresight_deg, on_fraction
from core.mount.drive.motion import Steered, steer
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.rules import GRID_S, MountStart, Wanted
from core.mount.model.chain import guarded_travel_deg, zeta_deg
from core.mount.model.results import PassCheck, Verdict
from core.mount.model.station import Mount, Posture, Station

#: A moment this near a grid moment is on it.
_ON_GRID_S = 1e-6


@dataclass(frozen=True, eq=False)
class Option:
    """One way of following one pass, on the grid: what a contact may be cut from.

    Attributes:
        pass_index: the pass, among the evening's checks.
        satellite: catalogue number, for the cost of changing satellites.
        worth: weight of a second of signal.
        way: posture and turn, None for a split.
        whole: the pass holds in this way all through (clear or resting).
        least_s: no contact is shorter.
        first_slot: slot of the first sample; slot j holds a moment in (step (j - 1), step j].
        utc_s: (K,) one moment a slot: the first on the beam, multiples of the step, the last on the beam.
        m_deg, e_deg: (K,) the axes then.
        signal_s: (K,) seconds on the beam over the mask since the first moment.
        clear_deg_s: (K,) integral over those seconds of the degrees to the nearer guard.
        travel_deg: (K,) what both axes have turned since the first moment.
        backward: time runs backward: slots and times negated, times and axes from the last to the first; the
            three sums stay as they are and are turned round where they are counted.
    """

    pass_index: int
    satellite: int
    worth: float
    way: tuple[Posture, int] | None
    whole: bool
    least_s: float
    first_slot: int
    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    signal_s: Floats
    clear_deg_s: Floats
    travel_deg: Floats
    backward: bool = False

    @property
    def last_slot(self) -> int:
        """Slot of the last sample."""
        return self.first_slot + self.utc_s.size - 1


def turned_round(option: Option) -> Option:
    """The option with time running backward."""
    return replace(
        option,
        first_slot=-option.last_slot,
        utc_s=-option.utc_s[::-1],
        m_deg=option.m_deg[::-1],
        e_deg=option.e_deg[::-1],
        backward=True,
    )


def options_of(
    checks: tuple[PassCheck, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    wanted: tuple[Wanted, ...],
    shortest_contact_s: float,
    picked: bool,
    step_s: float = GRID_S,
    progress: Progress = no_progress,
    steered: tuple[Steered, ...] | None = None,
    mount_start: MountStart | None = None,
) -> tuple[Option, ...]:
    """Every option of every wanted pass, upright first, then by turn, then the split.

    Args:
        checks, tracks: all passes and their tracks in the mount frame.
        station: as the checks were made with.
        wanted: which passes, their worth, a way insisted on (only that way is then an option).
        shortest_contact_s: the least contact; a picked pass that is shorter itself is worked whole or not.
        picked: somebody picked the wanted passes.
        step_s: the grid.
        progress: called every so many passes.
        steered: `steer_all` of the tracks, where it is at hand.
        mount_start: where the mount stands; of a pass that it is on already, half of what is left may be a
            contact.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    found: list[Option] = []
    limit = station.beam_limit_deg
    for want in reported(wanted, "choosing the evening", progress):
        track = tracks[want.index]
        followed = steer(track, station.mount, station.steering) if steered is None else steered[want.index]
        own = _of_pass(checks[want.index], track, followed, station, want, step_s)
        longest_s = max((float(one.utc_s[-1] - one.utc_s[0]) for one in own), default=0.0)
        least_s = min(shortest_contact_s, longest_s) if picked else shortest_contact_s
        for one in own:
            own_s = float(one.utc_s[-1] - one.utc_s[0])
            own_least_s = min(least_s, own_s / 2.0) if is_on(mount_start, one, limit) else least_s
            found += [replace(one, least_s=own_least_s)] if own_s >= own_least_s - 1e-9 else []
    return tuple(found)


def is_on(mount_start: MountStart | None, option: Option, limit_deg: float) -> bool:
    """Whether the mount, where it stands, has the option's satellite in the beam already."""
    if mount_start is None or option.utc_s[0] > mount_start.utc_s + GRID_S:
        return False
    m_deg, e_deg = mount_start.axes
    off = off_boresight_deg(
        np.array([m_deg - option.m_deg[0]]), np.array([e_deg]), np.array([option.e_deg[0]])
    )
    return bool(off[0] <= limit_deg)


def _of_pass(
    check: PassCheck,
    track: MountTrack,
    steered: Steered,
    station: Station,
    want: Wanted,
    step_s: float,
) -> list[Option]:
    if check.verdict is Verdict.OUT_OF_REACH:
        return []
    mount, limit = station.mount, station.beam_limit_deg
    holding = {(way.posture, way.turn) for way in check.ways}
    insisted = want.way if want.way in holding else None
    found: list[Option | None] = []
    for posture in possible_postures(mount):
        turns = turns_in_travel(track, mount, np.array([zeta_deg(mount, posture)]), posture)
        offsets = np.array([offset_deg(mount, posture, k) for k in turns])
        if not offsets.size:
            continue
        aimed = aim(track, steered, posture, offsets, mount)
        for offset, m_deg, e_deg, off in zip(offsets, aimed.m_deg, aimed.e_deg, aimed.off_deg, strict=True):
            way = posture, turn_of(track, offset)
            if insisted in {None, way}:
                on_s = on_fraction(off, limit) * track.interval_s
                line = FineLine(track.utc_s, m_deg, e_deg, on_s)
                found.append(on_grid(check, want, way, way in holding, line, mount, step_s))
    if check.verdict is Verdict.SPLIT and check.pointing is not None and insisted is None:
        split = check.pointing
        over_s = np.concatenate([[0.0], np.cumsum(track.interval_s)])
        on_s = on_fraction(split.off_deg, limit) * np.diff(np.interp(split.utc_s, track.utc_s, over_s))
        on_s *= 1.0 - _settling(check, split.utc_s)
        line = FineLine(split.utc_s, split.m_deg, split.e_deg, on_s)
        found.append(on_grid(check, want, None, False, line, mount, step_s))
    return [option for option in found if option is not None]


def _settling(check: PassCheck, utc_s: Floats) -> Floats:
    """(N-1,) share of each interval in which a split's move settles: the verdict counts none of it."""
    split = check.split
    if split is None or split.settling_utc_s is None:
        return np.zeros(utc_s.size - 1)
    inside = np.clip(utc_s, split.settling_utc_s, split.end_utc_s)
    return np.asarray(np.diff(inside) / np.diff(utc_s))


@dataclass(frozen=True, eq=False)
class FineLine:
    """A pass followed in one way, at its track's own sampling.

    Attributes:
        utc_s, m_deg, e_deg: (N,) moments and the axes then.
        on_s: (N-1,) seconds on the beam over the mask in each interval.
    """

    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    on_s: Floats


def on_grid(
    check: PassCheck,
    want: Wanted,
    way: tuple[Posture, int] | None,
    whole: bool,
    line: FineLine,
    mount: Mount,
    step_s: float = GRID_S,
) -> Option | None:
    """An option thinned to the grid by linear interpolation; None where nothing of it is on the beam.

    Args:
        check, want: the pass and how it is wanted.
        way, whole: as in `Option`.
        line: the pass followed so, at its track's own sampling.
        mount: for the guards.
        step_s: the grid.
    """
    here = np.flatnonzero(line.on_s > 0.0)
    if not here.size:
        return None
    start, end = float(line.utc_s[here[0]]), float(line.utc_s[here[-1] + 1])
    slots = np.arange(_slot(start, step_s), _slot(end, step_s) + 1)
    utc_s: Floats = np.asarray(slots * step_s, dtype=np.float64)
    utc_s[0], utc_s[-1] = start, end
    if slots.size < 2:
        return None
    heard_s = np.interp(utc_s, line.utc_s, np.concatenate([[0.0], np.cumsum(line.on_s)]))
    m_deg, e_deg = (np.interp(utc_s, line.utc_s, axis) for axis in (line.m_deg, line.e_deg))
    low, high = guarded_travel_deg(mount.azimuth)
    off_stops = np.minimum(m_deg - low, high - m_deg)
    turned = np.abs(np.diff(m_deg)) + np.abs(np.diff(e_deg))
    clear = np.diff(heard_s) * (off_stops[1:] + off_stops[:-1]) / 2.0
    return Option(
        pass_index=want.index,
        satellite=check.pass_.norad_id,
        worth=want.worth,
        way=way,
        whole=whole,
        least_s=0.0,
        first_slot=int(slots[0]),
        utc_s=utc_s,
        m_deg=m_deg,
        e_deg=e_deg,
        signal_s=heard_s - heard_s[0],
        clear_deg_s=np.concatenate([[0.0], np.cumsum(clear)]),
        travel_deg=np.concatenate([[0.0], np.cumsum(turned)]),
    )


def _slot(utc_s: float, step_s: float) -> int:
    return math.ceil((utc_s - _ON_GRID_S) / step_s)
