"""The hand's motion against a plain walk in small steps."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.drive.slew import slew_angle
from core.mount.evening.drawn import drawn_pass
from core.mount.model.station import AzimuthAxis, ElevationAxis, Mount
from core.sheet.content import sheet_content
from core.sheet.hand.steered import Setting, as_printed, hand_off_deg, lost_by_hand_s, steered_axes
from tests.core.sheet.samples import MOUNT, Wanted, check_of, pass_of
from tests.evening_plans import evening_plan
from tests.lasting import result_of

WANTED = Wanted("upright", "COMB-1", 0.0, 60.0, 20.0)


def walked(settings, rates, utc_s, late_s, every_s=0.02):
    """Both axes, walked a fiftieth of a second at a time toward what was last told."""
    now = [settings[0].m_deg, settings[0].e_deg]
    t, found = utc_s[0], []
    for wanted_s in utc_s:
        while t < wanted_s - 1e-9:
            told = [s for s in settings if s.utc_s + late_s <= t + 1e-9]
            for axis, name in enumerate(("m_deg", "e_deg")):
                wanted = getattr(told[-1], name) if told else now[axis]
                now[axis] += max(-rates[axis] * every_s, min(rates[axis] * every_s, wanted - now[axis]))
            t += every_s
        found.append(tuple(now))
    return np.array(found).T


@given(
    st.lists(
        st.tuples(st.integers(1, 9), st.floats(5.0, 400.0), st.floats(0.0, 90.0)), min_size=1, max_size=5
    ),
    st.floats(0.5, 30.0),
    st.floats(0.5, 10.0),
)
def test_the_axes_go_where_a_plain_walk_has_them(told, azimuth_rate, elevation_rate):
    mount = Mount(
        azimuth=AzimuthAxis(rate_deg_s=azimuth_rate), elevation=ElevationAxis(rate_deg_s=elevation_rate)
    )
    settings, at = [Setting(0.0, 100.0, 10.0)], 0.0
    for gap, m, e in told:
        at += gap
        settings.append(Setting(at, m, e))
    utc_s = np.arange(0.0, at + 12.0, 1.5)
    m_deg, e_deg = steered_axes(mount, settings, utc_s, 1.0)
    walked_m, walked_e = walked(settings, (azimuth_rate, elevation_rate), utc_s, 1.0)
    assert m_deg == pytest.approx(walked_m, abs=0.04 * azimuth_rate + 1e-6)
    assert e_deg == pytest.approx(walked_e, abs=0.04 * elevation_rate + 1e-6)


def test_a_hand_on_every_second_is_on_the_satellite_and_an_idle_one_is_not():
    check = check_of(WANTED, pass_of(WANTED, 44001), MOUNT)
    drawn = drawn_pass(check, MOUNT)
    every = [
        Setting(float(t), drawn.at(drawn.m_deg, t), drawn.at(drawn.e_deg, t))
        for t in np.arange(drawn.start_utc_s, drawn.end_utc_s)
    ]
    utc_s = np.arange(drawn.start_utc_s, drawn.end_utc_s, 5.0)
    assert hand_off_deg(drawn, MOUNT, every, utc_s, late_s=0.0).max() < 1.0
    assert lost_by_hand_s(drawn, MOUNT, every, 5.0) == 0.0
    idle = every[:1]
    off = hand_off_deg(drawn, MOUNT, idle, utc_s)
    assert off.max() > 60.0
    lost = lost_by_hand_s(drawn, MOUNT, idle, 15.0)
    assert lost == pytest.approx(np.mean(off > 15.0) * (drawn.end_utc_s - drawn.start_utc_s), abs=10.0)


@pytest.mark.parametrize("together", [True, False])
def test_azimuth_that_is_held_goes_on_while_elevation_is_told(together):
    """Gaining speed at half a degree a second a second, it does not stop for the other axis' lines."""
    mount = Mount(
        azimuth=AzimuthAxis(rate_deg_s=5.0, acceleration_deg_s2=0.5, deadband_deg=2.0),
        elevation=ElevationAxis(rate_deg_s=2.0),
        drive={"both_axes_at_once": together},
    )
    told = [Setting(0.0, 10.0, 20.0), *(Setting(4.0 * k, 60.0, 20.0 + k) for k in range(1, 6))]
    utc_s = np.arange(0.0, 40.0, 0.25)
    m_deg, e_deg = steered_axes(mount, told, utc_s, 1.0)
    once = np.concatenate([np.zeros(20), slew_angle(0.0, 50.0, utc_s[20:] - 5.0, mount.azimuth)])
    assert m_deg == pytest.approx(10.0 + once, abs=1e-9)
    assert e_deg[-1] == 25.0
    there = np.flatnonzero(m_deg == 60.0)[0]
    assert (e_deg[there - 4] > 20.0) == together


def test_settling_is_no_running_of_the_motor():
    """Else everything would be told to be held, for a second each."""

    def kinds(settle_s: float) -> list[list[str]]:
        plan = evening_plan(mount__drive={"settle_s": settle_s})
        cards = sheet_content(plan, result_of(plan), plan.evening.start_utc_s).cards
        return [[line.kind for line in card.lines] for card in cards[:2]]

    assert kinds(10.0) == kinds(0.0)


@pytest.mark.parametrize(
    ("scale", "at_stop_deg", "m_deg", "there_deg"),
    [
        (1.0, 0.0, 182.4, 180.0),
        (1.0, 1.0, 182.4, 184.0),
        (-1.0, 100.0, 182.6, 185.0),
        (1.0, 0.0, 449.0, 450.0),
    ],
)
def test_the_hand_goes_to_the_figure_that_is_printed(scale, at_stop_deg, m_deg, there_deg):
    mount = Mount(
        azimuth=AzimuthAxis(dial_division_deg=10.0, dial_scale=scale, dial_at_stop_deg=at_stop_deg),
        elevation=ElevationAxis(dial_division_deg=10.0, dial_offset_deg=-90.0),
    )
    assert as_printed(Setting(7.0, m_deg, 47.4), mount) == Setting(7.0, there_deg, 45.0)
