"""Doppler shift from range rate, in columns, and how it goes over a part of a pass.

First order: f v / c with v the range rate. Left out are the second order and the rates of the two clocks,
together below 1e-9 of the frequency for a low satellite (0.4 Hz at 435 MHz), and that a signal is under way
for r / c, in which the shift changes by 2 Hz at 435 MHz at most. 100 Hz are printed.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.passes.frames import range_rate
from core.passes.stays import Stay, stay_at

#: Exact by the definition of the metre (CGPM 1983).
LIGHT_KM_S = 299_792.458

#: Between two samples range rate is as good as straight: a low satellite overhead is 0.02 s off at its zero.
_STEP_S = 5.0
_MOST_SAMPLES = 2000


def downlink_shift_hz(downlink_hz: Floats | float, range_rate_km_s: Floats) -> Floats:
    """What a signal is received higher than it is sent (...,): receive at nominal + shift.

    Positive while the satellite comes nearer (range rate negative).
    """
    return np.asarray(-np.asarray(downlink_hz) * range_rate_km_s / LIGHT_KM_S)


def uplink_shift_hz(uplink_hz: Floats | float, range_rate_km_s: Floats) -> Floats:
    """What has to be sent higher, so that the satellite hears the nominal (...,): send at nominal + shift.

    Negative while the satellite comes nearer: there everything is heard higher than it was sent.
    """
    return np.asarray(np.asarray(uplink_hz) * range_rate_km_s / LIGHT_KM_S)


@dataclass(frozen=True, eq=False)
class RangeRates:
    """Range rate over a part of a stay, from the positions of its path.

    Attributes:
        utc_s: (N,) samples, POSIX seconds, both ends included.
        km_s: (N,) positive receding.
    """

    utc_s: Floats
    km_s: Floats

    @property
    def zeros_utc_s(self) -> tuple[float, ...]:
        """Where it goes through zero: no shift there, on any frequency."""
        before = np.flatnonzero(self.km_s[:-1] * self.km_s[1:] < 0.0)
        first, last = self.km_s[before], self.km_s[before + 1]
        found = self.utc_s[before] + np.diff(self.utc_s)[before] * first / (first - last)
        return tuple(sorted((*found.tolist(), *self.utc_s[self.km_s == 0.0].tolist())))

    @property
    def turns(self) -> tuple[int, ...]:
        """Samples inside at which it is higher or lower than at both ends, in order of time; often none."""
        inside = {int(self.km_s.argmin()), int(self.km_s.argmax())} - {0, self.km_s.size - 1}
        return tuple(sorted(inside))


def range_rates(stay: Stay, start_utc_s: float, end_utc_s: float) -> RangeRates:
    """Range rate from ``start_utc_s`` to ``end_utc_s``, both within the stay.

    Raises:
        ValueRangeError: a moment lies outside the stay.
    """
    count = min(max(2, int(np.ceil((end_utc_s - start_utc_s) / _STEP_S)) + 1), _MOST_SAMPLES)
    utc_s = np.linspace(start_utc_s, end_utc_s, count)
    return RangeRates(utc_s, range_rate(*stay_at(stay, utc_s)))
