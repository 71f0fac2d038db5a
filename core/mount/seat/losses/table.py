"""What every pass loses at every seat, as a table that is made once and then asked within a millisecond.

A keyway that is dragged wants an answer for every pass at every pixel, where judging them takes seconds. Over
zeta the losses of a pass by the four means (upright, over the top, split, part) are continuous but at known
breaks: where a way begins or ceases to hold, and where a turn comes into the travel. So each pass is sampled
on a grid of its own and only where no way holds it without loss; between samples the curves are straight.

Verdicts must not be read off samples: a line between a sample with a clear way and one without says that half
way there is half a clear way. Whether a way is clear or rests is told by exact arcs, and the verdict is made
from the losses at the very bearing asked, as it is for a single seat.

The table knows no sighting correction: that is void anywhere but where it was fitted.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_360
from core.base.errors import Cancelled
from core.base.units import Progress, no_progress
from core.mount.check.strikes import barring_of
from core.mount.check.verdict import NEAR_ENOUGH_S, decide
from core.mount.check.ways import Reach, reach_of
from core.mount.drive.motion import Steered, steer_all
from core.mount.drive.tracks import MountTrack
from core.mount.model.results import Verdict, VerdictCodes
from core.mount.model.station import POSTURES, Posture, Station
from core.mount.seat.arcs import Arcs, arcs_of, clear_arcs, holds, resting_arcs
from core.mount.seat.losses.means import APART_DEG, Means
from core.mount.seat.losses.sampling import BESIDE_DEG, NONE_S
from core.mount.seat.struck import struck_arcs

#: Passes asked together: an evening shares the cost of asking, and the tables of a week stay small.
_TOGETHER = 160


@dataclass(frozen=True, eq=False)
class SeatVerdicts:
    """All passes of the table at one seat.

    Attributes:
        verdict_code: (P,) each pass' verdict.
        lost_s: (P,) seconds lost.
        clear: (P,) bool, clear in some posture; exact.
        resting: (P,) bool, the way of that verdict holds by resting only.
    """

    verdict_code: VerdictCodes
    lost_s: Floats
    clear: Flags
    resting: Flags


@dataclass(frozen=True, eq=False)
class SeatTable:
    """The losses of P passes over zeta.

    Attributes:
        seconds_in_all: (P,) of each pass over the mask.
        clear, rest: per posture the arcs of zeta in which each pass is clear, or holds at least by resting.
        clear_loss_s: (2, P) seconds lost in a clear way, upright and over the top; `NONE_S` where none is.
        key: (K,) rising: 1000 deg times the pass' index, plus zeta from 0 to 360, both included.
        reaches: of each pass by posture, for whoever checks them at one seat.
        losses_s: (4, K) seconds lost upright, over the top, by split, by part; `NONE_S` where not to be had.
    """

    seconds_in_all: Floats
    clear: dict[Posture, Arcs]
    rest: dict[Posture, Arcs]
    clear_loss_s: Floats
    reaches: tuple[dict[Posture, Reach], ...]
    key: Floats
    losses_s: Floats

    @cached_property
    def _first_keys(self) -> Floats:
        return np.asarray(np.arange(self.seconds_in_all.size) * APART_DEG, dtype=np.float64)

    def losses_at(self, zeta_deg: Floats) -> Floats:
        """(4, M, P) seconds lost by each means at zetas (M,)."""
        return self._losses(*self._places(zeta_deg)).transpose(0, 2, 1)

    def decided_at(self, zeta_deg: Floats) -> tuple[VerdictCodes, Floats]:
        """(M, P) codes of the verdicts and (M, P) seconds lost at zetas (M,): `decide` of `losses_at`.

        Upright is taken where it loses 5 s at most, whatever other means would lose: mostly.
        """
        right, share = self._places(zeta_deg)
        lost = self._losses(right, share, Verdict.UPRIGHT.code)
        code = np.full(lost.shape, Verdict.UPRIGHT.code, dtype=np.int8)
        hard = np.flatnonzero(lost > NEAR_ENOUGH_S)
        of_pass = hard // max(lost.shape[1], 1)
        losses = self._losses(right.take(hard), share.take(hard))
        decided, lost_s = decide(losses, self.seconds_in_all[of_pass])
        code.put(hard, decided)
        lost.put(hard, lost_s)
        return code.T, np.ascontiguousarray(lost.T)

    def _places(self, zeta_deg: Floats) -> tuple[Indices, Floats]:
        """(P, M) the key after each pass' zetas (M,), and (P, M) the share of the way to it."""
        # Pass by pass: rising keys are found much faster than keys to and fro.
        wanted = self._first_keys[:, None] + wrap_360(np.asarray(zeta_deg, dtype=float))
        # A bearing that is rounded up to 360 is that pass' last key, or beyond it nothing at all.
        right = np.minimum(np.searchsorted(self.key, wanted, side="right"), self.key.size - 1)
        start = self.key.take(right - 1)
        apart = self.key.take(right) - start
        share = (wanted - start) / apart
        # The two sides of a break: within the tolerance of "inside" it is the break itself that speaks.
        beside = np.flatnonzero(apart < 2.0 * BESIDE_DEG)
        share.put(beside, np.round(share.take(beside)))
        return right, share

    def _losses(self, right: Indices, share: Floats, means: int | slice = slice(None)) -> Floats:
        """(4, ...) seconds lost by each means at places (...), or (...) by one of them."""
        losses_s = self.losses_s[means]
        before, after = losses_s.take(right - 1, axis=-1), losses_s.take(right, axis=-1)
        return np.asarray(before + (after - before) * share, dtype=np.float64)


def verdicts_at(table: SeatTable, zeta_deg: float) -> SeatVerdicts:
    """The verdicts of all passes with boresight at ``zeta_deg`` on the counter-clockwise stop.

    Both postures share that zeta: where a correction was fitted with one of them, no table serves.
    """
    zeta = np.array([wrap_360(zeta_deg)])
    losses = table.losses_at(zeta)[:, 0, :]
    code, lost = decide(losses, table.seconds_in_all)
    clear = np.stack([holds(table.clear[p], zeta)[0] for p in POSTURES])
    # A pass too slow for an axis may lose less resting in one turn than clear in another.
    better = losses[:2] < table.clear_loss_s - 0.05
    rests = (losses[:2] < NONE_S) & (~clear | better)
    resting = ((code == Verdict.UPRIGHT.code) & rests[0]) | ((code == Verdict.OVER_THE_TOP.code) & rests[1])
    return SeatVerdicts(code, lost, np.asarray(clear.any(axis=0)), resting)


def seat_table(
    tracks: tuple[MountTrack, ...],
    station: Station,
    progress: Progress = no_progress,
    steered: tuple[Steered, ...] | None = None,
) -> SeatTable:
    """The table of passes on a mount, wherever it is seated; pure.

    Args:
        tracks: `mount_tracks` of the passes.
        station: of its mount the axes and drive are looked at, and the tilt is in the tracks; not its seat,
            but with lengths for clearance its hole in use: what strikes depends on that.
        progress: called at least every pass.
        steered: `steer_all` of the tracks, where it is at hand.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    mount, limit = station.mount, station.beam_limit_deg
    reaches = {p: tuple(reach_of(t, p, mount.elevation, limit) for t in tracks) for p in POSTURES}
    clear = {p: clear_arcs(reaches[p], mount.azimuth) for p in POSTURES}
    rest = {p: resting_arcs(reaches[p], mount.azimuth) for p in POSTURES}
    barring = barring_of(station)
    if barring is not None:
        followed = steer_all(tracks, mount, station.steering) if steered is None else steered
        for posture in POSTURES:
            struck = struck_arcs(followed, mount, posture, barring)
            clear[posture] = replace(clear[posture], struck=struck)
    keys, losses, clear_loss = [np.zeros(0)], [np.zeros((4, 0))], [np.zeros((2, 0))]
    for first in range(0, len(tracks), _TOGETHER):

        def tick(done: int = first) -> None:
            if not progress(done, len(tracks), "study of the seat"):
                raise Cancelled

        some = slice(first, first + _TOGETHER)
        here = Means(
            tracks[some],
            station,
            {p: reaches[p][some] for p in POSTURES},
            {p: arcs_of(clear[p], some) for p in POSTURES},
            {p: arcs_of(rest[p], some) for p in POSTURES},
            None if steered is None else steered[some],
            tick,
        )
        key, lost = here.curves()
        keys.append(key + first * APART_DEG)
        losses.append(lost)
        clear_loss.append(here.clear_loss_s)
    return SeatTable(
        seconds_in_all=np.array([track.seconds_in_all for track in tracks]),
        clear=clear,
        rest=rest,
        clear_loss_s=np.concatenate(clear_loss, axis=1),
        reaches=tuple({p: reaches[p][index] for p in POSTURES} for index in range(len(tracks))),
        key=np.concatenate(keys),
        losses_s=np.concatenate(losses, axis=1),
    )
