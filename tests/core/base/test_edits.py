from __future__ import annotations

import pytest

from core.base.edits import changed, default_at, field_range, is_given, reset, value_at
from core.base.errors import ValueRangeError
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole
from core.place.site import Site
from core.plan.document import Evening, Plan

PLAN = Plan(
    site=Site(latitude_deg=47.2, longitude_deg=9.1),
    evening=Evening(start="2026-11-27T16:00:00Z", end="2026-11-27T20:00:00Z"),
)


def test_one_value_changes_and_nothing_else() -> None:
    after = changed(PLAN, "mount.azimuth.travel_deg", 360.0)
    assert after.mount.azimuth.travel_deg == 360.0
    assert after.site is PLAN.site
    assert PLAN.mount.azimuth.travel_deg == 450.0


def test_what_was_left_out_stays_left_out() -> None:
    after = changed(PLAN, "mount.azimuth.travel_deg", 360.0)
    assert after.mount.azimuth.model_fields_set == {"travel_deg"}
    assert after.mount.model_fields_set == {"azimuth"}
    assert reset(after, "mount.azimuth.travel_deg").mount.azimuth.travel_deg == 450.0


def test_places_in_lists_are_numbers() -> None:
    holes = (IndexHole(name="A"), IndexHole(name="B", offset_deg=-30.0))
    two = changed(PLAN, "mount.index_holes", holes)
    after = changed(two, "mount.index_holes.1.offset_deg", -45.0)
    assert [hole.offset_deg for hole in after.mount.index_holes] == [0.0, -45.0]


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("site.latitude_deg", 91.0, "site.latitude_deg"),
        ("mount.azimuth.guard_deg", "x", "guard_deg"),
        ("mount.azimuth.travel_deg", 5.0, "guard"),
        ("mount.index_hole", "Z", "index_hole"),
        ("evening.end", "2026-11-27T10:00:00Z", "later than start"),
    ],
)
def test_what_is_not_valid_is_refused_in_words(path: str, value: object, words: str) -> None:
    with pytest.raises(ValueRangeError, match=words):
        changed(PLAN, path, value)


@pytest.mark.parametrize(
    ("path", "value", "sentence"),
    [
        ("mount.index_hole", "Z", "mount.index_hole is Z, it must be valid: index_hole 'Z'"),
        ("mount.azimuth.travel_deg", 5.0, "mount.azimuth.travel_deg is 5.0, it must be valid: guard"),
        ("mount.keyway_bearing_deg", float("nan"), "keyway_bearing_deg is nan, it must be a finite number"),
        ("site.latitude_deg", 91.0, "site.latitude_deg is 91.0, it must be -90 to 90"),
        ("mount.index_holes", (IndexHole(name="B"),), "mount.index_holes is not as it can be, it must be"),
    ],
)
def test_what_is_refused_is_told_without_the_inner_names(path: str, value: object, sentence: str) -> None:
    with pytest.raises(ValueRangeError) as refusal:
        changed(PLAN, path, value)
    assert sentence in str(refusal.value)
    assert not any(mark in str(refusal.value) for mark in ("{", "(", "Input", "\n"))


def test_ranges_are_read_off_the_models() -> None:
    assert field_range(Site, "latitude_deg") == (-90.0, 90.0)
    assert field_range(AzimuthAxis, "travel_deg") == (1.0, 1440.0)
    assert field_range(ElevationAxis, "dial_offset_deg") == (-3600.0, 3600.0)


def test_given_values_and_defaults() -> None:
    path = "mount.azimuth.travel_deg"
    given = changed(PLAN, path, 430.0)
    assert is_given(given, path)
    assert not is_given(PLAN, path)
    assert (value_at(given, path), value_at(PLAN, path), default_at(given, path)) == (430.0, 450.0, 450.0)
    assert default_at(given, "steering") == "led"
