"""Plan files: what is read, what is refused and how, and that a file is never half written."""

from __future__ import annotations

import copy
import json
import os
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from core.base.errors import FileProblem, PlanError
from core.base.model import Model
from core.base.text import one_line
from core.base.times import format_iso
from core.elements.model import ElementSet
from core.evaluate import identity
from core.mount.model.calibration import CalibrationPoint
from core.mount.model.station import (
    Antenna,
    AzimuthAxis,
    Drive,
    ElevationAxis,
    IndexHole,
    Mount,
    SightingCorrection,
    Tilt,
)
from core.mount.seat.limits import SeatLimit
from core.place.site import HorizonPoint, Site
from core.plan.document import Evening, EveningRules, Pick, Plan, Satellite, WayChoice
from core.plan.storage import plan_from_text, plan_to_text, read_plan, write_plan
from core.setup.model import (
    STEP_NAMES,
    Checklist,
    CompassReading,
    Landmark,
    LevelReading,
    PointingErrors,
    SetupMinutes,
    Sighting,
)
from tests.plans import (
    changed,
    elements_data,
    full_plan_data,
    plan_of,
    satellites_data,
    short_plan_data,
    write_plan_file,
)


def refusal(data: Any) -> PlanError:
    """The refusal of a plan, which must be one printable line."""
    text = data if isinstance(data, str) else json.dumps(data)
    with pytest.raises(PlanError) as caught:
        plan_from_text(text, "evening.northkey.json")
    assert str(caught.value).isprintable()
    assert caught.value.file == "evening.northkey.json"
    return caught.value


# --- round trips ------------------------------------------------------------------------------------------

text = st.text(st.characters(codec="utf-8"), max_size=12)
real = st.floats(-360.0, 360.0) | st.sampled_from([0.0, -0.0, 5e-324, 0.1, 1e-300])
moment = st.floats(1.7e9, 1.7e9 + 86_400.0).map(format_iso)


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high)


def some(model: type[Model], **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """Models with any of their optional fields left out."""
    needed = {name: fields[name] for name, field in model.model_fields.items() if field.is_required()}
    optional = {name: strategy for name, strategy in fields.items() if name not in needed}
    return st.fixed_dictionaries(needed, optional=optional).map(lambda given: model(**given))


def several(items: st.SearchStrategy[Any], least: int = 0) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(items, min_size=least, max_size=3).map(tuple)


@st.composite
def element_sets(draw: st.DrawFn) -> ElementSet:
    name = draw(text.filter(str.isprintable)).strip() or "x"
    data = elements_data(draw(st.integers(1, 999_999_999)), name)
    for keyword, low, high in [
        ("MEAN_MOTION", 0.5, 17.0),
        ("ECCENTRICITY", 0.0, 0.99),
        ("INCLINATION", 0.0, 180.0),
        ("MEAN_ANOMALY", -360.0, 360.0),
        ("BSTAR", -1.0, 1.0),
    ]:
        data[keyword] = draw(between(low, high))
    return ElementSet.model_validate(data)


@st.composite
def mounts(draw: st.DrawFn) -> Mount:
    holes = tuple(
        draw(some(IndexHole, name=st.just(name), offset_deg=between(-360.0, 360.0)))
        for name in draw(st.lists(st.sampled_from(["A", "B", "Ö", "a b"]), min_size=1, unique=True))
    )
    low, high = draw(between(-90.0, 0.0)), draw(between(1.0, 180.0))
    given_fields = st.fixed_dictionaries(
        {"index_holes": st.just(holes), "index_hole": st.sampled_from([hole.name for hole in holes])},
        optional={
            "keyway_bearing_deg": real,
            "sighting_correction": st.none()
            | some(
                SightingCorrection,
                deg=between(-180.0, 180.0),
                keyway_bearing_deg=real,
                index_hole=text,
                posture=st.sampled_from([None, "upright", "over the top"]),
            ),
            "tilt": some(Tilt, angle_deg=between(0.0, 30.0), toward_deg=between(0.0, 360.0)),
            "azimuth": some(
                AzimuthAxis,
                travel_deg=between(181.0, 1440.0),
                guard_deg=between(0.0, 90.0),
                rate_deg_s=between(0.05, 360.0),
                dial_at_stop_deg=real,
                dial_scale=between(0.1, 2.0),
                rate_back_deg_s=st.none() | between(0.05, 360.0),
                acceleration_deg_s2=st.none() | between(0.01, 1000.0),
                deadband_deg=between(0.0, 45.0),
                calibration=st.integers(0, 4).map(
                    lambda count: tuple(
                        CalibrationPoint(axis_deg=30.0 * k, dial_deg=29.5 * k - 0.1) for k in range(count)
                    )
                ),
            ),
            "drive": some(
                Drive,
                both_axes_at_once=st.booleans(),
                settle_s=between(0.0, 120.0),
                duty=between(0.01, 1.0),
                duty_window_s=between(0.1, 7200.0),
            ),
            "elevation": st.just(ElevationAxis(minimum_deg=low, maximum_deg=high)),
        },
    )
    return Mount(**draw(given_fields))


plans = some(
    Plan,
    title=text,
    site=some(
        Site,
        name=text,
        latitude_deg=between(-90.0, 90.0),
        longitude_deg=between(-180.0, 180.0),
        height_m=between(-500.0, 9000.0),
        time_zone=st.none() | text,
        minimum_elevation_deg=between(-10.0, 89.0),
        horizon=several(
            some(HorizonPoint, azimuth_deg=between(0.0, 360.0), elevation_deg=between(-10.0, 90.0))
        ),
    ),
    evening=st.floats(1.0, 15 * 86_400.0).map(
        lambda seconds: Evening(start=format_iso(1.73e9), end=format_iso(1.73e9 + seconds))
    ),
    mount=mounts(),
    antennas=several(
        some(
            Antenna,
            name=text,
            frequency_hz=between(0.0, 1e12),
            beamwidth_deg=between(0.1, 180.0),
            skew_deg=between(-90.0, 90.0),
        ),
        least=1,
    ),
    satellites=st.lists(
        st.builds(Satellite, name=text.filter(one_line), elements=element_sets()),
        max_size=3,
        unique_by=lambda satellite: satellite.elements.norad_id,
    ).map(tuple),
    steering=st.sampled_from(["led", "chased", "held"]),
    shortest_contact_s=between(0.0, 7200.0),
    picks=several(
        some(
            Pick,
            norad_id=st.integers(1, 999_999_999),
            near=moment,
            worth=between(0.0, 1000.0),
            way=st.none()
            | st.builds(
                WayChoice, posture=st.sampled_from(["upright", "over the top"]), turn=st.integers(-3, 3)
            ),
        )
    ),
    evening_rules=some(
        EveningRules,
        move_margin_s=between(0.0, 600.0),
        change_cost_s=between(0.0, 600.0),
        idle_m_deg=st.none() | real,
        stow_elevation_deg=st.none() | real,
    ),
    seat_limits=several(
        st.builds(SeatLimit, from_deg=between(0.0, 180.0), to_deg=between(181.0, 360.0), why=text)
    ),
    sightings=several(
        st.builds(partial(Sighting, azimuth_dial_deg=3.5), time=moment, target=text)
        | st.builds(
            Sighting,
            time=moment,
            target=text,
            bearing_deg=st.none() | real,
            elevation_dial_deg=real,
            half_power_dials_deg=st.none() | st.tuples(real, real),
            time_round=st.none() | st.integers(1, 5),
            came_from=st.sampled_from([None, "left", "right"]),
            sigma_deg=st.none() | between(0.01, 45.0),
            used=st.booleans(),
        )
    ),
    landmarks=several(
        some(
            Landmark,
            name=text.filter(one_line),
            latitude_deg=between(-90.0, 90.0),
            longitude_deg=between(-180.0, 180.0),
            sigma_m=between(0.0, 1e4),
        )
    ).filter(lambda marks: len({mark.name for mark in marks}) == len(marks)),
    level_readings=several(st.builds(LevelReading, bearing_deg=real, rise_deg=between(-30.0, 30.0))),
    compass=st.none() | some(CompassReading, reading_deg=real, steel_near=st.booleans()),
    pointing=some(PointingErrors, clock_s=between(0.0, 3600.0), wind_deg=between(0.0, 45.0)),
    setup_minutes=some(SetupMinutes, tripod=between(0.0, 240.0), spare_share=between(0.0, 3.0)),
    checklist=st.builds(Checklist, done=st.permutations(STEP_NAMES[:3]).map(tuple)),
    notes=text,
)


def given_keys(node: Any, path: str = "") -> set[str]:
    """Key paths that were given, not left to their defaults."""
    if isinstance(node, Model):
        names = {name: getattr(node, name) for name in node.model_fields_set}
    elif isinstance(node, tuple):
        names = {str(index): value for index, value in enumerate(node)}
    else:
        return {path}
    return {path} | {key for name, value in names.items() for key in given_keys(value, f"{path}.{name}")}


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(plan=plans)
def test_writing_and_reading_is_the_identity(tmp_path_factory, plan):
    path = tmp_path_factory.mktemp("plans", numbered=True) / "evening.northkey.json"
    write_plan(path, plan)
    again = read_plan(path)
    assert again == plan
    assert identity(again) == identity(plan)
    assert given_keys(again) - {".format", ".version"} == given_keys(plan) - {".format", ".version"}
    assert plan_to_text(again) == path.read_text("utf-8")


@pytest.mark.parametrize("data", [short_plan_data(), full_plan_data()])
def test_a_file_comes_back_as_it_was_written(data):
    """All keys, all values, nothing added: the text is the data."""
    assert json.loads(plan_to_text(plan_of(data))) == data | {
        "evening": {"start": "2024-11-01T17:00:00.000Z", "end": "2024-11-01T20:00:00.000Z"}
    }


def test_the_full_plan_has_every_key_of_the_skeleton():
    """Sections 5's names, so that none is renamed unseen; ``elements`` holds OMM keywords."""
    data = full_plan_data()
    assert set(data) == {
        *("format", "version", "title", "site", "evening", "mount", "antennas", "satellites"),
        *("steering", "shortest_contact_s", "picks", "sightings", "notes"),
        *("evening_rules", "seat_limits", "clearance"),
    }
    for model, part in [
        (Plan, data),
        (Site, data["site"]),
        (Mount, data["mount"]),
        (AzimuthAxis, data["mount"]["azimuth"]),
        (ElevationAxis, data["mount"]["elevation"]),
        (SightingCorrection, data["mount"]["sighting_correction"]),
        (Antenna, data["antennas"][0]),
        (Pick, data["picks"][0]),
        (Drive, data["mount"]["drive"]),
        (CalibrationPoint, data["mount"]["azimuth"]["calibration"][0]),
        (EveningRules, data["evening_rules"]),
        (SeatLimit, data["seat_limits"][0]),
    ]:
        assert set(part) <= set(model.model_fields), model
    assert plan_of(data).mount.azimuth.dial_wraps_at_deg == 360.0


def test_a_site_two_element_sets_and_an_evening_are_a_plan():
    """The defaults that section 5 states."""
    plan = plan_of(short_plan_data())
    site, mount = plan.site, plan.mount
    assert (site.minimum_elevation_deg, site.horizon) == (5.0, ())
    assert (mount.keyway_bearing_deg, mount.datum_to_stop_deg, mount.tilt.angle_deg) == (0.0, 0.0, 0.0)
    assert [(hole.name, hole.offset_deg) for hole in mount.index_holes] == [("A", 0.0)]
    assert (mount.index_hole, mount.sighting_correction) == ("A", None)
    azimuth, elevation = mount.azimuth, mount.elevation
    assert (azimuth.travel_deg, azimuth.guard_deg, azimuth.rate_deg_s) == (450.0, 3.0, 6.0)
    assert (elevation.minimum_deg, elevation.maximum_deg, elevation.rate_deg_s) == (0.0, 180.0, 2.5)
    assert (azimuth.dial_at_stop_deg, azimuth.dial_scale, azimuth.dial_division_deg) == (0.0, 1.0, 1.0)
    assert (azimuth.dial_wraps_at_deg, azimuth.dial_wraps_to_deg) == (None, None)
    assert (elevation.dial_offset_deg, elevation.dial_division_deg) == (0.0, 1.0)
    assert [antenna.beamwidth_deg for antenna in plan.antennas] == [30.0]
    assert (plan.steering, plan.shortest_contact_s, plan.picks, plan.sightings) == ("led", 180.0, (), ())
    assert plan_of(short_plan_data(), picks=[{"norad_id": 70001, "near": "2024-11-01"}]).picks[0].worth == 1.0


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("2024-11-01T18:00:00+01:00", "2024-11-01T17:00:00.000Z"),
        ("2024-11-01T17:00", "2024-11-01T17:00:00.000Z"),
        ("2024-11-01T17:00:00.12345Z", "2024-11-01T17:00:00.123Z"),
        ("20241101T170000Z", "2024-11-01T17:00:00.000Z"),
    ],
)
def test_times_are_brought_to_utc_with_milliseconds(written, read):
    assert plan_of(short_plan_data(), evening__start=written).evening.start == read


# --- refusals ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "place"),
    [
        ("colour", "colour"),
        ("site__latitude", "site.latitude"),
        ("evening__from", "evening.from"),
        ("mount__azimut", "mount.azimut"),
        ("mount__azimuth__travel", "mount.azimuth.travel"),
        ("mount__tilt__angle", "mount.tilt.angle"),
        ("mount__elevation__dial_wraps_at_deg", "mount.elevation.dial_wraps_at_deg"),
    ],
)
def test_unknown_keys_are_refused_by_name(path, place):
    error = refusal(changed(full_plan_data(), **{path: 1}))
    assert error.place == place
    assert "no key of a plan" in error.reason


def test_unknown_keys_deep_in_lists_are_refused_by_name():
    for where, place in [
        (("satellites", 1, "elements", "NORAD_ID"), "satellites[2].elements.NORAD_ID"),
        (("satellites", 0, "elements", "CREATION_DATE"), "satellites[1].elements.CREATION_DATE"),
        (("satellites", 0, "colour"), "satellites[1].colour"),
        (("picks", 0, "priority"), "picks[1].priority"),
        (("picks", 0, "way", "kind"), "picks[1].way.kind"),
        (("sightings", 0, "deg"), "sightings[1].deg"),
        (("antennas", 1, "gain_dbi"), "antennas[2].gain_dbi"),
        (("site", "horizon", 2, "az"), "site.horizon[3].az"),
        (("mount", "index_holes", 1, "drilled_deg"), "mount.index_holes[2].drilled_deg"),
        (("mount", "sighting_correction", "x"), "mount.sighting_correction.x"),
    ]:
        data: Any = full_plan_data()
        node = data
        for part in where[:-1]:
            node = node[part]
        node[where[-1]] = 1
        assert refusal(data).place == place


def test_the_program_s_own_names_are_no_keys_of_elements():
    data = short_plan_data()
    elements = data["satellites"][0]["elements"]
    elements["mean_motion_rev_day"] = elements.pop("MEAN_MOTION")
    error = refusal(data)
    assert error.place == "satellites[1].elements.mean_motion_rev_day"


def test_a_key_nearly_right_is_guessed():
    assert 'perhaps "travel_deg"' in refusal(changed(full_plan_data(), mount__azimuth__travle_deg=1)).reason


def test_a_newer_version_is_refused_clearly():
    error = refusal(changed(full_plan_data(), version=2, something_new=1))
    assert (error.place, error.reason) == (
        "version",
        "is 2, this program reads up to 1; open it with a newer one",
    )


@pytest.mark.parametrize("version", [None, "1", 1.0, True, 0, -1, [1]])
def test_what_is_no_version_is_refused(version):
    assert refusal(changed(full_plan_data(), version=version)).place == "version"


def test_a_plan_without_a_version_is_refused():
    data = full_plan_data()
    del data["version"]
    assert refusal(data).place == "version"


def test_an_older_version_is_migrated_step_by_step(monkeypatch):
    """Proved with invented versions: keys are renamed on the way, and what is written is the newest."""
    from core.plan import storage

    def from_one(data: dict[str, Any]) -> dict[str, Any]:
        return {"name" if key == "title" else key: value for key, value in data.items()}

    def from_two(data: dict[str, Any]) -> dict[str, Any]:
        return {"title" if key == "name" else key: value for key, value in data.items()} | {"notes": "moved"}

    monkeypatch.setattr(storage, "_MIGRATIONS", {1: from_one, 2: from_two})
    monkeypatch.setattr(storage, "VERSION", 3)
    with pytest.raises(PlanError, match=r"version"):  # the model knows version 1 only: it was asked for 3
        plan_from_text(json.dumps(full_plan_data()))
    assert storage._migrated(full_plan_data(), 1) == full_plan_data() | {"notes": "moved", "version": 3}


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("site__latitude_deg", 151.2, "is 151.2, it must be -90 to 90"),
        ("site__latitude_deg", -90.001, "is -90.001, it must be -90 to 90"),
        ("site__latitude_deg", "47.2", 'is "47.2", it must be a number without quotes'),
        ("site__latitude_deg", "north", 'is "north", it must be a number'),
        ("site__latitude_deg", True, "is true, it must be a number without quotes"),
        ("mount__drive__both_axes_at_once", 1, "is 1, it must be true or false"),
        ("mount__drive__both_axes_at_once", "yes", 'is "yes", it must be true or false'),
        ("site__latitude_deg", None, "is null, it must be a number"),
        ("site__latitude_deg", [47.2], "is [47.2], it must be a number"),
        ("site__latitude_deg", 10**400, "it must be a number"),
        ("site__minimum_elevation_deg", 90, "is 90, it must be -10 to below 90"),
        ("site", None, "is null, it must be an object in braces"),
        ("site__horizon", {"azimuth_deg": 1}, "it must be a list in square brackets"),
        ("site__name", 5, "is 5, it must be text in quotes"),
        ("evening", [], "is [], it must be an object in braces"),
        ("evening__start", 1730480400, "is 1730480400, it must be text in quotes"),
        ("evening__start", "tonight", "must be an ISO 8601 time"),
        ("evening__start", "1204-11-01", "the years 1957 to 2099"),
        ("evening__end", "9999-12-31T23:59:59.9999Z", "the years 1957 to 2099"),
        ("evening", {"start": "2024-11-02", "end": "2024-11-01"}, "end must be later than start"),
        ("evening", {"start": "2024-11-02", "end": "2024-11-02"}, "end must be later than start"),
        ("evening", {"start": "2024-11-02", "end": "2025-11-02"}, "15 days at most"),
        ("mount__azimuth__travel_deg", 0, "is 0, it must be 1 to 1440"),
        ("mount__azimuth__travel_deg", 5.0, "guard_deg leaves no travel"),
        ("mount__azimuth__dial_scale", 0.0, "dial_scale must not be 0"),
        ("mount__azimuth__dial_wraps_at_deg", None, "give both or neither"),
        ("mount__azimuth__dial_wraps_at_deg", 0.0, "must be more than dial_wraps_to_deg"),
        (
            "mount__elevation",
            {"minimum_deg": 90, "maximum_deg": 80},
            "minimum_deg must be less than maximum_deg",
        ),
        ("mount__index_hole", "C", "'C' is not one of the holes A, B"),
        ("mount__index_holes", [{"name": "A"}, {"name": "A"}], "two holes have the same name"),
        ("mount__index_holes", [{"name": ""}], "it must be at least 1 character long"),
        ("antennas", [], "is [], it must be a list of at least 1"),
        ("steering", "fast", "is \"fast\", it must be 'led', 'chased' or 'held'"),
        ("shortest_contact_s", -1, "it must be 0 to 7200"),
        ("picks", [{"norad_id": 1.5, "near": "2024-11-01"}], "is 1.5, it must be a whole number"),
        ("picks", [{"norad_id": "1", "near": "2024-11-01"}], "a number without quotes"),
        ("picks", [{"norad_id": 1, "near": "soon"}], "must be an ISO 8601 time"),
        ("satellites", satellites_data() * 2, "70001 is there twice"),
        ("satellites", [{"name": "x", "elements": elements_data(1, MEAN_MOTION=True)}], "without quotes"),
        ("satellites", [{"name": "x", "elements": elements_data(1, EPOCH="2024-13-01")}], "EPOCH"),
        ("satellites", [{"name": "x", "elements": elements_data(1, REF_FRAME="ICRF")}], "REF_FRAME"),
        ("title", "\ud800", "it must be Unicode text"),
    ],
)
def test_wrong_values_are_told_with_place_and_remedy(path, value, words):
    error = refusal(changed(full_plan_data(), **{path: value}))
    assert words in str(error)
    assert path.split("__")[0] in str(error)


def test_what_is_missing_is_named():
    for keys, place in [
        (("site",), "site"),
        (("evening",), "evening"),
        (("site", "latitude_deg"), "site.latitude_deg"),
        (("evening", "end"), "evening.end"),
        (("satellites", 0, "elements", "EPOCH"), "satellites[1].elements.EPOCH"),
        (("picks", 0, "near"), "picks[1].near"),
    ]:
        data: Any = full_plan_data()
        node = data
        for part in keys[:-1]:
            node = node[part]
        del node[keys[-1]]
        error = refusal(data)
        assert (error.place, error.reason) == (place, "is missing")


def test_numbers_in_quotes_pass_in_element_sets():
    """Other programs write them so; they come back as numbers."""
    quoted = {key: str(value) for key, value in elements_data(70001).items()}
    plan = plan_of(short_plan_data(), satellites=[{"name": "Alder", "elements": quoted}])
    assert plan.satellites[0].elements == plan_of(short_plan_data()).satellites[0].elements


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("", "line 1: is empty"),
        ("null", "is no plan file"),
        ("[]", "is no plan file"),
        ("{}", "is no plan file"),
        ('{"format": "something else", "version": 1}', "is no plan file"),
        (json.dumps(full_plan_data(), indent=1)[:-40], "is not JSON"),
        (json.dumps(full_plan_data())[:-1] + ', "version": 1}', '"version" stands twice'),
        ('{"format": "northkey-plan", "version": 1, "title": NaN}', "NaN is no number"),
        ('{"format": "northkey-plan", "version": 1, "title": -Infinity}', "-Infinity is no number"),
        ("[" * 200_000, "holds 200000 lists and objects with next to nothing in them"),
        (("[" + " " * 20) * 20_000, "is nested deeper than any plan"),
        ('{"a long key to begin with":' * 10_000, "is nested deeper than any plan"),
        ('{"format": "northkey-plan", "version": ' + "9" * 5000 + "}", "thousands of digits"),
        ('{"format": "northkey-plan", "version": ' + "9" * 4000 + "}", "this program reads up to 1"),
        (json.dumps(short_plan_data()).replace("47.2", "1e999"), "it must be a finite number"),
        (json.dumps(short_plan_data()).replace("47.2", "[" * 900 + "]" * 900), "it must be a number"),
        (json.dumps(short_plan_data() | {"a\nb\x1b[2J": 1}), "is no key of a plan"),
        (
            "\ufeff" + json.dumps(short_plan_data()),
            "is not JSON",
        ),  # a text, not a file: no mark belongs there
    ],
)
def test_broken_texts_are_refused_in_one_line(content, words):
    assert words in str(refusal(content))


def test_truncation_anywhere_is_refused():
    whole = json.dumps(full_plan_data(), indent=1)
    for length in range(0, len(whole) - 1, 37):
        refusal(whole[:length])


def test_doubled_keys_are_refused_at_any_depth():
    text_ = json.dumps(short_plan_data()).replace('"latitude_deg"', '"latitude_deg": 1.0, "latitude_deg"')
    assert '"latitude_deg" stands twice' in str(refusal(text_))


# --- files ------------------------------------------------------------------------------------------------


def file_refusal(path: str | Path) -> PlanError:
    with pytest.raises(PlanError) as caught:
        read_plan(path)
    assert str(caught.value).isprintable()
    return caught.value


def test_a_byte_order_mark_is_taken(tmp_path):
    path = tmp_path / "evening.northkey.json"
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps(short_plan_data()).encode())
    assert read_plan(path) == plan_of(short_plan_data())


@pytest.mark.parametrize("content", [b"\xff\xfe{\x00}\x00", b'{"format": "\xe9"}', bytes(range(256))])
def test_what_is_not_utf_8_is_refused(tmp_path, content):
    path = tmp_path / "evening.northkey.json"
    path.write_bytes(content)
    assert "UTF-8" in file_refusal(path).reason


def test_files_that_cannot_be_read_are_refused(tmp_path):
    assert "does not exist" in file_refusal(tmp_path / "none").reason
    assert "is a folder" in file_refusal(tmp_path).reason
    assert "does not exist" in file_refusal("").reason
    assert "null" in file_refusal("a\0b").reason
    assert "too long" in file_refusal("x" * 5000).reason


def test_a_file_beyond_all_measure_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr("core.plan.storage._LARGEST_BYTES", 100)
    assert "larger than any plan" in file_refusal(write_plan_file(tmp_path)).reason


def test_the_file_is_named_as_the_operator_gave_it(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    write_plan_file(tmp_path, colour=1)
    assert str(file_refusal("evening.northkey.json")).startswith("evening.northkey.json, colour: ")


# --- any JSON at all --------------------------------------------------------------------------------------

json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**20), 10**20)
    | st.floats()
    | st.text(max_size=5)
    | st.sampled_from(["upright", "A", "2024-11-01T17:30:00Z", 70001, 0, -0.0, 1e308, "led"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=4,
)


def places(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every key path of JSON data."""
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    return [path, *(place for key, value in items for place in places(value, (*path, key)))]


PLACES = places(full_plan_data())[1:]


@settings(max_examples=600, deadline=None)
@given(
    mutations=st.lists(
        st.tuples(
            st.sampled_from(PLACES), st.sampled_from(["set", "drop", "rename", "add", "double"]), json_values
        ),
        min_size=1,
        max_size=3,
    )
)
@example(mutations=[(("site", "latitude_deg"), "set", float("nan"))])
def test_any_mutation_gives_a_plan_or_one_refusal(mutations):
    data = full_plan_data()
    for place, how, value in mutations:
        mutate(data, place, how, value)
    content = json.dumps(data)
    plan = plan_or_refusal(lambda: plan_from_text(content, "plan"))
    if isinstance(plan, Plan):
        assert plan_from_text(plan_to_text(plan)) == plan
    else:
        assert str(plan).isprintable()
        assert plan.reason


def plan_or_refusal(read: Callable[[], Plan]) -> Plan | PlanError:
    try:
        return read()
    except PlanError as error:
        return error


def mutate(data: Any, place: tuple[Any, ...], how: str, value: Any) -> None:
    """One change of JSON data in place; nothing where an earlier change removed the place."""
    node = data
    try:
        for part in place[:-1]:
            node = node[part]
        old = node[place[-1]]
    except (KeyError, IndexError, TypeError):
        return
    last = place[-1]
    if how == "set":
        node[last] = value
    elif how == "drop":
        del node[last]
    elif how == "rename" and isinstance(node, dict):
        node[str(last).upper()] = node.pop(last)
    elif how == "add" and isinstance(old, dict):
        old["added"] = value
    elif how == "double" and isinstance(old, list):
        old.extend(copy.deepcopy(old))


@settings(max_examples=400, deadline=None)
@given(at=st.integers(0, 2000), cut=st.integers(0, 20), put=st.binary(max_size=6))
def test_any_damage_to_the_bytes_gives_a_plan_or_one_refusal(tmp_path_factory, at, cut, put):
    whole = json.dumps(full_plan_data(), ensure_ascii=False).encode()
    path = tmp_path_factory.getbasetemp() / "damaged.northkey.json"
    path.write_bytes(whole[:at] + put + whole[at + cut :])
    plan = plan_or_refusal(lambda: read_plan(path))
    assert isinstance(plan, Plan) or str(plan).isprintable()


# --- writing ----------------------------------------------------------------------------------------------


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_a_write_replaces_the_file_and_leaves_nothing_else(tmp_path):
    path = write_plan_file(tmp_path)
    write_plan(path, plan_of(full_plan_data()))
    assert contents(tmp_path) == {path.name: plan_to_text(plan_of(full_plan_data())).encode()}


@pytest.mark.parametrize("step", ["os.replace", "os.fsync", "os.chmod"])
@pytest.mark.parametrize(
    "failure", [OSError(28, "No space left on device"), KeyboardInterrupt(), MemoryError()]
)
def test_a_failing_write_leaves_the_old_file(tmp_path, monkeypatch, step, failure):
    path = write_plan_file(tmp_path)
    before = contents(tmp_path)

    def fails(*_args: object, **_named: object) -> None:
        raise failure

    monkeypatch.setattr(step, fails)
    expected = FileProblem if isinstance(failure, OSError) else type(failure)
    with pytest.raises(expected) as caught:
        write_plan(path, plan_of(full_plan_data()))
    assert contents(tmp_path) == before
    if isinstance(failure, OSError):
        assert str(caught.value) == f"{path}: cannot be written: no space left on device"


def test_the_content_is_on_the_disk_before_it_takes_the_old_one_s_place(tmp_path, monkeypatch):
    path, calls = write_plan_file(tmp_path), []
    for step in ("fsync", "replace"):
        real_call = getattr(os, step)
        monkeypatch.setattr(
            os, step, lambda *a, step=step, real_call=real_call: (calls.append(step), real_call(*a))[1]
        )
    write_plan(path, plan_of(full_plan_data()))
    assert calls == ["fsync", "replace"]
