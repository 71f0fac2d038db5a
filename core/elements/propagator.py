"""An element set made ready for SGP4 (Vallado et al., AIAA 2006-6753), with the WGS-72 constants it needs."""

from __future__ import annotations

import math
from functools import lru_cache
from operator import attrgetter
from typing import TYPE_CHECKING

from core.base.errors import PropagationError
from core.elements.epochs import split_jd

if TYPE_CHECKING:
    from sgp4.api import Satrec

    from core.elements.model import ElementSet

#: Julian date of 1949-12-31T00:00, from which SGP4 counts its epoch in days.
_SGP4_EPOCH_JD = 2_433_281.5
_MINUTES_A_DAY = 1440.0
_RAD_MIN_PER_REV_DAY = 2.0 * math.pi / _MINUTES_A_DAY
#: What the library's error numbers mean where they come up at the epoch itself.
_REASONS = {
    1: "its mean eccentricity leaves the range 0 to 1 at its own epoch",
    2: "its mean motion is not above zero at its own epoch",
    3: "its perturbed eccentricity leaves the range 0 to 1 at its own epoch",
    4: "its orbit has no positive semi-latus rectum at its own epoch",
    6: "it lies below the Earth's surface at its own epoch, so it has decayed",
}


#: What SGP4 takes of an element set.
_TAKEN = attrgetter(
    "epoch",
    "bstar",
    "mean_motion_dot",
    "mean_motion_ddot",
    "eccentricity",
    "arg_perigee_deg",
    "inclination_deg",
    "mean_anomaly_deg",
    "mean_motion_rev_day",
    "raan_deg",
)
#: Records kept, some 3 MB: a second search of the same elements, after an edit or on another evening,
#: finds them.
_KEPT = 2048


def satrec(elements: ElementSet) -> Satrec:
    """The SGP4 record of an element set: WGS-72, improved mode ("i"), epoch split in two floats.

    The library is given the catalogue number 0, since it refuses those above 339,999; whoever needs the
    number takes it from the element set. Its epoch is one float, from which only the places of the Sun and
    Moon and the sidereal time of deep-space orbits are taken; it is rounded to a Julian date's 40
    microseconds as the published code does, so that the published states come out. The split epoch, from
    which time is counted, is set afterwards to the last bit. MEAN_MOTION_DOT and MEAN_MOTION_DDOT are handed
    on as the half and the sixth that two-line sets print; SGP4's states do not depend on them.

    Equal elements have one record, which nobody is to change: what it gives does not depend on what it was
    asked before.

    Raises:
        PropagationError: SGP4 cannot start from these elements; the reason says why.
    """
    try:
        return _record(*_TAKEN(elements))
    except _CannotStart as refusal:
        raise PropagationError(elements.name, elements.norad_id, refusal.reason) from None


class _CannotStart(Exception):
    """Elements that SGP4 cannot start from; carries why."""

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(reason)


@lru_cache(_KEPT)
def _record(
    epoch: str,
    bstar: float,
    mean_motion_dot: float,
    mean_motion_ddot: float,
    eccentricity: float,
    arg_perigee_deg: float,
    inclination_deg: float,
    mean_anomaly_deg: float,
    mean_motion_rev_day: float,
    raan_deg: float,
) -> Satrec:
    """The record of these elements, in degrees and revolutions a day."""
    from sgp4.api import WGS72, Satrec

    whole_jd, fraction = split_jd(epoch)
    record = Satrec()
    record.sgp4init(
        WGS72,
        "i",
        0,
        (whole_jd + fraction) - _SGP4_EPOCH_JD,
        bstar,
        mean_motion_dot * _RAD_MIN_PER_REV_DAY / _MINUTES_A_DAY,
        mean_motion_ddot * _RAD_MIN_PER_REV_DAY / _MINUTES_A_DAY**2,
        eccentricity,
        math.radians(arg_perigee_deg),
        math.radians(inclination_deg),
        math.radians(mean_anomaly_deg),
        mean_motion_rev_day * _RAD_MIN_PER_REV_DAY,
        math.radians(raan_deg),
    )
    if record.error:
        raise _CannotStart(
            _REASONS.get(record.error, f"SGP4 cannot start from its elements (error {record.error})")
        )
    if not all(math.isfinite(coordinate_km) for coordinate_km in record.sgp4_tsince(0.0)[1]):
        raise _CannotStart(f"SGP4 gives no finite position at its epoch (BSTAR is {bstar!r})")
    record.jdsatepoch, record.jdsatepochF = whole_jd, fraction
    return record
