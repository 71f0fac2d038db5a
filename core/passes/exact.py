"""Exact states of some satellites over the station, at any moments, and how far each can be followed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.errors import PropagationError
from core.base.runs import runs_alike
from core.base.times import format_iso
from core.base.units import DAY_S, GM_WGS72_KM3_S2, UNIX_EPOCH_JD
from core.elements.age import age_days, describe_age
from core.elements.model import ElementSet
from core.passes.domain import ANOTHER_ORBIT, LOWEST_KM, TOO_LOW, too_low, with_other_orbits
from core.passes.frames import EarthTurn, Observer, dotted, topocentric_position

if TYPE_CHECKING:
    from sgp4.api import Satrec

#: The Earth's rate: the ground turns even under a satellite so high that it hardly moves.
EARTH_RATE_RAD_S = 7.292115e-5
#: Faster than any orbit's perigee over the ground.
_FASTEST_RAD_S = 1.8e-3

_DECAYED, _NO_NUMBER = 6, 7
#: SGP4's error codes in words (AIAA 2006-6753; the last two are ours).
_REASONS = {
    1: "its mean elements leave the range of the theory",
    2: "its mean motion turns negative",
    3: "its perturbed elements leave the range of the theory",
    4: "its orbit degenerates",
    _DECAYED: "it would lie below the ground so long before its epoch",
    _NO_NUMBER: "it gives no number",
    ANOTHER_ORBIT: "the orbit it gives is no longer that of the elements",
    TOO_LOW: f"it would lie below {LOWEST_KM:g} km so long before its epoch",
}
#: Where a satellite is that has come down.
_LOST = {_DECAYED: "below the ground", TOO_LOW: f"below {LOWEST_KM:g} km"}


class ExactStates:
    """Some satellites propagated together, named by their position in ``sets``.

    Attributes:
        sets: their element sets (n).
        orbits: (n,) columns of their mean orbits.
        last_utc_s: (n,) last moment each can be followed to, the window's end until it is found to fail.
        failure: (n,) SGP4's code of what stops it there, 0 where nothing does.
    """

    def __init__(
        self,
        sets: Sequence[ElementSet],
        records: Sequence[Satrec],
        sky: tuple[Observer, EarthTurn],
        window: tuple[float, float],
        orbits: Orbits | None = None,
    ) -> None:
        self.sets, self._records = sets, records
        self.observer, self._turn = sky
        self.start_utc_s, self.end_utc_s = window
        self.orbits = Orbits.of(sets) if orbits is None else orbits
        self.last_utc_s = np.full(len(sets), self.end_utc_s)
        self.failure = np.zeros(len(sets), dtype=np.intp)

    def heights_on_grid(self, members: Indices, utc_s: Floats) -> tuple[Indices, Floats, Floats]:
        """SGP4 codes, heights over the station's tangent plane (km) and their rates (km/s), all (k, m).

        The rates are those of SGP4's own velocity, which is not quite the derivative of its position: it was
        up to 0.6 m/s off it for low satellites and 2.5 m/s for high ones of the amateur list.

        Args:
            members: some of the satellites (k,).
            utc_s: moments (m,), the same for all of them.
        """
        from sgp4.api import SatrecArray

        some = SatrecArray(list(map(self._records.__getitem__, members.tolist())))
        code, position, velocity = some.sgp4(*_julian(utc_s))  # type: ignore[no-untyped-call]
        code = with_other_orbits(self.orbits.of_some(members), code, position, velocity)
        up, up_rate = self._turn.turned_back(utc_s, self.observer.to_enu[2])
        height = dotted(position, up) - self.observer.to_enu[2] @ self.observer.position_km
        rate = dotted(velocity, up) + dotted(position, up_rate)
        if not np.isfinite(height).all():
            code = np.where((code == 0) & ~np.isfinite(height), _NO_NUMBER, code)
        return code, height, rate

    def positions(
        self, which: Indices, utc_s: Floats, later_s: Floats | float = 0.0
    ) -> tuple[Indices, Floats]:
        """SGP4 codes (N, ...) and exact ENU positions (N, ..., 3) of satellites ``which`` (N,).

        Args:
            which: satellites, the same ones side by side.
            utc_s: moments (N, ...).
            later_s: what to add to each of them, or several times to each of (N, 1); the sum is taken in a
                day's seconds, where a double is ten thousand times finer than in POSIX seconds.
        """
        day, fraction = _julian(utc_s, later_s)
        each, shape = fraction.size // max(which.size, 1), fraction.shape
        day, fraction = np.broadcast_to(day, shape).ravel(), fraction.ravel()
        code: Indices = np.empty(fraction.size, dtype=np.intp)
        position: Floats = np.empty((fraction.size, 3))
        for begin, end in runs_alike(which):
            run = slice(begin * each, end * each)
            code[run], position[run], _ = self._records[which[begin]].sgp4_array(day[run], fraction[run])
        code[(code == 0) & too_low(position)] = TOO_LOW
        code, position = code.reshape(shape), position.reshape(*shape, 3)
        position = topocentric_position(self.observer, self._turn, utc_s, position, later_s)
        code[(code == 0) & ~np.isfinite(position[..., 0])] = _NO_NUMBER
        return code, position

    def give_up(self, which: Indices, last_utc_s: Floats, code: Indices) -> None:
        """Satellites ``which`` (K,) cannot be followed beyond these moments (K,), for these reasons (K,)."""
        self.failure[which], self.last_utc_s[which] = code, last_utc_s

    def followed(self, which: Indices, utc_s: Floats) -> Flags:
        """Whether satellites ``which`` (K,) can be followed beyond these moments (K,)."""
        return np.asarray((self.failure[which] == 0) | (utc_s < self.last_utc_s[which]))

    def refusal(self, index: int) -> PropagationError:
        """Why a satellite that fails cannot be followed, and from when on."""
        code, elements = int(self.failure[index]), self.sets[index]
        last = float(self.last_utc_s[index])
        at_start = last <= self.start_utc_s
        if code in _LOST and last >= elements.epoch_utc_s:
            reason = f"decayed ({_LOST[code]}) " + ("before" if at_start else "from")
        else:
            words = _REASONS.get(code, f"error {code}")
            if code == ANOTHER_ORBIT:
                words += f", {describe_age(age_days(elements, last))}"
            reason = f"SGP4 cannot follow it ({words}) " + ("at" if at_start else "from")
        reason += f" {format_iso(last)}" + ("" if at_start else " on: no passes after that")
        return PropagationError(elements.name, elements.norad_id, reason)


@dataclass(frozen=True, eq=False)
class Orbits:
    """Mean orbits in columns (n,).

    Attributes:
        eccentricity: 0 to below 1.
        axis_km: semi-major axis (two bodies).
        mean_rad_s: mean motion plus the Earth's rate: the pace of a circular orbit over the ground, at most.
        fastest_rad_s: angular rate at perigee plus the Earth's; no orbit over the ground is faster.
    """

    eccentricity: Floats
    axis_km: Floats
    mean_rad_s: Floats
    fastest_rad_s: Floats

    @classmethod
    def of(cls, sets: Sequence[ElementSet]) -> Orbits:
        """The columns of some element sets."""
        e = np.array([elements.eccentricity for elements in sets], dtype=float)
        mean_motion = np.array([elements.mean_motion_rev_day for elements in sets], dtype=float)
        mean = 2.0 * np.pi * mean_motion / DAY_S
        perigee = mean * (1.0 + e) ** 2 / np.maximum(1.0 - e * e, 1e-4) ** 1.5
        return cls(
            eccentricity=e,
            axis_km=np.cbrt(GM_WGS72_KM3_S2 / mean**2),
            mean_rad_s=np.minimum(mean, _FASTEST_RAD_S) + EARTH_RATE_RAD_S,
            fastest_rad_s=np.minimum(perigee, _FASTEST_RAD_S) + EARTH_RATE_RAD_S,
        )

    def of_some(self, members: Indices) -> Orbits:
        """Those of some of the satellites."""
        return Orbits(*(column[members] for column in vars(self).values()))


def _julian(utc_s: Floats, later_s: Floats | float = 0.0) -> tuple[Floats, Floats]:
    """Julian dates split into the midnight before and the fraction of the day."""
    day = np.floor(utc_s / DAY_S)
    return UNIX_EPOCH_JD + day, (utc_s - day * DAY_S + later_s) / DAY_S
