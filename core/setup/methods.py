"""Finding true north: each method's bearing at a moment, how good it is, and which is best.

A method's error is the root of the sum of squares of its terms, one standard deviation each: of the true
bearing that the keyway is then known to have. What is sighted along the boom counts by 1 / cos(elevation)
in azimuth, a lean of the axis by tan(elevation) (first order of the exact rotation), and the dial's readout
and gear as they are. A shadow, a compass along the keyway and a map need no dial.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.base.angles import wrap_180
from core.elements.model import ElementSet
from core.mount.dial.readings import DialReading
from core.mount.drive.aim import off_boresight_deg
from core.mount.model.station import Mount
from core.place.declination import declination_deg
from core.place.position import landmark_bearing
from core.place.site import Site, mask_elevation_deg
from core.setup.boom import BoomDials, boom_dials, readout_sigma_deg
from core.setup.magnetic import compass_terms, keyway_by_compass_deg
from core.setup.model import CompassReading, Landmark, PointingErrors
from core.setup.satellites import PEAK_SHARE, SatelliteNow, satellites_now
from core.setup.sky import BODIES, Directions, directions

MethodName = Literal["sun", "moon", "polaris", "landmark", "compass", "satellite"]

#: A higher Sun throws too short a shadow, and a boom is not sighted along so steeply.
HIGHEST_DEG = 75.0
#: The Sun by its shadow: lower, it is too pale to throw one.
LOWEST_SUN_DEG = 2.0
#: The Moon is found no nearer to the Sun, by night and by day.
_MOON_FROM_SUN_DEG = (25.0, 50.0)
#: Polaris is seen by eye when the Sun is so far down, and high enough over haze.
_DARK_DEG, _LOWEST_STAR_DEG = -8.0, 8.0
#: So many satellites are told of.
_MOST_SATELLITES = 3
#: Between two looks that give how fast something moves.
_RATE_STEP_S = 10.0
_EARTH_RADIUS_M = 6_371_000.0
#: The share of the Earth's curve that air takes back along a line of sight (surveyors' usual value).
_AIR_BENDS = 0.13


@dataclass(frozen=True)
class Term:
    """One part of an error: its name and one standard deviation."""

    name: str
    sigma_deg: float


@dataclass(frozen=True)
class Method:
    """One way to true north at one moment.

    Attributes:
        method: which.
        target: what is sighted, or "" for the compass.
        possible: whether it can be used at this moment.
        reason: why not, or what to mind; "" where there is nothing to say.
        bearing_deg: true bearing of the target, of the keyway for a compass; None where there is none.
        elevation_deg: as the eye sees it; without refraction for a satellite; None for a compass.
        dials: where the boom points at it; None where it cannot, and for a compass.
        sigma_deg: what the keyway's bearing is then good to; None where it is not possible.
        terms: what that is made of, the greatest first.
    """

    method: MethodName
    target: str
    possible: bool
    reason: str
    bearing_deg: float | None
    elevation_deg: float | None
    dials: BoomDials | None
    sigma_deg: float | None
    terms: tuple[Term, ...]

    @property
    def azimuth_dial(self) -> DialReading | None:
        """What the azimuth dial reads there."""
        return None if self.dials is None else self.dials.azimuth

    @property
    def elevation_dial(self) -> DialReading | None:
        """What the elevation dial reads there."""
        return None if self.dials is None else self.dials.elevation


@dataclass(frozen=True)
class Field:
    """Where and with what north is to be found.

    Attributes:
        site, mount: of the plan; the mount as it is thought to be seated, for the dials.
        errors: what is assumed.
        beamwidth_deg: of the narrowest antenna, for a satellite's signal.
        landmarks: what can be sighted on the ground.
        compass: what it shows, or None.
        elements: element sets whose signal may be heard.
        lean_deg: what is not known of the axis' lean, one standard deviation of each component.
    """

    site: Site
    mount: Mount
    errors: PointingErrors
    beamwidth_deg: float
    landmarks: tuple[Landmark, ...]
    compass: CompassReading | None
    elements: tuple[ElementSet, ...]
    lean_deg: float


def methods_at(field: Field, utc_s: float) -> tuple[Method, ...]:
    """Every method at a moment: Sun, Moon, Polaris, each landmark, compass, satellites."""
    moments = np.array([utc_s, utc_s + _RATE_STEP_S])
    sun, moon, polaris = directions(field.site, BODIES, moments)
    return (
        _sun(field, sun),
        _moon(field, moon, sun),
        _polaris(field, polaris, sun),
        *landmark_methods(field),
        _compass(field, utc_s),
        *_satellites(field, utc_s),
    )


def landmark_methods(field: Field) -> tuple[Method, ...]:
    """The landmarks alone: they stand still."""
    return tuple(_landmark(field, one) for one in field.landmarks)


def best_method(methods: Sequence[Method]) -> Method | None:
    """The one that is good to the least angle, of those possible; None where none is."""
    return min(
        (one for one in methods if one.possible and one.sigma_deg is not None),
        key=lambda one: one.sigma_deg or 0.0,
        default=None,
    )


def _sun(field: Field, sun: Directions) -> Method:
    elevation = float(sun.apparent_deg[0])
    terms = [
        Term("lining up the shadow", field.errors.shadow_deg * max(1.0, _tan(elevation))),
        Term("clock", abs(_azimuth_rate_deg_s(sun)) * field.errors.clock_s),
    ]
    why_not = _hidden(field, sun, "the Sun")
    if not why_not and elevation < LOWEST_SUN_DEG:
        why_not = f"The Sun is at {elevation:.1f} deg: too low for a shadow."
    if not why_not and elevation > HIGHEST_DEG:
        why_not = f"The Sun is at {elevation:.1f} deg: too high, its shadow is too short."
    return _sighted(field, "sun", "Sun", sun, terms, why_not, needs_boom=False)


def _moon(field: Field, moon: Directions, sun: Directions) -> Method:
    apart = _apart_deg(moon, sun)
    least = _MOON_FROM_SUN_DEG[1 if sun.apparent_deg[0] > 0.0 else 0]
    why_not = _hidden(field, moon, "the Moon")
    if not why_not and apart < least:
        why_not = f"The Moon is {apart:.0f} deg from the Sun: too pale to be found."
    terms = [*_by_eye(field, moon), Term("clock", abs(_azimuth_rate_deg_s(moon)) * field.errors.clock_s)]
    return _sighted(field, "moon", "Moon", moon, terms, why_not)


def _polaris(field: Field, polaris: Directions, sun: Directions) -> Method:
    why_not = _hidden(field, polaris, "Polaris")
    if not why_not and polaris.apparent_deg[0] < _LOWEST_STAR_DEG:
        why_not = f"Polaris is at {polaris.apparent_deg[0]:.1f} deg: too low in the haze."
    if not why_not and sun.elevation_deg[0] > _DARK_DEG:
        why_not = "It is not dark enough for Polaris."
    return _sighted(field, "polaris", "Polaris", polaris, _by_eye(field, polaris), why_not)


def _landmark(field: Field, landmark: Landmark) -> Method:
    site = field.site
    seen = landmark_bearing(site, landmark.latitude_deg, landmark.longitude_deg)
    elevation = landmark_elevation_deg(site.height_m, landmark.height_m, seen.distance_m)
    where = _fixed(seen.azimuth_deg, elevation)
    apart_m = math.hypot(field.errors.site_m, landmark.sigma_m)
    terms = [Term("positions", math.degrees(math.atan2(apart_m, seen.distance_m))), *_by_eye(field, where)]
    return _sighted(field, "landmark", landmark.name, where, terms, "")


def landmark_elevation_deg(from_m: float, to_m: float, distance_m: float) -> float:
    """Elevation of a landmark over the horizontal: heights, the Earth's curve, and the usual bend of air."""
    drop_m = (1.0 - _AIR_BENDS) * distance_m**2 / (2.0 * _EARTH_RADIUS_M)
    return math.degrees(math.atan2(to_m - from_m - drop_m, distance_m))


def _compass(field: Field, utc_s: float) -> Method:
    reading = field.compass
    declination = declination_deg(field.site, utc_s)
    if reading is None:
        why_not = "No compass reading is written down."
        return Method("compass", "", False, why_not, None, None, None, None, ())
    terms = _sorted([Term(*pair) for pair in compass_terms(reading, declination)])
    note = declination.note
    if reading.steel_near:
        note = " ".join(filter(None, ["Steel is near: a compass may be off by 10 deg and more.", note]))
    if declination.valid:
        return Method(
            "compass",
            "",
            True,
            note,
            keyway_by_compass_deg(reading, declination),
            None,
            None,
            _root(terms),
            terms,
        )
    return Method("compass", "", False, note, None, None, None, None, ())


def _satellites(field: Field, utc_s: float) -> list[Method]:
    found = [_satellite(field, one) for one in satellites_now(field.site, field.elements, utc_s)]
    possible = sorted((one for one in found if one.possible), key=lambda one: one.sigma_deg or 0.0)
    if possible:
        return possible[:_MOST_SATELLITES]
    why_not = (
        "No satellite of the plan is over the mask." if field.elements else "The plan has no satellites."
    )
    return [Method("satellite", "", False, why_not, None, None, None, None, ())]


def _satellite(field: Field, now: SatelliteNow) -> Method:
    where = _fixed(now.azimuth_deg, now.elevation_deg)
    why_not = _hidden(field, where, now.name)
    if not why_not and now.elevation_deg < field.site.minimum_elevation_deg:
        why_not = f"{now.name} is below the least elevation."
    secant = 1.0 / max(math.cos(math.radians(now.elevation_deg)), 1e-3)
    late_s = math.hypot(now.along_track_s, field.errors.clock_s)
    terms = [
        Term("finding the peak", PEAK_SHARE * field.beamwidth_deg * secant),
        Term("elements and clock", abs(now.azimuth_rate_deg_s) * late_s),
        *_by_boom(field, now.elevation_deg),
    ]
    return _sighted(field, "satellite", now.name, where, terms, why_not)


def _sighted(
    field: Field,
    method: MethodName,
    target: str,
    where: Directions,
    terms: Sequence[Term],
    why_not: str,
    needs_boom: bool = True,
) -> Method:
    """A method that looks at something; ``needs_boom``: only along the boom."""
    bearing, elevation = float(where.azimuth_deg[0]), float(where.apparent_deg[0])
    dials = boom_dials(field.mount, where.azimuth_deg[:1], where.apparent_deg[:1])[0]
    if needs_boom and not why_not and elevation > HIGHEST_DEG:
        why_not = f"{target} is at {elevation:.1f} deg: too steep for a bearing."
    if needs_boom and not why_not and dials is None:
        why_not = f"The boom does not reach {target} at {bearing:.1f} deg, {elevation:.1f} deg up."
    if why_not:
        return Method(method, target, False, why_not, bearing, elevation, dials, None, ())
    ordered = _sorted(terms)
    return Method(method, target, True, "", bearing, elevation, dials, _root(ordered), ordered)


def _by_eye(field: Field, where: Directions) -> list[Term]:
    elevation = float(where.apparent_deg[0])
    secant = 1.0 / max(math.cos(math.radians(elevation)), 1e-3)
    return [Term("pointing by eye", field.errors.by_eye_deg * secant), *_by_boom(field, elevation)]


def _by_boom(field: Field, elevation_deg: float) -> list[Term]:
    """What comes in with the dial and the axis."""
    return [
        Term("dial and gear", readout_sigma_deg(field.mount.azimuth, field.errors.backlash_deg)),
        Term("lean", field.lean_deg * abs(_tan(elevation_deg))),
    ]


def _hidden(field: Field, where: Directions, name: str) -> str:
    """Why something is not seen from the site; empty where it is."""
    azimuth, elevation = where.azimuth_deg[:1], float(where.apparent_deg[0])
    mask = max(float(mask_elevation_deg(field.site.horizon, azimuth)[0]), 0.0)
    start = name[:1].upper() + name[1:]
    if elevation < 0.0:
        return f"{start} is {-elevation:.1f} deg below the horizon."
    if elevation < mask:
        return f"{start} is at {elevation:.1f} deg, behind the mask ({mask:.1f} deg at {azimuth[0]:.0f})."
    return ""


def _fixed(azimuth_deg: float, elevation_deg: float) -> Directions:
    """One direction that needs no moment."""
    azimuth, elevation = np.array([azimuth_deg]), np.array([elevation_deg])
    return Directions(np.zeros(1), azimuth, elevation, elevation, np.zeros(1))


def _azimuth_rate_deg_s(where: Directions) -> float:
    change = wrap_180(float(where.azimuth_deg[1] - where.azimuth_deg[0]))
    return change / float(where.utc_s[1] - where.utc_s[0])


def _apart_deg(one: Directions, other: Directions) -> float:
    """Angle on the sky between two places at the first moment."""
    azimuth = one.azimuth_deg[:1] - other.azimuth_deg[:1]
    return float(off_boresight_deg(azimuth, one.elevation_deg[:1], other.elevation_deg[:1])[0])


def _tan(elevation_deg: float) -> float:
    return math.tan(math.radians(min(elevation_deg, 89.0)))


def _sorted(terms: Sequence[Term]) -> tuple[Term, ...]:
    return tuple(sorted(terms, key=lambda term: -term.sigma_deg))


def _root(terms: Sequence[Term]) -> float:
    return math.sqrt(sum(term.sigma_deg**2 for term in terms))
