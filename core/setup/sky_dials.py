"""Sun and Moon as the dials have them while the station is set up: a line every ten minutes."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.mount.model.station import Mount
from core.place.site import Site, mask_elevation_deg
from core.setup.boom import BoomDials
from core.setup.minutes import Minutes, by_the_minute

#: Time between two lines, and how long they go on.
LINE_S, HOURS_S = 600.0, 7200.0


@dataclass(frozen=True)
class SkyLine:
    """A moment of the sky.

    Attributes:
        utc_s: POSIX seconds.
        sun, moon: the dials with the boom on it; None where it is down, behind the mask or out of the boom's
            reach.
        shadow_bearing_deg: where an upright stick's shadow falls, true; None without a shadow.
    """

    utc_s: float
    sun: BoomDials | None
    moon: BoomDials | None
    shadow_bearing_deg: float | None


def sky_lines(site: Site, mount: Mount, start_utc_s: float, end_utc_s: float) -> tuple[SkyLine, ...]:
    """Lines on every tenth minute of the clock, from the last one up to the start on; two hours at most."""
    first = math.floor(start_utc_s / LINE_S) * LINE_S
    last = min(end_utc_s, first + HOURS_S)
    utc_s = np.arange(first, last + 1.0, LINE_S)
    sun, moon = by_the_minute(site, mount, utc_s, ("Sun", "Moon"))
    seen = [_seen(site, one) for one in (sun, moon)]
    return tuple(
        SkyLine(
            float(utc_s[k]),
            sun.dials[k] if seen[0][k] else None,
            moon.dials[k] if seen[1][k] else None,
            float(sun.shadow_bearing_deg[k]) if seen[0][k] and np.isfinite(sun.shadow_m[k]) else None,
        )
        for k in range(utc_s.size)
    )


def _seen(site: Site, body: Minutes) -> list[bool]:
    """Over horizon and mask, as the eye sees its centre."""
    least = np.maximum(mask_elevation_deg(site.horizon, body.azimuth_deg), 0.0)
    seen: list[bool] = (body.apparent_deg >= least).tolist()
    return seen
