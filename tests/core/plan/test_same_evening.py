"""The first plan's evening at another field: what is whose, and what makes evenings differ."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.edits import value_at
from core.plan.assumed import assumed
from core.plan.same_evening import at_field, difference_words, differences
from tests.plans import changed, full_plan_data, plan_of, satellites_data, short_plan_data

#: One change each, and the word for it; None where it belongs to the field.
CHANGES = {
    "evening__end": ("2024-11-01T19:00:00Z", "hours"),
    "satellites": (satellites_data()[:1], "satellites"),
    "maximum_element_age_days": (20.0, "satellites"),
    "site__minimum_elevation_deg": (9.0, "minimum elevation"),
    "mount__azimuth__travel_deg": (400.0, "mount"),
    "antennas": ([{"beamwidth_deg": 20.0}], "mount"),
    "steering": ("held", "mount"),
    "mount__keyway_bearing_deg": (77.0, "keyway"),
    "picks": ([{"norad_id": 70001, "near": "2024-11-01T18:00:00Z"}], "picks"),
    "evening_rules": ({"change_cost_s": 9.0}, "rules"),
    "shortest_contact_s": (60.0, "rules"),
    "title": ("Elsewhere", None),
    "notes": ("Wet.", None),
    "site__latitude_deg": (48.0, None),
    "site__horizon": ([{"azimuth_deg": 10.0, "elevation_deg": 8.0}], None),
    "seat_limits": ([{"from_deg": 10.0, "to_deg": 20.0}], None),
    "mount__tilt": ({"angle_deg": 1.0, "toward_deg": 90.0}, None),
}
WORDS = ["hours", "satellites", "minimum elevation", "mount", "keyway", "picks", "rules"]


@given(st.sets(st.sampled_from(sorted(CHANGES))))
def test_differences_are_told_by_their_words_and_in_their_order(paths):
    first = plan_of(short_plan_data())
    other = plan_of(short_plan_data(), **{path: CHANGES[path][0] for path in paths})
    found = {CHANGES[path][1] for path in paths}
    assert list(differences(first, other)) == [word for word in WORDS if word in found]
    assert differences(other, other) == ()


@given(st.sets(st.sampled_from(sorted(CHANGES))))
def test_at_any_field_it_is_the_same_evening(paths):
    first = plan_of(full_plan_data())
    other = plan_of(short_plan_data(), **{path: CHANGES[path][0] for path in paths})
    there = at_field(first, other)
    assert differences(first, there) == ()
    for path in ("title", "site.latitude_deg", "site.horizon", "seat_limits", "mount.tilt", "sightings"):
        assert value_at(there, path) == value_at(other, path)
    for path in ("evening", "satellites", "picks", "mount.azimuth", "mount.index_holes", "evening_rules"):
        assert value_at(there, path) == value_at(first, path)
    assert there.mount.sighting_correction is None
    assert "no horizon mask" not in assumed(first)
    assert ("no horizon mask" in assumed(there)) == ("site__horizon" not in paths)
    assert ("no tilt" in assumed(there)) == ("mount__tilt" not in paths)


def test_at_its_own_field_a_plan_is_itself():
    for data in (short_plan_data(), full_plan_data()):
        plan = plan_of(data)
        assert at_field(plan, plan) == plan
        assert assumed(at_field(plan, plan)) == assumed(plan)


STAND = {"tripod_mass_kg": 9.0, "near": [{"name": "path", "bearing_deg": 10.0, "distance_m": 3.0}]}


def test_the_stand_goes_along_and_what_is_near_by_stays():
    first = plan_of(short_plan_data(), stand=STAND | {"wishes": {"downhill_deg": 90.0, "lee_s": 30.0}})
    there = {"near": [], "forecast": {"mean_m_s": 3.0}, "wishes": {"downhill_deg": 200.0, "lee_s": 5.0}}
    stand = at_field(first, plan_of(short_plan_data(), stand=there | {"tripod_mass_kg": 1.0})).stand
    assert (stand.tripod_mass_kg, stand.near, stand.forecast.mean_m_s) == (9.0, (), 3.0)
    assert (stand.wishes.downhill_deg, stand.wishes.lee_s) == (200.0, 30.0)
    assert at_field(first, first) == first
    bare = at_field(first, plan_of(short_plan_data())).stand
    assert (bare.tripod_mass_kg, bare.near, bare.wishes.downhill_deg) == (9.0, (), None)
    assert at_field(plan_of(short_plan_data()), first).stand is None
    assert differences(first, plan_of(short_plan_data())) == ()


def test_names_orders_and_values_written_out_make_no_difference():
    data = changed(short_plan_data(), satellites=satellites_data()[::-1], mount={"keyway_bearing_deg": 0.0})
    data["satellites"][0]["name"] = "Ash"
    picks = [{"norad_id": 70001, "near": f"2024-11-01T{hour}:00:00Z"} for hour in (17, 18)]
    first = plan_of(short_plan_data(), picks=picks)
    assert differences(first, plan_of(data, picks=picks[::-1])) == ()


@pytest.mark.parametrize(
    ("differs", "words"),
    [
        ((), ""),
        (("hours",), "Moor plans another evening than Ridge: they differ in hours."),
        (("hours", "picks"), "Moor plans another evening than Ridge: they differ in hours and picks."),
    ],
)
def test_the_sentence(differs, words):
    assert difference_words("Moor", "Ridge", differs) == words
