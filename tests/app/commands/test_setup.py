"""`northkey setup`: what it tells, held against the study it prints."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from core.base.times import parse_iso
from core.on_site import set_up, usual_moment
from core.plan.storage import read_plan
from core.setup.words import SUN_CAUTION
from tests.app.commands.fields import SETUP_ANSWER, misfit
from tests.app.commands.runner import ROOT, refused, run
from tests.plans import changed, short_plan_data

DEMO = ROOT / "resources" / "demo" / "larch_ridge.northkey.json"


@pytest.fixture
def bare(tmp_path) -> Path:
    path = tmp_path / "bare.northkey.json"
    path.write_text(json.dumps(changed(short_plan_data(), sightings=[])), encoding="utf-8")
    return path


def test_json_has_the_fields_of_the_design_and_no_others(bare):
    for file in (DEMO, bare):
        answer = run("setup", file, "--json")
        assert answer.code == 0
        assert misfit(answer.json, SETUP_ANSWER) is None


def test_the_demo_is_told_as_its_study_has_it():
    told = run("setup", DEMO, "--json", "--at", "2026-11-27T14:30:00Z").json
    plan = read_plan(DEMO)
    found = set_up(plan, parse_iso("2026-11-27T14:30:00Z"))
    assert found.best is not None
    assert (told["at"], told["best"]) == ("2026-11-27T14:30:00.000Z", found.best.method)
    assert [one["method"] for one in told["methods"]] == [one.method for one in found.methods]
    assert found.fit is not None
    assert told["fit"]["correction_deg"] == pytest.approx(found.fit.correction_deg, abs=1e-4)
    # The demo's sightings were made with the keyway 1.7 deg off, the axis leaning 0.45 deg toward 333.
    assert abs(told["fit"]["correction_deg"] - 1.7) < 2.0 * told["fit"]["correction_sigma_deg"]
    assert abs(told["level"]["lean_deg"] - 0.45) < 0.05
    assert told["fit"]["explanations"] == []
    assert {one["antenna"] for one in told["budget"]} == {antenna.name for antenna in plan.antennas}
    now, before = (sum(one["rss_deg"] for one in told[key]) for key in ("budget", "budget_before"))
    assert now < before


def test_without_a_moment_it_is_an_hour_before_the_evening(bare):
    told = run("setup", bare, "--json").json
    plan = read_plan(bare)
    assert parse_iso(told["at"]) == usual_moment(plan) == plan.evening.start_utc_s - 3600.0
    assert (told["fit"], told["level"]) == (None, None)


def test_the_table_tells_ways_sky_level_sightings_and_pointing():
    answer = run("setup", DEMO, "--at", "2026-11-27T14:30:00Z")
    for words in (
        SUN_CAUTION,
        "landmark Chapel on the saddle",
        "Compass: ",
        "Map: ",
        "Level: ",
        "Sightings: 4 sightings of 4",
        "is tonight's correction",
        "Pointing: ",
        "The sighting: from",
        "improve first",
    ):
        assert words in answer.out, words


def test_shims_are_told_where_the_legs_stand(tmp_path):
    data = json.loads(DEMO.read_text(encoding="utf-8"))
    legs = [{"from_keyway_deg": angle, "radius_mm": 700.0} for angle in (0.0, 120.0, 240.0)]
    path = tmp_path / "legs.northkey.json"
    path.write_text(json.dumps(data | {"clearance": {"legs": legs}}), encoding="utf-8")
    shims = run("setup", path, "--json").json["level"]["shims"]
    assert [one["from_keyway_deg"] for one in shims] == [0.0, 120.0, 240.0]
    assert min(one["mm"] for one in shims) == 0.0
    assert max(one["mm"] for one in shims) > 5.0
    assert "under the leg" in run("setup", path).out


def test_a_moment_that_is_none_is_refused():
    assert "--at" in refused("setup", DEMO, "--at", "soon")
