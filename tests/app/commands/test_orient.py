"""`northkey orient`."""

from __future__ import annotations

import itertools

import pytest

from tests.app.commands.fields import ORIENT_ANSWER, misfit
from tests.app.commands.runner import run
from tests.plans import changed, full_plan_data, short_plan_data, write_plan_file

HOLES = [{"name": "A"}, {"name": "B", "offset_deg": -30.0}, {"name": "C", "offset_deg": 111.1}]
PLANS = [
    {},
    {"mount__index_holes": HOLES, "mount__index_hole": "B"},
    {"mount__azimuth__travel_deg": 361.0, "mount__elevation__maximum_deg": 90.0},
    {"mount__azimuth__travel_deg": 90.0},
    {"mount__azimuth__travel_deg": 1080.0},
    {"mount__azimuth__rate_deg_s": 0.05},
    {"mount__elevation__maximum_deg": 20.0},
    {"site__minimum_elevation_deg": 89.0},
    {"evening__start": "2024-11-01T17:15:00Z", "evening__end": "2024-11-01T17:20:00Z"},
    {"picks": [{"norad_id": 70002, "near": "2024-11-01T17:35:00Z"}]},
    {"picks": [{"norad_id": 70002, "near": "2024-11-05T17:35:00Z"}]},
]


@pytest.mark.parametrize("changes", PLANS)
def test_json_has_the_fields_of_the_design_and_no_others(tmp_path, changes):
    quick = ["--passes-alone"] if changes else []
    answer = run("orient", write_plan_file(tmp_path, **changes), "--json", *quick)
    assert answer.code == 0
    assert misfit(answer.json, ORIENT_ANSWER) is None


def test_json_of_a_full_plan(tmp_path):
    answer = run("orient", write_plan_file(tmp_path, full_plan_data()), "--json", "--passes-alone")
    assert misfit(answer.json, ORIENT_ANSWER) is None
    assert list(answer.json["holes"]) == ["A", "B"]
    assert answer.json["index_hole"] == "B"
    assert answer.json["holes"]["A"]["drilled_deg"] == 30.0


@pytest.mark.parametrize("changes", PLANS)
def test_intervals_cover_the_circle_once_and_count_every_pass(tmp_path, changes):
    shown = run("orient", write_plan_file(tmp_path, **changes), "--passes-alone", "--json").json
    number = shown["passes_studied"]
    for study in [shown, *shown["holes"].values()]:
        intervals = study["intervals"]
        assert 0.0 <= intervals[0]["from_deg"] < 360.0
        for one, following in itertools.pairwise(intervals):
            assert one["to_deg"] == following["from_deg"]
            assert one["to_deg"] > one["from_deg"]
        assert intervals[-1]["to_deg"] - intervals[0]["from_deg"] == pytest.approx(360.0, abs=2e-6)
        for piece in [*intervals, *study["points"]]:
            counted = piece["clear_upright"] + piece["clear_over_the_top_only"] + piece["not_clear"]
            assert counted == number
            assert len(piece["lost"]) == piece["not_clear"]
        curve = study["curve"]
        assert [row[0] for row in curve] == sorted(row[0] for row in curve)
        assert all(0.0 <= row[0] < 360.0 and sum(row[2:]) <= number for row in curve)


@pytest.mark.parametrize("changes", PLANS[:7])
def test_the_best_is_the_best_of_the_curves(tmp_path, changes):
    """Fewest out of reach, then fewest splits and parts, then least seconds lost (section 3)."""
    shown = run("orient", write_plan_file(tmp_path, **changes), "--passes-alone", "--json").json
    best, ranks = shown["best"], []
    for name, study in shown["holes"].items():
        assert study["best"]["index_hole"] == name
        ranks += [(row[4], row[2] + row[3], row[1]) for row in study["curve"]]
        at = [row for row in study["curve"] if row[0] == study["best"]["keyway_bearing_deg"]]
        assert at, "the best is a sample of the curve"
    told = (best["out_of_reach"], best["splits"] + best["parts"], best["seconds_lost"])
    assert told[:2] == min(ranks)[:2]
    # Seats within a second of each other go by their room.
    assert told[2] == pytest.approx(min(ranks)[2], abs=1.0)
    assert best["place_within_deg"][0] <= 0.0 <= best["place_within_deg"][1]
    assert best["know_to_deg"] >= 0.0


def test_the_best_seat_holds_what_it_promises(tmp_path):
    """Turned there, `check` finds as many splits, parts and passes out of reach."""
    changes = {"mount__azimuth__travel_deg": 361.0, "mount__elevation__maximum_deg": 90.0}
    best = run("orient", write_plan_file(tmp_path, **changes), "--passes-alone", "--json").json["best"]
    turned = changes | {"mount__keyway_bearing_deg": best["keyway_bearing_deg"]}
    passes = run("check", write_plan_file(tmp_path, **turned), "--json").json["passes"]
    verdicts = [pass_["verdict"] for pass_ in passes]
    assert [verdicts.count(word) for word in ("split", "part", "out of reach")] == [
        best["splits"],
        best["parts"],
        best["out_of_reach"],
    ]
    assert sum(pass_["seconds_lost"] for pass_ in passes) == pytest.approx(best["seconds_lost"], abs=3.0)


def test_the_table_says_the_best_and_both_tolerances(tmp_path):
    answer = run("orient", write_plan_file(tmp_path, mount__index_holes=HOLES, mount__index_hole="B"))
    assert (answer.code, answer.err) == (0, "")
    for words in [
        "4 passes studied.",
        "Best by the evening: keyway at ",
        "Best by the passes alone: keyway at ",
        " deg and correct the dials.",
        "With hole A: ",
        "Hole B (in use), keyway bearing against clear ways:",
    ]:
        assert words in answer.out


def test_a_single_interval_reads_as_all_round(tmp_path):
    out = run("orient", write_plan_file(tmp_path, mount__azimuth__travel_deg=90.0), "--passes-alone").out
    assert "0.0  all round" in out


def test_nothing_to_study_is_told(tmp_path):
    data = changed(short_plan_data(), site__minimum_elevation_deg=89.0)
    answer = run("orient", write_plan_file(tmp_path, data), "--passes-alone")
    assert (answer.code, len(answer.errors)) == (0, 1)
    assert "no pass to study" in answer.errors[0]
    assert "Best" not in answer.out
    answer = run("orient", write_plan_file(tmp_path, satellites=[]), "--passes-alone")
    assert answer.code == 2


def test_a_pass_that_neither_rises_nor_sets_is_left_out(tmp_path):
    changes = {"evening__start": "2024-11-01T17:15:00Z", "evening__end": "2024-11-01T17:20:00Z"}
    shown = run("orient", write_plan_file(tmp_path, **changes), "--passes-alone", "--json").json
    assert shown["passes_studied"] == 0
    assert shown["left_out"] == [
        {"satellite": "Alder", "norad_id": 70001, "reason": "neither rises nor sets"}
    ]


LIMITS = [{"from_deg": 300.0, "to_deg": 60.0, "why": "the wall"}, {"from_deg": 90.0, "to_deg": 95.0}]


def test_forbidden_bearings_are_shown_and_kept_to(tmp_path):
    path = write_plan_file(tmp_path, seat_limits=LIMITS)
    answer = run("orient", path, "--passes-alone", "--json").json
    assert misfit(answer, ORIENT_ANSWER) is None
    assert answer["forbidden"] == [LIMITS[0], LIMITS[1] | {"why": ""}]
    for seat in (answer["best"], answer["second_best"]):
        assert not seat["forbidden"]
        for limit in LIMITS:
            past = (seat["keyway_bearing_deg"] - limit["from_deg"]) % 360.0
            assert not 1e-5 < past < (limit["to_deg"] - limit["from_deg"]) % 360.0 - 1e-5
    apart = (answer["best"]["keyway_bearing_deg"] - answer["second_best"]["keyway_bearing_deg"]) % 360.0
    assert 20.0 < apart < 340.0
    told = run("orient", path, "--passes-alone").out
    assert "Forbidden: 300.0 to 60.0 deg true (the wall)." in told
    assert "Second best" in told
    assert len(answer["second_best"]["starts"]) == answer["passes_studied"]


def test_with_everything_forbidden_the_best_says_so(tmp_path):
    path = write_plan_file(tmp_path, seat_limits=[{"from_deg": 0.0, "to_deg": 360.0}])
    answer = run("orient", path, "--passes-alone", "--json").json
    assert answer["best"]["forbidden"]
    assert answer["second_best"] is None
    assert "Every bearing is forbidden" in run("orient", path, "--passes-alone").out
