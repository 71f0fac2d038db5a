"""Where what was sighted truly stood at its time, and how well that is known.

Sun, Moon and Polaris are sighted by eye: their elevation is the apparent one, raised by refraction. A
landmark has the azimuth of the WGS-84 geodesic and an elevation in which the Earth's curve counts. A
satellite is geometric, and known no better than the age of its elements lets it be.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Floats, Indices, wrap_180, wrap_360
from core.base.errors import PropagationError, ValueRangeError
from core.base.times import format_iso, parse_iso
from core.base.words import figure
from core.elements.age import age_days
from core.elements.choosing import sets_named
from core.elements.model import ElementSet
from core.elements.propagator import satrec
from core.passes.exact import ExactStates
from core.passes.frames import EarthTurn, Observer, azimuth_elevation
from core.place.position import landmark_bearing
from core.place.site import Site
from core.setup.along_track import along_track_s
from core.setup.methods import landmark_elevation_deg
from core.setup.model import Landmark, Sighting
from core.setup.sightings.refused import SightingRefused
from core.setup.sky import BODIES, Body, directions

#: A body whose centre the air hides by no more than this can still be seen, deg.
_LOWEST_DEG = -0.3
#: Over which a target's rate is taken, s.
_RATE_STEP_S = 1.0


@dataclass(frozen=True)
class Target:
    """A true direction.

    Attributes:
        azimuth_deg: true, 0 to 360.
        elevation_deg: as it is sighted; None where only a bearing was typed.
        azimuth_sigma_deg, elevation_sigma_deg: how well the direction itself is known (one sigma).
        azimuth_rate_deg_s, elevation_rate_deg_s: how it moves.
        landmark: name of the landmark; empty for anything else. Its error is the same at every sighting.
        by_shadow: the Sun and the Moon show by light and shadow when the boom looks at them.
        by_signal: a satellite is found by its signal; all else by eye.
        typed: the bearing was typed, not worked out.
    """

    azimuth_deg: float
    elevation_deg: float | None
    azimuth_sigma_deg: float = 0.0
    elevation_sigma_deg: float = 0.0
    azimuth_rate_deg_s: float = 0.0
    elevation_rate_deg_s: float = 0.0
    landmark: str = ""
    by_shadow: bool = False
    by_signal: bool = False
    typed: bool = False

    @property
    def moves(self) -> bool:
        """Whether the time of the sighting matters to its azimuth."""
        return self.azimuth_rate_deg_s != 0.0


Found = Target | SightingRefused


@dataclass(frozen=True)
class Known:
    """What sightings can be taken of: the site (its place to ``site_m``), landmarks, satellites."""

    site: Site
    site_m: float
    landmarks: tuple[Landmark, ...]
    sets: tuple[ElementSet, ...]


def targets_of(known: Known, table: Sequence[tuple[int, Sighting]], later_s: Sequence[float]) -> list[Found]:
    """The true direction of each sighting, or why it has none.

    Args:
        known: what can be sighted.
        table: sightings with their indices.
        later_s: what to add to each sighting's time.
    """
    utc_s = np.array([parse_iso(one.time) for _index, one in table]) + np.asarray(later_s, dtype=float)
    found: list[Found | None] = [None] * len(table)
    for body in BODIES:
        own = [k for k, (_index, one) in enumerate(table) if one.target.casefold() == body.casefold()]
        for k, target in zip(
            own, _bodies(known.site, body, utc_s[own], [table[k] for k in own]), strict=True
        ):
            found[k] = target
    for k, (index, one) in enumerate(table):
        if found[k] is None:
            found[k] = _other(known, index, one, float(utc_s[k]))
    told = zip(table, found, strict=True)
    return [_with_bearing(one, _at_its_time(one, target)) for (_index, one), target in told if target]


def _at_its_time(sighting: Sighting, found: Found) -> Found:
    """A moment that is known no better lets what moves be elsewhere by as much."""
    if isinstance(found, SightingRefused) or not sighting.time_sigma_s:
        return found
    late_s = sighting.time_sigma_s
    return replace(
        found,
        azimuth_sigma_deg=math.hypot(found.azimuth_sigma_deg, found.azimuth_rate_deg_s * late_s),
        elevation_sigma_deg=math.hypot(found.elevation_sigma_deg, found.elevation_rate_deg_s * late_s),
    )


def _with_bearing(sighting: Sighting, found: Found) -> Found:
    """A typed bearing goes before what the name says; the elevation is still the name's."""
    if sighting.bearing_deg is None:
        return found
    typed = Target(wrap_360(sighting.bearing_deg), None, typed=True)
    if isinstance(found, SightingRefused):
        return typed
    return replace(
        typed,
        elevation_deg=found.elevation_deg,
        elevation_sigma_deg=found.elevation_sigma_deg,
        by_shadow=found.by_shadow,
        by_signal=found.by_signal,
    )


def _bodies(site: Site, body: Body, utc_s: Floats, table: Sequence[tuple[int, Sighting]]) -> list[Found]:
    """Sun, Moon or Polaris at each time (N,)."""
    if not table:
        return []
    both = np.concatenate([utc_s, utc_s + _RATE_STEP_S])
    (seen,) = directions(site, (body,), both)
    azimuth, later_az = np.split(seen.azimuth_deg, 2)
    elevation, later_el = np.split(seen.apparent_deg, 2)
    found: list[Found] = []
    for k, (index, sighting) in enumerate(table):
        if elevation[k] < _LOWEST_DEG:
            found.append(
                _hidden(index, sighting.target, (float(azimuth[k]), float(elevation[k])), float(utc_s[k]))
            )
            continue
        found.append(
            Target(
                wrap_360(float(azimuth[k])),
                float(elevation[k]),
                azimuth_rate_deg_s=float(wrap_180(later_az[k] - azimuth[k])) / _RATE_STEP_S,
                elevation_rate_deg_s=float(later_el[k] - elevation[k]) / _RATE_STEP_S,
                by_shadow=body != "Polaris",
            )
        )
    return found


def _hidden(index: int, target: str, where_deg: tuple[float, float], utc_s: float) -> SightingRefused:
    below = f"{figure(-where_deg[1])} deg below the horizon at {format_iso(utc_s)}: is the time in UTC?"
    return SightingRefused(index, target, "time", below, where_deg[0])


def _other(known: Known, index: int, sighting: Sighting, utc_s: float) -> Found:
    name = sighting.target
    mark = next((one for one in known.landmarks if one.name.casefold() == name.casefold()), None)
    if mark is not None:
        return _landmark(known, mark, index)
    chosen = sets_named(known.sets, name).sets if "," not in name else ()
    if len(chosen) == 1:
        return _satellite(known.site, chosen[0], index, utc_s)
    if chosen:
        reason = f"{len(chosen)} satellites are called so: give the catalogue number"
    else:
        reason = "it is no landmark and no satellite of the plan: give bearing_deg, or add the landmark"
    return SightingRefused(index, name, "target", reason)


def _landmark(known: Known, mark: Landmark, index: int) -> Found:
    try:
        bearing = landmark_bearing(known.site, mark.latitude_deg, mark.longitude_deg)
    except ValueRangeError:
        return SightingRefused(index, mark.name, "target", "the landmark stands on the site itself")
    apart_m = math.hypot(known.site_m, mark.sigma_m)
    sigma = math.degrees(math.atan2(apart_m, bearing.distance_m))
    return Target(
        bearing.azimuth_deg,
        landmark_elevation_deg(known.site.height_m, mark.height_m, bearing.distance_m),
        azimuth_sigma_deg=sigma,
        elevation_sigma_deg=sigma,
        landmark=mark.name,
    )


def _satellite(site: Site, elements: ElementSet, index: int, utc_s: float) -> Found:
    times = np.array([utc_s, utc_s + _RATE_STEP_S])
    window = (utc_s, utc_s + _RATE_STEP_S)
    try:
        sky = (Observer.of_site(site), EarthTurn.over(*window))
        states = ExactStates([elements], [satrec(elements)], sky, window)
        which: Indices = np.zeros(2, dtype=np.intp)
        code, position = states.positions(which, times)
        if code.any():
            states.give_up(which[:1], times[:1], code[code != 0][:1])
            raise states.refusal(0)
    except PropagationError as error:
        return SightingRefused(index, elements.name, "target", error.reason)
    azimuth, elevation = azimuth_elevation(position)
    if elevation[0] < 0.0:
        return _hidden(index, elements.name, (float(azimuth[0]), float(elevation[0])), utc_s)
    azimuth_rate = float(wrap_180(azimuth[1] - azimuth[0])) / _RATE_STEP_S
    elevation_rate = float(elevation[1] - elevation[0]) / _RATE_STEP_S
    late_s = along_track_s(age_days(elements, utc_s))
    return Target(
        wrap_360(float(azimuth[0])),
        float(elevation[0]),
        azimuth_sigma_deg=abs(azimuth_rate) * late_s,
        elevation_sigma_deg=abs(elevation_rate) * late_s,
        azimuth_rate_deg_s=azimuth_rate,
        elevation_rate_deg_s=elevation_rate,
        by_signal=True,
    )
