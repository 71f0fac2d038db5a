"""Changes of the mount: only what they name is another one, and what cannot be is refused by key."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.plan.document import Plan
from core.what_if.changes import NUMBERS, Change, changes_nothing, together, with_change
from tests.plans import changed, full_plan_data, plan_of, short_plan_data

HOLES = [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": 90.0}]
PLAN = plan_of(short_plan_data(), mount__index_holes=HOLES)


def dumped(plan: Plan) -> dict:
    return plan.model_dump(mode="json", exclude={"mount"})


@given(
    st.fixed_dictionaries(
        {},
        optional={
            "travel_deg": st.floats(200.0, 720.0),
            "guard_deg": st.floats(0.0, 60.0),
            "elevation_maximum_deg": st.floats(1.0, 180.0),
            "azimuth_rate_deg_s": st.floats(0.05, 90.0),
            "elevation_rate_deg_s": st.floats(0.05, 90.0),
        },
    )
)
@settings(max_examples=40)
def test_a_change_sets_what_it_names_and_nothing_else(numbers):
    """Held to the plan file with the same keys written by hand."""
    places = {
        "travel_deg": "mount__azimuth__travel_deg",
        "guard_deg": "mount__azimuth__guard_deg",
        "elevation_maximum_deg": "mount__elevation__maximum_deg",
        "azimuth_rate_deg_s": "mount__azimuth__rate_deg_s",
        "elevation_rate_deg_s": "mount__elevation__rate_deg_s",
    }
    made = with_change(PLAN, Change(**numbers))
    by_hand = plan_of(
        changed(short_plan_data(), mount__index_holes=HOLES),
        **{places[key]: value for key, value in numbers.items()},
    )
    assert made.model_dump() == by_hand.model_dump()


def test_a_rate_holds_either_way():
    measured = plan_of(full_plan_data())
    made = with_change(measured, Change(azimuth_rate_deg_s=9.0, elevation_rate_deg_s=3.5))
    assert made.mount.azimuth.rates_deg_s == (9.0, 9.0)
    assert made.mount.elevation.rates_deg_s == (3.5, 3.5)
    assert made.mount.azimuth.acceleration_deg_s2 == measured.mount.azimuth.acceleration_deg_s2
    assert dumped(made) == dumped(measured)


def test_a_hole_by_name_by_offset_and_drilled_beside_the_others():
    assert with_change(PLAN, Change(index_hole="B")).mount.index_hole == "B"
    there = with_change(PLAN, Change(hole_offset_deg=-270.0)).mount
    assert (there.index_hole, len(there.index_holes)) == ("B", 2)
    drilled = with_change(PLAN, Change(hole_offset_deg=-30.0)).mount
    assert drilled.index_hole == "C"
    assert [(hole.name, hole.offset_deg) for hole in drilled.index_holes] == [
        ("A", 0.0),
        ("B", 90.0),
        ("C", -30.0),
    ]


@pytest.mark.parametrize(
    ("change", "key", "allowed"),
    [
        (Change(travel_deg=4000.0), "mount.azimuth.travel_deg", "1 to 1440"),
        (Change(guard_deg=91.0), "mount.azimuth.guard_deg", "0 to 90"),
        (Change(travel_deg=540.0, guard_deg=91.0), "mount.azimuth.guard_deg", "0 to 90"),
        (Change(travel_deg=100.0, guard_deg=60.0), "mount.azimuth.guard_deg", "twice the guard"),
        (Change(azimuth_rate_deg_s=0.0), "mount.azimuth.rate_deg_s", "0.05 to 360"),
        (Change(elevation_rate_deg_s=400.0), "mount.elevation.rate_deg_s", "0.05 to 360"),
        (Change(elevation_maximum_deg=181.0), "mount.elevation.maximum_deg", "above 0 to 180"),
        (Change(index_hole="Q"), "mount.index_hole", "one of the holes A, B"),
        (Change(hole_offset_deg=400.0), "mount.index_holes.2.offset_deg", "-360 to 360"),
    ],
)
def test_what_the_mount_cannot_be_is_refused_by_key_and_range(change, key, allowed):
    with pytest.raises(ValueRangeError) as refused:
        with_change(PLAN, change)
    assert refused.value.field == key
    assert allowed in refused.value.allowed


def test_numbers_that_only_hold_together_do():
    wide = plan_of(short_plan_data(), mount__azimuth={"travel_deg": 100.0, "guard_deg": 10.0})
    assert with_change(wide, Change(travel_deg=400.0, guard_deg=60.0)).mount.azimuth.guard_deg == 60.0


def test_what_is_so_already_changes_nothing():
    assert changes_nothing(PLAN, Change(travel_deg=450.0))
    assert changes_nothing(PLAN, Change(index_hole="A"))
    assert changes_nothing(PLAN, Change(hole_offset_deg=0.0))
    assert not changes_nothing(PLAN, Change(travel_deg=451.0))
    for number in NUMBERS:
        assert changes_nothing(PLAN, Change(**{number.key: number.of(PLAN)}))


def test_all_together_is_every_change_once():
    travel, guard, hole = Change(travel_deg=540.0), Change(guard_deg=5.0), Change(index_hole="B")
    assert together((travel, guard, hole)) == Change(travel_deg=540.0, guard_deg=5.0, index_hole="B")
    assert together((travel,)) is None
    assert together((travel, Change(travel_deg=360.0))) is None
    assert together((hole, Change(hole_offset_deg=10.0))) is None


def test_a_change_is_named_by_its_numbers_and_units():
    assert (
        Change(travel_deg=540.0, elevation_rate_deg_s=2.5).name == "travel 540 deg, elevation rate 2.5 deg/s"
    )
    assert Change(hole_offset_deg=-30.0).name == "hole at -30 (drilled 30)"
