"""Which of two ways is called the short one: the one that the mount is sooner in from the contact before."""

from __future__ import annotations

import re
from itertools import product

import numpy as np

from core.mount.model.station import AzimuthAxis, ElevationAxis, Mount
from tests.core.mount.evening.order.evenings import Told, a_pass
from tests.core.mount.evening.order.test_explain import ordered

#: "Upright from dial 435. Upright from dial 75, the shorter turn, is worth ...".
SAID = re.compile(
    r"(Upright|Over the top) from dial ([\d.]*\d)\. (Upright|Over the top) from dial ([\d.]*\d)"
    r"(, the shorter turn,)? is worth"
)


def a_mount(**elevation: float) -> Mount:
    azimuth = AzimuthAxis(travel_deg=450.0, rate_deg_s=6.0, dial_division_deg=0.1)
    return Mount(azimuth=azimuth, elevation=ElevationAxis(rate_deg_s=2.5, **elevation))


def seconds_there(order: Told, dial_deg: float, posture: str) -> float:
    """From where the first contact leaves the mount to a start on the dial, the slower axis counting."""
    first, second = order.contacts
    pointing = first.check.pointing
    assert pointing is not None
    m_deg, e_deg = (
        float(np.interp(first.end_utc_s, pointing.utc_s, axis)) for axis in (pointing.m_deg, pointing.e_deg)
    )
    pass_ = second.check.pass_
    elevation = float(np.interp(second.start_utc_s, pass_.utc_s, pass_.elevation_deg))
    axis_deg = 180.0 - elevation if posture == "over the top" else elevation
    return max(abs(dial_deg - m_deg) / 6.0, abs(axis_deg - e_deg) / 2.5)


def told(order: Told) -> tuple[bool, bool] | None:
    """Whether the way refused is called the short one, and whether it is."""
    found = SAID.match(order.why_so[1])
    if found is None:
        return None
    taken, refused = found[1].lower(), found[3].lower()
    here_s = seconds_there(order, float(found[2]), taken)
    there_s = seconds_there(order, float(found[4]), refused)
    assert abs(here_s - there_s) > 1.0  # else the dial's figure would not tell
    return found[5] is not None, there_s < here_s


def test_the_short_way_is_the_one_that_is_sooner_there() -> None:
    """Passes that rise near where the first one sets or far from it, on a mount that overlaps itself."""
    seen = []
    for maximum_deg, azimuth_deg, before_deg in product(
        (90.0, 180.0), (10.0, 40.0, 75.0, 85.0, 200.0), (100.0, 200.0, 250.0)
    ):
        passes = a_pass(1, 0.0, before_deg), a_pass(2, 700.0, azimuth_deg)
        order = ordered(passes, a_mount(maximum_deg=maximum_deg))
        if len(order.contacts) == 2 and (one := told(order)) is not None:
            seen.append(one)
    assert all(called == is_short for called, is_short in seen)
    assert {called for called, _ in seen} == {True, False}


def test_the_first_contact_has_no_short_way() -> None:
    order = ordered((a_pass(1, 0.0, 75.0),), a_mount(maximum_deg=90.0))
    assert SAID.match(order.why_so[0])
    assert "shorter turn" not in order.why_so[0]
