"""`northkey stand`."""

from __future__ import annotations

import json

import pytest

from tests.app.commands.fields import STAND_ANSWER, misfit
from tests.app.commands.runner import ROOT, refused, run
from tests.plans import short_plan_data, write_plan_file

DEMO = ROOT / "resources" / "demo" / "larch_ridge.northkey.json"
STAND = {
    "legs": [{"from_keyway_deg": at, "radius_mm": 800.0} for at in (0.0, 120.0, 240.0)],
    "tripod_mass_kg": 9.0,
    "masses": [{"name": "rotator", "mass_kg": 12.0, "height_mm": 1300.0}],
    "areas": [{"name": "yagi", "area_m2": 0.3, "height_mm": 1500.0}],
}


def plan_with(tmp_path, stand, **more):
    return write_plan_file(tmp_path, short_plan_data() | {"stand": stand} | more)


@pytest.mark.parametrize(
    "words", [(), ("--mean-wind", "7"), ("--gust", "19.5"), ("--mean-wind", "6", "--gust", "9")]
)
def test_json_has_the_fields_of_the_design(tmp_path, words):
    for plan in (DEMO, plan_with(tmp_path, STAND)):
        answer = run("stand", plan, *words, "--json")
        assert (answer.code, answer.err) == (0, "")
        assert misfit(answer.json, STAND_ANSWER) is None


def test_the_wind_asked_for_goes_before_the_plans(tmp_path):
    plan = plan_with(tmp_path, STAND | {"forecast": {"mean_m_s": 2.0}})
    assert run("stand", plan, "--json").json["advice"] == "go"
    windy = run("stand", plan, "--gust", "30", "--json").json
    assert (windy["advice"], windy["wind"]["mean_m_s"]) == ("take down", 20.0)
    assert windy["ballast_kg"] > 0.0


def test_the_weakest_is_the_least_of_the_rose_and_turns_with_the_keyway(tmp_path):
    one = run("stand", plan_with(tmp_path, STAND), "--json").json
    assert one["weakest"]["mean_wind_m_s"] == min(mean for _, mean in one["tip_over"])
    data = short_plan_data()
    data["mount"] = data.get("mount", {}) | {"keyway_bearing_deg": 33.0}
    turned = run("stand", plan_with(tmp_path, STAND, mount=data["mount"]), "--json").json
    assert 33.0 in [toward for toward, _ in turned["tip_over"]]
    assert (turned["weakest"]["toward_deg"] - 33.0) % 120.0 == pytest.approx(60.0)
    assert turned["weakest"]["from_deg"] == pytest.approx((turned["weakest"]["toward_deg"] + 180.0) % 360.0)


def test_the_wishes_when_they_are_asked_for(tmp_path):
    plan = plan_with(tmp_path, STAND | {"wishes": {"downhill_deg": 90.0, "wind_from_deg": 300.0}})
    assert run("stand", plan, "--json").json["wishes"] is None
    answer = run("stand", plan, "--wishes", "--json")
    assert (answer.code, answer.err) == (0, "")
    assert misfit(answer.json, STAND_ANSWER) is None
    wishes = answer.json["wishes"]
    assert [one["name"] for one in wishes["seats"][0]["wishes"]] == [
        "seconds lost",
        "a leg downhill",
        "the lee",
    ]
    assert wishes["given_up"] == wishes["seats"][0]["given_up"]
    said = run("stand", plan, "--wishes").out
    assert wishes["text"] in said
    assert all(seat["reason"] in said for seat in wishes["seats"])
    assert "The cable's side is not wished" in said


def test_in_words(tmp_path):
    answer = run("stand", plan_with(tmp_path, STAND))
    assert (answer.code, answer.err) == (0, "")
    for said in ("Advice: Watch", "tips it", "wind from", "certificate", "utility", "weakest", "strongest"):
        assert said in answer.out
    assert (
        len([line for line in answer.out.splitlines() if line.split(" ")[0] in ("0.0", "60.0", "345.0")]) == 3
    )


@pytest.mark.parametrize(
    ("stand", "said"),
    [
        (None, "the plan says nothing of it"),
        ({}, "three feet at least"),
        (STAND | {"masses": [], "tripod_mass_kg": 0.0}, "stand.masses"),
        (STAND | {"areas": []}, "stand.areas"),
    ],
)
def test_too_little_is_refused_with_the_files_name(tmp_path, stand, said):
    plan = plan_with(tmp_path, stand)
    error = refused("stand", plan)
    assert said in error
    assert str(plan) in error


@pytest.mark.parametrize(
    "words", [("--gust", "-1"), ("--mean-wind", "nan"), ("--mean-wind", "9", "--gust", "8")]
)
def test_no_such_wind_is_refused(tmp_path, words):
    assert "it must be" in refused("stand", plan_with(tmp_path, STAND), *words)


def test_the_demo_has_dimensions_of_its_own():
    stand = json.loads(DEMO.read_text("utf-8"))["stand"]
    assert stand["tripod_mass_kg"] > 9.08  # no tripod of under 20 lb
    assert abs(stand["tripod_rating_kg"] - 29.48) > 1.0  # nor one rated for 65 lb
