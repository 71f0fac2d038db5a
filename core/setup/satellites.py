"""Where the plan's satellites are at one moment, and how fast they cross: their signal is the last resort."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import wrap_180
from core.elements.age import age_days
from core.elements.model import ElementSet
from core.elements.propagator import satrec
from core.passes.exact import ExactStates
from core.passes.frames import EarthTurn, Observer, azimuth_elevation
from core.place.site import Site
from core.setup.along_track import along_track_s

#: How near to its peak a signal is found by turning to and fro, as a share of the beamwidth: a quarter of a
#: decibel (common practice, no source).
PEAK_SHARE = 0.15
_STEP_S = 1.0


@dataclass(frozen=True)
class SatelliteNow:
    """One satellite at a moment.

    Attributes:
        name, norad_id: which.
        azimuth_deg, elevation_deg: true, without refraction.
        azimuth_rate_deg_s: clockwise positive.
        along_track_s: what its elements are good to along its track, one standard deviation.
    """

    name: str
    norad_id: int
    azimuth_deg: float
    elevation_deg: float
    azimuth_rate_deg_s: float
    along_track_s: float


def satellites_now(site: Site, elements: Sequence[ElementSet], utc_s: float) -> tuple[SatelliteNow, ...]:
    """Those over the horizon, in their order; sets that cannot be followed to the moment are left out."""
    if not elements:
        return ()
    window = (utc_s, utc_s + _STEP_S)
    sky = Observer.of_site(site), EarthTurn.over(*window)
    states = ExactStates(elements, [satrec(one) for one in elements], sky, window)
    which = np.repeat(np.arange(len(elements)), 2)
    code, position = states.positions(which, np.tile(np.array(window), len(elements)))
    azimuth, elevation = (angle.reshape(-1, 2) for angle in azimuth_elevation(position))
    rate = wrap_180(azimuth[:, 1] - azimuth[:, 0]) / _STEP_S
    up = np.flatnonzero((code.reshape(-1, 2) == 0).all(axis=1) & (elevation[:, 0] > 0.0))
    return tuple(
        SatelliteNow(
            elements[index].name,
            elements[index].norad_id,
            float(azimuth[index, 0]),
            float(elevation[index, 0]),
            float(rate[index]),
            along_track_s(age_days(elements[index], utc_s)),
        )
        for index in up.tolist()
    )
