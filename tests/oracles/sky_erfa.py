"""Sun and Moon from a place by ERFA's routines (BSD library of the IAU's SOFA models), one moment at a time.

Earth by epv00 (good to 5 km in place or better), Moon by moon98 (Meeus's form of ELP, some 10 arcsec), the
Earth's rotation with UT1 = UTC unless told, no polar motion, no deflection of light.
"""

from __future__ import annotations

import erfa
import numpy as np
from numpy.typing import NDArray

_DAY_S = 86_400.0
_UNIX_EPOCH_JD = 2_440_587.5
_LIGHT_AU_DAY = 173.1446326847


def direction_deg(
    body: str, latitude_deg: float, longitude_deg: float, height_m: float, utc_s: float, dut1_s: float = 0.0
) -> tuple[float, float]:
    """Azimuth 0 to 360 and elevation without air, degrees, of "Sun" or "Moon"."""
    day = np.floor(utc_s / _DAY_S)
    utc = _UNIX_EPOCH_JD + day, (utc_s - day * _DAY_S) / _DAY_S
    place = np.radians(longitude_deg), np.radians(latitude_deg), height_m
    context, _origins = erfa.apco13(*utc, dut1_s, *place, 0.0, 0.0, 0.0, 0.0, 0.0, 0.5)
    tt = erfa.taitt(*erfa.utctai(*utc))
    seen = _from_here(body, tt, np.asarray(context["eb"]))
    apparent = erfa.ab(seen / np.linalg.norm(seen), context["v"], context["em"], context["bm1"])
    ra, dec = erfa.c2s(erfa.rxp(context["bpn"], apparent))
    azimuth, zenith_distance, *_ = erfa.atioq(ra, dec, context)
    return float(np.degrees(azimuth)) % 360.0, 90.0 - float(np.degrees(zenith_distance))


def _from_here(body: str, tt: tuple[float, float], here_au: NDArray[np.float64]) -> NDArray[np.float64]:
    """The way from the observer to where the body was when its light set out, au."""
    way = _place(body, tt) - here_au
    for _ in range(3):
        late_day = np.linalg.norm(way) / _LIGHT_AU_DAY
        way = _place(body, (tt[0], tt[1] - late_day)) - here_au
    return way


def _place(body: str, tt: tuple[float, float]) -> NDArray[np.float64]:
    """Barycentric, au."""
    heliocentric, barycentric = erfa.epv00(*tt)
    if body == "Sun":
        return np.asarray(barycentric["p"] - heliocentric["p"])
    return np.asarray(barycentric["p"] + erfa.moon98(*tt)["p"])
