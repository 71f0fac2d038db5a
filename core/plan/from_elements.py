"""A plan from a site, hours and element sets; all else is left to the defaults."""

from __future__ import annotations

from collections.abc import Sequence

from core.base.errors import ValueRangeError
from core.base.times import format_iso
from core.elements.model import ElementSet
from core.place.site import Site
from core.plan.document import LONGEST_EVENING_S, Evening, Plan, Satellite


def plan_of_elements(sets: Sequence[ElementSet], site: Site, start_utc_s: float, hours: float) -> Plan:
    """The plan of an evening with these satellites; mount, antennas and rules are left to their defaults.

    Args:
        sets: at most one for each catalogue number.
        site: where.
        start_utc_s: POSIX seconds, kept to the millisecond.
        hours: from there.

    Raises:
        ValueRangeError: ``hours`` is not between a second and 15 days.
    """
    if not 1.0 <= hours * 3600.0 <= LONGEST_EVENING_S:
        longest = LONGEST_EVENING_S / 3600.0
        raise ValueRangeError("hours", hours, f"from 0.0003 (a second) to {longest:g} (15 days)")
    return Plan(
        site=site,
        evening=Evening(start=format_iso(start_utc_s), end=format_iso(start_utc_s + hours * 3600.0)),
        satellites=tuple(Satellite(name=elements.name, elements=elements) for elements in sets),
    )
