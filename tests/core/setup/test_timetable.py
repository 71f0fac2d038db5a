"""The back-reckoning against trying every minute; the light against the Sun second by second; the words."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.times import format_iso, parse_iso
from core.mount.model.station import Mount
from core.place.site import HorizonPoint, Site, mask_elevation_deg
from core.place.sun import sun_direction_deg
from core.setup.daylight import light_about, sun_in_sight
from core.setup.methods import Field
from core.setup.model import Landmark, PointingErrors, SetupMinutes
from core.setup.sky import directions
from core.setup.timetable import MOST_MOVED_S, STAGES, latest, timetable
from core.setup.timetable_words import arrive_sentence, light_sentence, moved_sentences, stage_note

RIDGE = Site(latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0)
WALL = tuple(
    HorizonPoint(azimuth_deg=az, elevation_deg=el)
    for az, el in ((0.0, 3.0), (200.0, 3.0), (225.0, 14.0), (300.0, 14.0))
)
ZONE = "Europe/Zurich"


def field_of(site: Site = RIDGE, landmarks: tuple[Landmark, ...] = ()) -> Field:
    return Field(site, Mount(), PointingErrors(), 30.0, landmarks, None, (), 0.7)


def plain_latest(ready: int, lengths: list[int], windows: list[set[int] | None]) -> list[int]:
    """Minute by minute downward from the end: the first start at which every minute is allowed."""
    starts = []
    for length, allowed in zip(reversed(lengths), reversed(windows), strict=True):
        start = ready - length
        if allowed is not None:
            able = [
                m
                for m in range(start, start - int(MOST_MOVED_S // 60) - 1, -1)
                if all(k in allowed for k in range(m, m + length))
            ]
            start = able[0] if able else start
        starts.append(start)
        ready = start
    return starts[::-1]


@given(
    ready=st.integers(2000, 3000),
    stages=st.lists(st.tuples(st.integers(1, 60), st.booleans()), min_size=1, max_size=8),
    ends=st.lists(st.integers(0, 3000), min_size=0, max_size=6, unique=True),
)
def test_each_stage_begins_at_the_last_minute_at_which_it_has_its_light(ready, stages, ends):
    ends = sorted(ends)[: len(ends) // 2 * 2]
    spans = list(zip(ends[::2], ends[1::2], strict=True))
    lit = {m for first, last in spans for m in range(first, last)}
    lengths = [length for length, _needs in stages]
    found = latest(
        60.0 * ready,
        [60.0 * length for length in lengths],
        [[(60.0 * a, 60.0 * b) for a, b in spans] if needs else None for _length, needs in stages],
    )
    expected = plain_latest(ready, lengths, [lit if needs else None for _length, needs in stages])
    assert [one.start_utc_s / 60.0 for one in found] == expected


@given(
    ready=st.floats(1e6, 2e9),
    lengths=st.lists(st.floats(0.0, 4000.0), min_size=1, max_size=13),
)
def test_starts_are_whole_minutes_and_leave_every_stage_its_time(ready, lengths):
    found = latest(ready, lengths, [None] * len(lengths))
    ends = [one.start_utc_s for one in found[1:]] + [ready]
    for one, length, end in zip(found, lengths, ends, strict=True):
        assert one.start_utc_s % 60.0 == 0.0
        assert one.end_utc_s == end
        assert 0.0 <= end - length - one.start_utc_s < 60.0 + 1e-6


def test_the_sun_goes_behind_the_mask_when_its_apparent_place_does():
    """Walked in steps of 5 s about the moment, by itself."""
    site = RIDGE.model_copy(update={"horizon": WALL})
    ready = parse_iso("2026-11-27T16:00:00Z")
    last = light_about(site, ready).sun_last_utc_s
    assert last is not None
    utc_s = last + np.arange(-300.0, 305.0, 5.0)
    (sun,) = directions(site, ("Sun",), utc_s)
    seen = sun.apparent_deg >= mask_elevation_deg(WALL, sun.azimuth_deg)
    assert abs(float(utc_s[seen][-1]) - last) <= 10.0
    assert format_iso(last).startswith("2026-11-27T14:")


def test_a_wall_in_the_mask_hides_the_sun_at_its_bearing():
    """Two points on one bearing: the Sun goes when its azimuth comes there, whatever its height."""
    wall = tuple(HorizonPoint(azimuth_deg=az, elevation_deg=el) for az, el in ((215.0, 0.0), (215.0, 60.0)))
    last = light_about(
        RIDGE.model_copy(update={"horizon": (*wall, HorizonPoint(azimuth_deg=100.0, elevation_deg=0.0))}),
        parse_iso("2026-11-27T16:00:00Z"),
    ).sun_last_utc_s
    assert last is not None
    (sun,) = directions(RIDGE, ("Sun",), np.array([last]))
    assert float(sun.azimuth_deg[0]) == pytest.approx(215.0, abs=0.06)


def test_sunset_and_dusk_are_the_almanacs_over_a_level_horizon():
    light = light_about(RIDGE, parse_iso("2026-11-27T16:00:00Z"))
    for moment, down_deg in ((light.sunset_utc_s, 50.0 / 60.0), (light.dusk_utc_s, 6.0)):
        assert moment is not None
        _az, el = sun_direction_deg(47.2, 9.1, np.array([moment]))
        assert float(el[0]) == pytest.approx(-down_deg, abs=0.01)


def test_a_day_without_a_mask_has_the_sun_from_two_degrees_up():
    ready = parse_iso("2026-11-27T16:00:00Z")
    (day,) = sun_in_sight(RIDGE, ready - 12 * 3600.0, ready + 6 * 3600.0)
    for moment in day:
        (sun,) = directions(RIDGE, ("Sun",), np.array([moment]))
        assert float(sun.apparent_deg[0]) == pytest.approx(2.0, abs=0.02)


def test_an_early_evening_is_reckoned_back_from_its_first_contact_alone():
    found = timetable(field_of(), parse_iso("2026-11-27T15:00:30Z"), SetupMinutes(spare_share=0.0))
    assert not any(one.moved or one.dark for one in found.stages)
    assert found.arrive_utc_s == found.arrive_by_contact_utc_s
    minutes = sum(one.minutes for one in found.stages)
    # Seconds go with the last stage; all others are whole minutes.
    assert found.arrive_utc_s == parse_iso("2026-11-27T15:00:00Z") - 60.0 * minutes
    assert [one.key for one in found.stages] == [key for key, _what, _need in STAGES]
    assert arrive_sentence(found, ZONE).startswith("Be there by 13:25 UTC (14:25 local): 95 min of work;")
    assert moved_sentences(found, ZONE) == ()


def test_what_needs_the_sun_goes_before_it_and_takes_the_arrival_along():
    site = RIDGE.model_copy(update={"horizon": WALL})
    found = timetable(field_of(site), parse_iso("2026-11-27T16:30:00Z"), SetupMinutes())
    stages = {one.key: one for one in found.stages}
    sighting, last = stages["sighting"], found.light.sun_last_utc_s
    assert last is not None
    assert (sighting.need, sighting.moved, stage_note(sighting)) == ("Sun", True, "by the Sun")
    assert sighting.end_utc_s == last // 60.0 * 60.0
    assert found.arrive_utc_s < found.arrive_by_contact_utc_s
    assert stages["pull_test"].start_utc_s > sighting.end_utc_s
    assert found.north is not None
    assert found.north.method == "sun"
    told = moved_sentences(found, ZONE)
    assert told[0].startswith("Sighting of north must be done by 14:")
    assert told[-1].startswith("By the first contact alone 14:")


def test_a_landmark_wants_daylight_and_polaris_none():
    mark = Landmark(name="mast", latitude_deg=47.24, longitude_deg=9.16, height_m=1500.0, sigma_m=5.0)
    dusk = timetable(field_of(landmarks=(mark,)), parse_iso("2026-11-27T16:40:00Z"), SetupMinutes())
    stages = {one.key: one for one in dusk.stages}
    assert (stages["sighting"].need, stages["sighting"].moved) == ("daylight", True)
    # The best of two marks is asked, whichever is typed first.
    poor = mark.model_copy(update={"name": "hut", "sigma_m": 9000.0})
    for marks in ((mark, poor), (poor, mark)):
        both = timetable(field_of(landmarks=marks), parse_iso("2026-11-27T16:40:00Z"), SetupMinutes())
        assert {one.key: one.need for one in both.stages}["sighting"] == "daylight"
    late = timetable(field_of(), parse_iso("2026-11-27T19:00:00Z"), SetupMinutes())
    stages = {one.key: one for one in late.stages}
    assert (stages["sighting"].need, stages["sighting"].moved) == ("", False)
    assert late.north is not None
    assert late.north.method in ("moon", "polaris")
    # Looking up is moved into the light, though, and the arrival with it.
    assert stages["level"].moved
    assert late.arrive_utc_s < (late.light.dusk_utc_s or 0.0)


def test_nothing_is_moved_by_more_than_six_hours():
    found = timetable(field_of(), parse_iso("2026-11-28T05:20:00Z"), SetupMinutes())
    look_up = found.stages[0]
    told = light_sentence(found, ZONE)
    assert "it sets at 27 Nov 15:37 UTC (27 Nov 16:37 local)" in told
    assert "until 27 Nov 15:19" in told
    assert (look_up.dark, look_up.moved, stage_note(look_up)) == (True, False, "in the dark")
    assert "take a strong lamp" in " ".join(moved_sentences(found, ZONE))


@pytest.mark.parametrize(
    ("day", "words"),
    [("2026-06-21", "it does not set"), ("2026-12-21", "it does not rise")],
)
def test_polar_day_and_night_are_told(day, words):
    north = Site(latitude_deg=78.2, longitude_deg=15.6)
    found = timetable(field_of(north), parse_iso(f"{day}T12:00:00Z"), SetupMinutes())
    assert found.light.sunset_utc_s is None
    assert words in light_sentence(found, "Arctic/Longyearbyen")
    dark = [one.key for one in found.stages if one.dark]
    assert ("look_up" in dark) == (day == "2026-12-21")


def test_an_evening_that_starts_at_noon_is_told_when_its_own_day_ends():
    found = timetable(field_of(), parse_iso("2026-11-27T11:30:00Z"), SetupMinutes())
    assert found.light.sunset_utc_s is not None
    assert found.light.sunset_utc_s > found.ready_utc_s
    assert not any(one.moved for one in found.stages)
    assert found.arrive_utc_s == parse_iso("2026-11-27T09:35:00Z")


def test_a_date_stands_where_the_day_is_another():
    found = timetable(field_of(), parse_iso("2026-11-28T00:30:00Z"), SetupMinutes())
    assert "Be there by 27 Nov " in arrive_sentence(found, ZONE)
    moved = replace(found, arrive_utc_s=found.ready_utc_s - 900.0)
    assert "Nov" not in arrive_sentence(moved, ZONE)
