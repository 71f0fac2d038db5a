"""What may be chosen of a pass: every way of following it that fits at all, on the evening's grid.

A posture and a turn that has the satellite on the beam for part of the pass at least is an option: the
pointing is held at the guards and limits, and only what is then on the beam over the mask counts, so that
joining late and leaving early come out of the choice of start and end. Where the verdict is a split, the best
split is an option too, pointed as the verdict points it. A pass that is out of reach has no options.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats
from core.base.errors import Cancelled
from core.base.units import Progress, no_progress
from core.mount.drive.aim import off_boresight_deg
from core.mount.drive.motion import Steered, steer_all
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.joined import JoinedTracks, joined_tracks
from core.mount.evening.order.lines import FollowedLines, followed_lines
from core.mount.evening.order.rules import GRID_S, MountStart, Wanted
from core.mount.model.results import PassCheck
from core.mount.model.station import Posture, Station

_ROUNDING_S = 1e-9
#: What is on the beam for less is nothing to work.
_BLINK_S = 0.01


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
        utc_s: (K,) K >= 2 moments: the first on the beam, every multiple of the step, the last on the beam.
        m_deg, e_deg: (K,) the axes then.
        over: (K,) bool, over the top then.
        signal_s: (K,) seconds on the beam over the mask since the first moment.
        clear_deg_s: (K,) integral over those seconds of the degrees to the nearer guard, 15 at most.
        turned_deg: (K,) what azimuth has turned since the first moment.
        backward: time runs backward: times negated, and all but the three sums from the last to the first;
            those stay as they are and are turned round where they are counted.
    """

    pass_index: int
    satellite: int
    worth: float
    way: tuple[Posture, int] | None
    whole: bool
    least_s: float
    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    over: Flags
    signal_s: Floats
    clear_deg_s: Floats
    turned_deg: Floats
    backward: bool = False


def turned_round(option: Option) -> Option:
    """The option with time running backward."""
    return replace(
        option,
        utc_s=-option.utc_s[::-1],
        m_deg=option.m_deg[::-1],
        e_deg=option.e_deg[::-1],
        over=option.over[::-1],
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
    joined: JoinedTracks | None = None,
    mount_start: MountStart | None = None,
) -> tuple[Option, ...]:
    """Every option of every wanted pass, upright first, then by turn, then the split.

    Args:
        checks, tracks: all passes and their tracks in the mount frame.
        station: as the checks were made with.
        wanted: which passes, their worth, a way insisted on (only that way is then an option).
        shortest_contact_s: the least contact, no less than a step; a picked pass that is shorter itself is
            worked whole or not.
        picked: somebody picked the wanted passes.
        step_s: the grid; ``joined`` has it.
        progress: called before and after.
        steered, joined: `steer_all` and `joined_tracks` of the tracks, where they are at hand.
        mount_start: where the mount stands; of a pass that it is on already, half of what is left may be a
            contact.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    if not progress(0, len(wanted), "choosing the evening"):
        raise Cancelled
    if joined is None:
        every = steer_all(tracks, station.mount, station.steering) if steered is None else steered
        joined = joined_tracks(tracks, every, station.mount.elevation, station.beam_limit_deg, step_s)
    lines = followed_lines(checks, tracks, joined, station, wanted)
    if not progress(len(wanted), len(wanted), "choosing the evening"):
        raise Cancelled
    seconds = lines.seconds.tolist()
    found: list[Option] = []
    for some in _by_pass(lines, wanted).values():
        shortest_s = max(shortest_contact_s, min(step_s, GRID_S))
        least_s = min(shortest_s, max(seconds[line] for line in some)) if picked else shortest_s
        for line in some:
            option = _option(lines, line, least_s, checks, wanted)
            if mount_start is not None and is_on(mount_start, option, station.beam_limit_deg):
                option = replace(option, least_s=min(least_s, seconds[line] / 2.0))
            if seconds[line] >= max(option.least_s, _BLINK_S) - _ROUNDING_S:
                found.append(option)
    return tuple(found)


def _by_pass(lines: FollowedLines, wanted: tuple[Wanted, ...]) -> dict[int, list[int]]:
    """The lines of each pass, in order; those that are never on the beam left out."""
    found: dict[int, list[int]] = {}
    some = np.diff(lines.samples.offsets) > 0
    for line in lines.order[some[lines.order]].tolist():
        found.setdefault(wanted[int(lines.want[line])].index, []).append(line)
    return found


def _option(
    lines: FollowedLines, line: int, least_s: float, checks: tuple[PassCheck, ...], wanted: tuple[Wanted, ...]
) -> Option:
    """A view of a line's samples."""
    samples, want, way = lines.samples, wanted[int(lines.want[line])], lines.way[line]
    here = slice(int(samples.offsets[line]), int(samples.offsets[line + 1]))
    check = checks[want.index]
    return Option(
        pass_index=want.index,
        satellite=check.pass_.norad_id,
        worth=want.worth,
        way=way,
        whole=any((held.posture, held.turn) == way for held in check.ways),
        least_s=least_s,
        utc_s=samples.utc_s[here],
        m_deg=samples.m_deg[here],
        e_deg=samples.e_deg[here],
        over=samples.over[here],
        signal_s=samples.signal_s[here],
        clear_deg_s=lines.clear_deg_s[here],
        turned_deg=samples.turned_deg[here],
    )


def is_on(mount_start: MountStart, option: Option, limit_deg: float) -> bool:
    """Whether the mount, where it stands, has the option's satellite in the beam already."""
    if option.utc_s[0] > mount_start.utc_s + GRID_S:
        return False
    m_deg, e_deg = mount_start.axes
    off = off_boresight_deg(
        np.array([m_deg - option.m_deg[0]]), np.array([e_deg]), np.array([option.e_deg[0]])
    )
    return bool(off[0] <= limit_deg)
