"""What every pass loses at every seat, as a table that is made once and then asked in an instant.

For one pass the losses of the four means (upright, over the top, split, part) are curves over zeta that are
continuous but at known breaks: where a way begins or ceases to hold, and where a turn comes into the travel.
So each pass is sampled on a grid of its own, and only where no way holds it without loss; between samples
the curves are straight. Which ways are clear or resting is never read off samples: exact arcs tell.

The table knows no sighting correction: that is void anywhere but where it was fitted.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.angles import Flags, Floats, wrap_360
from core.errors import Cancelled
from core.mount.arcs import Arcs, clear_arcs, holds, resting_arcs
from core.mount.motion import Steered, Steering, aim, seconds_off, steer, unstopped_off_deg
from core.mount.piecewise import NEVER, sampled
from core.mount.reach import Reach, reach_of
from core.mount.splits import possible_postures
from core.mount.stack import (
    OVER_THE_TOP,
    POSTURES,
    UPRIGHT,
    Antenna,
    Mount,
    Posture,
    beam_limit_deg,
    guarded_travel_deg,
    posture_shift_deg,
)
from core.mount.tracks import Indices, MountTrack, picked_out, telling_samples
from core.mount.verdict import NEAR_ENOUGH_S, WORTH_WORKING, weigh
from core.units import INSIDE_DEG, Progress, no_progress

#: What a straight line between samples may be out by, seconds lost.
_OUT_BY_S = 0.4
#: Losses this much above the least decide nothing: the 5 s of the verdict's order, and room.
_MATTERS_S = 12.0
#: Both sides of a break are sampled this far from it, beyond the tolerance of "inside".
_BESIDE_DEG = 2.0 * INSIDE_DEG
#: Passes lie so far apart in the table's keys.
_APART_DEG = 1000.0
#: A way that loses less than this is not compared with what resting in another turn would lose.
_NOTHING_S = 0.5
#: Elements of an array (seats x samples) worked on at once: what keeps a round short enough to be cancelled.
_AT_ONCE = 60_000


@dataclass(frozen=True, eq=False)
class SeatGlance:
    """All passes of the table at one seat.

    Attributes:
        word: (P,) index of each pass' verdict word.
        lost_s: (P,) seconds lost.
        clear: (P,) bool, clear in some posture; exact.
        resting: (P,) bool, the way of that word holds by resting only.
    """

    word: Floats
    lost_s: Floats
    clear: Flags
    resting: Flags


@dataclass(frozen=True, eq=False)
class SeatTable:
    """The losses of P passes over zeta.

    Attributes:
        seconds_in_all: (P,) of each pass over the mask.
        clear, rest: per posture the arcs of zeta in which each pass is clear, or holds at least by resting.
        clear_loss_s: (2, P) seconds lost in a clear way, upright and over the top; `NEVER` where none is.
        key: (K,) rising: 1000 deg times the pass' index, plus zeta from 0 to 360, both included.
        losses_s: (4, K) seconds lost upright, over the top, by split, by part; `NEVER` where not to be had.
    """

    seconds_in_all: Floats
    clear: dict[Posture, Arcs]
    rest: dict[Posture, Arcs]
    clear_loss_s: Floats
    key: Floats
    losses_s: Floats

    @cached_property
    def _first_keys(self) -> Floats:
        return np.asarray(np.arange(self.seconds_in_all.size) * _APART_DEG, dtype=np.float64)

    def losses_at(self, zeta_deg: Floats) -> Floats:
        """(4, M, P) seconds lost by each means at zetas (M,)."""
        wanted = wrap_360(np.asarray(zeta_deg, dtype=float))[:, None] + self._first_keys
        right = np.searchsorted(self.key, wanted, side="right")
        # At 360 of one pass nothing is asked for: 0 of that pass says the same.
        start, end = self.key[right - 1], self.key[right]
        share = (wanted - start) / (end - start)
        # The two sides of a break: within the tolerance of "inside" it is the break itself that speaks.
        share = np.where(end - start < 2.0 * _BESIDE_DEG, np.round(share), share)
        before, after = self.losses_s[:, right - 1], self.losses_s[:, right]
        return np.asarray(before + (after - before) * share, dtype=np.float64)


def verdicts_at(table: SeatTable, zeta_deg: float) -> SeatGlance:
    """The verdicts of all passes with boresight at ``zeta_deg`` on the counter-clockwise stop.

    Both postures share that zeta: where a correction was fitted with one of them, no table serves.
    """
    zeta = np.array([wrap_360(zeta_deg)])
    losses = table.losses_at(zeta)[:, 0, :]
    word, lost = words_of(losses, table.seconds_in_all)
    clear = np.stack([holds(table.clear[p], zeta)[0] for p in POSTURES])
    # A pass too slow for an axis may lose less resting in one turn than clear in another.
    better = losses[:2] < table.clear_loss_s - 0.05
    rests = (losses[:2] < NEVER) & (~clear | better)
    resting = ((word == 0) & rests[0]) | ((word == 1) & rests[1])
    return SeatGlance(word.astype(float), lost, np.asarray(clear.any(axis=0)), resting)


def words_of(losses_s: Floats, seconds_in_all: Floats) -> tuple[Floats, Floats]:
    """(...,) index of the verdict's word and (...,) seconds lost, of losses (4, ...) by means.

    As `core.mount.verdict` gives them: the first posture that loses 5 s at most; else the first means within
    5 s of the least; out of reach where less than a quarter is on the beam by any.
    """
    least = losses_s.min(axis=0)
    near = losses_s <= least + NEAR_ENOUGH_S
    held = losses_s[:2] <= NEAR_ENOUGH_S
    word = np.where(held.any(axis=0), np.argmax(held, axis=0), np.argmax(near, axis=0))
    lost = np.take_along_axis(losses_s, word[None], axis=0)[0]
    nothing = ~held.any(axis=0) & (seconds_in_all - least < WORTH_WORKING * seconds_in_all)
    return np.where(nothing, 4, word), np.where(nothing, seconds_in_all, lost)


def seat_table(
    tracks: tuple[MountTrack, ...],
    mount: Mount,
    antennas: tuple[Antenna, ...],
    steering: Steering = "led",
    progress: Progress = no_progress,
) -> SeatTable:
    """The table of passes on a mount, wherever it is seated; pure.

    Args:
        tracks: `mount_tracks` of the passes.
        mount: its axes and drive are looked at, and the tilt is in the tracks; not its seat.
        antennas: for the beam.
        steering: the plan's.
        progress: called at least every pass.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    limit = beam_limit_deg(antennas)
    reaches = {p: tuple(reach_of(t, p, mount.elevation, limit) for t in tracks) for p in POSTURES}
    clear = {p: clear_arcs(reaches[p], mount.azimuth) for p in POSTURES}
    rest = {p: resting_arcs(reaches[p], mount.azimuth) for p in POSTURES}
    keys, losses, clear_loss = [], [], np.full((2, len(tracks)), NEVER)
    for index, track in enumerate(tracks):

        def tick(done: int = index) -> None:
            if not progress(done, len(tracks), "study of the seat"):
                raise Cancelled

        tick()
        here = _OnePass(
            track, mount, limit, steering, {p: reaches[p][index] for p in POSTURES}, clear, rest, index
        )
        clear_loss[:, index] = [here.clear_loss[p] for p in POSTURES]
        zeta, lost = here.curves(tick)
        keys.append(zeta + index * _APART_DEG)
        losses.append(lost)
    return SeatTable(
        seconds_in_all=np.array([track.seconds_in_all for track in tracks]),
        clear=clear,
        rest=rest,
        clear_loss_s=clear_loss,
        key=np.concatenate([np.zeros(0), *keys]),
        losses_s=np.concatenate([np.zeros((4, 0)), *losses], axis=1),
    )


class _OnePass:
    """The losses of one pass over zeta."""

    def __init__(
        self,
        track: MountTrack,
        mount: Mount,
        limit: float,
        steering: Steering,
        reaches: dict[Posture, Reach],
        clear: dict[Posture, Arcs],
        rest: dict[Posture, Arcs],
        index: int,
    ) -> None:
        one = slice(index, index + 1)
        self._clear = {p: Arcs(a.start_deg[one], a.width_deg[one]) for p, a in clear.items()}
        self._rest = {p: Arcs(a.start_deg[one], a.width_deg[one]) for p, a in rest.items()}
        self._reaches, self._mount, self._limit = reaches, mount, limit
        steered = steer(track, mount, steering)
        self._slow = bool(steered.slow.any()) or (steered.over is not None and bool(steered.over.slow.any()))
        kept = telling_samples(track, steered_curves(steered))
        self._track, self._steered = picked_out(track, kept), steered_at(steered, kept)
        self._azimuths = float(track.azimuth_deg.min()), float(track.azimuth_deg.max())
        self.clear_loss = {p: self._clear_loss(track, steered, p) for p in POSTURES}

    def _clear_loss(self, track: MountTrack, steered: Steered, posture: Posture) -> float:
        """A clear way loses the same at every seat, where only the mount's own motion counts."""
        if not self._reaches[posture].elevation_clear:
            return NEVER
        if not self._slow:
            return 0.0
        return float(seconds_off(track, unstopped_off_deg(track, steered, self._mount, posture), self._limit))

    def curves(self, tick: Callable[[], None]) -> tuple[Floats, Floats]:
        """(K,) zetas from 0 to 360 and (4, K) losses."""
        breaks = self._breaks_deg()
        beside = np.concatenate([[0.0], breaks, breaks - _BESIDE_DEG, breaks + _BESIDE_DEG, [360.0]])
        fixed = np.unique(beside[(beside >= 0.0) & (beside <= 360.0)])
        middles = (fixed[:-1] + fixed[1:]) / 2.0
        wide = np.diff(fixed) > 2.0 * _BESIDE_DEG
        hard = wide & (self._surely_held_loss(middles) > NEAR_ENOUGH_S)
        pieces = tuple((float(fixed[k]), float(fixed[k + 1])) for k in np.flatnonzero(hard))
        zeta, losses = self._piece_curves(pieces, tick)
        rest = np.setdiff1d(fixed, zeta)
        every, all_losses = np.concatenate([zeta, rest]), np.concatenate([losses, self._losses(rest)], axis=1)
        order = np.argsort(every, kind="stable")
        return every[order], all_losses[:, order]

    def _piece_curves(
        self, pieces: tuple[tuple[float, float], ...], tick: Callable[[], None]
    ) -> tuple[Floats, Floats]:
        if not pieces:
            return np.zeros(0), np.zeros((4, 0))
        return sampled(pieces, self._losses, _that_matter, _OUT_BY_S, tick)

    def _breaks_deg(self) -> Floats:
        """Where a way begins or ceases to hold, and where a turn comes into the travel or leaves it."""
        guard, top = guarded_travel_deg(self._mount.azimuth)
        low, high = self._azimuths
        found: list[float] = []
        for posture in possible_postures(self._mount):
            shift = posture_shift_deg(posture)
            found += [high + shift - guard, low + shift - top]
            for arcs in (self._clear[posture], self._rest[posture]):
                start, width = float(arcs.start_deg[0]), float(arcs.width_deg[0])
                found += [start, start + width] if width >= 0.0 else []
        breaks = np.unique(wrap_360(np.array(found)))
        # What lies at north is there anyway, and two ends that touch are one.
        breaks = breaks[(breaks > 2.0 * _BESIDE_DEG) & (breaks < 360.0 - 2.0 * _BESIDE_DEG)]
        return breaks[np.diff(breaks, prepend=-1.0) > INSIDE_DEG]

    def _surely_held_loss(self, zeta: Floats) -> Floats:
        """(Z,) seconds lost that need no sampling: in clear ways, and in resting where no axis is slow."""
        upright, over = (self._flat_loss(p, zeta) for p in POSTURES)
        upright_rests = holds(self._rest[UPRIGHT], zeta)[:, 0] & self._slow
        return np.where((upright > _NOTHING_S) & upright_rests, NEVER, np.minimum(upright, over))

    def _flat_loss(self, posture: Posture, zeta: Floats) -> Floats:
        loss = np.where(holds(self._clear[posture], zeta)[:, 0], self.clear_loss[posture], NEVER)
        if not self._slow:
            loss = np.where(holds(self._rest[posture], zeta)[:, 0], 0.0, loss)
        return loss

    def _losses(self, zeta: Floats) -> Floats:
        """(4, Z) seconds lost by each means; split and part are only looked for where they could matter."""
        losses = np.full((4, zeta.size), NEVER)
        chunk = max(_AT_ONCE // self._track.utc_s.size, 1)
        for start in range(0, zeta.size, chunk):
            some = slice(start, start + chunk)
            for row, posture in enumerate(POSTURES):
                losses[row, some] = self._held_loss(posture, zeta[some])
            hard = start + np.flatnonzero(losses[:2, some].min(axis=0) > NEAR_ENOUGH_S)
            for group in self._by_turns(zeta[hard]):
                losses[2:, hard[group]] = self._moved_losses(zeta[hard[group]], losses[:2, hard[group]])
        return losses

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

    def _moved_losses(self, zeta: Floats, held: Floats) -> Floats:
        """(2, Z) seconds lost by split and by part."""
        zetas: dict[Posture, Floats] = dict.fromkeys(POSTURES, zeta)
        held_loss: dict[Posture, Floats] = {UPRIGHT: held[0], OVER_THE_TOP: held[1]}
        means = weigh(self._track, self._steered, self._mount, zetas, held_loss, self._limit)
        return np.minimum(np.stack([means.split, means.part]), NEVER)


def _that_matter(losses_s: Floats) -> Floats:
    """Losses as far as they can decide: what is far above the least is all one."""
    return np.asarray(np.minimum(losses_s, losses_s.min(axis=0) + _MATTERS_S))


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
