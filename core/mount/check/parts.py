"""Working a pass in one way though it does not hold there: from where to where, and what is lost between.

The axes follow as far as the guards and limits let them and stay there, so that the satellite may leave the
beam in the middle (above the highest elevation, past a stop) and come back into it without any move.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.base.angles import Flags
from core.base.runs import runs_of
from core.base.times import clock, span_words
from core.base.words import listed
from core.mount.check.ends import rest_of
from core.mount.check.strikes import barring_of, kept_clear
from core.mount.check.ways import offset_deg, offset_in_turn, pointing_of_way, turn_of
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.model.results import Part, Pointing, Rest
from core.mount.model.station import Posture, Station

#: A touch of the beam's edge is at its edge.
_EDGE_DEG = 1e-9
#: Being off the beam for less than this in the middle is not worth a word.
_TELLING_S = 1.0
#: So many absences in the middle are told each.
_EACH = 2


def staying(
    track: MountTrack, steered: Steered, station: Station, which: tuple[Posture, int]
) -> Pointing | None:
    """The pointing of a pass that stays in a way (posture and k), held off what it would strike.

    None where nothing of it would be on the beam.
    """
    posture, k = which
    offset, mount = offset_deg(station.mount, posture, k), station.mount
    pointing = pointing_of_way(track, steered, mount, posture, offset)
    return kept_clear(pointing, track, posture, offset, barring_of(station), station.beam_limit_deg)


def part_details(
    track: MountTrack, steered: Steered, station: Station, which: tuple[Posture, int]
) -> tuple[Part, Pointing]:
    """The part that a way gives, worked from first to last on the beam; ``which`` is its posture and k."""
    posture, k = which
    pointing = staying(track, steered, station, which)
    assert pointing is not None
    turn = turn_of(track, offset_deg(station.mount, posture, k))
    return in_one_way(pointing, posture, turn, station.beam_limit_deg)


def beside_the_move(
    pointing: Pointing, end_s: float, limit_deg: float
) -> tuple[tuple[tuple[float, float], ...], Pointing]:
    """A split's absences beside its move, which ends at ``end_s``, and its pointing without them."""
    off = pointing.worked & ~pointing.moving & (pointing.off_deg > limit_deg + _EDGE_DEG)
    return _stretches(pointing, off, end_s), replace(pointing, worked=pointing.worked & ~off)


def in_one_way(pointing: Pointing, posture: Posture, turn: int, limit_deg: float) -> tuple[Part, Pointing]:
    """The part, and its pointing worked only on the beam; some of what was to be worked must be there."""
    on = pointing.worked & (pointing.off_deg <= limit_deg + _EDGE_DEG)
    inside = np.flatnonzero(on)
    start, end = float(pointing.utc_s[inside[0]]), float(pointing.utc_s[inside[-1]])
    part = Part(start, end, posture, turn, _absences(pointing, on))
    return part, replace(pointing, worked=on)


def rest_in_part(track: MountTrack, pointing: Pointing, part: Part, station: Station) -> Rest | None:
    """Where a part is held at a guard or limit with the satellite in the beam; None where it never is.

    Args:
        track: the pass.
        pointing: of the part; all moments of the track are among its own.
        part, station: its way, and what it is worked with.
    """
    places = np.searchsorted(pointing.utc_s, track.utc_s)
    worked = track.worked & pointing.worked[places]
    offset = offset_in_turn(track, station.mount, part.posture, part.turn)
    return rest_of(replace(track, worked=worked), part.posture, offset, station)


def _absences(pointing: Pointing, on: Flags) -> tuple[tuple[float, float], ...]:
    """Stretches between the first and last moment on the beam that are to be worked and off it."""
    inside = np.flatnonzero(on)
    off = pointing.worked & ~on
    off[: inside[0]] = off[inside[-1] :] = False
    return _stretches(pointing, off)


def _stretches(
    pointing: Pointing, off: Flags, moved_s: float | None = None
) -> tuple[tuple[float, float], ...]:
    """Runs of samples, each reaching to the samples beside it, but not into a move that ends then."""
    utc_s = pointing.utc_s
    bounds = []
    for first, beyond in runs_of(off):
        start, end = float(utc_s[max(first - 1, 0)]), float(utc_s[min(beyond, utc_s.size - 1)])
        if moved_s is not None and start < moved_s < end:
            start = moved_s
        bounds.append((start, end))
    return tuple((a, b) for a, b in bounds if b - a >= _TELLING_S)


def but_for(absences: tuple[tuple[float, float], ...]) -> str:
    """``", but for 19:43:01 to 19:44:12"``; many are only counted, none is nothing."""
    if len(absences) > _EACH:
        return f", off the beam {len(absences)} times between"
    told = listed([f"{clock(start)} to {clock(end)}" for start, end in absences])
    return f", but for {told}" if told else ""


def part_words(part: Part, seconds_lost: float) -> str:
    """What is done, and what that lets go, as one sentence."""
    span = f"{span_words(part.start_utc_s, part.end_utc_s)}{but_for(part.absences)}"
    return f"Worked in part, {part.posture}, from {span}: {seconds_lost:.0f} s off the beam."
