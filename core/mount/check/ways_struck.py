"""Where ways would strike, and what is left of them: of many passes and seats at once, in columns."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import first_least
from core.mount.check.followed import FollowedPasses, chunks_of, ragged
from core.mount.drive.aim import off_boresight_deg, on_fraction


@dataclass(frozen=True, eq=False)
class Struck:
    """Where ways (W,) would strike, on the clock.

    Attributes:
        free_until_s: when each first would; infinite where it never does.
        free_from_s: from when on none does any more; minus infinite likewise.
    """

    free_until_s: Floats
    free_from_s: Floats

    @property
    def any(self) -> Flags:
        """(W,) it does somewhere."""
        return np.isfinite(self.free_until_s)


def struck_along(
    passes: FollowedPasses, of_pass: Indices, posture_row: Indices, offset_deg: Floats
) -> Struck:
    """Where ways (W,) would strike: passes, postures and offsets; asked only where there is a barring."""
    free_until, free_from = np.full(of_pass.size, np.inf), np.full(of_pass.size, -np.inf)
    points = passes.points
    for some in chunks_of(passes.count[of_pass]):
        way, point = points.struck(of_pass[some], posture_row[some], offset_deg[some])
        # Points of a way rise, so that its first comes first and its last comes last.
        free_until[some.start + way[::-1]] = points.before_s[point[::-1]]
        free_from[some.start + way] = points.after_s[point]
    return Struck(free_until, free_from)


def seconds_off_held(
    passes: FollowedPasses, of_pass: Indices, posture_row: Indices, offset_deg: Floats
) -> Floats:
    """(W,) as `seconds_off`, of ways held off what they would strike, as `kept_clear` holds them.

    Infinite where no free stretch is on the beam. Free stretches end at points that are asked, not at
    samples, so that what is lost does not go in steps.
    """
    lost = np.full(of_pass.size, np.inf)
    for some in chunks_of(passes.count[of_pass]):
        own = of_pass[some], posture_row[some], offset_deg[some]
        way, begin_s, end_s = _free_stretches(passes, *own)
        kept = passes.kept_along(*own)
        kept_s = passes.until(kept, way, passes.at(end_s)) - passes.until(kept, way, passes.at(begin_s))
        best = first_least(way, -kept_s)
        best = best[kept_s[best] > 0.0]
        asked = (own[0][way[best]], own[1][way[best]], own[2][way[best]])
        lost[some.start + way[best]] = _off_held_s(passes, asked, begin_s[best], end_s[best])
    return lost


def _free_stretches(
    passes: FollowedPasses, of_pass: Indices, posture_row: Indices, offset_deg: Floats
) -> tuple[Indices, Floats, Floats]:
    """Stretches (K,) in which ways strike nothing, by way and time: the way, from when, until when."""
    struck, points = passes.points.struck(of_pass, posture_row, offset_deg), passes.points
    every = np.arange(of_pass.size)
    way = np.concatenate([every, struck.way])
    begin_s = np.concatenate([passes.begin_s[of_pass], points.after_s[struck.point]])
    end_s = np.concatenate([points.before_s[struck.point], passes.end_s[of_pass]])
    order = np.argsort(way, kind="stable")
    # A way's own end comes last among its ends, as its begin comes first among its begins.
    last = np.argsort(np.concatenate([struck.way, every]), kind="stable")
    way, begin_s, end_s = way[order], begin_s[order], end_s[last]
    free = np.flatnonzero(end_s > begin_s)
    return way[free], begin_s[free], end_s[free]


def _off_held_s(
    passes: FollowedPasses,
    ways: tuple[Indices, Indices, Floats],
    begin_s: Floats,
    end_s: Floats,
) -> Floats:
    """(W,) seconds over the mask off the beam along ways that are held before and after a stretch."""
    of_pass, posture_row, offset_deg = ways
    way, sample = ragged(passes.first[of_pass], passes.count[of_pass])
    moments_s = np.concatenate([passes.clock_s[sample], begin_s, end_s])
    way = np.concatenate([way, np.tile(np.arange(of_pass.size), 2)])
    order = np.lexsort((moments_s, way))
    way, moments_s = way[order], moments_s[order]
    at, held = passes.at(moments_s), passes.at(np.clip(moments_s, begin_s[way], end_s[way]))
    shift = (posture_row * passes.samples)[way]
    apart = (
        passes.m_deg(held, posture_row[way], offset_deg[way]) - at.of(passes.azimuth_deg) - offset_deg[way]
    )
    off = off_boresight_deg(apart, held.of(passes.axis_deg, shift), at.of(passes.wanted_deg, shift))
    worked_s = np.where(way[1:] == way[:-1], np.diff(at.of(passes.worked_s)), 0.0)
    off_s = np.append((1.0 - on_fraction(off, passes.limit_deg)) * worked_s, 0.0)
    return np.asarray(np.bincount(way, weights=off_s, minlength=of_pass.size))
