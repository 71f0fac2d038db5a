"""Evenings drawn at random: all terms at once with their distributions, through the exact vectors.

What is the same all evening is drawn once for an evening, all else anew for every pass; of each pass one of
its worked moments is looked at. Same seed, same draws.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import entries_of
from core.mount.model.chain import pointing_loss_db, tilt_matrix
from core.setup.budget.combine import MAIN_LOBE
from core.setup.budget.sky import play_shown, sizes_at
from core.setup.budget.terms.term import FIXED, TURNS, Absorbed, Distribution, Part, Term, Turns
from core.setup.budget.worked import Moments, sky_axes

#: Passes looked at side by side.
_AT_ONCE = 64
#: What an axis is off by, summed over the terms: (D, P) for each.
_Sums = dict[Turns, Floats]


@dataclass(frozen=True, eq=False)
class Drawn:
    """What the drawn evenings came to on one antenna.

    Attributes:
        off_deg: (D, P) angle between antenna and satellite.
        loss_db: (D, P) what it costs, that of the main lobe's edge where it is outside.
        outside: (P,) share of the draws outside the main lobe.
        seconds: (P,) worked.
    """

    off_deg: Floats
    loss_db: Floats
    outside: Floats
    seconds: Floats

    @cached_property
    def mean_loss_db(self) -> Floats:
        """(P,) in the mean."""
        return np.asarray(self.loss_db.mean(axis=0))

    @cached_property
    def rms_deg(self) -> Floats:
        """(P,) root mean square of the angle."""
        return np.asarray(np.sqrt(np.square(self.off_deg).mean(axis=0)))

    @cached_property
    def off_95_deg(self) -> Floats:
        """(P,) angles that 95 % of the draws stay within."""
        return np.asarray(np.quantile(self.off_deg, 0.95, axis=0))

    @property
    def evening_loss_db(self) -> float:
        """In the mean over all worked seconds."""
        return float(self.mean_loss_db @ self.seconds / self.seconds.sum())

    def evening_within_deg(self, share: float = 0.95) -> float:
        """An angle that the antenna stays within for so much of all worked seconds."""
        order = np.argsort(self.off_deg, axis=None)
        weights = np.broadcast_to(self.seconds, self.off_deg.shape).ravel()[order]
        reached = np.cumsum(weights)
        place = int(np.searchsorted(reached, share * reached[-1]))
        return float(self.off_deg.ravel()[order[min(place, order.size - 1)]])


def drawn_evenings(
    terms: Sequence[tuple[Term, ...]],
    beamwidths_deg: Sequence[float],
    moments: Moments,
    absorbed: Absorbed | None,
    seed: int,
    draws: int,
) -> tuple[Drawn, ...]:
    """Drawn evenings for each antenna: what turns the mount is the same for all of them.

    Args:
        terms: the table of each antenna.
        beamwidths_deg: of each antenna.
        moments: of the passes.
        absorbed: the fit, for the sides from which its dials came.
        seed: of the draws.
        draws: evenings, D.
    """
    dice = np.random.default_rng(seed)
    common = [term for term in terms[0] if not term.per_antenna]
    tables = [common, *([term for term in table if term.per_antenna] for table in terms)]
    same = [[_fixed(term, dice, draws) for term in table] for table in tables]
    columns: list[list[Floats]] = [[] for _ in terms]
    for first in range(0, moments.count, _AT_ONCE):
        some = np.arange(first, min(first + _AT_ONCE, moments.count))
        node = _moments_drawn(moments, some, dice, draws)
        sums = [
            _drawn_sums(table, drawn, moments, node, absorbed, dice)
            for table, drawn in zip(tables, same, strict=True)
        ]
        aim = _aimed_at(moments, node, sums[0])  # no antenna's own term says where the satellite is
        for place, own in enumerate(sums[1:]):
            both = {turns: sums[0][turns] + own[turns] for turns in TURNS}
            columns[place].append(_off_deg(_looks(moments, node, aim, both), both))
    return tuple(
        _told(np.concatenate(off, axis=1), beam, moments.seconds)
        for off, beam in zip(columns, beamwidths_deg, strict=True)
    )


def _told(off_deg: Floats, beamwidth_deg: float, seconds: Floats) -> Drawn:
    edge = MAIN_LOBE * beamwidth_deg
    loss = np.asarray(pointing_loss_db(np.minimum(off_deg, edge), beamwidth_deg))
    return Drawn(off_deg, loss, (off_deg > edge).mean(axis=0), seconds)


def _draw(distribution: Distribution, dice: np.random.Generator, shape: tuple[int, ...]) -> Floats:
    if distribution == "normal":
        return dice.standard_normal(shape)
    if distribution == "uniform":
        return dice.uniform(-1.0, 1.0, shape)
    return np.sign(dice.uniform(-1.0, 1.0, shape)) if distribution == "either flank" else np.ones(shape)


def _fixed(term: Term, dice: np.random.Generator, draws: int) -> Floats | None:
    """(C, D, 1) of what is the same all evening; None for what is not."""
    shape = len(term.channels), draws, 1
    return _draw(term.distribution, dice, shape) if term.kind == FIXED else None


def _moments_drawn(moments: Moments, some: Indices, dice: np.random.Generator, draws: int) -> Indices:
    """(D, P) one worked moment of each pass, each by the seconds it stands for."""
    offsets = np.searchsorted(moments.row, np.arange(moments.count + 1))
    own = entries_of(some, offsets)
    reached = np.cumsum(moments.weight_s[own])
    seconds = moments.seconds[some]
    begun = np.cumsum(seconds) - seconds
    place = np.searchsorted(reached, begun + seconds * dice.uniform(0.0, 1.0, (draws, some.size)))
    return np.asarray(np.clip(own[np.minimum(place, own.size - 1)], offsets[some], offsets[some + 1] - 1))


def _drawn_sums(
    table: Sequence[Term],
    same: Sequence[Floats | None],
    moments: Moments,
    node: Indices,
    absorbed: Absorbed | None,
    dice: np.random.Generator,
) -> _Sums:
    sums: _Sums = {turns: np.zeros(node.shape) for turns in TURNS}
    for term, fixed in zip(table, same, strict=True):
        drawn = fixed
        if drawn is None:
            drawn = _draw(term.distribution, dice, (len(term.channels), *node.shape))
        for channel, value in zip(term.channels, drawn, strict=True):
            for part in channel:
                sums[part.turns] += value * _size_at(part, moments, absorbed)[node]
    return sums


def _size_at(part: Part, moments: Moments, absorbed: Absorbed | None) -> Floats:
    size = sizes_at(part, moments)
    return size * play_shown(part.turns, moments, absorbed) if part.turns.endswith("gear") else size


@dataclass(frozen=True, eq=False)
class _Look:
    """Where a turned mount looks, (D, P, 3) each, and where the satellite is: in the frame it is believed in.

    Attributes:
        boresight, right: ahead along a square boom, and along the crossboom to its right.
        satellite: unit vectors.
        lean_east, lean_north: (D, P) degrees that the axis leans beyond what is believed.
    """

    boresight: Floats
    right: Floats
    satellite: Floats
    lean_east: Floats
    lean_north: Floats


def _looks(moments: Moments, node: Indices, aim: tuple[Floats, Floats], sums: _Sums) -> _Look:
    """Told to look at where the satellite is believed to be, with axes that are off."""
    azimuth, elevation = aim
    over = moments.over[node]
    m = np.radians(azimuth + np.where(over, 180.0, 0.0) + sums["azimuth"] + sums["azimuth gear"])
    e = np.radians(np.where(over, 180.0 - elevation, elevation) + sums["elevation"] + sums["elevation gear"])
    zero = np.zeros_like(m)
    return _Look(
        boresight=np.stack([np.sin(m) * np.cos(e), np.cos(m) * np.cos(e), np.sin(e)], axis=-1),
        right=np.stack([np.cos(m), -np.sin(m), zero], axis=-1),
        satellite=_unit(moments.azimuth_deg[node], moments.elevation_deg[node]),
        lean_east=sums["lean east"],
        lean_north=sums["lean north"],
    )


def _aimed_at(moments: Moments, node: Indices, sums: _Sums) -> tuple[Floats, Floats]:
    """Azimuth and elevation (D, P) of where the satellite is believed to be when its figures are set."""
    paths, row = moments.paths, moments.row[node].ravel()
    owners = np.searchsorted(paths.owner, np.arange(moments.count + 1))
    begin = paths.start_utc_s[owners[:-1]][row]
    end = (paths.middle_utc_s + paths.half_s)[owners[1:] - 1][row]
    wanted = (moments.utc_s[node] + sums["track, seconds"]).ravel()
    utc_s = np.clip(wanted, begin, end)
    position, velocity = paths.at(paths.piece_at(row, utc_s), utc_s)
    # Beyond the ends of what was searched it goes straight on.
    position = (position + velocity * (wanted - utc_s)[:, None]) @ tilt_matrix(moments.tilt)
    ahead = np.radians(sums["track, degrees"]).ravel()[:, None]
    direction = position / np.linalg.norm(position, axis=-1)[:, None]
    along = velocity @ tilt_matrix(moments.tilt)
    along = along - direction * (along * direction).sum(axis=-1)[:, None]
    along = along / np.maximum(np.linalg.norm(along, axis=-1), 1e-12)[:, None]
    east, north, up = (direction * np.cos(ahead) + along * np.sin(ahead)).T
    azimuth, elevation = np.arctan2(east, north), np.arctan2(up, np.hypot(east, north))
    return np.degrees(azimuth).reshape(node.shape), np.degrees(elevation).reshape(node.shape)


def _off_deg(look: _Look, own: _Sums) -> Floats:
    """(D, P) between satellite and an antenna that stands askew on its boom."""
    skew = np.radians(own["boom across"])[..., None]
    antenna = np.cos(skew) * look.boresight + np.sin(skew) * look.right
    antenna = _leaned(antenna, look.lean_east, look.lean_north)
    across = np.linalg.norm(np.cross(antenna, look.satellite), axis=-1)
    return np.asarray(np.degrees(np.arctan2(across, (antenna * look.satellite).sum(axis=-1))))


def _leaned(vector: Floats, east_deg: Floats, north_deg: Floats) -> Floats:
    """Vectors turned by the smallest rotation that takes up so far east and north (Rodrigues)."""
    angle = np.radians(np.hypot(east_deg, north_deg))[..., None]
    size = np.maximum(np.hypot(east_deg, north_deg), 1e-12)
    axis = np.stack([-north_deg / size, east_deg / size, np.zeros_like(size)], axis=-1)
    along = (axis * vector).sum(axis=-1)[..., None] * axis
    return np.asarray(
        vector * np.cos(angle) + np.cross(axis, vector) * np.sin(angle) + along * (1.0 - np.cos(angle))
    )


def _unit(azimuth_deg: Floats, elevation_deg: Floats) -> Floats:
    across, up = sky_axes(azimuth_deg, elevation_deg)
    return np.cross(up, across)
