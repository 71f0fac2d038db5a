"""Which way the azimuth axis turns along a pass, swing by swing, and how far."""

from __future__ import annotations

from itertools import pairwise

from core.base.angles import Floats
from core.mount.evening.drawn import DrawnPass
from core.mount.model.results import PassCheck


def swings(drawn: DrawnPass, check: PassCheck, hysteresis_deg: float = 1.0) -> list[tuple[float, float]]:
    """The azimuth axis' swings while it follows: (degrees, clockwise positive; end in POSIX seconds).

    Reversals of less than ``hysteresis_deg`` are not told. A split's move is a swing of its own.
    """
    if check.pointing is None:
        return []
    inside = (drawn.utc_s >= drawn.start_utc_s - 1e-6) & (drawn.utc_s <= drawn.end_utc_s + 1e-6)
    utc_s, m_deg = drawn.utc_s[inside], drawn.m_deg[inside]
    if check.split is None:
        return _swings(utc_s, m_deg, hysteresis_deg)
    before, after = utc_s <= check.split.start_utc_s + 1e-6, utc_s >= check.split.end_utc_s - 1e-6
    first = _swings(utc_s[before], m_deg[before], hysteresis_deg)
    second = _swings(utc_s[after], m_deg[after], hysteresis_deg)
    move = (check.split.m_to_deg - check.split.m_from_deg, check.split.end_utc_s)
    return [*first, move, *second]


def _swings(utc_s: Floats, m_deg: Floats, hysteresis_deg: float) -> list[tuple[float, float]]:
    """Turning points that stand out by the hysteresis, one scan."""
    if m_deg.size < 2:
        return []
    turning = [0]
    far = 0
    places: list[float] = m_deg.tolist()  # one at a time, which is slow in an array
    for index, place in enumerate(places):
        out = places[far] - places[turning[-1]]
        if out * (place - places[far]) >= 0.0:
            far = index
        elif abs(place - places[far]) >= hysteresis_deg:
            if abs(out) >= hysteresis_deg:
                turning.append(far)
            far = index
    turning.append(far)
    return [
        (float(m_deg[b] - m_deg[a]), float(utc_s[b]))
        for a, b in pairwise(turning)
        if abs(m_deg[b] - m_deg[a]) >= hysteresis_deg / 2.0
    ]
