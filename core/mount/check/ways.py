"""Ways: in which postures and turns the mount can follow a pass, clear or by resting.

A pass is unwrapped in the mount frame once per tilt. After that everything about a keyway bearing is
arc arithmetic: a pass whose azimuth runs from A_min to A_max is clear where
zeta + g <= A_min and A_max <= zeta + T - g (mod 360); over the top the same, turned by 180.

Resting has a closed form too. With the satellite at elevation E, the elevation axis held at E_c inside
its range, and azimuth held d away, the angle off boresight is, by the haversine formula,
sin^2(off/2) = sin^2((E - E_c)/2) + cos E cos E_c sin^2(d/2); so each moment allows azimuth to lag by
D = 2 asin sqrt((sin^2(h/2) - sin^2((E - E_c)/2)) / (cos E cos E_c)), h half the beamwidth. The pass
holds where zeta + T - g >= max(A - D) and zeta + g <= min(A + D).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Floats, Indices
from core.base.units import INSIDE_DEG
from core.mount.check.ends import rest_of
from core.mount.drive.aim import aim, seconds_off
from core.mount.drive.motion import Steered, steer
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import (
    Angle,
    axis_elevation_deg,
    guarded_travel_deg,
    posture_shift_deg,
    zeta_deg,
)
from core.mount.model.results import Pointing, Strike, Way
from core.mount.model.station import POSTURES, UPRIGHT, ElevationAxis, Mount, Posture, Station


@dataclass(frozen=True)
class Reach:
    """What one posture needs of the azimuth axis for one pass, before zeta is known.

    Attributes:
        posture: upright or over the top.
        possible: the posture exists on this mount.
        elevation_clear: elevation stays inside its range from AOS to LOS.
        low_deg, high_deg: least and greatest azimuth the axis must point to (over the top: azimuth + 180).
        rest_low_deg, rest_high_deg: the same for resting: the guarded travel need only span these;
            low may lie above high (then nearly any seat holds). Infinite where resting cannot help.
    """

    posture: Posture
    possible: bool
    elevation_clear: bool
    low_deg: float
    high_deg: float
    rest_low_deg: float
    rest_high_deg: float

    @property
    def can_rest(self) -> bool:
        """True where some azimuth travel would hold the pass, elevation being what it is."""
        return self.possible and self.rest_high_deg < math.inf


def reach_of(track: MountTrack, posture: Posture, elevation: ElevationAxis, beam_limit: float) -> Reach:
    """What a posture needs for a pass. Pure arithmetic on the track; zeta and travel do not enter.

    Args:
        track: the pass in the mount frame.
        posture: upright or over the top.
        elevation: the elevation axis' range.
        beam_limit: half the narrowest beamwidth, degrees.
    """
    possible = posture == UPRIGHT or elevation.maximum_deg > 90.0
    shift = posture_shift_deg(posture)
    axis = axis_elevation_deg(track.elevation_deg, posture)
    low_e, high_e = _least(track.utc_s, axis), -_least(track.utc_s, -axis)
    inside = low_e >= elevation.minimum_deg - INSIDE_DEG and high_e <= elevation.maximum_deg + INSIDE_DEG
    azimuth = track.azimuth_deg + shift
    rest_low, rest_high = math.inf, math.inf
    if possible:
        rest_low, rest_high = _rest_span(track, posture, elevation, beam_limit)
    return Reach(
        posture=posture,
        possible=possible,
        elevation_clear=possible and inside,
        low_deg=_least(track.utc_s, azimuth),
        high_deg=-_least(track.utc_s, -azimuth),
        rest_low_deg=rest_low + shift,
        rest_high_deg=rest_high + shift,
    )


def reaches_of(
    tracks: tuple[MountTrack, ...], elevation: ElevationAxis, beam_limit: float
) -> tuple[Mapping[Posture, Reach], ...]:
    """`reach_of` each pass in each posture: wherever the mount is seated."""
    return tuple({one: reach_of(track, one, elevation, beam_limit) for one in POSTURES} for track in tracks)


def _rest_span(
    track: MountTrack, posture: Posture, elevation: ElevationAxis, beam_limit: float
) -> tuple[float, float]:
    """max(A - D) and min(A + D) over the worked moments; (-inf, inf) made impossible is (inf, inf)."""
    if not track.worked.any():
        return math.inf, math.inf
    allowed = _allowed_lag_deg(track.elevation_deg, posture, elevation, beam_limit)
    lag = np.where(track.worked, allowed, np.inf)  # what is not worked allows any
    if lag.min() < 0.0:
        return math.inf, math.inf
    azimuth = track.azimuth_deg
    return -_least(track.utc_s, lag - azimuth), _least(track.utc_s, azimuth + lag)


def _allowed_lag_deg(
    elevation_deg: Floats, posture: Posture, elevation: ElevationAxis, beam_limit: float
) -> Floats:
    """D of the module's docstring, (N,): 1e6 where any azimuth will do, -1 where none will."""
    axis = axis_elevation_deg(elevation_deg, posture)
    held = np.clip(axis, elevation.minimum_deg, elevation.maximum_deg)
    spare = np.full(axis.size, np.sin(np.radians(beam_limit) / 2) ** 2)
    width = np.cos(np.radians(axis)) ** 2
    out = np.flatnonzero(axis != held)
    if out.size:
        spare[out] -= np.sin(np.radians(axis[out] - held[out]) / 2) ** 2
        width[out] = np.cos(np.radians(axis[out])) * np.cos(np.radians(held[out]))
    ratio = np.where(spare >= width, 1.0, spare / np.where(width > 0.0, width, 1.0))
    lag = np.degrees(2.0 * np.arcsin(np.sqrt(np.clip(ratio, 0.0, 1.0))))
    lag = np.where(ratio >= 1.0, 1e6, lag)
    return np.where(spare < 0.0, -1.0, lag)


def _least(utc_s: Floats, values: Floats) -> float:
    """Least value of a smooth curve through samples (N,): the vertex of the parabola about the lowest.

    Infinite samples are moments that do not count.
    """
    index = int(values.argmin())
    if index in {0, values.size - 1}:
        return float(values[index])
    about = slice(index - 1, index + 2)
    before, middle, after = map(float, utc_s[about])
    higher_left, lowest, higher_right = map(float, values[about])
    left, right = before - middle, after - middle
    rise_left, rise_right = higher_left - lowest, higher_right - lowest
    if rise_left > 90.0 or rise_right > 90.0 or left == 0.0 or right == 0.0:
        return lowest
    curvature = (rise_right / right - rise_left / left) / (right - left)
    slope = rise_right / right - curvature * right
    if curvature <= 0.0:
        return lowest
    return lowest - float(slope**2) / (4.0 * curvature)


def holding_turns(reach: Reach, zeta: float, mount: Mount) -> list[tuple[int, bool]]:
    """Offsets k (m = azimuth - zeta + 360 k) in which the pass holds, each with True where it is clear."""
    if not reach.possible:
        return []
    guard, top = guarded_travel_deg(mount.azimuth)
    low, high = reach.low_deg - zeta, reach.high_deg - zeta
    first = math.ceil((guard - 180.0 - high) / 360.0)
    last = math.floor((top + 180.0 - low) / 360.0)
    found = []
    for k in range(first, last + 1):
        inside = low + 360.0 * k >= guard - INSIDE_DEG and high + 360.0 * k <= top + INSIDE_DEG
        clear = inside and reach.elevation_clear
        rests = (
            reach.can_rest
            and reach.rest_low_deg - zeta + 360.0 * k <= top + INSIDE_DEG
            and reach.rest_high_deg - zeta + 360.0 * k >= guard - INSIDE_DEG
        )
        if clear or rests:
            found.append((k, clear))
    return found


def ways_of(
    track: MountTrack,
    station: Station,
    steered: Steered | None = None,
    reaches: Mapping[Posture, Reach] | None = None,
) -> tuple[Way, ...]:
    """The ways of `pointed_ways` alone."""
    return tuple(way for way, _pointing in pointed_ways(track, station, steered, reaches))


def pointed_ways(
    track: MountTrack,
    station: Station,
    steered: Steered | None = None,
    reaches: Mapping[Posture, Reach] | None = None,
    postures: tuple[Posture, ...] = POSTURES,
) -> tuple[tuple[Way, Pointing], ...]:
    """Every way in which the pass holds, with where the axes then are; upright first, then by turn.

    A way that would strike something is none (`struck_ways`).

    Args:
        track, station: the pass, and what it is worked with.
        steered, reaches: `steer` of the pass, and `reach_of` it in each posture, where they are at hand.
        postures: of these only.
    """
    mount, limit = station.mount, station.beam_limit_deg
    steered = steer(track, mount, station.steering) if steered is None else steered
    ways: list[tuple[Way, Pointing]] = []
    for posture in postures:
        reach = reaches[posture] if reaches else reach_of(track, posture, mount.elevation, limit)
        ways += [
            _way(track, steered, station, reach, k, clear)
            for k, clear in holding_turns(reach, zeta_deg(mount, posture), mount)
        ]
    return tuple(ways) if station.clearance is None else _not_struck(ways, station)


def _not_struck(ways: list[tuple[Way, Pointing]], station: Station) -> tuple[tuple[Way, Pointing], ...]:
    from core.mount.check.strikes import barring_of  # a start without lengths goes without it

    barring = barring_of(station)
    return tuple(one for one in ways if barring is None or not barring.strikes(one[1]))


def struck_ways(
    track: MountTrack, station: Station, steered: Steered | None = None
) -> tuple[tuple[Way, Strike], ...]:
    """The ways in which the pass would hold, but for what they strike; upright first, then by turn."""
    from core.mount.check.strikes import barring_of, strike_of

    barring, lengths = barring_of(station), station.clearance
    if barring is None or lengths is None:
        return ()
    free = replace(station, clearance=None)
    found = []
    for way, pointing in pointed_ways(track, free, steered):
        strike = strike_of(pointing, barring, lengths, (way.posture, way.turn))
        if strike is not None:
            found.append((way, strike))
    return tuple(found)


def possible_postures(mount: Mount) -> tuple[Posture, ...]:
    """Upright always; over the top needs an elevation range above 90."""
    return POSTURES if mount.elevation.maximum_deg > 90.0 else POSTURES[:1]


def turns_in_travel(track: MountTrack, mount: Mount, zetas: Floats, posture: Posture) -> range:
    """Every k with which some of the pass lies inside the guarded travel at some of the seats."""
    ends = float(track.azimuth_deg.min()), float(track.azimuth_deg.max())
    first, last = turns_at(*ends, mount, zetas, posture)
    return range(int(first.min()), int(last.max()) + 1)


def turns_at(
    low_deg: Floats | float, high_deg: Floats | float, mount: Mount, zetas: Floats, posture: Posture
) -> tuple[Indices, Indices]:
    """(Z,) first and (Z,) last k with which some of low to high lies inside the guarded travel."""
    guard, top = guarded_travel_deg(mount.azimuth)
    shift = posture_shift_deg(posture) - zetas
    first, last = (guard - high_deg - shift) / 360.0, (top - low_deg - shift) / 360.0
    return np.ceil(first).astype(np.intp), np.floor(last).astype(np.intp)


def offset_deg(mount: Mount, posture: Posture, k: int) -> float:
    """What to add to the unwrapped azimuth to get m in this posture: shift - zeta + 360 k."""
    return offsets_deg(zeta_deg(mount, posture), posture, k)


def offsets_deg(zeta: Angle, posture: Posture, k: int) -> Angle:
    """The same where boresight, on the counter-clockwise stop, looks toward zeta: one bearing or (Z,)."""
    return posture_shift_deg(posture) - zeta + 360.0 * k


def turn_of(track: MountTrack, offset: float) -> int:
    """The turn a pass begins in with that offset: the floor of m / 360 at AOS, the satellite's own m."""
    return math.floor((float(track.azimuth_deg[0]) + offset + INSIDE_DEG) / 360.0)


def offset_in_turn(track: MountTrack, mount: Mount, posture: Posture, turn: int) -> float:
    """The offset with which a pass begins in that turn; `turn_of` the other way round."""
    plain = offset_deg(mount, posture, 0)
    return plain + 360.0 * (turn - turn_of(track, plain))


def pointing_of_way(
    track: MountTrack, steered: Steered, mount: Mount, posture: Posture, offset: float
) -> Pointing:
    """Where the axes are along a pass that stays in one way from AOS to LOS, guards and limits counted."""
    aimed = aim(track, steered, posture, np.array([offset]), mount)
    still = np.zeros(track.utc_s.size, dtype=bool)
    return Pointing(track.utc_s, aimed.m_deg[0], aimed.e_deg[0], aimed.off_deg[0], track.worked, still)


def _way(
    track: MountTrack,
    steered: Steered,
    station: Station,
    reach: Reach,
    k: int,
    clear: bool,
) -> tuple[Way, Pointing]:
    """The figures of one way that holds, and where the axes are."""
    mount, limit = station.mount, station.beam_limit_deg
    offset = offset_deg(mount, reach.posture, k)
    pointing = pointing_of_way(track, steered, mount, reach.posture, offset)
    m_deg, e_deg = pointing.m_deg, pointing.e_deg
    turning = offset - posture_shift_deg(reach.posture)
    low, high = reach.low_deg + turning, reach.high_deg + turning
    guard, top = guarded_travel_deg(mount.azimuth)
    margin = min(low - guard, top - high)
    m_min, m_max = min(max(low, guard), top), max(min(high, top), guard)
    if steered.in_posture(reach.posture).slow.any():  # the axis is elsewhere than the satellite
        m_min, m_max = float(m_deg.min()), float(m_deg.max())
        margin = min(m_min - guard, top - m_max) if clear else margin
    way = Way(
        posture=reach.posture,
        turn=turn_of(track, offset),
        clear=clear,
        rests=not clear,
        m_min_deg=m_min,
        m_max_deg=m_max,
        e_min_deg=float(e_deg.min()),
        e_max_deg=float(e_deg.max()),
        m_aos_deg=float(m_deg[0]),
        m_los_deg=float(m_deg[-1]),
        e_aos_deg=float(e_deg[0]),
        e_los_deg=float(e_deg[-1]),
        peak_azimuth_rate_deg_s=steered.peak_azimuth_rate_deg_s,
        seconds_lost=float(seconds_off(track, pointing.off_deg, limit)),
        margin_deg=margin,
        rest=None if clear else rest_of(track, reach.posture, offset, station),
    )
    return way, pointing
