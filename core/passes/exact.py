"""Exact states of some satellites over the station, at any moments, and how far each can be followed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from core.base.angles import Floats, Indices
from core.base.errors import PropagationError
from core.base.runs import runs_alike
from core.base.times import format_iso
from core.base.units import DAY_S, UNIX_EPOCH_JD
from core.elements.model import ElementSet
from core.passes.frames import EarthTurn, Observer, topocentric, topocentric_position

if TYPE_CHECKING:
    from sgp4.api import Satrec

#: The Earth's rate: the ground turns even under a satellite so high that it hardly moves.
EARTH_RATE_RAD_S = 7.292115e-5
#: Faster than any orbit's perigee over the ground.
_FASTEST_RAD_S = 1.8e-3
#: Half the step of central differences as an angle along the orbit: a quarter of a second when low.
_DIFFERENCE_RAD = 3e-4

#: SGP4's error codes other than "decayed" in words (AIAA 2006-6753; the last one is ours).
_REASONS = {
    1: "its mean elements leave the range of the theory",
    2: "its mean motion turns negative",
    3: "its perturbed elements leave the range of the theory",
    4: "its orbit degenerates",
    7: "it gives no number",
}
_DECAYED, _NO_NUMBER = 6, 7


class ExactStates:
    """Some satellites propagated together, named by their position in ``sets``.

    Attributes:
        sets: their element sets (n).
        rate_rad_s: (n,) angle they turn through in a second, at most.
        last_utc_s: (n,) last moment each can be followed to, the window's end until it is found to fail.
        failure: (n,) SGP4's code of what stops it there, 0 where nothing does.
    """

    def __init__(
        self,
        sets: Sequence[ElementSet],
        records: Sequence[Satrec],
        sky: tuple[Observer, EarthTurn],
        window: tuple[float, float],
    ) -> None:
        from sgp4.api import SatrecArray

        self.sets, self._records, self._array = sets, records, SatrecArray(records)
        self.observer, self._turn = sky
        self.start_utc_s, self.end_utc_s = window
        self.rate_rad_s = np.array([fastest_rate(elements) for elements in sets])
        #: Half the step of central differences; a power of two, so that times keep their last bit.
        self._half_step_s = 2.0 ** np.round(np.log2(_DIFFERENCE_RAD / self.rate_rad_s))
        self.last_utc_s = np.full(len(sets), self.end_utc_s)
        self.failure = np.zeros(len(sets), dtype=np.intp)

    def on_grid(self, utc_s: Floats) -> tuple[Indices, Floats, Floats]:
        """SGP4 codes (n, m), ENU positions and SGP4's own velocities (n, m, 3) of all at moments (m,)."""
        code, position, velocity = self._array.sgp4(*_julian(utc_s))  # type: ignore[no-untyped-call]
        position, velocity = topocentric(self.observer, self._turn, utc_s, position, velocity)
        return np.where((code == 0) & ~np.isfinite(position[..., 0]), _NO_NUMBER, code), position, velocity

    def positions(self, which: Indices, utc_s: Floats) -> tuple[Indices, Floats]:
        """SGP4 codes (N,) and exact ENU positions (N, 3) of satellites ``which`` (N,) at ``utc_s`` (N,)."""
        code, position = np.empty(utc_s.size, dtype=np.intp), np.empty((utc_s.size, 3))
        day, fraction = _julian(utc_s)
        for begin, end in runs_alike(which):
            run = slice(begin, end)
            code[run], position[run], _ = self._records[which[begin]].sgp4_array(day[run], fraction[run])
        position = topocentric_position(self.observer, self._turn, utc_s, position)
        code[(code == 0) & ~np.isfinite(position[:, 0])] = _NO_NUMBER
        return code, position

    def at(self, which: Indices, utc_s: Floats) -> tuple[Indices, Floats, Floats]:
        """As `positions`, and the velocities (N, 3), seen from the ground, by central differences.

        SGP4's own velocity is not quite the derivative of its position: it was up to 0.6 m/s off it for low
        satellites and 2.5 m/s for high ones of the amateur list. Curves laid through positions and those
        velocities missed the path by 25 m between knots, curves laid through these by 6 mm.
        """
        half = self._half_step_s[which]
        code, position = self.positions(which, utc_s)
        _, before = self.positions(which, utc_s - half)
        _, after = self.positions(which, utc_s + half)
        # At the last valid moment one of the neighbours may be missing.
        before_half, after_half = (np.isfinite(side[:, 0]) * half for side in (before, after))
        before = np.where(np.isfinite(before), before, position)
        after = np.where(np.isfinite(after), after, position)
        span = np.maximum(before_half + after_half, np.finfo(float).tiny)
        return code, position, (after - before) / span[:, None]

    def refusal(self, index: int) -> PropagationError:
        """Why a satellite that fails cannot be followed, and from when on."""
        code, elements = int(self.failure[index]), self.sets[index]
        last = float(self.last_utc_s[index])
        at_start = last <= self.start_utc_s
        if code == _DECAYED:
            reason = "decayed (below the ground) " + ("before" if at_start else "from")
        else:
            words = _REASONS.get(code, f"error {code}")
            reason = f"SGP4 cannot follow it ({words}) " + ("at" if at_start else "from")
        reason += f" {format_iso(last)}" + ("" if at_start else " on: no passes after that")
        return PropagationError(elements.name, elements.norad_id, reason)


def fastest_rate(elements: ElementSet) -> float:
    """Angular rate at perigee (two bodies) plus the Earth's, rad/s; no orbit over the ground is faster."""
    e = elements.eccentricity
    mean = 2.0 * np.pi * elements.mean_motion_rev_day / DAY_S
    perigee = mean * (1.0 + e) ** 2 / max(1.0 - e * e, 1e-4) ** 1.5
    return float(min(perigee, _FASTEST_RAD_S)) + EARTH_RATE_RAD_S


def _julian(utc_s: Floats) -> tuple[Floats, Floats]:
    """Julian dates split into the midnight before and the fraction of the day."""
    day = np.floor(utc_s / DAY_S)
    return UNIX_EPOCH_JD + day, (utc_s - day * DAY_S) / DAY_S
