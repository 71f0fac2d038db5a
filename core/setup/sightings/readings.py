"""What the dials of a sighting say of the axes, and how well.

Part of the uncertainty is how finely the figures were written down. A dial is read to half a division, but
figures that are all whole divisions, or all fives or tens, were hardly read so: each step that all figures
are multiples of is weighed by how likely it makes them (Bayes), and the variance is the mean over the steps.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.base.angles import wrap_180
from core.base.errors import DialTwiceError
from core.base.words import figure
from core.mount.dial.readings import azimuth_curve, azimuth_from_dial, elevation_curve, elevation_from_dial
from core.mount.model.calibration import DialCurve
from core.mount.model.station import AzimuthAxis, Mount
from core.setup.model import PointingErrors, Sighting
from core.setup.satellites import PEAK_SHARE
from core.setup.sightings.refused import SightingRefused
from core.setup.sightings.targets import Target

#: The middle of two half-power dials, as a share of the beamwidth: half a decibel, where the slope is steep.
HALF_POWER_SHARE = 0.04
#: How well half the backlash is known, as a share of it.
PLAY_SHARE = 0.5
#: Steps that figures may be rounded to: how often half a division, a whole one, and 5 and 10 deg.
_HALF, _WHOLE, _COARSE = 0.6, 0.36, ((5.0, 0.02), (10.0, 0.02))
#: Figures this near to a multiple are on it.
_ON_STEP_DEG = 1e-6


@dataclass(frozen=True)
class AxisReading:
    """One axis at one sighting.

    Attributes:
        index: the sighting's place in the table.
        azimuth: of the azimuth axis, else of the elevation axis.
        axis_deg: mechanical azimuth m (modulo 360), or the elevation axis' angle.
        sigma_deg: one standard deviation of the axis' angle against the direction sighted.
    """

    index: int
    azimuth: bool
    axis_deg: float
    sigma_deg: float


@dataclass(frozen=True)
class Rounding:
    """Standard deviations by which figures of the two dials are rounded, dial degrees."""

    azimuth_deg: float
    elevation_deg: float

    @classmethod
    def of(cls, sightings: Sequence[Sighting], mount: Mount) -> Rounding:
        """Worked out from all figures of the table."""
        azimuth = [figure_deg for one in sightings for figure_deg in azimuth_figures(one)]
        elevation = [one.elevation_dial_deg for one in sightings if one.elevation_dial_deg is not None]
        return cls(
            rounding_sigma_deg(azimuth, mount.azimuth.dial_division_deg),
            rounding_sigma_deg(elevation, mount.elevation.dial_division_deg),
        )


def azimuth_figures(sighting: Sighting) -> tuple[float, ...]:
    """The azimuth dial's figures of a sighting: none, one or two."""
    if sighting.half_power_dials_deg is not None:
        return sighting.half_power_dials_deg
    return () if sighting.azimuth_dial_deg is None else (sighting.azimuth_dial_deg,)


def rounding_sigma_deg(figures: Sequence[float], division_deg: float) -> float:
    """Standard deviation of what rounding took from each figure."""
    half = division_deg / 2.0
    steps = [(half, _HALF), (division_deg, _WHOLE), *(one for one in _COARSE if one[0] > division_deg)]
    weighed = [
        (step, before * (step / half) ** min(len(figures), 100))
        for step, before in steps
        if step == half or all(abs(math.remainder(value, step)) <= _ON_STEP_DEG for value in figures)
    ]
    total = sum(weight for _step, weight in weighed)
    return math.sqrt(sum(weight * step**2 / 12.0 for step, weight in weighed) / total)


def axis_readings(
    index: int,
    sighting: Sighting,
    target: Target,
    mount: Mount,
    rounding: Rounding,
    beamwidth_deg: float,
    errors: PointingErrors,
) -> list[AxisReading | SightingRefused]:
    """What each dial of one sighting says; a dial that says nothing is refused alone."""
    alone_deg = _pointed_deg(target, beamwidth_deg, errors)
    sky_deg = alone_deg if sighting.half_power_dials_deg is None else HALF_POWER_SHARE * beamwidth_deg
    found: list[AxisReading | SightingRefused] = []
    try:
        if azimuth_figures(sighting):
            found.append(_azimuth(index, sighting, target, mount, rounding, sky_deg, errors))
    except SightingRefused as refusal:
        found.append(refusal)
    try:
        if sighting.elevation_dial_deg is not None:
            found.append(_elevation(index, sighting, target, mount, rounding, alone_deg))
    except SightingRefused as refusal:
        found.append(refusal)
    return found


def _pointed_deg(target: Target, beamwidth_deg: float, errors: PointingErrors) -> float:
    """How well one is pointed at a target, degrees on the sky."""
    if target.by_signal:
        return PEAK_SHARE * beamwidth_deg
    return errors.shadow_deg if target.by_shadow else errors.by_eye_deg


def _azimuth(
    index: int,
    sighting: Sighting,
    target: Target,
    mount: Mount,
    rounding: Rounding,
    sky_deg: float,
    errors: PointingErrors,
) -> AxisReading:
    figures = azimuth_figures(sighting)
    axis, curve = mount.azimuth, azimuth_curve(mount.azimuth)
    places = [_mechanical_deg(index, sighting, figure_deg, axis) for figure_deg in figures]
    m_deg = places[0] + wrap_180(places[-1] - places[0]) / 2.0
    if sighting.sigma_deg is not None:
        return AxisReading(index, True, m_deg, sighting.sigma_deg)
    read_deg = rounding.azimuth_deg / abs(_slope(curve, m_deg)) / math.sqrt(len(figures))
    # A gear that came from nobody knows where stands at one end of its play or the other.
    play_deg = errors.backlash_deg / 2.0 * math.hypot(1.0, PLAY_SHARE) if sighting.came_from is None else 0.0
    level = max(math.cos(math.radians(target.elevation_deg or 0.0)), 1e-3)
    return AxisReading(index, True, m_deg, math.hypot(read_deg, play_deg, sky_deg / level, _own(target)[0]))


def _mechanical_deg(index: int, sighting: Sighting, figure_deg: float, axis: AzimuthAxis) -> float:
    """The m a figure stands for; which turn does not matter, as long as all of them look the same way."""
    field = "azimuth_dial_deg" if sighting.half_power_dials_deg is None else "half_power_dials_deg"
    places = azimuth_from_dial(figure_deg, axis)
    if not places:
        raise SightingRefused(
            index, sighting.target, field, f"no place of the travel shows {figure_deg:g} on the azimuth dial"
        )
    if sighting.time_round is not None and sighting.half_power_dials_deg is None:
        if sighting.time_round > len(places):
            many = f"the azimuth dial shows {figure_deg:g} {len(places)} times at most"
            raise SightingRefused(index, sighting.target, "time_round", many)
        return places[sighting.time_round - 1]
    if max(abs(wrap_180(m_deg - places[0])) for m_deg in places) > axis.dial_division_deg / 2.0:
        twice = DialTwiceError(figure_deg, places)
        raise SightingRefused(index, sighting.target, "time_round", str(twice))
    return places[0]


def _elevation(
    index: int, sighting: Sighting, target: Target, mount: Mount, rounding: Rounding, sky_deg: float
) -> AxisReading:
    dial_deg = sighting.elevation_dial_deg
    if dial_deg is None or target.elevation_deg is None:
        reason = "the elevation of what was sighted is not known, so its elevation dial says nothing"
        raise SightingRefused(index, sighting.target, "elevation_dial_deg", reason)
    e_deg = elevation_from_dial(dial_deg, mount.elevation)
    if e_deg is None:
        low, high = mount.elevation.minimum_deg, mount.elevation.maximum_deg
        reason = f"the axis goes from {figure(low)} to {figure(high)} deg and shows {dial_deg:g} nowhere"
        raise SightingRefused(index, sighting.target, "elevation_dial_deg", reason)
    if sighting.sigma_deg is not None:
        return AxisReading(index, False, e_deg, sighting.sigma_deg)
    read_deg = rounding.elevation_deg / abs(_slope(elevation_curve(mount.elevation), e_deg))
    return AxisReading(index, False, e_deg, math.hypot(read_deg, sky_deg, _own(target)[1]))


def _own(target: Target) -> tuple[float, float]:
    """What is not known of the direction itself; a landmark's is the same each time, so it is an unknown."""
    return (0.0, 0.0) if target.landmark else (target.azimuth_sigma_deg, target.elevation_sigma_deg)


def _slope(curve: DialCurve, axis_deg: float) -> float:
    """Dial degrees per degree of the axis, over a degree."""
    return curve.dial_at(axis_deg + 0.5) - curve.dial_at(axis_deg - 0.5)
