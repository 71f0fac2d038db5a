"""Sun, Moon and Polaris by the minute, each also as the dials where the boom is on it, and the shadow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, wrap_360
from core.mount.model.station import Mount
from core.place.site import Site
from core.setup.boom import BoomDials, boom_dials
from core.setup.sky import BODIES, Body, directions

#: Lower, a shadow is too pale and too long to be used.
_LOWEST_SHADOW_DEG = 2.0


@dataclass(frozen=True, eq=False)
class Minutes:
    """One body at moments (N,).

    Attributes:
        body: which.
        utc_s: POSIX seconds.
        azimuth_deg: true, 0 to 360.
        apparent_deg: as the eye sees its centre.
        dials: where the boom points at it; None where it is down or the boom does not reach it.
        shadow_bearing_deg: where the shadow of an upright stick falls, true.
        shadow_m: how long it is for a stick of 1 m; NaN where there is none, and for anything but the Sun.
    """

    body: Body
    utc_s: Floats
    azimuth_deg: Floats
    apparent_deg: Floats
    dials: tuple[BoomDials | None, ...]
    shadow_bearing_deg: Floats
    shadow_m: Floats


def by_the_minute(
    site: Site, mount: Mount, utc_s: Floats, bodies: Sequence[Body] = BODIES
) -> tuple[Minutes, ...]:
    """The bodies at the moments, with the mount as it is thought to be seated."""
    return tuple(
        _minutes(mount, body, seen.utc_s, seen.azimuth_deg, seen.apparent_deg)
        for body, seen in zip(bodies, directions(site, bodies, utc_s), strict=True)
    )


def _minutes(mount: Mount, body: Body, utc_s: Floats, azimuth_deg: Floats, apparent_deg: Floats) -> Minutes:
    dials = boom_dials(mount, azimuth_deg, apparent_deg)
    up = apparent_deg > 0.0
    throws = (apparent_deg > _LOWEST_SHADOW_DEG) & (body == "Sun")
    length = 1.0 / np.tan(np.radians(np.where(throws, apparent_deg, 45.0)))
    return Minutes(
        body=body,
        utc_s=utc_s,
        azimuth_deg=azimuth_deg,
        apparent_deg=apparent_deg,
        dials=tuple(one if here else None for one, here in zip(dials, up.tolist(), strict=True)),
        shadow_bearing_deg=wrap_360(azimuth_deg + 180.0),
        shadow_m=np.where(throws, length, np.nan),
    )
