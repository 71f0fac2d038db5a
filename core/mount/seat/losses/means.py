"""What passes lose over zeta by each of the four means: upright, over the top, split, part.

To judge a pass afresh at every bearing would cost hundreds of searches for a split, most of them where one
posture follows the whole pass and loses nothing. So each means is asked only where the cheaper ones leave
something to gain:

- A *clear* way loses the same wherever it is clear: nothing, or what an axis too slow for the pass falls
  behind. A way that *rests* loses nothing unless an axis is slow. Exact arcs tell where, without a sample.
- A slow axis that also rests is another matter: held at the guard it may catch up, so what is lost depends on
  the bearing and on the turn, and is simulated. Such a way may even lose less than the clear one.
- A *part*, staying in one way while the satellite is off the beam for a while, takes one simulation a bearing
  and bends where it likes; it is sampled wherever no way holds.
- A *split* is looked for where all those lose more than the 5 s it must gain (see `splits`).

All passes are asked together. A *key* is a bearing of one pass: `APART_DEG` times its index, plus zeta.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.units import INSIDE_DEG
from core.mount.check.followed import FollowedPasses, ragged
from core.mount.check.split_passes import QUICK
from core.mount.check.split_search import SplitSearch
from core.mount.check.strikes import barring_of
from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.check.ways import Reach, offsets_deg, possible_postures, turns_at
from core.mount.check.ways_struck import seconds_off_held, struck_along
from core.mount.drive.aim import seconds_off, unstopped_off_deg
from core.mount.drive.motion import Steered, steer
from core.mount.drive.thinned import thinned
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import Verdict
from core.mount.model.station import POSTURES, UPRIGHT, Posture, Station
from core.mount.seat.arcs import Arcs, holds_own
from core.mount.seat.losses.at_stops import LossesAtStops
from core.mount.seat.losses.breaks import fixed_bearings
from core.mount.seat.losses.sampling import (
    BESIDE_DEG,
    NONE_S,
    OUT_BY_S,
    Pieces,
    merged,
    sample_curves,
)
from core.mount.seat.losses.splits import SplitLosses

#: Passes lie so far apart in the keys.
APART_DEG = 1000.0
#: Losses this much above the least decide nothing: the 5 s of the verdict's order, and room.
_MATTERS_S = NEAR_ENOUGH_S + 1.0
#: A way that loses less than this is not compared with what resting in another turn would lose.
_NOTHING_S = 0.5


class Means:
    """The losses of P passes over zeta.

    Args:
        tracks, station: the passes, and what they are worked with, wherever the mount is seated.
        reaches: per posture which azimuths and elevations each pass takes up.
        clear, rest: per posture the arcs in which each pass is clear, or holds at least by resting.
        steered: the passes steered so, where they are at hand.
        tick: called between passes and rounds; what it raises goes through.

    Attributes:
        clear_loss_s: (2, P) seconds lost in a clear way, `NONE_S` where there can be none.
    """

    def __init__(
        self,
        tracks: tuple[MountTrack, ...],
        station: Station,
        reaches: dict[Posture, tuple[Reach, ...]],
        clear: dict[Posture, Arcs],
        rest: dict[Posture, Arcs],
        steered: tuple[Steered, ...] | None,
        tick: Callable[[], None],
    ) -> None:
        self._station, self._mount, self._tick = station, station.mount, tick
        self._clear, self._rest = clear, rest
        held = [POSTURES.index(posture) for posture in possible_postures(self._mount)]
        self._staying = [*held, Verdict.PART.code]
        azimuths = np.array([(track.azimuth_deg.min(), track.azimuth_deg.max()) for track in tracks])
        self._lowest_deg, self._highest_deg = azimuths.reshape(-1, 2).T
        self._slow, followed = np.zeros(len(tracks), dtype=bool), []
        self.clear_loss_s = np.full((2, len(tracks)), NONE_S)
        for index, track in enumerate(tracks):
            tick()
            here = steer(track, self._mount, station.steering) if steered is None else steered[index]
            self._slow[index] = here.slow.any() or (here.over is not None and here.over.slow.any())
            for row, posture in enumerate(POSTURES):
                if reaches[posture][index].elevation_clear:
                    self.clear_loss_s[row, index] = self._clear_loss_s(track, here, index, posture)
            followed.append(here)
        self._barring, limit = barring_of(station), station.beam_limit_deg
        self._passes = FollowedPasses(*thinned(tracks, tuple(followed)), self._mount, limit, self._barring)
        self._splits, self._at_stops = SplitSearch(self._passes, QUICK), LossesAtStops(self._passes)
        self._spans = {
            posture: tuple(
                np.array([getattr(reach, name) for reach in reaches[posture]])
                for name in ("low_deg", "high_deg", "rest_low_deg", "rest_high_deg")
            )
            for posture in POSTURES
        }

    def _clear_loss_s(self, track: MountTrack, steered: Steered, index: int, posture: Posture) -> float:
        """A clear way loses the same at every seat, where only the mount's own motion counts."""
        if not self._slow[index]:
            return 0.0
        off_deg = unstopped_off_deg(track, steered, self._mount, posture)
        return float(seconds_off(track, off_deg, self._station.beam_limit_deg))

    def curves(self) -> tuple[Floats, Floats]:
        """(K,) keys, rising, from 0 to 360 of each pass, and (4, K) seconds lost as `SeatTable` has them."""
        spans, arcs = (self._lowest_deg, self._highest_deg), (self._clear, self._rest)
        of_pass, zeta = fixed_bearings(*spans, self._mount, arcs)
        fixed = of_pass * APART_DEG + zeta
        middles = (fixed[:-1] + fixed[1:]) / 2.0
        wide = np.diff(fixed) > 3.0 * BESIDE_DEG
        wide &= np.floor(fixed[:-1] / APART_DEG) == np.floor(fixed[1:] / APART_DEG)
        hard = np.flatnonzero(wide)
        hard = hard[self._loss_known_exactly(*_apart(middles[hard])) > NEAR_ENOUGH_S]
        pieces = tuple(zip(fixed[hard].tolist(), fixed[hard + 1].tolist(), strict=True))
        keys, losses = self._piece_curves(pieces)
        rest = np.setdiff1d(fixed, keys)
        of_pass, zeta = _apart(rest)
        at_rest = np.full((4, rest.size), NONE_S)
        for row, posture in enumerate(POSTURES):
            at_rest[row] = self._held_loss(posture, of_pass, zeta)
        if keys.size:
            # The end of an arc in which a pass is held, but badly: what is beside it does as well.
            first, beyond = (np.searchsorted(keys, (of_pass + end) * APART_DEG) for end in (0, 1))
            near = np.clip(np.searchsorted(keys, rest), first, np.maximum(beyond - 1, 0))
            badly = (at_rest[:2].min(axis=0) > NEAR_ENOUGH_S) & (beyond > first)
            at_rest[2:] = np.where(badly, losses[2:, np.minimum(near, keys.size - 1)], NONE_S)
        return merged(keys, losses, rest, at_rest)

    def _piece_curves(self, pieces: Pieces) -> tuple[Floats, Floats]:
        if not pieces:
            return np.zeros(0), np.zeros((4, 0))
        fine, staying = sample_curves(pieces, self._staying_losses, _line_error, OUT_BY_S, self._tick)
        others = staying.min(axis=0) - NEAR_ENOUGH_S
        jumps = self._barring is not None
        coarse, split = SplitLosses(self._split_loss, pieces, fine, others, jumps).sample(self._tick)
        every = np.union1d(fine, coarse)
        losses = np.full((4, every.size), NONE_S)
        for row, loss in zip(self._staying, staying, strict=True):
            losses[row] = np.interp(every, fine, loss)
        losses[Verdict.SPLIT.code] = np.interp(every, coarse, split)
        return every, losses

    def _loss_known_exactly(self, of_pass: Indices, zeta: Floats) -> Floats:
        """(Z,) seconds lost that need no sampling: in clear ways, and in resting where no axis is slow."""
        upright, over = (self._flat_loss(p, of_pass, zeta) for p in POSTURES)
        open_ = self._slow[of_pass] | (self._barring is not None)
        upright_rests = holds_own(self._rest[UPRIGHT], of_pass, zeta) & open_
        return np.where((upright > _NOTHING_S) & upright_rests, NONE_S, np.minimum(upright, over))

    def _flat_loss(self, posture: Posture, of_pass: Indices, zeta: Floats) -> Floats:
        clear_s = self.clear_loss_s[POSTURES.index(posture)][of_pass]
        loss = np.where(holds_own(self._clear[posture], of_pass, zeta), clear_s, NONE_S)
        if self._barring is not None:  # whether resting strikes is told by its own path alone
            return loss
        rests = holds_own(self._rest[posture], of_pass, zeta) & ~self._slow[of_pass]
        return np.where(rests, 0.0, loss)

    def _staying_losses(self, keys: Floats) -> Floats:
        """(S, Z) seconds lost by each means but splits that the mount has; parts where no way will do."""
        of_pass, zeta = _apart(keys)
        held = [self._held_loss(posture, of_pass, zeta) for posture in possible_postures(self._mount)]
        losses = np.stack([*held, np.full(keys.size, NONE_S)])
        hard = np.flatnonzero(losses.min(axis=0) > NEAR_ENOUGH_S)
        losses[-1, hard] = self._part_loss(of_pass[hard], zeta[hard])
        return losses

    def _split_loss(self, keys: Floats, others: Floats) -> Floats:
        """(Z,) seconds lost by the best split; `NONE_S` where none loses less than the ``others`` (Z,)."""
        of_pass, zeta = _apart(keys)
        found = self._splits.best(of_pass, dict.fromkeys(POSTURES, zeta), others, self._tick)
        return np.minimum(found.seconds_lost, NONE_S)

    def _part_loss(self, of_pass: Indices, zeta: Floats) -> Floats:
        """(Z,) seconds lost by staying in one way."""
        loss, passes = np.full(zeta.size, NONE_S), self._passes
        for posture in possible_postures(self._mount):
            low, high = passes.low_deg[of_pass], passes.high_deg[of_pass]
            first, last = turns_at(low, high, self._mount, zeta, posture)
            here, k = ragged(first, np.maximum(last - first + 1, 0))
            self._stay(loss, posture, of_pass, zeta, here, k)
        return loss

    def _stay(
        self,
        loss: Floats,
        posture: Posture,
        of_pass: Indices,
        zeta: Floats,
        here: Indices,
        k: Indices,
        holding: bool = False,
    ) -> None:
        """Lower the ``loss`` (Z,) to what staying in ways (W,), ``here`` and in turn ``k``, loses.

        Of ways that strike nothing counts if they are to hold, else what is left of them (`kept_clear`).
        """
        offsets = offsets_deg(zeta[here], posture, 0) + 360.0 * k
        row = np.full(here.size, POSTURES.index(posture))
        lost_s = self._seconds_off(of_pass[here], row, offsets)
        if self._barring is not None:
            struck = np.flatnonzero(struck_along(self._passes, of_pass[here], row, offsets).any)
            lost_s[struck] = NONE_S
            if not holding and struck.size:
                ways = of_pass[here[struck]], row[struck], offsets[struck]
                lost_s[struck] = np.minimum(seconds_off_held(self._passes, *ways), NONE_S)
        np.minimum.at(loss, here, lost_s)

    def _seconds_off(self, of_pass: Indices, posture_row: Indices, offset_deg: Floats) -> Floats:
        """(W,) seconds off the beam along ways, looked up where they can be told so."""
        told = self._at_stops.told[of_pass + posture_row * self._passes.count.size]
        lost, other = self._at_stops.seconds_off(of_pass, posture_row, offset_deg), np.flatnonzero(~told)
        ways = of_pass[other], posture_row[other], offset_deg[other]
        lost[other] = self._passes.seconds_off(*ways)
        return lost

    def _held_loss(self, posture: Posture, of_pass: Indices, zeta: Floats) -> Floats:
        """(Z,) least seconds lost of the ways that hold."""
        loss = self._flat_loss(posture, of_pass, zeta)
        open_ = (self._slow[of_pass] | (self._barring is not None)) & (loss > _NOTHING_S)
        open_ &= holds_own(self._rest[posture], of_pass, zeta)
        if not open_.any():
            return loss
        guard, top = guarded_travel_deg(self._mount.azimuth)
        k = np.arange(-3, 4)[:, None]
        low, high, rest_low, rest_high = (side[of_pass] - zeta + 360.0 * k for side in self._spans[posture])
        rests: Flags = open_ & (high >= guard - 180.0) & (low <= top + 180.0)
        rests &= (rest_low <= top + INSIDE_DEG) & (rest_high >= guard - INSIDE_DEG)
        turn, here = np.nonzero(rests)
        self._stay(loss, posture, of_pass, zeta, here, turn - 3, holding=True)
        return loss


def _apart(keys: Floats) -> tuple[Indices, Floats]:
    """(Z,) the pass and (Z,) zeta of keys."""
    of_pass = np.floor(keys / APART_DEG).astype(np.intp)
    return of_pass, keys - of_pass * APART_DEG


def _line_error(left: Floats, middle: Floats, right: Floats) -> Floats:
    """(Z,) the greatest error of a straight line among the means that somewhere could decide."""
    matters = np.zeros(middle.shape, dtype=bool)
    for values in (left, middle, right):
        matters |= values < values.min(axis=0) + _MATTERS_S
    error = np.where(matters, np.abs(middle - (left + right) / 2.0), 0.0)
    return np.asarray(error.max(axis=0))
