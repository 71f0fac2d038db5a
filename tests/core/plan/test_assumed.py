"""What a plan leaves out is told, once each, with the value taken."""

from __future__ import annotations

from typing import Any

import pytest

from core.plan.assumed import assumed
from core.plan.document import Plan
from tests.plans import changed, full_plan_data, plan_of, short_plan_data

#: DESIGN section 5: "What is left out has a default, and output says which it assumed".
PROMISED = {
    "site.minimum_elevation_deg": "minimum elevation 5 deg",
    "site.horizon": "no horizon mask",
    "mount.keyway_bearing_deg": "keyway at 0 deg true",
    "mount.index_holes": "one index hole A at 0 deg",
    "mount.datum_to_stop_deg": "datum to stop 0 deg",
    "mount.tilt": "no tilt",
    "mount.azimuth.travel_deg": "azimuth travel 450 deg",
    "mount.azimuth.guard_deg": "guard 3 deg",
    "mount.azimuth.rate_deg_s": "azimuth rate 6 deg/s",
    "mount.elevation.minimum_deg": "elevation from 0 deg",
    "mount.elevation.maximum_deg": "elevation to 180 deg",
    "mount.elevation.rate_deg_s": "elevation rate 2.5 deg/s",
    "mount.azimuth.dial_at_stop_deg": "azimuth dial 0 at the counter-clockwise stop",
    "mount.azimuth.dial_scale": "azimuth dial scale 1",
    "mount.azimuth.dial_wraps_at_deg": "azimuth dial running on",
    "mount.azimuth.dial_division_deg": "azimuth dial division 1 deg",
    "antennas": "one antenna of 30 deg beamwidth",
    "clearance": "no lengths for clearance, so that nothing is checked for striking",
}


def without(data: dict[str, Any], path: str) -> dict[str, Any]:
    copied = changed(data)
    *folders, last = path.split(".")
    node = copied
    for folder in folders:
        node = node[folder]
    del node[last]
    if path == "mount.azimuth.dial_wraps_at_deg":
        del node["dial_wraps_to_deg"]
    if path == "mount.azimuth.dial_at_stop_deg":
        del node["calibration"]  # a table says what the dial reads there
    if path == "mount.index_holes":
        node["index_hole"] = "A"
    return copied


def test_a_full_plan_assumes_nothing():
    assert assumed(plan_of(full_plan_data())) == ()


def test_a_calibration_says_what_the_dial_reads_at_the_stop():
    data = full_plan_data()
    for axis, name in (("azimuth", "dial_at_stop_deg"), ("elevation", "dial_offset_deg")):
        del data["mount"][axis][name]
    assert assumed(plan_of(data)) == ()


@pytest.mark.parametrize(("path", "words"), PROMISED.items())
def test_each_value_left_out_is_told_and_nothing_else(path, words):
    assert assumed(plan_of(without(full_plan_data(), path))) == (words,)


def test_a_short_plan_tells_all_that_is_promised():
    told = assumed(plan_of(short_plan_data()))
    assert set(PROMISED.values()) <= set(told)
    assert len(set(told)) == len(told)


@pytest.mark.parametrize("part", ["mount", "mount.azimuth", "mount.elevation"])
def test_an_empty_part_is_as_good_as_none(part):
    data = changed(short_plan_data(), **{part.replace(".", "__"): {}})
    assert assumed(plan_of(data)) == assumed(plan_of(short_plan_data()))


def test_items_of_lists_tell_what_they_leave_out():
    data = changed(full_plan_data())
    del data["antennas"][1]["beamwidth_deg"]
    del data["mount"]["index_holes"][0]["offset_deg"]
    del data["picks"][0]["worth"]
    assert assumed(plan_of(data)) == (
        "hole A at offset 0 deg",
        "short of 30 deg beamwidth",
        "worth 1 for 1 of 1 picks",
    )


def test_a_hole_in_use_that_nobody_named_is_told():
    data = changed(full_plan_data())
    del data["mount"]["index_hole"]
    assert assumed(plan_of(data)) == ("index hole A in use",)


SET_UP = ("landmarks", "level_readings", "compass", "sightings", "pointing", "log")


def test_every_field_that_bears_on_the_result_and_has_a_default_is_told():
    """A field added to the nouns later must be told too, or be named here with why not."""
    silent = {
        "site.name": "a label",
        "mount.index_hole": "told with the holes",
        "mount.sighting_correction": "none until there are sightings",
        "mount.azimuth.dial_wraps_to_deg": "told with dial_wraps_at_deg",
        **dict.fromkeys(
            ("format", "version", "title", "notes", *SET_UP),
            "not computed from",
        ),
        "setup_minutes": "told by the timetable",
        "checklist": "what is ticked",
        "plate": "told by the plate itself; no evening depends on it",
        "satellites": "without any there is no answer",
        "picks": "told by the evening itself",
        "stand": "told by its own answer",
        "maximum_element_age_days": "told by each refusal it makes",
        **dict.fromkeys(
            ["mount.drive", "evening_rules", "seat_limits"], "an ideal drive, no rules and no limits"
        ),
        **{
            f"mount.{axis}.{field}": "an ideal axis until it is measured"
            for axis in ("azimuth", "elevation")
            for field in (
                *("rate_back_deg_s", "acceleration_deg_s2", "deadband_deg", "least_nudge_deg"),
                *("readout_step_deg", "calibration"),
            )
        },
    }
    paths = {
        *(f"site.{name}" for name, field in Plan.model_fields["site"].annotation.model_fields.items()),
        *Plan.model_fields,
    }
    mount = Plan.model_fields["mount"].annotation
    assert mount is not None
    for name, field in mount.model_fields.items():
        inner = getattr(field.annotation, "model_fields", {}) if name in {"azimuth", "elevation"} else {}
        paths |= {f"mount.{name}.{key}" for key in inner} or {f"mount.{name}"}
    needed = {"site", "mount", "evening", "site.latitude_deg", "site.longitude_deg"}
    told = assumed(plan_of(short_plan_data()))
    assert len(told) == len(paths - set(silent) - needed)
