"""`northkey evening`."""

from __future__ import annotations

import itertools

import pytest

from app.commands.evening import worth_words
from core.base.times import parse_iso
from core.mount.evening.results import EveningOrder, EveningWorth
from tests.app.commands.fields import EVENING_ANSWER, misfit
from tests.app.commands.runner import refused, run
from tests.plans import elements_data, full_plan_data, write_plan_file

PICKS = [
    {"norad_id": 70001, "near": "2024-11-01T18:50:00Z", "worth": 3.0},
    {"norad_id": 70002, "near": "2024-11-01T17:35:00Z"},
]


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"picks": PICKS},
        {"picks": [{"norad_id": 5, "near": "2024-11-01T18:50:00Z"}]},
        {"mount__azimuth__travel_deg": 361.0, "mount__elevation__maximum_deg": 90.0},
        {"mount__azimuth__travel_deg": 90.0},
        {"mount__azimuth__rate_deg_s": 0.05},
        {"site__minimum_elevation_deg": 89.0},
        {"shortest_contact_s": 600.0},
    ],
)
def test_json_has_the_fields_of_the_design_and_no_others(tmp_path, changes):
    answer = run("evening", write_plan_file(tmp_path, **changes), "--json")
    assert answer.code == 0
    assert misfit(answer.json, EVENING_ANSWER) is None


def test_json_of_a_full_plan(tmp_path):
    answer = run("evening", write_plan_file(tmp_path, full_plan_data()), "--json")
    assert answer.code == 0
    assert misfit(answer.json, EVENING_ANSWER) is None
    assert len(answer.json["contacts"]) == 1
    assert answer.json["contacts"][0]["worth"] == 3.0


def test_contacts_stand_in_order_with_the_moves_between(tmp_path):
    shown = run("evening", write_plan_file(tmp_path), "--json").json
    contacts = shown["contacts"]
    assert len(contacts) == 4
    assert contacts[0]["move_before"] is None
    for before, after in itertools.pairwise(contacts):
        move = after["move_before"]
        there = parse_iso(after["start"]) - parse_iso(before["end"])
        assert move["seconds_there"] == pytest.approx(there, abs=0.06)
        # Both axes at once at 6 and 2.5 deg/s; the dials run on from 0 with the axes.
        azimuth_s = abs(move["to_dial_deg"] - move["from_dial_deg"]) / 6.0
        elevation_s = abs(move["to_elevation_dial_deg"] - move["from_elevation_dial_deg"]) / 2.5
        assert move["seconds_needed"] == pytest.approx(max(azimuth_s, elevation_s), abs=0.06)
        assert move["feasible"] == (move["seconds_needed"] <= move["seconds_there"])
    for contact in contacts:
        chosen = contact["chosen"]
        assert contact["wrap_before_deg"] == pytest.approx(chosen["dial_aos_deg"] - 225.0, abs=1e-3)
        assert contact["wrap_after_deg"] == pytest.approx(chosen["dial_los_deg"] - 225.0, abs=1e-3)
        assert (contact["start"], contact["end"]) == (contact["aos"]["time"], contact["los"]["time"])


@pytest.mark.parametrize("travel_deg", [90.0, 300.0, 450.0])
def test_the_way_chosen_is_one_of_the_ways_and_missing_only_in_splits_and_parts(tmp_path, travel_deg):
    path = write_plan_file(tmp_path, mount__azimuth__travel_deg=travel_deg)
    for contact in run("evening", path, "--json").json["contacts"]:
        if contact["verdict"] in {"upright", "over the top"}:
            assert contact["chosen"] in contact["ways"]
            assert contact["chosen"]["posture"] == contact["verdict"]
        else:
            assert contact["chosen"] is None
            assert contact["split"] or contact["part"]


def test_picks_choose_and_carry_their_worth(tmp_path):
    contacts = run("evening", write_plan_file(tmp_path, picks=PICKS), "--json").json["contacts"]
    assert [(c["norad_id"], c["worth"], c["picked"]) for c in contacts] == [
        (70002, 1.0, True),
        (70001, 3.0, True),
    ]
    free = run("evening", write_plan_file(tmp_path), "--json").json["contacts"]
    assert {(c["worth"], c["picked"]) for c in free} == {(1.0, False)}


def test_a_pick_that_matches_nothing_is_told(tmp_path):
    picks = [*PICKS, {"norad_id": 70001, "near": "2024-11-04T18:50:00Z"}]
    answer = run("evening", write_plan_file(tmp_path, picks=picks), "--json")
    assert answer.code == 0
    assert answer.errors == answer.json["unmatched"]
    assert "Alder near 2024-11-04T18:50:00Z" in answer.errors[0]


def test_a_way_insisted_on_is_used_or_told(tmp_path):
    picks = [PICKS[0] | {"way": {"posture": "over the top", "turn": 0}}]
    shown = run("evening", write_plan_file(tmp_path, picks=picks), "--json").json["contacts"][0]
    assert shown["chosen"]["posture"] == "over the top"
    picks = [PICKS[0] | {"way": {"posture": "upright", "turn": 7}}]
    answer = run("evening", write_plan_file(tmp_path, picks=picks), "--json")
    assert "does not hold upright in turn 7" in answer.errors[0]
    assert answer.json["contacts"][0]["chosen"]["posture"] == "upright"


def test_short_contacts_are_left_out_and_told_unless_picked(tmp_path):
    changes = {"shortest_contact_s": 620.0}
    shown = run("evening", write_plan_file(tmp_path, **changes), "--json").json
    assert {entry["norad_id"] for entry in shown["left_out"]} >= {70001}
    assert all("shorter than the least contact of 620 s" in entry["reason"] for entry in shown["left_out"])
    picked = run("evening", write_plan_file(tmp_path, picks=PICKS, **changes), "--json").json
    assert (len(picked["contacts"]), picked["left_out"]) == (2, [])


def test_of_two_passes_at_once_one_is_left_out_and_that_is_said(tmp_path):
    twins = [{"name": name, "elements": elements_data(number)} for name, number in [("Elm", 1), ("Oak", 2)]]
    answer = run("evening", write_plan_file(tmp_path, satellites=twins))
    assert answer.code == 0
    assert "Left out: Oak" in answer.out
    assert "overlaps Elm; with it the evening is worth the same" in answer.out
    assert "not fit" not in answer.out


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"site__minimum_elevation_deg": 89.0}, "nothing rises"),
        ({"site__horizon": [{"azimuth_deg": 0, "elevation_deg": 90}]}, "nothing rises"),
        ({"picks": [{"norad_id": 5, "near": "2024-11-01T18:50:00Z"}]}, "no pick names one of the 4 passes"),
        ({"mount__azimuth__rate_deg_s": 0.05}, "of 4 passes none can be"),
    ],
)
def test_an_empty_evening_says_why(tmp_path, changes, words):
    answer = run("evening", write_plan_file(tmp_path, **changes))
    assert answer.code == 0
    assert f"Nothing to work: {words}" in answer.out


def test_without_satellites_there_is_no_answer(tmp_path):
    answer = run("evening", write_plan_file(tmp_path, satellites=[]))
    assert answer.code == 2
    assert "the plan has no satellites" in answer.out


def test_the_rest_of_the_evening_from_now(tmp_path):
    path = write_plan_file(tmp_path)
    whole = run("evening", path, "--json").json
    assert whole["now"] is None
    words = ("evening", path, "--now", "2024-11-01T18:00:00Z", "--dial", "100,20")
    answer = run(*words, "--json")
    assert answer.code == 0
    assert misfit(answer.json, EVENING_ANSWER) is None
    now = answer.json["now"]
    assert (now["azimuth_dial_deg"], now["elevation_dial_deg"], now["m_deg"]) == (100.0, 20.0, 100.0)
    assert answer.json["contacts"][0]["move_before"]["from_dial_deg"] == 100.0
    assert len(now["over"]) + len(answer.json["contacts"]) >= len(whole["contacts"])
    told = run(*words).out
    assert "Now 18:00:00: azimuth dial 100 (100.0 deg true), elevation dial 20." in told
    assert "Next moves:" in told
    gone = whole["contacts"][-1]
    missed = f"{gone['norad_id']}@{gone['peak']['time']}"
    fewer = run(*words, "--missed", missed, "--keyway", "-10", "--hole", "A", "--json").json
    assert [one["norad_id"] for one in fewer["now"]["missed"]] == [gone["norad_id"]]
    assert len(fewer["contacts"]) == len(answer.json["contacts"]) - 1
    assert fewer["now"]["bearing_deg"] == 90.0


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        (["--dial", "20"], "--now"),
        (["--now", "2024-11-01T18:00:00Z"], "--dial"),
        (["--now", "2024-11-01T18:00:00Z", "--dial", "x"], "one or two figures"),
        (["--now", "2024-11-01T18:00:00Z", "--dial", "1,2,3"], "one or two figures"),
        (["--now", "2024-11-01T18:00:00Z", "--dial", "500"], "between 0 and 450"),
        (["--now", "soon", "--dial", "5"], "--now"),
        (["--now", "2024-11-01T18:00:00Z", "--dial", "5", "--missed", "70001"], "catalogue number, @"),
        (["--now", "2024-11-01T18:00:00Z", "--dial", "5", "--hole", "Z"], "Z"),
    ],
)
def test_what_is_said_of_now_must_make_sense(tmp_path, words, reason):
    assert reason in refused("evening", write_plan_file(tmp_path), *words)


def test_each_contact_tells_how_soon_it_is_joined(tmp_path):
    for contact in run("evening", write_plan_file(tmp_path), "--json").json["contacts"]:
        joins = contact["joining"]
        assert joins["leave_anywhere_by"] <= joins["leave_idle_by"] <= contact["start"]
        assert contact["start"] <= joins["from_idle"] <= joins["from_anywhere"]


def test_a_hole_that_the_mount_has_not_is_told_in_a_sentence(tmp_path):
    words = ("--now", "2024-11-01T17:10Z", "--dial", "100", "--hole", "Z")
    assert refused("evening", write_plan_file(tmp_path), *words) == (
        "index hole is 'Z', it must be one of the mount's: A"
    )


def test_a_dial_that_reads_the_same_twice_says_what_to_add(tmp_path):
    wraps = {"mount__azimuth__dial_wraps_at_deg": 360.0, "mount__azimuth__dial_wraps_to_deg": 0.0}
    words = ("--now", "2024-11-01T17:10Z", "--dial", "20")
    path = write_plan_file(tmp_path, **wraps)
    assert refused("evening", path, *words) == (
        "azimuth dial 20 occurs twice, at 20 and 380 deg from the counter-clockwise stop: "
        "add --time-round 1 or 2"
    )
    assert run("evening", path, *words, "--time-round", "2").code == 0


def test_what_may_be_missing_to_the_best_order_is_told():
    words = "64 s at most below the best order: too many long passes overlap"
    short, best = (EveningOrder((), worth=EveningWorth(short_s=seconds)) for seconds in (63.2, 0.0))
    assert worth_words(short.worth).endswith(f" {words}.")
    assert "best" not in worth_words(best.worth)
