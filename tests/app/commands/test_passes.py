"""`northkey passes`."""

from __future__ import annotations

import copy
import json

import pytest

from core.base.times import parse_iso
from core.passes.frames import Observer
from core.passes.search import find_stays
from tests.app.commands.fields import PASS, PASSES_ANSWER, misfit
from tests.app.commands.runner import refused, run
from tests.plans import elements_data, plan_of, satellites_data, short_plan_data, write_elements_file

WHEN = ("--start", "2024-11-01T17:00:00Z", "--hours", "3")


@pytest.fixture
def elements(tmp_path):
    return write_elements_file(tmp_path)


def test_json_has_the_fields_of_the_design_and_no_others(elements):
    answer = run("passes", "--elements", elements, "--site", "47.2,9.1", *WHEN, "--json")
    assert (answer.code, answer.err) == (0, "")
    assert misfit(answer.json, PASSES_ANSWER) is None
    assert len(answer.json["passes"]) == 4


def test_the_field_check_sees_every_departure(elements):
    shape = run("passes", "--elements", elements, "--site", "47.2,9.1", *WHEN, "--json").json["passes"][0]
    for key in PASS:
        assert misfit({other: value for other, value in shape.items() if other != key}, PASS)
        assert misfit(shape | {key: object()}, PASS)
    assert misfit(shape | {"more": 1}, PASS)
    for wrong in ["2024-11-01T17:00:00Z", "2024-11-01T17:00:00.1234Z", "2024-11-01T17:00:00.123", 3]:
        altered = copy.deepcopy(shape)
        altered["aos"]["time"] = wrong
        assert misfit(altered, PASS)
    for wrong in [float("nan"), -0.0, "3", True, None]:
        altered = copy.deepcopy(shape)
        altered["tca"]["range_km"] = wrong
        assert misfit(altered, PASS)


def test_figures_are_those_of_a_search_with_exact_crossings(elements):
    """Over the horizon itself a pass is a stay: its ends, peak and closest point are the search's."""
    answer = run(
        "passes", "--elements", elements, "--site", "47.2,9.1,0", *WHEN, "--json", "--min-elevation", "0"
    )
    plan = plan_of(short_plan_data())
    sets = [satellite.elements for satellite in plan.satellites]
    start = plan.evening.start_utc_s
    stays = find_stays(sets, Observer(47.2, 9.1, 0.0), start, start + 3 * 3600.0).stays
    assert len(stays) == len(answer.json["passes"]) == 4
    for stay, shown in zip(stays, answer.json["passes"], strict=True):
        assert shown["norad_id"] == stay.norad_id
        assert parse_iso(shown["aos"]["time"]) == pytest.approx(stay.start_utc_s, abs=0.002)
        assert parse_iso(shown["los"]["time"]) == pytest.approx(stay.end_utc_s, abs=0.002)
        assert parse_iso(shown["peak"]["time"]) == pytest.approx(stay.peak.utc_s, abs=6e-4)
        assert shown["peak"]["elevation_deg"] == pytest.approx(stay.peak.elevation_deg, abs=6e-5)
        assert shown["tca"]["range_km"] == pytest.approx(stay.tca.range_km, abs=6e-4)
        assert shown["aos"]["elevation_deg"] == pytest.approx(0.0, abs=1e-3)
        assert shown["stretches"] == [[shown["aos"]["time"], shown["los"]["time"]]]


def test_the_window_s_ends_cut(elements):
    words = ("passes", "--elements", elements, "--site", "47.2,9.1", "--json", "--names", "70001", "--start")
    cuts = {
        ("2024-11-01T17:00:00Z", "0.5"): None,
        ("2024-11-01T17:15:00Z", "0.5"): "start",
        ("2024-11-01T17:00:00Z", "0.3"): "end",
        ("2024-11-01T17:15:00Z", "0.1"): "both",
    }
    for (start, hours), cut in cuts.items():
        passes = run(*words, start, "--hours", hours).json["passes"]
        assert [pass_["cut"] for pass_ in passes] == [cut]


@pytest.mark.parametrize(
    "site",
    [["--site", "-33.9,151.2"], ["--site=-33.9,151.2"], ["--site", "-33.9,151.2,-5"], ["--site", "QF56oc"]],
)
def test_negative_coordinates_work_as_written(elements, site):
    answer = run("passes", "--elements", elements, *site, *WHEN)
    assert answer.code == 0
    assert " S 151.2" in answer.out.splitlines()[0] or "QF56oc" in answer.out.splitlines()[0]


@pytest.mark.parametrize("site", ["-0.5,3", "0,-0", "-0,-0", "-90,-180", "90,180", "47.2 9.1", "47,2; 9,1"])
def test_odd_but_clear_positions_work(elements, site):
    assert run("passes", "--elements", elements, "--site", site, *WHEN).code == 0


def test_a_negative_minimum_elevation_works_as_written(elements):
    words = ("passes", "--elements", elements, "--site", "47.2,9.1", *WHEN, "--json", "--min-elevation")
    low, zero, high = (run(*words, limit).json["passes"] for limit in ("-2", "-0", "20"))
    assert [pass_["aos"]["elevation_deg"] for pass_ in low] == pytest.approx([-2.0] * 4, abs=1e-3)
    assert [pass_["aos"]["elevation_deg"] for pass_ in zero] == pytest.approx([0.0] * 4, abs=1e-3)
    assert [pass_["aos"]["elevation_deg"] for pass_ in high] == pytest.approx([20.0] * 4, abs=1e-3)


def test_names_choose_by_name_or_number(elements):
    words = ("passes", "--elements", elements, "--site", "47.2,9.1", *WHEN, "--json", "--names")
    for names, numbers in [
        ("HILLTOP 70001", {70001}),
        ("hilltop 70001", {70001}),
        ("70002", {70002}),
        (" 70001 , 70002 ", {70001, 70002}),
    ]:
        answer = run(*words, names)
        assert {pass_["norad_id"] for pass_ in answer.json["passes"]} == numbers
    answer = run(*words, "70001,Nobody")
    assert answer.code == 0
    assert answer.errors == ["no satellite is called 'Nobody' in these files"]
    answer = run(*words, "Nobody")
    assert (answer.code, answer.out, len(answer.errors)) == (2, "", 2)


def test_a_horizon_file_cuts_stretches(elements, tmp_path):
    horizon = tmp_path / "horizon.csv"
    horizon.write_text("azimuth,elevation\n0,0\n60,0\n61,60\n75,60\n76,0\n")
    words = ("passes", "--elements", elements, "--site", "47.2,9.1", *WHEN, "--names", "70001")
    shown = run(*words, "--horizon", horizon, "--json").json["passes"][0]
    free = run(*words, "--json").json["passes"][0]
    assert len(shown["stretches"]) == 2
    assert shown["stretches"][0][0] == free["aos"]["time"]
    assert shown["stretches"][1][1] == free["los"]["time"]
    assert "in 2 stretches" in run(*words, "--horizon", horizon).out


def test_several_files_and_their_refusals(elements, tmp_path):
    other = tmp_path / "other.json"
    other.write_text(json.dumps([elements_data(70003), elements_data(70001, EPOCH="2024-10-01T00:00:00")]))
    answer = run(
        "passes", "--elements", elements, other, tmp_path / "none", "--site", "47.2,9.1", *WHEN, "--json"
    )
    assert answer.code == 0
    assert {pass_["norad_id"] for pass_ in answer.json["passes"]} == {70001, 70002, 70003}
    assert any("does not exist" in line for line in answer.errors)
    assert any("older set of the same object" in line for line in answer.errors)


def test_refusals_go_to_standard_error_and_the_rest_is_answered(tmp_path):
    decayed = elements_data(70009, MEAN_MOTION=16.4, BSTAR=0.1, ECCENTRICITY=0.02)
    both = write_elements_file(tmp_path, satellites_data()[0]["elements"], decayed)
    words = ("passes", "--site", "47.2,9.1", *WHEN, "--json", "--elements")
    answer = run(*words, both)
    assert answer.code == 0
    assert len(answer.errors) == 1
    assert answer.errors[0].startswith("HILLTOP 70009 (70009): ")
    assert misfit(answer.json, PASSES_ANSWER) is None
    assert [entry["satellite"] for entry in answer.json["refused"]] == ["HILLTOP 70009"]
    alone = run(*words, write_elements_file(tmp_path, decayed))
    assert alone.code == 2
    assert alone.json["passes"] == []
    assert len(alone.errors) == 1


def test_elements_far_from_the_window_are_told(elements):
    words = ("passes", "--elements", elements, "--site", "47.2,9.1", "--hours", "3", "--start")
    assert run(*words, "2024-11-14").errors == []
    answer = run(*words, "2024-12-01")
    assert answer.code == 0
    assert "(29.7)" in answer.errors[0]
    assert "newer" in answer.errors[0]
    ahead = run(*words, "2024-10-01").errors[0]
    assert "epoch" in ahead
    assert "newer" not in ahead


def test_elements_too_far_are_refused_unless_more_days_are_allowed(elements):
    words = ("passes", "--elements", elements, "--site", "47.2,9.1", "--hours", "3", "--json", "--start")
    far = (("2025-01-05", "64.7 days old", "newer"), ("2024-08-20", "73.3 days after", "date"))
    for start, days, cure in far:
        answer = run(*words, start)
        assert (answer.code, answer.json["passes"]) == (2, [])
        reasons = [entry["reason"] for entry in answer.json["refused"]]
        assert len(reasons) == 2
        assert all(days in reason and "60 allowed" in reason and cure in reason for reason in reasons)
        asked = run(*words, start, "--max-age", "80")
        assert (asked.code, asked.json["refused"]) == (0, [])
    assert "--max-age" in refused(*words, "2024-11-01", "--max-age", "0")


def test_the_table_says_where_when_and_how_many(elements):
    lines = run("passes", "--elements", elements, "--site", "47.2,9.1,1300", *WHEN).out.splitlines()
    assert lines[0].startswith("47.2000 N 9.1000 E 1300 m, locator JN47ne")
    assert lines[1] == "4 passes over 5 deg, 3 h from 2024-11-01T17:00:00.000Z; times UTC"
    assert len(lines) == 3 + 1 + 4
    few = run("passes", "--elements", elements, "--site", "47.2,9.1", *WHEN, "--min-elevation", "35").out
    assert few.splitlines()[1].startswith("1 pass over 35 deg")
    none = run("passes", "--elements", elements, "--site", "47.2,9.1", *WHEN, "--min-elevation", "89")
    assert (none.code, none.out.splitlines()[1][:8]) == (0, "0 passes")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (["--site", "151.2,-33.9"], "it comes before the longitude"),
        (["--site", "47.2"], "LAT,LON"),
        (["--site", ""], "LAT,LON"),
        (["--site", "nan,9"], "LAT,LON"),
        (["--start", "tomorrow"], "--start"),
        (["--start", "0001-01-01"], "1957 to 2099"),
        (["--hours", "0"], "--hours"),
        (["--hours", "-3"], "--hours"),
        (["--hours", "nan"], "--hours"),
        (["--hours", "inf"], "--hours"),
        (["--hours", "1e-12"], "--hours"),
        (["--hours", "745"], "--hours"),
        (["--hours", "three"], "--hours"),
        (["--min-elevation", "90"], "--min-elevation"),
        (["--min-elevation", "-10.1"], "--min-elevation"),
        (["--min-elevation", "nan"], "--min-elevation"),
        (["--horizon", "nowhere.csv"], "nowhere.csv"),
        (["--colour", "red"], "--colour"),
        (["stray"], "stray"),
    ],
)
def test_wrong_words_are_refused_in_one_line(elements, change, words):
    given = ["passes", "--elements", elements, "--site", "47.2,9.1", *WHEN]
    if change == ["stray"]:
        given = ["passes", "stray", "--site", "47.2,9.1", *WHEN, "--elements", elements]
        change = []
    assert words in refused(*given, *change)


@pytest.mark.parametrize("content", [b"", b"\x00\x01\x02", b"hello", b"[]", b"{}", b"[" * 5000])
def test_files_without_elements_are_refused(tmp_path, content):
    path = tmp_path / "elements"
    path.write_bytes(content)
    answer = run("passes", "--elements", path, "--site", "47.2,9.1", *WHEN)
    assert (answer.code, answer.out) == (2, "")
    assert answer.errors[-1] == "no element set to predict from: the files hold none that can be used"
    assert str(path) in answer.errors[0]
