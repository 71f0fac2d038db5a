"""The chain of angles from the keyway to where the antennas look.

DESIGN, section 3: kappa (keyway bearing) + iota (index offset of the hole in use) + sigma (datum to
stop) + beta (elevation unit's clocking) + epsilon (tonight's correction) = zeta, the true bearing of
boresight with the azimuth axis on its counter-clockwise stop. Bearings are degrees true, clockwise
seen from above.
"""

from __future__ import annotations

from typing import Literal, TypeVar

import numpy as np

from core.base.angles import Floats, wrap_180, wrap_360
from core.mount.model.station import (
    OVER_THE_TOP,
    POSTURES,
    UPRIGHT,
    AzimuthAxis,
    IndexHole,
    Mount,
    Posture,
    Tilt,
)

#: One angle or a column of them.
Angle = TypeVar("Angle", float, Floats)
#: What became of tonight's correction from sightings.
CorrectionState = Literal["none", "holds", "void"]


def hole_in_use(mount: Mount) -> IndexHole:
    """The hole the screw goes through tonight."""
    return next(hole for hole in mount.index_holes if hole.name == mount.index_hole)


def corrected_postures(mount: Mount) -> tuple[Posture, ...]:
    """The postures that tonight's correction holds for, of whatever size it is; none where it is void.

    It was fitted for one keyway bearing and one hole, and is void with any other.
    """
    fitted = mount.sighting_correction
    if fitted is None or fitted.index_hole != mount.index_hole:
        return ()
    if abs(wrap_180(fitted.keyway_bearing_deg - mount.keyway_bearing_deg)) > 1e-9:
        return ()
    return POSTURES if fitted.posture is None else (fitted.posture,)


def correction_state(mount: Mount) -> CorrectionState:
    """Whether tonight's correction holds for keyway and hole as they are now; one of 0 deg may hold too."""
    if mount.sighting_correction is None:
        return "none"
    return "holds" if corrected_postures(mount) else "void"


def correction_deg(mount: Mount, posture: Posture) -> float:
    """Tonight's correction for a posture; 0 where there is none, it is void, or it is the other posture's."""
    fitted = mount.sighting_correction
    return fitted.deg if fitted is not None and posture in corrected_postures(mount) else 0.0


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
    axis = np.array([-np.cos(phi), np.sin(phi), 0.0])
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


def axis_elevation_deg(elevation_deg: Angle, posture: Posture) -> Angle:
    """The elevation axis' angle: E upright, 180 - E over the top. Its own inverse."""
    return 180.0 - elevation_deg if posture == OVER_THE_TOP else elevation_deg


def guarded_travel_deg(azimuth: AzimuthAxis) -> tuple[float, float]:
    """[g, T - g], where m may be."""
    return azimuth.guard_deg, azimuth.travel_deg - azimuth.guard_deg


def pointing_loss_db(off_deg: Floats | float, beamwidth_deg: float) -> Floats | float:
    """12 (off / beamwidth)^2, the main lobe only (from memory of satellite communications textbooks)."""
    return 12.0 * (off_deg / beamwidth_deg) ** 2
