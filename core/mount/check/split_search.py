"""The search for a split: the best start of one move in mid-pass, over both senses and both postures.

Between any two ways of a pass the satellite may be left at any moment from AOS to LOS; what a start keeps is
what the first way has on the beam until then, what is on the beam during the move, and what the second way
has from being back on (`split_moves`). That has many peaks over the start, and the best is seldom where a
stop is met: near the zenith the beam holds the satellite wherever azimuth is, so the time to turn back is
then, and a gap in the mask is a free moment anywhere. So all pairs of ways are looked at (`split_starts`).

Everything works on Z seats at once, each of a pass of its own, since the study of the seat asks the same of
many passes and bearings.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Floats, Indices
from core.mount.check.followed import FollowedPasses, chunks_of, ragged
from core.mount.check.free_starts import FreeStartSearch
from core.mount.check.split_columns import Columns, Starts, Ways
from core.mount.check.split_passes import CAREFUL, Effort, SearchedPasses
from core.mount.check.split_starts import StartSearch
from core.mount.check.strikes import Barring
from core.mount.check.ways import offsets_deg, possible_postures, turns_at
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import zeta_deg
from core.mount.model.station import POSTURES, Mount, Posture

#: Samples of ways worked on together: these tables bound the memory of a search.
_TOGETHER = 200_000


@dataclass(frozen=True, eq=False)
class SplitBest(Columns):
    """The best split of a pass at each of Z seats.

    Attributes:
        seconds_lost: (Z,) infinite where there is none, or none that beats what was to be beaten.
        start_utc_s: (Z,) when the satellite is left, of a `SplitSearch` on its clock; nan for none.
        from_row, to_row: (Z,) the two ways' postures, as indices into `POSTURES`.
        from_k, to_k: (Z,) full turns added to m before and after.
    """

    seconds_lost: Floats
    start_utc_s: Floats
    from_row: Indices
    to_row: Indices
    from_k: Indices
    to_k: Indices


def best_splits(
    track: MountTrack,
    steered: Steered,
    mount: Mount,
    zetas: dict[Posture, Floats],
    limit_deg: float,
    worth_beating_s: Floats | None = None,
    effort: Effort = CAREFUL,
    barring: Barring | None = None,
) -> SplitBest:
    """The best start of one move of one pass for each of Z seats.

    Args:
        track, steered, mount: the pass, what the axes do, the mount (its seat is not looked at).
        zetas: per posture (Z,) bearing of boresight on the counter-clockwise stop.
        limit_deg: half the beamwidth.
        worth_beating_s: (Z,) seconds lost by the best of all other means; None: nothing to beat.
        effort: how hard to look.
        barring: what no piece of a split may strike.
    """
    count = zetas[POSTURES[0]].size
    beat = np.full(count, np.inf) if worth_beating_s is None else worth_beating_s
    search = SplitSearch(FollowedPasses((track,), (steered,), mount, limit_deg, barring), effort)
    best = search.best(np.zeros(count, dtype=np.intp), zetas, beat)
    return replace(best, start_utc_s=best.start_utc_s + track.utc_s[0])


def best_split_each(
    tracks: tuple[MountTrack, ...],
    steered: tuple[Steered, ...],
    mount: Mount,
    limit_deg: float,
    worth_beating_s: Floats,
    barring: Barring | None = None,
) -> SplitBest:
    """The best start of one move for each of P passes at the mount's own seat; as `best_splits`, (P,)."""
    search = SplitSearch(FollowedPasses(tracks, steered, mount, limit_deg, barring), CAREFUL)
    zetas = {posture: np.full(len(tracks), zeta_deg(mount, posture)) for posture in POSTURES}
    best = search.best(np.arange(len(tracks)), zetas, worth_beating_s)
    aos_s = np.array([track.utc_s[0] for track in tracks])
    return replace(best, start_utc_s=best.start_utc_s - search.passes.begin_s + aos_s)


def _none_best(count: int) -> SplitBest:
    blank = [np.zeros(count, dtype=np.intp) for _ in range(4)]
    return SplitBest(np.full(count, np.inf), np.full(count, np.nan), *blank)


class SplitSearch:
    """The search for splits of some passes, wherever the mount is seated.

    Args:
        passes: the passes.
        effort: how hard to look.
    """

    def __init__(self, passes: FollowedPasses, effort: Effort) -> None:
        self.passes, self._searched = passes, SearchedPasses(passes, effort)

    def best(
        self,
        of_pass: Indices,
        zetas: dict[Posture, Floats],
        worth_beating_s: Floats,
        tick: Callable[[], None] = lambda: None,
    ) -> SplitBest:
        """The best start of one move at each of Z seats, on the passes' clock.

        Args:
            of_pass: (Z,) which pass is worked there.
            zetas: per posture (Z,) bearing of boresight on the counter-clockwise stop.
            worth_beating_s: (Z,) seconds lost by the best of all other means.
            tick: called before every few hundred seats; what it raises goes through.
        """
        in_all_s = self._searched.in_all_s[of_pass]
        worth_s = in_all_s - np.minimum(worth_beating_s, in_all_s)
        best, ways = _none_best(of_pass.size), self._ways(of_pass, zetas)
        search = StartSearch if self.passes.barring is None else FreeStartSearch
        sizes = np.bincount(ways.seat, minlength=of_pass.size) * self.passes.count[of_pass]
        for some in chunks_of(sizes, _TOGETHER):
            tick()
            first, beyond = np.searchsorted(ways.seat, [some.start, some.stop])
            here = ways.some(slice(int(first), int(beyond)))
            here = replace(here, seat=here.seat - some.start)
            found = search(self._searched, of_pass[some], here, worth_s[some]).best()
            self._tell(best.some(some), here, found, in_all_s[some])
        return best

    def _tell(self, best: SplitBest, ways: Ways, found: Starts, in_all_s: Floats) -> None:
        """Write the best starts of some of the seats, of these ways."""
        seat = ways.seat[found.first]
        best.seconds_lost[seat] = np.maximum(in_all_s[seat] - found.kept_s, 0.0)
        best.start_utc_s[seat] = found.start_s
        best.from_row[seat], best.to_row[seat] = ways.posture_row[found.first], ways.posture_row[found.second]
        best.from_k[seat], best.to_k[seat] = ways.k[found.first], ways.k[found.second]

    def _ways(self, of_pass: Indices, zetas: dict[Posture, Floats]) -> Ways:
        """Every way with some of the pass inside the travel, seat by seat."""
        passes, found = self.passes, []
        for row, posture in enumerate(possible_postures(passes.mount)):
            low, high = passes.low_deg[of_pass], passes.high_deg[of_pass]
            first, last = turns_at(low, high, passes.mount, zetas[posture], posture)
            seat, k = ragged(first, np.maximum(last - first + 1, 0))
            posture_row = np.full(seat.size, row)
            found.append(
                Ways(seat, posture_row, k, offsets_deg(zetas[posture][seat], posture, 0) + 360.0 * k)
            )
        ways = found[0] if len(found) == 1 else found[0].and_more(found[1])
        ways = ways.some(np.argsort(ways.seat, kind="stable"))
        return ways.some(np.flatnonzero(passes.count[of_pass[ways.seat]] >= 3))
