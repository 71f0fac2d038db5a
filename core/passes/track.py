"""Tracks: a stay sampled as finely as a mount needs it, and the pass that the mask cuts out of it.

Everything here reads the stay's knots; nothing propagates, so the mask can be edited at no such cost.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.base.errors import PropagationError
from core.base.progress import reported
from core.base.units import Progress, no_progress
from core.elements.model import ElementSet
from core.passes.frames import Observer, azimuth_elevation, slant_range
from core.passes.search import find_stays
from core.passes.stays import SHORTEST_S, Cut, Event, Stay, cut_at, stay_at, without_wide_steps
from core.passes.stretches import MaskPieces, limits_of_sight, stretches_over
from core.place.site import HorizonPoint, Site, mask_floor_deg

#: Passes up to this long are sampled every ``_FAST_STEP_S``; longer ones by angle, ``_SLOW_STEP_S`` at most.
_FAST_PASS_S = 2000.0
_FAST_STEP_S = 0.5
_SLOW_STEP_S = 60.0
_STEP_DEG = 0.3


@dataclass(frozen=True, eq=False)
class Pass:
    """A stay as the site sees it: cut to mask and minimum elevation.

    Attributes:
        satellite: object name.
        norad_id: catalogue number.
        aos: first crossing of mask and minimum elevation (or the window's start).
        peak: highest elevation of the stay (it may lie behind the mask).
        tca: least range of the stay.
        los: last crossing.
        stretches: the parts over the mask, (start, end) in POSIX seconds.
        cut: which of aos and los are window ends and no crossings.
        stay: the knots everything else is sampled from.
        utc_s: samples (N,) from aos to los, both included, at most 0.5 s apart for fast passes;
            the ends of every stretch are among them.
        azimuth_deg: (N,) true, wrapped to [0, 360).
        elevation_deg: (N,) geometric.
        range_km: (N,).
    """

    satellite: str
    norad_id: int
    aos: Event
    peak: Event
    tca: Event
    los: Event
    stretches: tuple[tuple[float, float], ...]
    cut: Cut | None
    stay: Stay
    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    range_km: Floats


def cut_pass(stay: Stay, horizon: Sequence[HorizonPoint], minimum_elevation_deg: float) -> Pass | None:
    """The pass that mask and minimum elevation leave of a stay, or None where they leave nothing.

    Works on the stay's interpolation alone. Crossing times are good to a millisecond; a stretch, or a gap in
    one, of 2 s or more is never missed.
    """
    return _cut_to(stay, limits_of_sight(horizon, minimum_elevation_deg))


def _cut_to(stay: Stay, limits: Sequence[MaskPieces]) -> Pass | None:
    """The pass that is left of a stay over all of the limits."""
    stretches = stretches_over(stay, limits)
    if not stretches:
        return None
    utc_s, position, _ = without_wide_steps(stay, _sample_times(stay, stretches))
    azimuth_deg, elevation_deg = azimuth_elevation(position)
    range_km = slant_range(position)
    first, last = (
        Event(float(utc_s[i]), float(azimuth_deg[i]), float(elevation_deg[i]), float(range_km[i]))
        for i in (0, -1)
    )
    return Pass(
        satellite=stay.satellite,
        norad_id=stay.norad_id,
        aos=first,
        peak=stay.peak,
        tca=stay.tca,
        los=last,
        stretches=stretches,
        cut=cut_at(
            stay.cut in ("start", "both") and first.utc_s == stay.utc_s[0],
            stay.cut in ("end", "both") and last.utc_s == stay.utc_s[-1],
        ),
        stay=stay,
        utc_s=utc_s,
        azimuth_deg=azimuth_deg,
        elevation_deg=elevation_deg,
        range_km=range_km,
    )


def cut_passes(
    stays: Iterable[Stay],
    horizon: Sequence[HorizonPoint],
    minimum_elevation_deg: float,
    progress: Progress = no_progress,
) -> tuple[Pass, ...]:
    """The passes that mask and minimum elevation leave of the stays, by AOS.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    limits = limits_of_sight(horizon, minimum_elevation_deg)
    each = reported(tuple(stays), "cutting passes to the horizon", progress)
    passes = [found for stay in each if (found := _cut_to(stay, limits)) is not None]
    return tuple(sorted(passes, key=lambda found: (found.aos.utc_s, found.norad_id)))


def predict(
    sets: Sequence[ElementSet],
    site: Site,
    start_utc_s: float,
    end_utc_s: float,
    progress: Progress = no_progress,
) -> tuple[tuple[Pass, ...], tuple[PropagationError, ...]]:
    """Search and cut in one: passes by AOS over the site's mask and minimum elevation, and the refusals.

    Raises:
        Cancelled: ``progress`` returned False.
        ValueRangeError: the window is empty or turned round.
    """
    floor_deg = mask_floor_deg(site.horizon, site.minimum_elevation_deg)
    observer = Observer.of_site(site)
    search = find_stays(sets, observer, start_utc_s, end_utc_s, floor_deg, progress=progress)
    return cut_passes(search.stays, site.horizon, site.minimum_elevation_deg), search.refused


def _sample_times(stay: Stay, stretches: Sequence[tuple[float, float]]) -> Floats:
    """Sample times (N,) from AOS to LOS; the ends of the stretches, peak and TCA are among them."""
    first, last = stretches[0][0], stretches[-1][1]
    fixed = [moment for stretch in stretches for moment in stretch]
    for moment in (stay.peak.utc_s, stay.tca.utc_s):
        if first < moment < last and min(abs(moment - other) for other in fixed) > SHORTEST_S:
            fixed.append(moment)
    fixed_utc_s = np.sort(np.array(fixed))
    knots = np.union1d(stay.utc_s[(stay.utc_s > first) & (stay.utc_s < last)], fixed_utc_s)
    # A clock that ticks once a step, laid along the pass and cut at the fixed moments.
    ticks = np.concatenate([[0.0], np.cumsum(np.diff(knots) / _steps(stay, knots))])
    ticks_fixed = np.interp(fixed_utc_s, knots, ticks)
    parts = np.maximum(np.ceil(np.diff(ticks_fixed) - 1e-9), 1.0).astype(np.intp)
    piece = np.repeat(np.arange(parts.size), parts)
    place = np.arange(piece.size) - np.repeat(np.cumsum(parts) - parts, parts)
    share = place / parts[piece]
    between = np.interp(ticks_fixed[piece] + share * np.diff(ticks_fixed)[piece], ticks, knots)
    utc_s = np.where(place == 0, fixed_utc_s[piece], between)
    return np.append(utc_s, fixed_utc_s[-1])


def _steps(stay: Stay, knots: Floats) -> Floats:
    """The longest step (N - 1,) in s between knots (N,)."""
    if knots[-1] - knots[0] <= _FAST_PASS_S:
        return np.full(knots.size - 1, _FAST_STEP_S)
    position, velocity = stay_at(stay, knots)
    across = np.linalg.norm(np.cross(position, velocity), axis=1)
    rate_deg_s = np.degrees(across / slant_range(position) ** 2)
    fastest = np.maximum(np.maximum(rate_deg_s[:-1], rate_deg_s[1:]), 1e-9)
    steps: Floats = np.clip(_STEP_DEG / fastest, _FAST_STEP_S, _SLOW_STEP_S)
    return steps
