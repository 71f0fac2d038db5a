"""Sunlight on satellites, against plain geometry: the angle at the Earth's centre from the way off the Sun.

The oracle knows neither Skyfield's shadow nor its ephemeris: the Sun is the almanac's low-precision one, as
seen from the site, and the satellite a vector built from what the pass says of it.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.base.times import parse_iso
from core.passes.frames import EarthTurn, Observer, teme_position, topocentric_position
from core.passes.light import Light, light_on
from core.passes.track import Pass, predict
from core.place.site import Site
from core.place.sun import sun_direction_deg
from tests.plans import plan_of, short_plan_data
from tests.propagator_calls import counted_calls
from tests.stays import stay_through

#: The radius of the ball that Skyfield has for the Earth, km.
BALL_KM = 6378.1366
SITE = Site(latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0)


def passes_over(start: str, hours: float, site: Site = SITE) -> tuple[Pass, ...]:
    first = parse_iso(start)
    plan = plan_of(short_plan_data())
    found, _ = predict([one.elements for one in plan.satellites], site, first, first + 3600.0 * hours)
    return found.passes


def whole(passes: tuple[Pass, ...]) -> list[tuple]:
    return [(one.stay, one.aos.utc_s, one.los.utc_s) for one in passes]


def from_centre(
    site: Site, azimuth_deg: np.ndarray, elevation_deg: np.ndarray, away_km: np.ndarray
) -> np.ndarray:
    """East, north, up (N, 3) of the site, from the Earth's centre."""
    azimuth, elevation = np.radians(azimuth_deg), np.radians(elevation_deg)
    level = away_km * np.cos(elevation)
    seen = np.stack([level * np.sin(azimuth), level * np.cos(azimuth), away_km * np.sin(elevation)], axis=1)
    observer = Observer.of_site(site)
    return seen + observer.to_enu @ observer.position_km


def lit_by_angles(site: Site, pass_: Pass) -> np.ndarray:
    """At the pass's samples: outside the half circle that the ball shades."""
    place = from_centre(site, pass_.azimuth_deg, pass_.elevation_deg, pass_.range_km)
    azimuth, elevation = sun_direction_deg(site.latitude_deg, site.longitude_deg, pass_.utc_s)
    ones = np.ones(pass_.utc_s.size)
    sun = from_centre(site, azimuth, elevation, 1.495978707e8 * ones)
    sun -= from_centre(site, azimuth, elevation, 0.0 * ones)  # a direction
    distance = np.linalg.norm(place, axis=1)
    away = -np.einsum("ni,ni->n", place, sun) / distance / np.linalg.norm(sun, axis=1)
    return np.degrees(np.arccos(np.clip(away, -1.0, 1.0))) > np.degrees(np.arcsin(BALL_KM / distance))


PLACES = [SITE, *(Site(latitude_deg=lat, longitude_deg=lon) for lat, lon in ((-31.0, 60.0), (-60.0, 20.0)))]


@pytest.mark.parametrize("site", PLACES, ids=["north", "south", "far south"])
def test_plain_geometry_has_the_same_light_and_crossings_within_two_seconds(site):
    passes = passes_over("2024-11-01T13:00:00Z", 12.0, site)
    assert passes
    for pass_, light in zip(passes, light_on(site, whole(passes)), strict=True):
        plain = lit_by_angles(site, pass_)
        at = np.flatnonzero(plain[1:] != plain[:-1])
        assert light is not None
        assert light.lit_at_start == plain[0]
        assert light.changes_utc_s == pytest.approx(0.5 * (pass_.utc_s[at] + pass_.utc_s[at + 1]), abs=2.0)


def test_some_of_these_go_into_the_shadow_some_come_out_and_some_never_do():
    kinds = {
        (light.lit_at_start, len(light.changes_utc_s))
        for site in PLACES
        for light in light_on(site, whole(passes_over("2024-11-01T13:00:00Z", 12.0, site)))
        if light is not None
    }
    assert {(True, 0), (True, 1), (False, 0), (False, 1)} <= kinds


def test_all_passes_at_once_are_each_alone_and_nothing_is_propagated():
    passes = passes_over("2024-11-01T16:00:00Z", 5.0)
    with counted_calls() as counted:
        together = light_on(SITE, whole(passes))
        alone = [light_on(SITE, [span])[0] for span in whole(passes)]
    assert counted.calls == 0
    for one, other in zip(together, alone, strict=True):
        assert one is not None
        assert other is not None
        assert one.lit_at_start == other.lit_at_start
        assert one.changes_utc_s == pytest.approx(other.changes_utc_s, abs=0.3)


def test_a_part_of_a_pass_has_the_light_of_that_part():
    spans = whole(passes_over("2024-11-01T16:00:00Z", 14.0))
    lights = zip(spans, light_on(SITE, spans), strict=True)
    stay, start, end = next(span for span, light in lights if light is not None and light.changes_utc_s)
    (light,) = light_on(SITE, [(stay, start, end)])
    (change_s,) = light.changes_utc_s
    before, after = light_on(SITE, [(stay, start, change_s - 1.0), (stay, change_s + 1.0, end)])
    assert (before.changes_utc_s, after.changes_utc_s) == ((), ())
    assert before.lit_at_start != after.lit_at_start


def test_a_span_of_days_is_looked_at_less_often_and_its_changes_are_as_sharp():
    """A satellite far out that stands still over the site: the Sun goes round it once a day."""
    start = parse_iso("2024-03-19T00:00:00Z")
    utc_s = start + 3600.0 * np.arange(0.0, 240.0)
    position = np.zeros((utc_s.size, 3))
    position[:, 2] = 36_000.0
    event = passes_over("2024-11-01T16:00:00Z", 2.0)[0].tca
    stay = stay_through("FAR", 1, utc_s, (position, np.zeros_like(position)), (event, event))
    here = Site(latitude_deg=0.0, longitude_deg=9.1)
    (days,) = light_on(here, [(stay, utc_s[0], utc_s[-1])])
    assert days is not None
    assert len(days.changes_utc_s) == 20
    for change_s in days.changes_utc_s:
        (near,) = light_on(here, [(stay, change_s - 60.0, change_s + 60.0)])
        assert near.changes_utc_s == pytest.approx([change_s], abs=0.3)


def test_where_the_ephemeris_does_not_reach_nothing_is_said():
    pass_ = passes_over("2024-11-01T16:00:00Z", 5.0)[0]
    years_s = 40.0 * 365.25 * 86_400.0
    paths = pass_.stay.path
    moved = type(paths)(paths.owner, paths.middle_utc_s + years_s, paths.half_s, paths.coefficients)
    later = type(pass_.stay)(
        "INVENTED",
        1,
        pass_.stay.start_utc_s + years_s,
        pass_.stay.end_utc_s + years_s,
        moved,
        None,
        pass_.peak,
        pass_.tca,
    )
    assert light_on(SITE, [(later, later.start_utc_s, later.end_utc_s)] * 2) == (None, None)
    assert light_on(SITE, []) == ()


def test_a_moment_outside_the_stay_is_refused():
    stay, start, end = whole(passes_over("2024-11-01T16:00:00Z", 5.0))[0]
    with pytest.raises(ValueRangeError):
        light_on(SITE, [(stay, start, end + 4000.0)])


def test_the_parts_in_sunlight():
    assert Light(0.0, 9.0, True, ()).sunlit == ((0.0, 9.0),)
    assert Light(0.0, 9.0, False, ()).sunlit == ()
    assert Light(0.0, 9.0, True, (3.0,)).sunlit == ((0.0, 3.0),)
    assert Light(0.0, 9.0, False, (3.0, 5.0)).sunlit == ((3.0, 5.0),)
    assert Light(0.0, 9.0, True, (3.0, 5.0)).sunlit == ((0.0, 3.0), (5.0, 9.0))


@given(
    latitude_deg=st.floats(-89.0, 89.0),
    longitude_deg=st.floats(-180.0, 180.0),
    place=st.tuples(*[st.floats(-9000.0, 9000.0)] * 3),
)
@settings(max_examples=30, deadline=None)
def test_the_way_back_to_teme_is_the_way_back(latitude_deg, longitude_deg, place):
    observer, utc_s = (
        Observer(latitude_deg, longitude_deg, 300.0),
        np.array([parse_iso("2024-11-01T17:00:00Z")]),
    )
    turn = EarthTurn.over(utc_s[0], utc_s[0] + 60.0)
    there = teme_position(observer, turn, utc_s, np.array([place]))
    assert topocentric_position(observer, turn, utc_s, there)[0] == pytest.approx(place, abs=1e-8)
