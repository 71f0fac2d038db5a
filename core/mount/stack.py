"""The chain of angles from the keyway to where the antennas look.

DESIGN, section 3: kappa (keyway bearing) + iota (index offset of the hole in use) + sigma (datum to
stop) + beta (elevation unit's clocking) + epsilon (tonight's correction) = zeta, the true bearing of
boresight with the azimuth axis on its counter-clockwise stop. Bearings are degrees true, clockwise
seen from above.
"""

from __future__ import annotations

from typing import Literal, Self

import numpy as np
from pydantic import Field, model_validator

from core.angles import Floats, wrap_180, wrap_360
from core.model import Model, Real
from core.mount.calibration import CalibrationPoint, why_crooked_wrongly

Posture = Literal["upright", "over the top"]
UPRIGHT: Posture = "upright"
OVER_THE_TOP: Posture = "over the top"
POSTURES: tuple[Posture, Posture] = (UPRIGHT, OVER_THE_TOP)


class IndexHole(Model):
    """A hole of the adapter. ``offset_deg`` is iota: from pin to datum mark, clockwise from above.

    A hole drilled h clockwise *from the datum mark*, seen from above, has iota = -h.
    """

    name: str = Field(min_length=1, max_length=24)
    offset_deg: Real = Field(default=0.0, ge=-360.0, le=360.0)

    @property
    def drilled_deg(self) -> float:
        """Where the hole is drilled, clockwise from the datum mark seen from above, 0 to 360."""
        return wrap_360(-self.offset_deg)


class SightingCorrection(Model):
    """Tonight's correction, with the seat it was fitted for; a posture only where skew was fitted with it."""

    deg: Real = Field(ge=-180.0, le=180.0)
    keyway_bearing_deg: Real
    index_hole: str
    posture: Posture | None = None


class Tilt(Model):
    """The azimuth axis' lean: its top goes ``angle_deg`` toward the true bearing ``toward_deg``."""

    angle_deg: Real = Field(default=0.0, ge=0.0, le=30.0)
    toward_deg: Real = Field(default=0.0, ge=0.0, le=360.0)


class AzimuthAxis(Model):
    """Azimuth travel, guard, motion and dial. dial = dial_at_stop_deg + dial_scale * m, before wrapping.

    With a ``calibration`` the dial reads what its pairs say, between them along a smooth monotone curve and
    beyond them by dial_scale; dial_at_stop_deg then says nothing.
    ``rate_deg_s`` is clockwise, and counter-clockwise too unless ``rate_back_deg_s`` says otherwise.
    Without an acceleration the axis is at its rate at once. It is not started for less than the
    deadband, never moves less than the least nudge, and its place is known to the readout's step.
    """

    travel_deg: Real = Field(default=450.0, gt=0.0, le=1440.0)
    guard_deg: Real = Field(default=3.0, ge=0.0, le=90.0)
    rate_deg_s: Real = Field(default=6.0, gt=0.0, le=360.0)
    dial_at_stop_deg: Real = 0.0
    dial_scale: Real = 1.0
    dial_wraps_at_deg: Real | None = None
    dial_wraps_to_deg: Real | None = None
    dial_division_deg: Real = Field(default=1.0, gt=0.0, le=90.0)
    rate_back_deg_s: Real | None = Field(default=None, gt=0.0, le=360.0)
    acceleration_deg_s2: Real | None = Field(default=None, gt=0.0, le=1000.0)
    deadband_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    least_nudge_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    readout_step_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    calibration: tuple[CalibrationPoint, ...] = ()

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if 2.0 * self.guard_deg >= self.travel_deg:
            raise ValueError("guard_deg leaves no travel: twice the guard must be less than travel_deg")
        if self.dial_scale == 0.0:
            raise ValueError("dial_scale must not be 0")
        if (self.dial_wraps_at_deg is None) != (self.dial_wraps_to_deg is None):
            raise ValueError("dial_wraps_at_deg and dial_wraps_to_deg go together: give both or neither")
        if (
            self.dial_wraps_at_deg is not None
            and self.dial_wraps_to_deg is not None
            and self.dial_wraps_at_deg <= self.dial_wraps_to_deg
        ):
            raise ValueError("dial_wraps_at_deg must be more than dial_wraps_to_deg")
        wrong = why_crooked_wrongly(self.calibration, self.dial_scale)
        if wrong:
            raise ValueError(wrong)
        return self


class ElevationAxis(Model):
    """Elevation range, motion and dial (dial = e + dial_offset_deg, or by ``calibration``, as in azimuth).

    Above 90 is over the top.
    ``rate_deg_s`` is upward, and downward too unless ``rate_back_deg_s`` says otherwise; the rest as in
    azimuth.
    """

    minimum_deg: Real = Field(default=0.0, ge=-90.0, le=90.0)
    maximum_deg: Real = Field(default=180.0, gt=0.0, le=180.0)
    rate_deg_s: Real = Field(default=2.5, gt=0.0, le=360.0)
    dial_offset_deg: Real = 0.0
    dial_division_deg: Real = Field(default=1.0, gt=0.0, le=90.0)
    rate_back_deg_s: Real | None = Field(default=None, gt=0.0, le=360.0)
    acceleration_deg_s2: Real | None = Field(default=None, gt=0.0, le=1000.0)
    deadband_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    least_nudge_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    readout_step_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    calibration: tuple[CalibrationPoint, ...] = ()

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.minimum_deg >= self.maximum_deg:
            raise ValueError("minimum_deg must be less than maximum_deg")
        wrong = why_crooked_wrongly(self.calibration, 1.0)
        if wrong:
            raise ValueError(wrong)
        return self


class Drive(Model):
    """How the two axes are driven together.

    ``settle_s`` passes after every move before the pointing counts. ``duty`` is what share of
    ``duty_window_s`` a motor may run (1: no limit).
    """

    both_axes_at_once: bool = True
    settle_s: Real = Field(default=0.0, ge=0.0, le=120.0)
    duty: Real = Field(default=1.0, gt=0.0, le=1.0)
    duty_window_s: Real = Field(default=600.0, gt=0.0, le=7200.0)


class Antenna(Model):
    """One antenna. Frequency 0 means not told; ``skew_deg`` is its angle to the boom."""

    name: str = "antenna"
    frequency_hz: Real = Field(default=0.0, ge=0.0, le=1e12)
    beamwidth_deg: Real = Field(default=30.0, gt=0.0, le=180.0)
    skew_deg: Real = Field(default=0.0, ge=-90.0, le=90.0)


class Mount(Model):
    """The rotator on its plate, as it is set down tonight."""

    keyway_bearing_deg: Real = 0.0
    index_holes: tuple[IndexHole, ...] = (IndexHole(name="A"),)
    index_hole: str = "A"
    datum_to_stop_deg: Real = 0.0
    elevation_unit_offset_deg: Real = 0.0
    sighting_correction: SightingCorrection | None = None
    tilt: Tilt = Tilt()
    azimuth: AzimuthAxis = AzimuthAxis()
    elevation: ElevationAxis = ElevationAxis()
    drive: Drive = Drive()

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        names = [hole.name for hole in self.index_holes]
        if len(set(names)) != len(names):
            raise ValueError("index_holes: two holes have the same name")
        if self.index_hole not in names:
            raise ValueError(f"index_hole {self.index_hole!r} is not one of the holes {', '.join(names)}")
        return self


def hole_in_use(mount: Mount) -> IndexHole:
    """The hole the screw goes through tonight."""
    return next(hole for hole in mount.index_holes if hole.name == mount.index_hole)


def correction_in_force(mount: Mount) -> bool:
    """True where tonight's correction was fitted for the present keyway bearing and hole; else it is void."""
    fitted = mount.sighting_correction
    if fitted is None or fitted.index_hole != mount.index_hole:
        return False
    return abs(wrap_180(fitted.keyway_bearing_deg - mount.keyway_bearing_deg)) <= 1e-9


def correction_deg(mount: Mount, posture: Posture) -> float:
    """Tonight's correction for a posture; 0 where there is none, it is void, or it is the other posture's."""
    fitted = mount.sighting_correction
    if fitted is None or not correction_in_force(mount):
        return 0.0
    if fitted.posture is not None and fitted.posture != posture:
        return 0.0
    return fitted.deg


def fixed_offset_deg(mount: Mount, hole: IndexHole | None = None) -> float:
    """Sum of iota, sigma and beta: what lies between keyway bearing and zeta but for tonight's correction."""
    hole = hole_in_use(mount) if hole is None else hole
    return hole.offset_deg + mount.datum_to_stop_deg + mount.elevation_unit_offset_deg


def zeta_deg(mount: Mount, posture: Posture = UPRIGHT) -> float:
    """True bearing of boresight on the counter-clockwise stop, 0 to 360."""
    return wrap_360(mount.keyway_bearing_deg + fixed_offset_deg(mount) + correction_deg(mount, posture))


def stop_bearings_deg(mount: Mount) -> tuple[float, float]:
    """True bearings of the counter-clockwise and the clockwise stop, each 0 to 360."""
    zeta = zeta_deg(mount)
    return zeta, wrap_360(zeta + mount.azimuth.travel_deg)


def usable_overlap_deg(azimuth: AzimuthAxis) -> float:
    """T - 360 - 2g: bearings inside the guards that two m point to.

    Negative where there is a sector that no m points to.
    """
    return azimuth.travel_deg - 360.0 - 2.0 * azimuth.guard_deg


def tilt_matrix(tilt: Tilt) -> Floats:
    """(3, 3) rotation taking mount-frame east, north, up to the ground's.

    The smallest rotation that leans the up axis by ``angle_deg`` toward ``toward_deg``: Rodrigues'
    formula about the horizontal axis at right angles to that bearing.
    """
    tau, phi = np.radians(tilt.angle_deg), np.radians(tilt.toward_deg)
    toward = np.array([np.sin(phi), np.cos(phi), 0.0])
    axis = np.cross([0.0, 0.0, 1.0], toward)
    skew = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    return np.asarray(np.eye(3) + np.sin(tau) * skew + (1.0 - np.cos(tau)) * skew @ skew)


def to_mount_frame(direction: Floats, tilt: Tilt) -> tuple[Floats, Floats]:
    """Azimuth (wrapped to [0, 360)) and elevation, degrees, in the mount frame.

    Args:
        direction: (N, 3) east, north, up on the ground; any positive length.
        tilt: the axis' lean.
    """
    in_mount = direction @ tilt_matrix(tilt) if tilt.angle_deg else direction
    east, north, up = in_mount[..., 0], in_mount[..., 1], in_mount[..., 2]
    azimuth = wrap_360(np.degrees(np.arctan2(east, north)))
    return azimuth, np.degrees(np.arctan2(up, np.hypot(east, north)))


def ground_bearing_deg(mount_azimuth_deg: float, elevation_deg: float, tilt: Tilt) -> tuple[float, float]:
    """True azimuth and elevation on the ground of a direction given in the mount frame."""
    az, el = np.radians(mount_azimuth_deg), np.radians(elevation_deg)
    vector = np.array([np.sin(az) * np.cos(el), np.cos(az) * np.cos(el), np.sin(el)])
    east, north, up = tilt_matrix(tilt) @ vector
    return wrap_360(float(np.degrees(np.arctan2(east, north)))), float(
        np.degrees(np.arctan2(up, np.hypot(east, north)))
    )


def posture_shift_deg(posture: Posture) -> float:
    """What the posture adds to azimuth: 0 upright, 180 over the top."""
    return 180.0 if posture == OVER_THE_TOP else 0.0


def axis_elevation_deg(elevation_deg: Floats, posture: Posture) -> Floats:
    """The elevation axis' angle: E upright, 180 - E over the top. Its own inverse."""
    return 180.0 - elevation_deg if posture == OVER_THE_TOP else elevation_deg


def guarded_travel_deg(azimuth: AzimuthAxis) -> tuple[float, float]:
    """[g, T - g], where m may be."""
    return azimuth.guard_deg, azimuth.travel_deg - azimuth.guard_deg


def beam_limit_deg(antennas: tuple[Antenna, ...]) -> float:
    """Half the beamwidth of the narrowest antenna in use: further off counts as lost."""
    return min(antenna.beamwidth_deg for antenna in antennas) / 2.0


def pointing_loss_db(off_deg: Floats | float, beamwidth_deg: float) -> Floats | float:
    """12 (off / beamwidth)^2, the main lobe only (from memory of satellite communications textbooks)."""
    return 12.0 * (off_deg / beamwidth_deg) ** 2
