"""Terms put together: root sum of squares, worst case, what that costs, and which term to improve first."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.mount.model.chain import pointing_loss_db
from core.setup.budget.sky import bound_deg, variance
from core.setup.budget.terms.term import FIXED, Absorbed, Term
from core.setup.budget.worked import Moments

#: The parabola 12 (off / beamwidth)^2 is told up to here, in beamwidths: the first null of an evenly fed
#: aperture lies at 1.13 (from memory of antenna textbooks).
MAIN_LOBE = 1.0
#: Totals closer than this share of each other are one and the same.
_ALIKE = 1e-9


def root_sum_square(deviations: Floats | Sequence[float]) -> float:
    """Terms that err independently, added in squares."""
    return math.sqrt(float(np.square(np.asarray(deviations, dtype=float)).sum()))


def worst_case(bounds: Floats | Sequence[float]) -> float:
    """All terms at their bounds, and all in one direction."""
    return float(np.asarray(bounds, dtype=float).sum())


def lobe_loss_db(off_deg: float, beamwidth_deg: float) -> float | None:
    """What being off costs, dB; None outside the main lobe, where the formula says nothing."""
    if off_deg > MAIN_LOBE * beamwidth_deg:
        return None
    return float(pointing_loss_db(off_deg, beamwidth_deg))


@dataclass(frozen=True, eq=False)
class OnSky:
    """What the terms (T,) of one antenna come to on the sky, pass by pass.

    Attributes:
        terms: in the table's order.
        mean_square: (T, P) degrees squared, the mean over each pass's worked seconds.
        fixed: (T,) the same all evening.
        worst_deg: (P,) greatest sum of all bounds along each pass.
        worst_utc_s: (P,) when.
        peak_rss_deg: (P,) greatest root sum of squares along each pass.
        seconds: (P,) worked.
    """

    terms: tuple[Term, ...]
    mean_square: Floats
    fixed: tuple[bool, ...]
    worst_deg: Floats
    worst_utc_s: Floats
    peak_rss_deg: Floats
    seconds: Floats

    @property
    def evening(self) -> Floats:
        """(T,) degrees squared, the mean over all worked seconds."""
        return np.asarray(self.mean_square @ self.seconds / self.seconds.sum())


def on_sky(terms: tuple[Term, ...], moments: Moments, absorbed: Absorbed | None) -> OnSky:
    """All terms at all moments, and of these what is told of each pass."""
    bounds, squared = np.zeros_like(moments.utc_s), np.zeros_like(moments.utc_s)
    means = np.empty((len(terms), moments.count))
    for place, term in enumerate(terms):
        own = variance(term, moments, absorbed)
        means[place] = mean_over(own, moments)
        squared += own
        bounds += bound_deg(term, moments, absorbed)
    firsts = np.searchsorted(moments.row, np.arange(moments.count))
    greatest = np.maximum.reduceat(bounds, firsts)
    # The first moment of each pass that reaches it.
    reached = np.flatnonzero(bounds == greatest[moments.row])
    first_reached = reached[np.searchsorted(moments.row[reached], np.arange(moments.count))]
    return OnSky(
        terms=terms,
        mean_square=means,
        fixed=tuple(term.kind == FIXED for term in terms),
        worst_deg=greatest,
        worst_utc_s=moments.utc_s[first_reached],
        peak_rss_deg=np.sqrt(np.maximum.reduceat(squared, firsts)),
        seconds=moments.seconds,
    )


def mean_over(values: Floats, moments: Moments) -> Floats:
    """(P,) means over each pass's worked seconds."""
    return np.asarray(np.bincount(moments.row, moments.weight_s * values, moments.count) / moments.seconds)


def with_one_halved(sky: OnSky, moments: Moments, absorbed: Absorbed | None) -> Floats:
    """(T, P) degrees squared in all, with each term in turn at half its size and laid on the sky anew."""
    total = sky.mean_square.sum(axis=0)
    halved = [mean_over(variance(term.halved(), moments, absorbed), moments) for term in sky.terms]
    return np.asarray(total - sky.mean_square + np.array(halved))


def improve_first(names: Sequence[str], halved_deg2: Floats, total_deg2: float) -> tuple[str, ...]:
    """The term whose halving lowers the total most, and any that lower it just as much, in the table's order.

    Args:
        names: of the terms (T,).
        halved_deg2: (T,) the total with each term halved.
        total_deg2: as it is. Where no halving lowers it, nothing is to be improved and none is named.
    """
    least = float(halved_deg2.min())
    alike = total_deg2 * _ALIKE
    if least >= total_deg2 - alike:
        return ()
    return tuple(name for name, one in zip(names, halved_deg2.tolist(), strict=True) if one <= least + alike)
