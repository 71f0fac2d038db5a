"""The wind's push, the forecast, and whether to go, watch or take down."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from core.base.errors import ValueRangeError
from core.stand.model import MOST_M_S, Forecast, Stand

#: Standard gravity, m/s2 (the General Conference on Weights and Measures, 1901).
GRAVITY_M_S2 = 9.80665
#: Beaufort's force 4 and force 5 begin at these means, m/s (World Meteorological Organization, table 1100).
FORCE_4_M_S, FORCE_5_M_S = 5.5, 8.0
#: Watch from this share of the gust at which to stop; common practice, no source.
WATCH_SHARE = 0.8
#: The wind that is reckoned with where no forecast is typed: the top of force 4, the most that is worked in.
UNTYPED_MEAN_M_S = 7.9

Advice = Literal["go", "watch", "take down"]


@dataclass(frozen=True)
class Wind:
    """A mean and its gusts, m/s; ``typed`` is False where nobody gave a forecast."""

    mean_m_s: float
    gust_m_s: float
    typed: bool = True


def pressure_pa(speed_m_s: float, air_density_kg_m3: float) -> float:
    """The wind's pressure q = rho v^2 / 2, Pa (EN 1991-1-4, 4.5: basic velocity pressure)."""
    return 0.5 * air_density_kg_m3 * speed_m_s**2


def wind_of(stand: Stand, mean_m_s: float | None = None, gust_m_s: float | None = None) -> Wind:
    """The wind to reckon with: as given here, else the stand's forecast, else the top of force 4.

    Either figure gives the other by the gust factor: gust = mean times factor.

    Raises:
        ValueRangeError: out of range, or a gust below the mean.
    """
    for name, value in (("mean wind", mean_m_s), ("gust", gust_m_s)):
        if value is not None and not 0.0 <= value <= MOST_M_S:
            raise ValueRangeError(name, value, f"0 to {MOST_M_S:g} m/s")
    if mean_m_s is None and gust_m_s is None:
        if stand.forecast is None:
            return Wind(UNTYPED_MEAN_M_S, UNTYPED_MEAN_M_S * stand.gust_factor, typed=False)
        return _filled(stand.forecast, stand.gust_factor)
    if mean_m_s is not None and gust_m_s is not None and gust_m_s < mean_m_s:
        raise ValueRangeError("gust", gust_m_s, f"at least the mean wind, {mean_m_s:g} m/s")
    return _filled(Forecast(mean_m_s=mean_m_s, gust_m_s=gust_m_s), stand.gust_factor)


def _filled(forecast: Forecast, gust_factor: float) -> Wind:
    mean, gust = forecast.mean_m_s, forecast.gust_m_s
    if mean is None:
        assert gust is not None  # the model sees to it
        return Wind(gust / gust_factor, gust)
    return Wind(mean, mean * gust_factor if gust is None else gust)


@dataclass(frozen=True)
class Limits:
    """Where to watch and where to stop, m/s.

    Attributes:
        stop_gust_m_s: the gust that tips or slides the stand, with the margin.
        stop_mean_m_s: force 5.
        watch_gust_m_s, watch_mean_m_s: from here on someone stays with it.
    """

    stop_gust_m_s: float
    stop_mean_m_s: float = FORCE_5_M_S
    watch_mean_m_s: float = FORCE_4_M_S

    @property
    def watch_gust_m_s(self) -> float:
        """A share of the gust to stop at."""
        return WATCH_SHARE * self.stop_gust_m_s


def limits_of(fails_gust_m_s: float, margin: float) -> Limits:
    """The limits of a stand that gives way in a gust: a margin on the moment is its root on the speed.

    Common practice, no source: stop at the gust that tips over the root of the margin, or at force 5,
    whichever comes first.
    """
    return Limits(fails_gust_m_s / math.sqrt(margin))


def advice_of(wind: Wind, limits: Limits) -> Advice:
    """Go, watch or take down; a figure just at its limit is over it."""
    if wind.gust_m_s >= limits.stop_gust_m_s or wind.mean_m_s >= limits.stop_mean_m_s:
        return "take down"
    if wind.gust_m_s >= limits.watch_gust_m_s or wind.mean_m_s >= limits.watch_mean_m_s:
        return "watch"
    return "go"
