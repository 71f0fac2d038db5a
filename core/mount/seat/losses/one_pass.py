"""What one pass loses over zeta by each of the four means: upright, over the top, split, part.

To judge the pass afresh at every bearing would cost hundreds of searches for a split, most of them where one
posture follows the whole pass and loses nothing. So each means is asked only where the cheaper ones leave
something to gain:

- A *clear* way loses the same wherever it is clear: nothing, or what an axis too slow for the pass falls
  behind. A way that *rests* loses nothing unless an axis is slow. Exact arcs tell where, without a sample.
- A slow axis that also rests is another matter: held at the guard it may catch up, so what is lost depends on
  the bearing and on the turn, and is simulated. Such a way may even lose less than the clear one.
- A *part*, staying in one way while the satellite is off the beam for a while, takes one simulation a bearing
  and bends where it likes; it is sampled wherever no way holds.
- A *split* is looked for where all those lose more than the 5 s it must gain (see `splits`).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.base.angles import Floats, Indices, wrap_360
from core.base.units import INSIDE_DEG
from core.mount.check.split_search import QUICK, best_splits
from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.check.ways import Reach, possible_postures, turns_in_travel
from core.mount.drive.aim import aim, seconds_off, unstopped_off_deg
from core.mount.drive.motion import Steered, steer
from core.mount.drive.tracks import MountTrack, picked_out, telling_samples
from core.mount.model.chain import guarded_travel_deg, posture_shift_deg
from core.mount.model.station import POSTURES, UPRIGHT, Posture, Station
from core.mount.seat.arcs import Arcs, holds
from core.mount.seat.losses.sampling import (
    BESIDE_DEG,
    NONE_S,
    OUT_BY_S,
    Pieces,
    merged,
    sample_curves,
)
from core.mount.seat.losses.splits import SplitLosses

#: Losses this much above the least decide nothing: the 5 s of the verdict's order, and room.
_MATTERS_S = NEAR_ENOUGH_S + 1.0
#: A way that loses less than this is not compared with what resting in another turn would lose.
_NOTHING_S = 0.5
#: Where a measured drive goes to and fro about the path, its samples tell that to this much, degrees.
_TO_AND_FRO_DEG = 0.1


class PassLosses:
    """The losses of one pass over zeta.

    Args:
        track, station: the pass, and what it is worked with, wherever the mount is seated.
        reaches: per posture which azimuths and elevations the pass takes up.
        clear, rest: per posture the arc (of one pass) in which it is clear, or holds at least by resting.
        steered: the pass steered so, where it is at hand.

    Attributes:
        clear_loss: per posture the seconds lost in a clear way, `NONE_S` where there can be none.
    """

    def __init__(
        self,
        track: MountTrack,
        station: Station,
        reaches: dict[Posture, Reach],
        clear: dict[Posture, Arcs],
        rest: dict[Posture, Arcs],
        steered: Steered | None = None,
    ) -> None:
        self._reaches, self._mount, self._limit = reaches, station.mount, station.beam_limit_deg
        self._clear, self._rest = clear, rest
        steered = steer(track, station.mount, station.steering) if steered is None else steered
        self._slow = bool(steered.slow.any()) or (steered.over is not None and bool(steered.over.slow.any()))
        finely = {} if steered.told_azimuth_deg is None else {"out_by_deg": _TO_AND_FRO_DEG}
        kept = telling_samples(track, steered_curves(steered), **finely)
        self._track, self._steered = picked_out(track, kept), steered_at(steered, kept)
        self._azimuths = float(track.azimuth_deg.min()), float(track.azimuth_deg.max())
        self.clear_loss = {p: self._clear_loss(track, steered, p) for p in POSTURES}

    def _clear_loss(self, track: MountTrack, steered: Steered, posture: Posture) -> float:
        """A clear way loses the same at every seat, where only the mount's own motion counts."""
        if not self._reaches[posture].elevation_clear:
            return NONE_S
        if not self._slow:
            return 0.0
        return float(seconds_off(track, unstopped_off_deg(track, steered, self._mount, posture), self._limit))

    def curves(self, tick: Callable[[], None]) -> tuple[Floats, Floats]:
        """(K,) zetas from 0 to 360, rising, and (4, K) seconds lost as `SeatTable.losses_s` has them."""
        ends, turns = self._breaks_deg()
        breaks = np.concatenate([ends, turns])
        fixed = np.concatenate([[0.0, 360.0], ends, breaks - BESIDE_DEG, breaks + BESIDE_DEG])
        fixed = np.unique(np.clip(fixed, 0.0, 360.0))
        middles = (fixed[:-1] + fixed[1:]) / 2.0
        hard = (np.diff(fixed) > 3.0 * BESIDE_DEG) & (self._loss_known_exactly(middles) > NEAR_ENOUGH_S)
        pieces = tuple((float(fixed[k]), float(fixed[k + 1])) for k in np.flatnonzero(hard))
        zeta, losses = self._piece_curves(pieces, tick)
        rest = np.setdiff1d(fixed, zeta)
        at_rest = np.full((4, rest.size), NONE_S)
        for row, posture in enumerate(POSTURES):
            at_rest[row] = self._held_loss(posture, rest)
        if zeta.size:
            # The end of an arc in which a pass is held, but badly: what is beside it does as well.
            near = np.clip(np.searchsorted(zeta, rest), 0, zeta.size - 1)
            badly = at_rest[:2].min(axis=0) > NEAR_ENOUGH_S
            at_rest[2:] = np.where(badly, losses[2:, near], NONE_S)
        return merged(zeta, losses, rest, at_rest)

    def _piece_curves(self, pieces: Pieces, tick: Callable[[], None]) -> tuple[Floats, Floats]:
        if not pieces:
            return np.zeros(0), np.zeros((4, 0))
        fine, losses = sample_curves(pieces, self._losses_but_splits, _line_error, OUT_BY_S, tick)
        others = losses.min(axis=0) - NEAR_ENOUGH_S
        coarse, split = SplitLosses(self.split_loss, pieces, fine, others).sample(tick)
        every = np.union1d(fine, coarse)
        rows = [np.interp(every, fine, row) for row in losses]
        rows[2] = np.interp(every, coarse, split)
        return every, np.stack(rows)

    def _breaks_deg(self) -> tuple[Floats, Floats]:
        """Where a way begins or ceases to hold, and where a turn comes into the travel or leaves it."""
        guard, top = guarded_travel_deg(self._mount.azimuth)
        low, high = self._azimuths
        ends: list[float] = []
        turns: list[float] = []
        for posture in possible_postures(self._mount):
            shift = posture_shift_deg(posture)
            turns += [high + shift - guard, low + shift - top]
            for arcs in (self._clear[posture], self._rest[posture]):
                start, width = float(arcs.start_deg[0]), float(arcs.width_deg[0])
                ends += [start, start + width] if width >= 0.0 else []
        return _distinct(ends), _distinct(turns)

    def _loss_known_exactly(self, zeta: Floats) -> Floats:
        """(Z,) seconds lost that need no sampling: in clear ways, and in resting where no axis is slow."""
        upright, over = (self._flat_loss(p, zeta) for p in POSTURES)
        upright_rests = holds(self._rest[UPRIGHT], zeta)[:, 0] & self._slow
        return np.where((upright > _NOTHING_S) & upright_rests, NONE_S, np.minimum(upright, over))

    def _flat_loss(self, posture: Posture, zeta: Floats) -> Floats:
        loss = np.where(holds(self._clear[posture], zeta)[:, 0], self.clear_loss[posture], NONE_S)
        if not self._slow:
            loss = np.where(holds(self._rest[posture], zeta)[:, 0], 0.0, loss)
        return loss

    def _losses_but_splits(self, zeta: Floats) -> Floats:
        """(4, Z) seconds lost by each means but splits; parts only where no way will do."""
        losses = np.full((4, zeta.size), NONE_S)
        for row, posture in enumerate(POSTURES):
            losses[row] = self._held_loss(posture, zeta)
        hard = np.flatnonzero(losses[:2].min(axis=0) > NEAR_ENOUGH_S)
        for group in self._by_turns(zeta[hard]):
            losses[3, hard[group]] = self._part_loss(zeta[hard[group]])
        return losses

    def split_loss(self, zeta: Floats, others: Floats) -> Floats:
        """(Z,) seconds lost by the best split; `NONE_S` where none loses less than the ``others`` (Z,)."""
        loss = np.full(zeta.size, NONE_S)
        for group in self._by_turns(zeta):
            zetas: dict[Posture, Floats] = dict.fromkeys(POSTURES, zeta[group])
            found = best_splits(
                self._track, self._steered, self._mount, zetas, self._limit, others[group], QUICK
            )
            loss[group] = np.minimum(found.seconds_lost, NONE_S)
        return loss

    def _part_loss(self, zeta: Floats) -> Floats:
        """(Z,) seconds lost by staying in one way, for zetas with the same turns in the travel."""
        loss = np.full(zeta.size, NONE_S)
        for posture in possible_postures(self._mount):
            for k in turns_in_travel(self._track, self._mount, zeta, posture):
                offsets = posture_shift_deg(posture) - zeta + 360.0 * k
                off = aim(self._track, self._steered, posture, offsets, self._mount).off_deg
                loss = np.minimum(loss, seconds_off(self._track, off, self._limit))
        return loss

    def _held_loss(self, posture: Posture, zeta: Floats) -> Floats:
        """(Z,) least seconds lost of the ways that hold."""
        loss = self._flat_loss(posture, zeta)
        if not self._slow:
            return loss
        open_ = holds(self._rest[posture], zeta)[:, 0] & (loss > _NOTHING_S)
        reach, (guard, top) = self._reaches[posture], guarded_travel_deg(self._mount.azimuth)
        for k in range(-3, 4):
            low, high = reach.low_deg - zeta + 360.0 * k, reach.high_deg - zeta + 360.0 * k
            rests = open_ & (high >= guard - 180.0) & (low <= top + 180.0)
            rests &= reach.rest_low_deg - zeta + 360.0 * k <= top + INSIDE_DEG
            rests &= reach.rest_high_deg - zeta + 360.0 * k >= guard - INSIDE_DEG
            here = np.flatnonzero(rests)
            if here.size:
                offsets = posture_shift_deg(posture) - zeta[here] + 360.0 * k
                off = aim(self._track, self._steered, posture, offsets, self._mount).off_deg
                loss[here] = np.minimum(loss[here], seconds_off(self._track, off, self._limit))
        return loss

    def _by_turns(self, zeta: Floats) -> list[Indices]:
        """Indices of the zetas, by which turns come into the travel."""
        if not zeta.size:
            return []
        guard, top = guarded_travel_deg(self._mount.azimuth)
        low, high = self._azimuths
        turns = []
        for posture in possible_postures(self._mount):
            shift = posture_shift_deg(posture) - zeta
            turns += [np.ceil((guard - high - shift) / 360.0), np.floor((top - low - shift) / 360.0)]
        _, group = np.unique(np.stack(turns), axis=1, return_inverse=True)
        return [np.flatnonzero(group.ravel() == number) for number in range(int(group.max()) + 1)]


def _line_error(left: Floats, middle: Floats, right: Floats) -> Floats:
    """(Z,) the greatest error of a straight line among the means that somewhere could decide."""
    matters = np.zeros(middle.shape, dtype=bool)
    for values in (left, middle, right):
        matters |= values < values.min(axis=0) + _MATTERS_S
    error = np.where(matters, np.abs(middle - (left + right) / 2.0), 0.0)
    return np.asarray(error.max(axis=0))


def _distinct(bearings: list[float]) -> Floats:
    """Bearings on the circle but for north (which is sampled anyway), those that touch counted once."""
    rising = np.unique(wrap_360(np.array(bearings)))
    rising = rising[(rising > 2.0 * BESIDE_DEG) & (rising < 360.0 - 2.0 * BESIDE_DEG)]
    return rising[np.diff(rising, prepend=-1.0) > INSIDE_DEG]


def steered_curves(steered: Steered) -> Floats:
    """(C, N) the angles the axes follow, in either posture."""
    both = [steered] if steered.over is None else [steered, steered.over]
    return np.concatenate([np.stack([one.azimuth_deg, one.elevation_deg]) for one in both])


def steered_at(steered: Steered, kept: Indices) -> Steered:
    """The same at some of the samples only."""
    told = [None if t is None else t[kept] for t in (steered.told_azimuth_deg, steered.told_elevation_deg)]
    return Steered(
        azimuth_deg=steered.azimuth_deg[kept],
        elevation_deg=steered.elevation_deg[kept],
        peak_azimuth_rate_deg_s=steered.peak_azimuth_rate_deg_s,
        slow=steered.slow[kept],
        told_azimuth_deg=told[0],
        told_elevation_deg=told[1],
        over=None if steered.over is None else steered_at(steered.over, kept),
    )
