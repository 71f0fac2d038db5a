"""What the axes are told along a pass, and what they do: motion before stops are counted.

What they are told: a pass too fast for an axis is steered *led* (a straight line at the axis' rate
through the fastest moment, to where it meets the wanted angle on both sides), *chased* (the axis runs after
the satellite) or *held* (azimuth stands where the worst error is least, elevation runs through 0..180).
What they do: a drive told by its rates alone does just that; one that was measured further (rates each way,
acceleration, deadband, nudge, readout, one axis at a time, duty) is simulated, `core.mount.drive.rotator`.

Chased, an axis is late all the way from where the satellite outran it. Led, it is early first and late after,
by less, so that a beam too narrow for the one may hold the other.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.progress import reported
from core.base.units import Progress, no_progress
from core.mount.drive.rotator import follow_in, turns_over_differ
from core.mount.drive.slew import is_ideal
from core.mount.drive.tracks import MountTrack
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, Axis, Mount, Posture, Rates, Steering


@dataclass(frozen=True, eq=False)
class Steered:
    """Where the axes are along a pass, motion counted, before stops are.

    Attributes:
        azimuth_deg: (N,) in the mount frame, unwrapped like the track's.
        elevation_deg: (N,) upright terms; above 90 only where azimuth is held.
        peak_azimuth_rate_deg_s: fastest the satellite's azimuth turns, unsigned.
        slow: (N,) bool where an axis is not on the satellite.
        told_azimuth_deg, told_elevation_deg: (N,) what the axes are told; None: just what they do.
        over: the same over the top, where the axes follow otherwise there; None: alike.
    """

    azimuth_deg: Floats
    elevation_deg: Floats
    peak_azimuth_rate_deg_s: float
    slow: Flags
    told_azimuth_deg: Floats | None = None
    told_elevation_deg: Floats | None = None
    over: Steered | None = None

    @property
    def curves(self) -> Floats:
        """(C, N) the angles the axes follow, in either posture."""
        both = [self] if self.over is None else [self, self.over]
        return np.concatenate([np.stack([one.azimuth_deg, one.elevation_deg]) for one in both])

    def is_exactly(self, track: MountTrack) -> bool:
        """Upright the axes are on the satellite all along a pass."""
        return np.array_equal(self.azimuth_deg, track.azimuth_deg) and np.array_equal(
            self.elevation_deg, track.elevation_deg
        )

    def at(self, kept: Indices) -> Steered:
        """The same at some of the samples (K,) only."""
        told = [None if t is None else t[kept] for t in (self.told_azimuth_deg, self.told_elevation_deg)]
        return Steered(
            azimuth_deg=self.azimuth_deg[kept],
            elevation_deg=self.elevation_deg[kept],
            peak_azimuth_rate_deg_s=self.peak_azimuth_rate_deg_s,
            slow=self.slow[kept],
            told_azimuth_deg=told[0],
            told_elevation_deg=told[1],
            over=None if self.over is None else self.over.at(kept),
        )

    def in_posture(self, posture: Posture) -> Steered:
        """The same pass followed in this posture."""
        return self.over if posture == OVER_THE_TOP and self.over is not None else self


def steer(track: MountTrack, mount: Mount, steering: Steering = "led") -> Steered:
    """Where the axes are along a pass that is steered like this, stops not counted.

    Clipping to the guards comes afterwards (`core.mount.drive.aim`), so that one simulation serves every
    seat: an axis that is brought up by a guard is taken to come off it as if it had followed beyond.
    """
    told = _told(track, mount, steering, UPRIGHT)
    if is_ideal(mount):
        return told
    upright = _achieved(track, told, mount, UPRIGHT)
    if not turns_over_differ(mount):
        return upright
    over = _told(track, mount, steering, OVER_THE_TOP)
    return replace(upright, over=_achieved(track, over, mount, OVER_THE_TOP))


def steer_all(
    tracks: tuple[MountTrack, ...],
    mount: Mount,
    steering: Steering = "led",
    progress: Progress = no_progress,
) -> tuple[Steered, ...]:
    """`steer` of each pass. Only the axes and the drive are looked at, so it holds for every seat.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    return tuple(steer(track, mount, steering) for track in reported(tracks, "following", progress))


def _achieved(track: MountTrack, told: Steered, mount: Mount, posture: Posture) -> Steered:
    """What a measured rotator makes of it."""
    azimuth, elevation = follow_in(posture, track.utc_s, told.azimuth_deg, told.elevation_deg, mount)
    return Steered(
        azimuth_deg=azimuth,
        elevation_deg=elevation,
        peak_azimuth_rate_deg_s=told.peak_azimuth_rate_deg_s,
        slow=_not_on(track, azimuth, elevation),
        told_azimuth_deg=told.azimuth_deg,
        told_elevation_deg=told.elevation_deg,
    )


def _not_on(track: MountTrack, azimuth: Floats, elevation: Floats) -> Flags:
    away = np.maximum(np.abs(azimuth - track.azimuth_deg), np.abs(elevation - track.elevation_deg))
    return np.asarray(away > 1e-9)


def fastest(track: MountTrack, axis: Axis) -> tuple[float, float]:
    """Azimuth's rate where it comes nearest to or furthest beyond what the axis does in that sense, and that.

    Both unsigned, degrees a second.
    """
    rates = axis.rates_deg_s
    rate = np.diff(track.azimuth_deg) / np.diff(track.utc_s)
    most = np.where(rate >= 0.0, rates[0], rates[1])
    if not rate.size:
        return 0.0, rates[0]
    index = int(np.argmax(np.abs(rate) / most))
    return abs(float(rate[index])), float(most[index])


def _above(rate: Floats, rates: Rates) -> Flags:
    """Where a signed rate is more than the axis can do in that sense."""
    return np.asarray((rate > rates[0]) | (rate < -rates[1]))


def _told(track: MountTrack, mount: Mount, steering: Steering, posture: Posture) -> Steered:
    """What the axes are told, their rates counted."""
    steps_s = np.diff(track.utc_s)
    rate = np.diff(track.azimuth_deg) / steps_s
    azimuth, elevation = track.azimuth_deg, track.elevation_deg
    turning, tipping = mount.azimuth.rates_deg_s, mount.elevation.rates_deg_s
    if posture == OVER_THE_TOP:
        tipping = tipping[1], tipping[0]
    too_fast = bool(_above(rate, turning).any())
    if too_fast and steering == "held":
        azimuth, elevation = _held(track)
    elif too_fast:
        azimuth = (limited if steering == "chased" else _led)(track.utc_s, azimuth, turning)
    if _above(np.diff(elevation) / steps_s, tipping).any():
        elevation = (limited if steering == "chased" else _led)(track.utc_s, elevation, tipping)
    peak_rate = float(np.abs(rate).max()) if rate.size else 0.0
    return Steered(azimuth, elevation, peak_rate, _not_on(track, azimuth, elevation))


def _led(utc_s: Floats, wanted: Floats, rates: Rates) -> Floats:
    """Lines of the axis' slopes through the fastest moments, each to where it meets the wanted curve."""
    led = wanted.copy()
    rate = np.diff(wanted) / np.diff(utc_s)
    open_ = _above(rate, rates)
    while open_.any():
        fastest = int(np.argmax(np.where(open_, np.abs(rate), 0.0)))
        sense = float(np.sign(rate[fastest]))
        slope = rates[0] if sense > 0.0 else -rates[1]
        middle_s = _fastest_moment(utc_s, np.abs(rate), fastest)
        middle = float(np.interp(middle_s, utc_s, wanted))
        ahead = sense * (middle + slope * (utc_s - middle_s) - wanted)
        # The middle itself lies on the line: only what is strictly before and after it can meet it.
        left = int(np.searchsorted(utc_s, middle_s - 1e-6))
        right = int(np.searchsorted(utc_s, middle_s + 1e-6))
        before = np.flatnonzero(ahead[:left] <= 0.0)
        after = np.flatnonzero(ahead[right:] >= 0.0)
        first = int(before[-1]) + 1 if before.size else 0
        last = right + int(after[0]) - 1 if after.size else utc_s.size - 1
        led[first : last + 1] = middle + slope * (utc_s[first : last + 1] - middle_s)
        open_[max(first - 1, 0) : last + 1] = False
        open_[fastest] = False
    # Lines of neighbouring fast moments may not join (elevation up and down again): no axis can jump.
    return limited(utc_s, led, rates)


def _fastest_moment(utc_s: Floats, speed: Floats, fastest: int) -> float:
    """Vertex of the parabola through the speeds of three intervals about the fastest one."""
    middles = (utc_s[:-1] + utc_s[1:]) / 2.0
    here = float(middles[fastest])
    if fastest in {0, speed.size - 1}:
        return here
    left, right = middles[fastest - 1] - here, middles[fastest + 1] - here
    fall_left, fall_right = speed[fastest - 1] - speed[fastest], speed[fastest + 1] - speed[fastest]
    curvature = (fall_right / right - fall_left / left) / (right - left)
    if curvature >= 0.0:
        return here
    slope = fall_right / right - curvature * right
    return here + float(np.clip(-slope / (2.0 * curvature), left / 2.0, right / 2.0))


def limited(utc_s: Floats, wanted: Floats, rates: Rates) -> Floats:
    """(N,) an axis that starts on the wanted path (N,) and runs after it, never faster than it can."""
    steps_s = np.diff(utc_s)
    up, down = (rates[0] * steps_s).tolist(), (rates[1] * steps_s).tolist()
    place = float(wanted[0])
    chased = [place]
    for index, target in enumerate(wanted[1:].tolist()):
        place += min(max(target - place, -down[index]), up[index])
        chased.append(place)
    return np.array(chased)


def limited_together(utc_s: Floats, wanted: Floats, rates: Rates) -> Floats:
    """(K, N) as `limited`, for K wanted paths (K, N) at once."""
    steps_s = np.diff(utc_s)
    up, down = (rates[0] * steps_s).tolist(), (-rates[1] * steps_s).tolist()
    along = np.ascontiguousarray(wanted.T)
    places = np.empty_like(along)
    place = places[0] = along[0]
    for index, (most, least) in enumerate(zip(up, down, strict=True), start=1):
        places[index] = place = place + np.minimum(np.maximum(along[index] - place, least), most)
    return np.asarray(places.T)


def _held(track: MountTrack) -> tuple[Floats, Floats]:
    """Azimuth held where the worst error over the mask is least; elevation in that plane, 0..180.

    In the plane: e = atan2(sin E, cos E cos(A - A_p)), error asin |cos E sin(A - A_p)|.
    """
    here = track.worked if track.worked.any() else np.ones(track.utc_s.size, dtype=bool)
    azimuth, elevation = np.radians(track.azimuth_deg), np.radians(track.elevation_deg)

    def worst(plane_deg: Floats) -> Floats:
        apart = azimuth[here] - np.radians(plane_deg)[:, None]
        return np.asarray(np.abs(np.cos(elevation[here]) * np.sin(apart)).max(axis=1))

    centre, width = float(track.azimuth_deg[0]), 180.0
    for _ in range(5):
        planes = centre + np.linspace(-width / 2, width / 2, 73)
        centre, width = float(planes[int(np.argmin(worst(planes)))]), width / 18.0
    # The plane is a line: the same line half a turn on starts with elevation below 90.
    if np.cos(azimuth[0] - np.radians(centre)) < 0.0:
        centre += 180.0
    apart = azimuth - np.radians(centre)
    axis = np.degrees(np.arctan2(np.sin(elevation), np.cos(elevation) * np.cos(apart)))
    return np.full(azimuth.size, centre), axis
