"""What the dials of a real mount show, from its small errors: exact by vectors, with first-order derivatives.

The unknowns, degrees but for the clock:

- correction: epsilon, what to add to the bearing of the counter-clockwise stop, in the middle of the gear's
  play, for a boom near the horizon in the posture of reference (so the boom's skew is in it);
- elevation zero: what to add to the elevation axis' angle;
- lean, east and north: the azimuth axis' lean as an arrow on the ground;
- skew: the boom's angle to the right off its crossboom's square, seen from behind, upright; reversed over
  the top;
- axis: by how much the crossboom's right end stands too high;
- play: by how much the dial is ahead of the antennas after turning clockwise (coming from the left), and
  behind after turning the other way: half the backlash;
- clock: by how many seconds the operator's clock is slow;
- and for each landmark the error of its bearing and of its elevation, the same at every sighting.

Correction and elevation zero are free; all the others are held by what is assumed of them (a Gaussian prior),
so that what the sightings do not determine still counts in the uncertainty of what they do. A value that is
assumed without any error is held. First order: PRACTICE C8; exact: as `core.mount.model.chain`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_180
from core.mount.model.chain import fixed_offset_deg, posture_shift_deg, to_mount_frame
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, Mount, Posture, Tilt
from core.setup.model import PointingErrors, Sighting
from core.setup.sightings.readings import PLAY_SHARE, AxisReading
from core.setup.sightings.targets import Target

#: Places of the unknowns; pairs (bearing, elevation) of the landmarks' errors follow.
CORRECTION, ELEVATION_ZERO, LEAN_EAST, LEAN_NORTH, SKEW, AXIS, PLAY, CLOCK = range(8)
NAMES = (
    "correction",
    "elevation zero",
    "lean east",
    "lean north",
    "skew",
    "axes not square",
    "gear play",
    "clock",
)
COUNT = len(NAMES)
#: How far the axes of a made rotator are off square, one standard deviation, deg. Common practice, no source.
AXIS_SIGMA_DEG = 0.3
#: A lean beyond this is no lean of a station that stands; the fit is not led there.
_MOST_LEAN_DEG = 29.0
#: Nearer to the axis than this azimuth says nothing, and no derivative is taken there.
_LEAST_LEVEL = 1e-3


@dataclass(frozen=True, eq=False)
class Rows:
    """Readings in columns (N,), one a dial.

    Attributes:
        index: the sighting's place in the table.
        azimuth: True for the azimuth dial, False for the elevation dial.
        measured_deg: m (modulo 360) or e.
        sigma_deg: one standard deviation.
        sky: (N, 3) true directions, east, north, up.
        sense: +1 upright, -1 over the top.
        side: +1 came from the left, -1 from the right, 0 not told.
        rate_deg_s: of the true azimuth or elevation.
        landmark: number of the landmark, -1 for anything else.
        landmark_sigma_deg: (L, 2) errors of the landmarks' bearings and elevations.
        at_stop_deg: bearing of boresight on the counter-clockwise stop as the plan has it, uncorrected.
        reference: +1 where the correction is that of upright, -1 over the top.
    """

    index: Indices
    azimuth: Flags
    measured_deg: Floats
    sigma_deg: Floats
    sky: Floats
    sense: Floats
    side: Floats
    rate_deg_s: Floats
    landmark: Indices
    landmark_sigma_deg: Floats
    at_stop_deg: float
    reference: float

    @property
    def reference_posture(self) -> Posture:
        """The posture that the correction is of."""
        return UPRIGHT if self.reference > 0.0 else OVER_THE_TOP

    def turned_over(self) -> Rows:
        """The same readings on an elevation axis that counts from its other end."""
        return replace(
            self, measured_deg=np.where(self.azimuth, self.measured_deg, 180.0 - self.measured_deg)
        )


def unit(azimuth_deg: Floats, elevation_deg: Floats) -> Floats:
    """(N, 3) east, north, up."""
    az, el = np.radians(azimuth_deg), np.radians(elevation_deg)
    return np.stack([np.sin(az) * np.cos(el), np.cos(az) * np.cos(el), np.sin(el)], axis=-1)


def rows_of(
    readings: Sequence[AxisReading],
    sightings: Sequence[Sighting],
    targets: dict[int, Target],
    mount: Mount,
) -> Rows:
    """The columns of some readings; ``targets`` by the sightings' indices.

    Where only a bearing is known, the elevation is what the dial is told to read, or level.
    """
    seen = [targets[one.index] for one in readings]
    told = [sightings[one.index] for one in readings]
    names = list(dict.fromkeys(target.landmark for target in seen if target.landmark))
    sigma = {t.landmark: (t.azimuth_sigma_deg, t.elevation_sigma_deg) for t in seen if t.landmark}
    up_deg = [_elevation_deg(target) for target in seen]
    over = [one.posture == OVER_THE_TOP for one in told]
    return Rows(
        index=np.array([one.index for one in readings], dtype=np.intp),
        azimuth=np.array([one.azimuth for one in readings], dtype=bool),
        measured_deg=np.array([one.axis_deg for one in readings], dtype=float),
        sigma_deg=np.array([one.sigma_deg for one in readings], dtype=float),
        sky=unit(np.array([t.azimuth_deg for t in seen], dtype=float), np.array(up_deg, dtype=float)),
        sense=np.where(np.array(over, dtype=bool), -1.0, 1.0),
        side=np.array([{"left": 1.0, "right": -1.0}.get(one.came_from or "", 0.0) for one in told]),
        rate_deg_s=np.array(
            [
                t.azimuth_rate_deg_s if one.azimuth else t.elevation_rate_deg_s
                for one, t in zip(readings, seen, strict=True)
            ],
            dtype=float,
        ),
        landmark=np.array([names.index(t.landmark) if t.landmark else -1 for t in seen], dtype=np.intp),
        landmark_sigma_deg=np.array([sigma[name] for name in names], dtype=float).reshape(-1, 2),
        at_stop_deg=mount.keyway_bearing_deg + fixed_offset_deg(mount),
        reference=-1.0 if over and all(over) else 1.0,
    )


def _elevation_deg(target: Target) -> float:
    return 0.0 if target.elevation_deg is None else target.elevation_deg


@dataclass(frozen=True, eq=False)
class Assumed:
    """What is held of the unknowns beforehand (P,): means and standard deviations, inf where free."""

    mean: Floats
    sigma: Floats


def assumed(
    rows: Rows, errors: PointingErrors, tilt: Tilt, level: tuple[float, float, float] | None
) -> Assumed:
    """The priors.

    Args:
        rows: for the landmarks.
        errors: the small errors; ``lean_deg`` is what is not known of the lean along any one bearing.
        tilt: the lean that the plan has.
        level: lean, the bearing it goes toward, and its standard deviation along any bearing, as levelled.
    """
    lean_deg, toward_deg, lean_sigma = level or (tilt.angle_deg, tilt.toward_deg, errors.lean_deg)
    toward, play = math.radians(toward_deg), errors.backlash_deg / 2.0
    mean = [0.0, 0.0, lean_deg * math.sin(toward), lean_deg * math.cos(toward), 0.0, 0.0, play, 0.0]
    sigma = [math.inf, math.inf, lean_sigma, lean_sigma, errors.boom_deg]
    sigma += [AXIS_SIGMA_DEG, PLAY_SHARE * play, errors.clock_s]
    marks = rows.landmark_sigma_deg.ravel()
    return Assumed(np.concatenate([mean, np.zeros(marks.size)]), np.concatenate([sigma, marks]))


def lean_of(unknowns: Floats) -> Tilt:
    """The lean among the unknowns."""
    east, north = float(unknowns[LEAN_EAST]), float(unknowns[LEAN_NORTH])
    toward = math.degrees(math.atan2(east, north)) % 360.0
    return Tilt(angle_deg=min(math.hypot(east, north), _MOST_LEAN_DEG), toward_deg=toward)


def residuals_deg(rows: Rows, unknowns: Floats) -> Floats:
    """(N,) measured less what the mount would show, azimuths within half a turn."""
    m_deg, e_deg = predicted_deg(rows, unknowns)
    azimuth = wrap_180(rows.measured_deg - m_deg)
    return np.where(rows.azimuth, azimuth, rows.measured_deg - e_deg)


def predicted_deg(rows: Rows, unknowns: Floats) -> tuple[Floats, Floats]:
    """M (modulo 360) and e (N,) each at which the antennas look along each row's direction."""
    azimuth, elevation = to_mount_frame(rows.sky, lean_of(unknowns))
    moved = rows.rate_deg_s * unknowns[CLOCK] + _landmark_error_deg(rows, unknowns)
    azimuth = azimuth + np.where(rows.azimuth, moved, 0.0)
    up = np.radians(elevation + np.where(rows.azimuth, 0.0, moved))
    skew, tip = math.radians(unknowns[SKEW]), math.radians(unknowns[AXIS])
    level = np.maximum(np.cos(up), _LEAST_LEVEL)
    right = np.clip((math.sin(skew) - np.sin(up) * math.sin(tip)) / (level * math.cos(tip)), -1.0, 1.0)
    aside = np.degrees(np.arcsin(right))
    ahead = rows.sense * level * np.sqrt(1.0 - right**2)
    upward = np.sin(up) * math.cos(tip) - level * right * math.sin(tip)
    # Over the top a boom below the horizon is beyond 180 deg, not at -180.
    e_deg = np.mod(np.degrees(np.arctan2(upward, ahead)) + 90.0, 360.0) - 90.0
    m_deg = azimuth - rows.sense * aside + np.where(rows.sense > 0.0, 0.0, posture_shift_deg(OVER_THE_TOP))
    m_deg -= rows.at_stop_deg + unknowns[CORRECTION] - rows.reference * unknowns[SKEW]
    return m_deg + rows.side * unknowns[PLAY], e_deg - unknowns[ELEVATION_ZERO]


def _landmark_error_deg(rows: Rows, unknowns: Floats) -> Floats:
    if unknowns.size == COUNT:
        return np.zeros(rows.index.size)
    errors = np.append(unknowns[COUNT:], [0.0, 0.0]).reshape(-1, 2)  # the last for what is no landmark
    return np.asarray(errors[rows.landmark, np.where(rows.azimuth, 0, 1)])


def derivatives(rows: Rows, unknowns: Floats) -> Floats:
    """(N, P) first-order change of what a dial shows with each unknown, at the lean as it is."""
    azimuth_deg, elevation_deg = to_mount_frame(rows.sky, lean_of(unknowns))
    az, up = np.radians(azimuth_deg), np.radians(elevation_deg)
    level = np.maximum(np.cos(up), _LEAST_LEVEL)
    steep, sense = np.sin(up) / level, rows.sense
    of_azimuth, of_elevation = np.zeros((2, rows.index.size, unknowns.size))
    of_azimuth[:, CORRECTION] = -1.0
    of_azimuth[:, LEAN_EAST], of_azimuth[:, LEAN_NORTH] = -np.cos(az) * steep, np.sin(az) * steep
    of_azimuth[:, SKEW], of_azimuth[:, AXIS] = rows.reference - sense / level, sense * steep
    of_azimuth[:, PLAY], of_azimuth[:, CLOCK] = rows.side, rows.rate_deg_s
    of_elevation[:, ELEVATION_ZERO] = -1.0
    of_elevation[:, LEAN_EAST], of_elevation[:, LEAN_NORTH] = sense * np.sin(az), sense * np.cos(az)
    of_elevation[:, CLOCK] = sense * rows.rate_deg_s
    for number in range(rows.landmark_sigma_deg.shape[0]):
        own = np.where(rows.landmark == number, 1.0, 0.0)
        of_azimuth[:, COUNT + 2 * number], of_elevation[:, COUNT + 2 * number + 1] = own, sense * own
    return np.where(rows.azimuth[:, None], of_azimuth, of_elevation)
