"""Whether the Sun shines on a satellite, by Skyfield's ``is_sunlit`` and the ephemeris DE421.

The shadow is that of a ball of the Earth's equatorial radius (6378.1366 km in Skyfield), the Sun a point at
its centre's geometric place: in shadow is what the ball hides the Sun's centre from. Left out are the half
shadow (the Sun is half a degree wide: 4 s either way for a low satellite that goes straight in), the
flattening (up to 21 km: 3 s) and the air. So the light fades within some 10 s of the moment told, and takes
longer where the shadow is only grazed or the satellite is high up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.base.angles import Flags, Floats
from core.base.times import to_datetime
from core.base.units import DAY_S
from core.passes.frames import EarthTurn, Observer, builtin_timescale, teme_position, teme_to_gcrs
from core.passes.stays import Stay, stay_at
from core.place.ephemeris import ephemeris
from core.place.site import Site

#: First looks, of which no two further apart; a shadow grazed for less is not found.
_STEP_S = 10.0
#: Looks within a step in which the light changes, and between which moments it is let be.
_FINE, _RESOLVED_S = 41, 0.3
#: Looks at one span; a span of days is looked at less often.
_MOST_LOOKS = 2000


@dataclass(frozen=True)
class Light:
    """Sunlight on a satellite over a span of time, POSIX seconds.

    Attributes:
        start_utc_s, end_utc_s: the span.
        lit_at_start: the Sun shines on it at the start.
        changes_utc_s: moments at which that changes, rising, to 0.15 s of the model above.
    """

    start_utc_s: float
    end_utc_s: float
    lit_at_start: bool
    changes_utc_s: tuple[float, ...]

    @property
    def sunlit(self) -> tuple[tuple[float, float], ...]:
        """The parts of the span in sunlight: (start, end) each."""
        ends = tuple(pairwise((self.start_utc_s, *self.changes_utc_s, self.end_utc_s)))
        return ends[0 if self.lit_at_start else 1 :: 2]


def light_on(site: Site, spans: Sequence[tuple[Stay, float, float]]) -> tuple[Light | None, ...]:
    """Sunlight over spans of time (start, end) of stays, all at once; None beyond the ephemeris.

    The positions are read off the stays' paths: nothing is propagated.

    Raises:
        ValueRangeError: a moment lies outside its stay.
    """
    from skyfield.errors import EphemerisRangeError

    if not spans:
        return ()
    try:
        return _light_on(Observer.of_site(site), spans)
    except EphemerisRangeError:
        return (None,) * len(spans)


def _light_on(observer: Observer, spans: Sequence[tuple[Stay, float, float]]) -> tuple[Light, ...]:
    looks = [_looks(start, end) for _, start, end in spans]
    shadow = _Shadow(observer, min(times[0] for times in looks), max(times[-1] for times in looks))
    lit = shadow.lit([(stay, times) for (stay, _, _), times in zip(spans, looks, strict=True)])
    changes: list[list[float]] = [[] for _ in spans]
    for span, moment_s in shadow.changes(_brackets(spans, looks, lit)):
        changes[span].append(moment_s)
    return tuple(
        Light(start, end, bool(flags[0]), tuple(found))
        for (_, start, end), flags, found in zip(spans, lit, changes, strict=True)
    )


def _brackets(
    spans: Sequence[tuple[Stay, float, float]], looks: Sequence[Floats], lit: Sequence[Flags]
) -> list[_Bracket]:
    return [
        _Bracket(number, stay, float(times[place]), float(times[place + 1]))
        for number, ((stay, _, _), times, flags) in enumerate(zip(spans, looks, lit, strict=True))
        for place in np.flatnonzero(flags[:-1] != flags[1:])
    ]


def _looks(start_utc_s: float, end_utc_s: float) -> Floats:
    count = int(np.ceil((end_utc_s - start_utc_s) / _STEP_S)) + 1
    return np.linspace(start_utc_s, end_utc_s, min(max(count, 2), _MOST_LOOKS))


@dataclass(frozen=True, eq=False)
class _Bracket:
    """Two moments, POSIX seconds, between which the light on a stay changes; the number of its span."""

    number: int
    stay: Stay
    first_s: float
    last_s: float


class _Shadow:
    """The Earth's shadow over one window."""

    def __init__(self, observer: Observer, start_utc_s: float, end_utc_s: float) -> None:
        middle_s = 0.5 * (start_utc_s + end_utc_s)
        self._observer, self._turn = observer, EarthTurn.over(start_utc_s, end_utc_s)
        self._to_gcrs, self._middle_s = teme_to_gcrs(middle_s), middle_s
        # One moment is asked for its leap seconds, for all: a second more moves the Sun by 0.04 arc seconds.
        self._middle = builtin_timescale().from_datetime(to_datetime(middle_s))

    def lit(self, asked: Sequence[tuple[Stay, Floats]]) -> list[Flags]:
        """Whether the Sun shines at moments (N,) of stays, in one call for all."""
        from skyfield.positionlib import Geocentric
        from skyfield.units import Distance

        if not asked:
            return []
        utc_s = np.concatenate([times for _, times in asked])
        seen_km = np.concatenate([stay_at(stay, times)[0] for stay, times in asked])
        position_km = teme_position(self._observer, self._turn, utc_s, seen_km) @ self._to_gcrs.T
        moments = builtin_timescale().tt_jd(self._middle.whole, self._middle.tt_fraction + self._days(utc_s))
        there = Geocentric(Distance(km=position_km.T).au, t=moments)  # type: ignore[no-untyped-call]
        flags: Flags = there.is_sunlit(ephemeris())  # type: ignore[no-untyped-call]
        return np.split(flags, np.cumsum([times.size for _, times in asked])[:-1])

    def changes(self, brackets: Sequence[_Bracket]) -> list[tuple[int, float]]:
        """When the light changes within brackets, with the numbers of their spans, in their order."""
        while any(one.last_s - one.first_s > _RESOLVED_S for one in brackets):
            closer = [(one.stay, np.linspace(one.first_s, one.last_s, _FINE)) for one in brackets]
            brackets = [
                self._narrowed(one, times, flags)
                for one, (_, times), flags in zip(brackets, closer, self.lit(closer), strict=True)
            ]
        return [(one.number, 0.5 * (one.first_s + one.last_s)) for one in brackets]

    @staticmethod
    def _narrowed(one: _Bracket, times: Floats, flags: Flags) -> _Bracket:
        after = int(np.argmax(flags != flags[0]))
        return _Bracket(one.number, one.stay, float(times[after - 1]), float(times[after]))

    def _days(self, utc_s: Floats) -> Floats:
        return (utc_s - self._middle_s) / DAY_S
