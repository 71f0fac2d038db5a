"""`northkey check`."""

from __future__ import annotations

import pytest

from core.base.times import parse_iso
from tests.app.commands.fields import CHECK_ANSWER, misfit
from tests.app.commands.runner import refused, run
from tests.plans import (
    changed,
    elements_data,
    full_plan_data,
    short_plan_data,
    write_elements_file,
    write_plan_file,
)

#: Travel and range so short that nothing has a way.
NARROW = {"mount__azimuth__travel_deg": 361.0, "mount__elevation__maximum_deg": 90.0}
DECAYED = {"name": "Dusk", "elements": elements_data(70004, MEAN_MOTION=16.4, BSTAR=0.1, ECCENTRICITY=0.02)}


@pytest.mark.parametrize(
    "changes",
    [
        {},
        NARROW,
        {"mount__azimuth__travel_deg": 90.0},
        {"mount__azimuth__rate_deg_s": 0.05},
        {"mount__elevation__maximum_deg": 20.0},
        {"mount__azimuth__travel_deg": 720.0, "mount__azimuth__guard_deg": 0.0},
        {"site__minimum_elevation_deg": 89.0},
        {"site__minimum_elevation_deg": -3.0},
        {"site__horizon": [{"azimuth_deg": 0, "elevation_deg": 90}]},
    ],
)
def test_json_has_the_fields_of_the_design_and_no_others(tmp_path, changes):
    answer = run("check", write_plan_file(tmp_path, **changes), "--json")
    assert (answer.code, answer.err) == (0, "")
    assert misfit(answer.json, CHECK_ANSWER) is None


def test_json_of_a_full_plan(tmp_path):
    answer = run("check", write_plan_file(tmp_path, full_plan_data(), picks=[]), "--json")
    assert answer.code == 0
    assert misfit(answer.json, CHECK_ANSWER) is None
    assert answer.json["assumed"] == []
    assert {pass_["satellite"] for pass_ in answer.json["passes"]} == {"Alder", "Birch"}


def test_the_passes_are_those_of_northkey_passes(tmp_path):
    checked = run("check", write_plan_file(tmp_path), "--json").json["passes"]
    elements = write_elements_file(tmp_path)
    found = run(
        *("passes", "--elements", elements, "--site", "47.2,9.1"),
        *("--start", "2024-11-01T17:00:00Z", "--hours", "3", "--json"),
    ).json["passes"]
    for one, other in zip(checked, found, strict=True):
        assert {key: one[key] for key in other if key != "satellite"} == {
            key: value for key, value in other.items() if key != "satellite"
        }


@pytest.mark.parametrize(
    "changes", [{}, NARROW, {"mount__azimuth__travel_deg": 300.0}, {"mount__keyway_bearing_deg": 77.0}]
)
def test_what_is_told_of_a_pass_goes_together(tmp_path, changes):
    data = changed(
        short_plan_data(),
        mount__azimuth__dial_at_stop_deg=180.0,
        mount__azimuth__dial_wraps_at_deg=360.0,
        mount__azimuth__dial_wraps_to_deg=0.0,
        mount__elevation__dial_offset_deg=1.5,
    )
    shown = run("check", write_plan_file(tmp_path, data, **changes), "--json").json
    assert len(shown["passes"]) == 4
    for pass_ in shown["passes"]:
        ways = pass_["ways"]
        assert set(pass_["clear"]) == {way["posture"] for way in ways if way["clear"]}
        assert len({(way["posture"], way["turn"]) for way in ways}) == len(ways)
        for way in ways:
            assert way["clear"] != way["rests"]
            assert (way["rest"] is not None) == way["rests"]
            assert 0.0 <= way["m_min_deg"] <= way["m_max_deg"]
            assert 0.0 <= way["dial_aos_deg"] < 360.0
            assert 0.0 <= way["dial_los_deg"] < 360.0
        if pass_["verdict"] in {"upright", "over the top"}:
            held = [way for way in ways if way["posture"] == pass_["verdict"]]
            assert held
            assert pass_["resting"] in {way["rests"] for way in held}
            assert pass_["cure"] is None
        assert (pass_["split"] is not None) == (pass_["verdict"] == "split")
        assert (pass_["part"] is not None) == (pass_["verdict"] == "part")
        # Stretches are to the millisecond, seconds to a tenth.
        over = sum(parse_iso(end) - parse_iso(start) for start, end in pass_["stretches"])
        assert pass_["seconds_over_mask"] == pytest.approx(over, abs=0.06)
        assert 0.0 <= pass_["seconds_lost"] <= pass_["seconds_over_mask"]


def test_the_dial_is_the_stop_s_figure_and_the_way_from_it(tmp_path):
    """dial = dial_at_stop + scale * m, and m = bearing - zeta + whole turns (DESIGN, section 3)."""
    changes = {"mount__azimuth__dial_at_stop_deg": 10.0, "mount__keyway_bearing_deg": 77.0}
    for pass_ in run("check", write_plan_file(tmp_path, **changes), "--json").json["passes"]:
        for way in pass_["ways"]:
            if not way["clear"]:
                continue
            shift = 180.0 if way["posture"] == "over the top" else 0.0
            for event, dial in [("aos", "dial_aos_deg"), ("los", "dial_los_deg")]:
                m_deg = pass_[event]["azimuth_deg"] + shift - 77.0
                apart = (way[dial] - 10.0 - m_deg + 180.0) % 360.0 - 180.0
                assert abs(apart) < 0.01
            assert way["turn"] == (way["dial_aos_deg"] - 10.0) // 360.0


def test_a_cure_is_a_key_path_of_the_plan_and_cures(tmp_path):
    path = write_plan_file(tmp_path, **NARROW, mount__azimuth__guard_deg=0.0, mount__keyway_bearing_deg=350.0)
    uncured = [pass_ for pass_ in run("check", path, "--json").json["passes"] if pass_["cure"]]
    assert uncured
    for pass_ in uncured:
        cure = pass_["cure"]
        nudge = 1e-5 if cure["by"] >= 0.0 else -1e-5  # figures are told to six decimals
        cured = write_plan_file(
            tmp_path,
            **{
                **NARROW,
                "mount__azimuth__guard_deg": 0.0,
                "mount__keyway_bearing_deg": 350.0,
                cure["change"].replace(".", "__"): cure["to"] + nudge,
            },
        )
        again = run("check", cured, "--json").json["passes"]
        same = next(p for p in again if p["aos"] == pass_["aos"] and p["norad_id"] == pass_["norad_id"])
        assert same["verdict"] in {"upright", "over the top"}


def test_a_reason_names_time_bearing_dial_degrees_stop_and_cure(tmp_path):
    shown = run("check", write_plan_file(tmp_path, mount__azimuth__travel_deg=90.0), "--json").json
    short = [pass_ for pass_ in shown["passes"] if pass_["verdict"] in {"split", "part"}]
    assert short
    for pass_ in short:
        for word in ["stop, ", "deg true", "dial ", "deg beyond", "cure"]:
            assert word in pass_["reason"]


def test_the_table_tells_seat_assumptions_passes_and_reasons(tmp_path):
    answer = run("check", write_plan_file(tmp_path))
    assert (answer.code, answer.err) == (0, "")
    for words in [
        "47.2000 N 9.1000 E",
        "2024-11-01T17:00:00Z to 2024-11-01T20:00:00Z; times UTC",
        "keyway 0.0 deg true, ",
        "on the compass; hole A, offset 0 deg (drilled 0 from the datum)",
        "counter-clockwise stop 0.0, clockwise stop 90.0 deg true",
        "assumed: minimum elevation 5 deg, ",
        "over the top",
        "Why:",
    ]:
        assert words in answer.out
    assert answer.out.count("Alder") == 4  # twice in the table, twice in the reasons


def test_evenings_longer_than_a_day_show_dates(tmp_path):
    out = run("check", write_plan_file(tmp_path, evening__end="2024-11-03T17:00:00Z")).out
    assert "2024-11-02 " in out


def test_a_satellite_that_fails_is_told_and_the_rest_is_answered(tmp_path):
    data = short_plan_data()
    data["satellites"].append(DECAYED)
    answer = run("check", write_plan_file(tmp_path, data), "--json")
    assert answer.code == 0
    assert answer.errors[0].startswith("Dusk (70004): ")
    assert answer.json["refused"][0]["satellite"] == "Dusk"
    alone = run("check", write_plan_file(tmp_path, satellites=[DECAYED]), "--json")
    assert (alone.code, len(alone.errors), alone.json["passes"]) == (2, 1, [])


def test_a_plan_without_satellites_answers_nothing(tmp_path):
    answer = run("check", write_plan_file(tmp_path, satellites=[]))
    assert answer.code == 2
    assert answer.errors == ["the plan has no satellites; nothing to answer"]


def test_old_elements_are_told(tmp_path):
    evening = {"start": "2024-12-01T17:00:00Z", "end": "2024-12-01T20:00:00Z"}
    answer = run("check", write_plan_file(tmp_path, evening=evening), "--json")
    assert answer.code == 0
    assert "(30.4)" in answer.errors[0]


def test_elements_too_far_from_the_evening_are_refused_unless_the_plan_allows_more(tmp_path):
    evening = {"start": "2025-02-01T17:00:00Z", "end": "2025-02-01T23:00:00Z"}
    answer = run("check", write_plan_file(tmp_path, evening=evening), "--json")
    assert (answer.code, answer.json["passes"]) == (2, [])
    assert all("60 allowed: get newer ones" in entry["reason"] for entry in answer.json["refused"])
    more = write_plan_file(tmp_path, evening=evening, maximum_element_age_days=100.0)
    asked = run("check", more, "--json")
    assert (asked.code, asked.json["refused"]) == (0, [])
    assert asked.json["passes"]


def test_a_keyway_in_a_forbidden_arc_is_told(tmp_path):
    limits = [{"from_deg": 350.0, "to_deg": 20.0, "why": "the wall"}]
    answer = run("check", write_plan_file(tmp_path, mount__keyway_bearing_deg=10.0, seat_limits=limits))
    assert answer.code == 0
    assert "forbidden: 350.0 to 20.0 deg (the wall)" in answer.errors[0]


def test_a_skew_that_is_not_counted_is_told(tmp_path):
    answer = run("check", write_plan_file(tmp_path, antennas=[{"skew_deg": 2.0}]))
    assert answer.code == 0
    assert "skew" in answer.errors[0]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"colour": "red"}, "colour: is no key of a plan here"),
        ({"version": 2}, "version: is 2, this program reads up to 1"),
        ({"site__latitude_deg": 151.2}, "site.latitude_deg: is 151.2, it must be -90 to 90"),
        ({"site__time_zone": "Europe/Viena"}, "perhaps Europe/Vienna"),
    ],
)
def test_plans_that_are_wrong_are_refused_in_one_line_with_the_file(tmp_path, changes, words):
    path = write_plan_file(tmp_path, **changes)
    line = refused("check", path)
    assert line.startswith(str(path))
    assert words in line


def test_what_is_no_plan_is_refused(tmp_path):
    for path in [tmp_path, tmp_path / "none.json", write_elements_file(tmp_path), "", "a\0b"]:
        assert refused("check", path)


def test_names_that_would_disturb_the_screen_do_not(tmp_path):
    data = changed(short_plan_data(), title="a\nb\x1b[2J", mount__index_holes=[{"name": "A\x1b"}])
    data["mount"]["index_hole"] = "A\x1b"
    data["satellites"][0]["name"] = "tree\r\n\x1b[31m"
    for words in [("check",), ("evening",), ("orient",)]:
        answer = run(*words, write_plan_file(tmp_path, data))
        assert answer.code == 0
        assert all(line.isprintable() for line in answer.out.split("\n"))


def test_the_travel_test_tells_what_dials_and_bearings_must_be(tmp_path):
    path = write_plan_file(
        tmp_path,
        mount__keyway_bearing_deg=184.0,
        mount__azimuth__calibration=[
            {"axis_deg": 0.0, "dial_deg": 10.0},
            {"axis_deg": 225.0, "dial_deg": 230.0},
            {"axis_deg": 450.0, "dial_deg": 470.0},
        ],
    )
    answer = run("check", path, "--json").json
    rows = [(row["place"], row["bearing_deg"], row["dial_deg"]) for row in answer["travel_test"]]
    assert rows == [
        ("counter-clockwise stop", 184.0, 10.0),
        ("mid travel", 49.0, 230.0),
        ("clockwise stop", 274.0, 470.0),
        ("level", None, 0.0),
        ("straight up", None, 90.0),
        ("over the top, level", None, 180.0),
    ]
    assert "azimuth, mid travel" in run("check", path).out


@pytest.mark.parametrize("command", ["check", "evening"])
@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        ("17:15", "17:45", "cut at the start"),
        ("17:00", "17:18", "cut at the end"),
        ("17:00", "17:30", ""),
    ],
)
def test_a_pass_cut_by_the_evening_is_marked_in_the_table(tmp_path, command, start, end, words):
    evening = {"start": f"2024-11-01T{start}:00Z", "end": f"2024-11-01T{end}:00Z"}
    answer = run(command, write_plan_file(tmp_path, evening=evening, shortest_contact_s=0.0))
    row = next(line for line in answer.out.splitlines() if line.startswith("Alder  "))
    assert row.endswith(words) if words else "cut" not in row
