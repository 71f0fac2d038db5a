"""Weighted least squares with priors, and the readings that do not agree with the others.

Readings are tested by leaving out: each is compared with what all others say of it (Baarda's data snooping;
A testing procedure for use in geodetic networks, Delft 1968), the worst is left out, and so on. A reading is
left out only where at least three of its kind are left, and only where it is clearly the one: where two would
do about equally well, none is, and the answer says that it cannot tell.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_180
from core.setup.sightings.model import (
    CORRECTION,
    ELEVATION_ZERO,
    Assumed,
    Rows,
    derivatives,
    predicted_deg,
    residuals_deg,
)

#: How often a table without a blunder is told to have one, at most.
_FALSE_ALARM = 0.01
#: By how much leaving out the worst must beat leaving out another (chi squared).
CLEARLY = 4.0
#: Readings of a kind that must be left.
_LEAST_LEFT = 3
#: Beyond so many standard deviations a reading pulls no harder.
_FAR = 5.0
_MOST_STEPS, _STILL_DEG = 20, 1e-6
#: A reading of which less than this share is checked by the others is not tested.
_LEAST_CHECKED = 1e-6


@dataclass(frozen=True, eq=False)
class Solution:
    """The unknowns and what they leave.

    Attributes:
        unknowns: (P,); those that nothing holds are at what is assumed.
        covariance: (P, P); inf on the diagonal of what nothing determines.
        residual_deg: (N,) of all readings, kept or not.
        kept: (N,).
        off_deg: (N,) each reading less what the others, kept, say of it.
        off_sigma_deg: (N,) one standard deviation of that; inf where they say nothing.
        chi_squared: of the kept readings and of what was assumed.
        doubtful: rows of readings one of which is wrong, without telling which; empty where all agree.
        spread_deg: how far apart the doubtful readings are; 0 where all agree.
    """

    unknowns: Floats
    covariance: Floats
    residual_deg: Floats
    kept: Flags
    off_deg: Floats
    off_sigma_deg: Floats
    chi_squared: float
    doubtful: Indices
    spread_deg: float = 0.0

    def sigma(self, which: int) -> float:
        """One standard deviation of an unknown."""
        return float(np.sqrt(self.covariance[which, which]))


def solve(rows: Rows, held: Assumed) -> Solution:
    """The fit of the readings that agree."""
    kept = np.ones(rows.index.size, dtype=bool)
    while True:
        found = _fitted(rows, held, kept)
        worst = _disagreeing(rows, found)
        if worst.size != 1:
            break
        kept = kept.copy()
        kept[worst[0]] = False
    again = _taken_back(rows, held, found)
    if again is not None:
        return again
    return found if not worst.size else _in_doubt(rows, held, found, worst)


def _taken_back(rows: Rows, held: Assumed, found: Solution) -> Solution | None:
    """The fit with readings that were left out only because a worse one was not yet; None without."""
    agree = ~found.kept & (np.abs(found.off_deg) <= _limit(rows.index.size) * found.off_sigma_deg)
    if not agree.any():
        return None
    again = _fitted(rows, held, found.kept | agree)
    return None if _disagreeing(rows, again).size else again


def _in_doubt(rows: Rows, held: Assumed, found: Solution, doubtful: Indices) -> Solution:
    """One of some readings is wrong, so all of them count as no better than they are apart."""
    azimuths = bool(rows.azimuth[doubtful].any())
    # Each by itself, before lean and skew were bent to make the wrong one fit.
    alone = residuals_deg(rows, _start(rows, held, found.kept))
    apart = alone[doubtful[rows.azimuth[doubtful] == azimuths]]
    spread = min(float(np.ptp(apart)), 180.0)
    sigma = rows.sigma_deg.copy()
    sigma[doubtful] = np.hypot(sigma[doubtful], spread)
    loose = _fitted(replace(rows, sigma_deg=sigma), held, found.kept)
    return replace(loose, doubtful=doubtful, spread_deg=spread, chi_squared=found.chi_squared)


def _disagreeing(rows: Rows, found: Solution) -> Indices:
    """Rows of the readings one of which is wrong; one alone where it is clear which."""
    tested = found.kept & np.isfinite(found.off_sigma_deg)
    if not tested.any():
        return np.zeros(0, dtype=np.intp)
    apart = np.where(tested, (found.off_deg / found.off_sigma_deg) ** 2, 0.0)
    worst = int(np.argmax(apart))
    if apart[worst] <= _limit(int(tested.sum())) ** 2:
        return np.zeros(0, dtype=np.intp)
    alike = np.flatnonzero(apart >= apart[worst] - CLEARLY)
    of_kind = int((found.kept & (rows.azimuth == rows.azimuth[worst])).sum())
    if of_kind > _LEAST_LEFT:
        return alike
    return np.flatnonzero(found.kept & (rows.azimuth == rows.azimuth[worst]))


def _limit(count: int) -> float:
    """How many standard deviations the worst of so many readings may be off."""
    return NormalDist().inv_cdf(1.0 - _FALSE_ALARM / 2.0 / max(count, 1))


def _fitted(rows: Rows, held: Assumed, kept: Flags) -> Solution:
    """Gauss and Newton's steps with exact residuals, on the readings that are kept.

    A reading pulls no harder than if it were off by a few standard deviations (Huber): one that is half a
    turn out must not bend the lean to where nothing is linear, before it is left out.
    """
    unknowns = _start(rows, held, kept)
    weight = np.where(kept, 1.0 / rows.sigma_deg**2, 0.0)
    holds = np.isfinite(held.sigma) & (held.sigma > 0.0)
    prior = np.where(holds, 1.0 / np.where(holds, held.sigma, 1.0) ** 2, 0.0)
    free, hardest = _free(rows, held, kept), _FAR * rows.sigma_deg
    for _ in range(_MOST_STEPS):
        slopes = derivatives(rows, unknowns)[:, free]
        normal = slopes.T @ (slopes * weight[:, None]) + np.diag(prior[free])
        pull = slopes.T @ (weight * np.clip(residuals_deg(rows, unknowns), -hardest, hardest))
        pull += (prior * (held.mean - unknowns))[free]
        step = np.linalg.solve(normal, pull)
        unknowns = unknowns.copy()
        unknowns[free] += step
        if np.abs(step).max(initial=0.0) < _STILL_DEG:
            break
    unknowns[CORRECTION] = wrap_180(float(unknowns[CORRECTION]))
    slopes = derivatives(rows, unknowns)[:, free]
    inner = np.linalg.inv(slopes.T @ (slopes * weight[:, None]) + np.diag(prior[free]))
    return _solution(rows, held, kept, unknowns, (free, slopes, inner, prior))


def _solution(
    rows: Rows,
    held: Assumed,
    kept: Flags,
    unknowns: Floats,
    normal: tuple[Indices, Floats, Floats, Floats],
) -> Solution:
    free, slopes, inner, prior = normal
    residual = residuals_deg(rows, unknowns)
    told = np.einsum("ni,ij,nj->n", slopes, inner, slopes)
    checked = np.where(kept, 1.0 - told / rows.sigma_deg**2, 1.0)
    says = (checked > _LEAST_CHECKED) & (kept | (_of_kind(rows, kept) > 0))
    off = residual / np.where(says, checked, 1.0)
    sigma = np.where(
        kept, rows.sigma_deg / np.sqrt(np.where(says, checked, 1.0)), np.hypot(rows.sigma_deg, np.sqrt(told))
    )
    covariance = np.zeros((unknowns.size, unknowns.size))
    covariance[np.ix_(free, free)] = inner
    loose = np.setdiff1d(np.flatnonzero(np.isinf(held.sigma)), free)
    covariance[loose, loose] = np.inf
    missed = np.where(kept, residual / rows.sigma_deg, 0.0)
    return Solution(
        unknowns,
        covariance,
        residual,
        kept,
        off,
        np.where(says, sigma, np.inf),
        float(missed @ missed + prior @ (unknowns - held.mean) ** 2),
        np.zeros(0, dtype=np.intp),
    )


def _of_kind(rows: Rows, kept: Flags) -> Indices:
    """(N,) how many kept readings are of the same dial."""
    azimuths, elevations = int((kept & rows.azimuth).sum()), int((kept & ~rows.azimuth).sum())
    return np.where(rows.azimuth, azimuths, elevations)


def _free(rows: Rows, held: Assumed, kept: Flags) -> Indices:
    """The unknowns that are fitted: held ones with some error, free ones where a dial was read."""
    free = held.sigma > 0.0
    free[CORRECTION] = bool((kept & rows.azimuth).any())
    free[ELEVATION_ZERO] = bool((kept & ~rows.azimuth).any())
    return np.flatnonzero(free)


def _start(rows: Rows, held: Assumed, kept: Flags) -> Floats:
    """What is assumed, with the correction and the elevation zero on which most readings agree."""
    unknowns = held.mean.copy()
    m_deg, e_deg = predicted_deg(rows, unknowns)
    azimuths, elevations = kept & rows.azimuth, kept & ~rows.azimuth
    if azimuths.any():
        each = wrap_180(m_deg - rows.measured_deg)[azimuths]
        unknowns[CORRECTION] = _most_agree(each, rows.sigma_deg[azimuths], turns=True)
    if elevations.any():
        each = (e_deg - rows.measured_deg)[elevations]
        unknowns[ELEVATION_ZERO] = _most_agree(each, rows.sigma_deg[elevations], turns=False)
    return unknowns


def _most_agree(each_deg: Floats, sigma_deg: Floats, turns: bool) -> float:
    """The figure among some that the others are least away from, far ones counting alike."""
    apart = each_deg[:, None] - each_deg[None, :]
    apart = (wrap_180(apart) if turns else apart) / np.hypot(sigma_deg, 1.0)
    return float(each_deg[np.argmin(np.minimum(np.abs(apart), _FAR).sum(axis=1))])
