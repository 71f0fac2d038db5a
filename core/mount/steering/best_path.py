"""The best path of a pass under the two rate limits: least worst error on the sky, then least motion.

Where boresight may look over the top as well, the elevation axis can always be set so that what is left is
the satellite's distance from the plane the azimuth axis stands for: the error is asin |cos E sin(m - A)|, or
90 - E with the axis at the zenith (spherical trigonometry: the least distance of a point from a great circle
through the zenith). So the least worst error is found for azimuth alone, as the least bound whose tube
(`tubes`) does not break, by bisection; the elevation axis then gets a tube of its own beside that path.

An elevation axis that is too slow, or has too little range, breaks its tube at that bound. The bound stays a
proof of how much better any path could be, and both axes are searched together (`grid_search`); the path
found is then smoothed, one axis in the tube that the other leaves it, in turn.

What is found is compared with the paths it is given (chased, led, held, through the zenith), and the best of
all is told: a grid alone would now and then be beaten by a plain rule.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, unwrap_deg
from core.mount.drive.aim import off_boresight_deg
from core.mount.drive.thinned import telling_samples
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.station import Mount
from core.mount.steering.grid_search import AxisBounds, Target, search_grid
from core.mount.steering.tubes import AzimuthTube, azimuth_beside, elevation_beside

#: Moments of the tubes are taken from those this far apart.
_STEP_S = 0.5
_MOST_MOMENTS = 6000
#: The bound is found to this.
_TOLERANCE_DEG = 0.005
#: No path is looked for that is better than another by no more than this.
_NEAR_ENOUGH_DEG = 0.1
#: Times each axis is smoothed beside the other after a search of both.
_SMOOTHINGS = 3
#: Paths are told on the tubes' moments; the worst error between them is no more than this above.
_SLACK_DEG = 0.002


@dataclass(frozen=True, eq=False)
class BestPath:
    """The best path of a pass, in one way at AOS.

    Attributes:
        utc_s: (N,) the moments that tell the pass; between them all is straight.
        m_deg, e_deg: (N,) the axes; elevation may run through the zenith to over the top.
        off_deg: (N,) error on the sky.
        worst_deg: the greatest of them over the mask.
        proven_deg: no path under the azimuth rate and between the stops has a lesser worst error.
        motion_deg: what both axes move in all.
    """

    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    off_deg: Floats
    worst_deg: float
    proven_deg: float
    motion_deg: float


def best_path(
    track: MountTrack,
    mount: Mount,
    offset_deg: float,
    over_the_top: bool,
    others: tuple[tuple[Floats, Floats], ...] = (),
) -> BestPath | None:
    """The best path that begins in a way; None where there is none between the guards.

    Args:
        track: the pass in the mount frame.
        mount: rates, guards and elevation range; nothing else of the motion is counted.
        offset_deg: what to add to azimuth to get m in that way (180 of posture included).
        over_the_top: the way's posture at AOS.
        others: (m, e) of paths to compare with, each (N,) at the track's moments, within rates and guards.
    """
    target = _target(track, offset_deg - (180.0 if over_the_top else 0.0))
    start = float(target.azimuth_deg[0]) + (180.0 if over_the_top else 0.0)
    azimuth = AzimuthTube(target, mount, start)
    proven = _least(azimuth.holds, 0.0, 90.0)
    if proven is None:
        return None
    paths = [tuple(np.interp(target.utc_s, track.utc_s, axis) for axis in other) for other in others]
    found = [_told(target, m_deg, e_deg, proven) for m_deg, e_deg in paths]
    bound = proven + _SLACK_DEG
    for lazy in (True, False):
        m_deg = azimuth.path(bound, lazy)
        e_deg = None if m_deg is None else elevation_beside(target, mount, m_deg, bound)
        if m_deg is not None and e_deg is None:
            e_deg = _least_elevation(target, mount, m_deg)
        if m_deg is not None and e_deg is not None:
            found.append(_told(target, m_deg, e_deg, proven))
    if not found or min(path.worst_deg for path in found) > proven + _NEAR_ENOUGH_DEG:
        found += _both_searched(target, mount, start, found, proven)
    # The least worst error first; what is as good to the tolerance by the least motion.
    least = min((path.worst_deg for path in found), default=0.0) + 2.0 * (_TOLERANCE_DEG + _SLACK_DEG)
    good = [path for path in found if path.worst_deg <= least]
    return min(good, key=lambda path: path.motion_deg, default=None)


def _told(target: Target, m_deg: Floats, e_deg: Floats, proven: float) -> BestPath:
    off = off_boresight_deg(m_deg - target.azimuth_deg, e_deg, target.elevation_deg)
    motion = float(np.abs(np.diff(m_deg)).sum() + np.abs(np.diff(e_deg)).sum())
    worst = float(off[target.worked].max(initial=0.0))
    return BestPath(target.utc_s, m_deg, e_deg, off, worst, min(proven, worst), motion)


def _both_searched(
    target: Target, mount: Mount, start: float, found: list[BestPath], proven: float
) -> list[BestPath]:
    """The path of the grid search, smoothed; none where the grid holds nothing better."""
    enough = min((path.worst_deg for path in found), default=90.0) + _NEAR_ENOUGH_DEG
    bounds = AxisBounds(
        guarded_travel_deg(mount.azimuth),
        (mount.elevation.minimum_deg, mount.elevation.maximum_deg),
        mount.azimuth.rates_deg_s,
        mount.elevation.rates_deg_s,
    )
    searched = search_grid(target, bounds, start, enough)
    if searched is None:
        return []
    m_deg, e_deg = searched
    better = [_told(target, m_deg, e_deg, proven)]
    for _ in range(_SMOOTHINGS):
        raised = _least_elevation(target, mount, m_deg)
        e_deg = e_deg if raised is None else raised
        turned = _least_azimuth(target, mount, m_deg, e_deg)
        m_deg = m_deg if turned is None else turned
        better.append(_told(target, m_deg, e_deg, proven))
    return better


def _least(holds: Callable[[float], bool], low: float, high: float) -> float | None:
    """The least bound that holds, to the tolerance from above; None where not even ``high`` does."""
    if holds(low):
        return low
    if not holds(high):
        return None
    while high - low > _TOLERANCE_DEG:
        # Errors are small as a rule: half of the way in the logarithm first, then plainly.
        middle = math.sqrt(max(low, 0.02) * high) if high > 4.0 * max(low, 0.02) else (low + high) / 2.0
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def _least_elevation(target: Target, mount: Mount, m_deg: Floats) -> Floats | None:
    """The elevation path of least worst error beside an azimuth path; None where none is inside the range."""
    bound = _least(lambda at: elevation_beside(target, mount, m_deg, at) is not None, 0.0, 180.0)
    return None if bound is None else elevation_beside(target, mount, m_deg, bound + _SLACK_DEG)


def _least_azimuth(target: Target, mount: Mount, m_deg: Floats, e_deg: Floats) -> Floats | None:
    """The azimuth path of least worst error beside an elevation path, near the given one."""
    bound = _least(lambda at: azimuth_beside(target, mount, (m_deg, e_deg), at) is not None, 0.0, 180.0)
    return None if bound is None else azimuth_beside(target, mount, (m_deg, e_deg), bound + _SLACK_DEG)


def _target(track: MountTrack, offset_deg: float) -> Target:
    """The moments that tell the pass, of the track's own and even ones between on the line through space."""
    first, last = float(track.utc_s[0]), float(track.utc_s[-1])
    count = min(max(math.ceil((last - first) / _STEP_S), 1), _MOST_MOMENTS)
    utc_s = np.union1d(np.linspace(first, last, count + 1), track.utc_s)
    azimuth, elevation = np.radians(track.azimuth_deg), np.radians(track.elevation_deg)
    parts = (np.sin(azimuth) * np.cos(elevation), np.cos(azimuth) * np.cos(elevation), np.sin(elevation))
    east, north, up = (np.interp(utc_s, track.utc_s, part) for part in parts)
    turned = unwrap_deg(np.degrees(np.arctan2(east, north)))
    whole = 360.0 * np.round((track.azimuth_deg[0] - turned[0]) / 360.0)
    nearest = np.clip(np.searchsorted(track.utc_s, utc_s), 0, track.utc_s.size - 1)
    every = MountTrack(
        utc_s=utc_s,
        azimuth_deg=turned + whole + offset_deg,
        elevation_deg=np.degrees(np.arctan2(up, np.hypot(east, north))),
        interval_s=np.diff(utc_s),
        worked=track.worked[nearest] | track.worked[np.maximum(nearest - 1, 0)],
    )
    nothing = np.zeros((0, utc_s.size))
    kept = telling_samples(every, nothing, nothing, _SLACK_DEG)
    return Target(utc_s[kept], every.azimuth_deg[kept], every.elevation_deg[kept], every.worked[kept])
