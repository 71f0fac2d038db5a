"""`northkey compare`, each figure held against the commands that tell it of one plan alone."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from app.commands.shapes import number
from core.passes.mask_cost import cost_words, mask_cost, sky_paths
from core.plan.picks import picked_stays
from core.plan.storage import read_plan
from tests.app.commands.fields import COMPARE_ANSWER, misfit
from tests.app.commands.runner import refused, run
from tests.lasting import result_of
from tests.plans import changed, full_plan_data, satellites_data, short_plan_data

WOOD = [
    {"azimuth_deg": bearing, "elevation_deg": height}
    for bearing, height in ((180.0, 0.0), (200.0, 12.0), (300.0, 12.0), (320.0, 0.0))
]
PICKS = [{"norad_id": 70001, "near": "2024-11-01T17:40:00Z"}]


def plan_file(folder: Path, name: str, data: dict[str, Any] | None = None, **changes: Any) -> Path:
    """A plan whose site has the name, in a file of its own."""
    path = folder / f"{name}.northkey.json"
    content = changed(data or short_plan_data(), title=f"{name} plan", site__name=name, **changes)
    path.write_text(json.dumps(content), encoding="utf-8")
    return path


@pytest.fixture
def files(tmp_path) -> list[Path]:
    """Three plans of different kinds."""
    return [
        plan_file(tmp_path, "Ridge"),
        plan_file(tmp_path, "Moor", site__latitude_deg=47.9, site__horizon=WOOD, picks=PICKS),
        plan_file(tmp_path, "Comb", full_plan_data()),
    ]


def test_json_has_the_fields_of_the_design_and_no_others(files):
    for words in ([], ["--same-evening"]):
        answer = run("compare", *files, "--json", *words)
        assert answer.code == 0
        assert misfit(answer.json, COMPARE_ANSWER) is None
        assert [plan["file"] for plan in answer.json["plans"]] == [str(file) for file in files]
        assert answer.json["same_evening"] is bool(words)


def test_each_figure_is_what_the_single_commands_say(files):
    told = run("compare", *files, "--json").json["plans"]
    for file, plan in zip(files, told, strict=True):
        evening = run("evening", file, "--json").json
        orient = run("orient", file, "--passes-alone", "--json").json
        assert (plan["identity"], plan["assumed"]) == (evening["identity"], evening["assumed"])
        assert plan["contacts"] == len(evening["contacts"])
        assert plan["worth_s"] == evening["worth"]["worth_s"]
        assert plan["unmatched"] == evening["unmatched"]
        for name in ("off_beam_s", "let_go_s", "before_joining_s"):
            in_all = sum(contact[name] for contact in evening["contacts"])
            assert plan[name] == pytest.approx(in_all, abs=0.05 * (1 + len(evening["contacts"])))
        assert plan["best"] == orient["best"]
        assert plan["passes_studied"] == orient["passes_studied"]


def test_the_minutes_are_those_of_the_site_page(files):
    told = run("compare", *files, "--json").json["plans"]
    for file, shown in zip(files, told, strict=True):
        plan = read_plan(file)
        result = result_of(plan)
        site, stays = plan.site, result.stays
        picked = picked_stays(plan.picks, plan.satellites, result.passes, stays) if plan.picks else None
        cost = mask_cost(sky_paths(stays), site.horizon, site.minimum_elevation_deg, picked)
        assert shown["minutes_lost_to_mask"] == number(cost.hidden_s / 60.0, 2)
        assert shown["minutes"] == number((cost.seconds - cost.hidden_s) / 60.0, 2)
        in_all = shown["minutes"] + shown["minutes_lost_to_mask"]
        assert f"of tonight's {in_all:.0f} minutes" in cost_words(cost) or not site.horizon


def test_seats_are_weighed_where_that_is_wanted_and_as_orient_does(tmp_path):
    short = {"evening__end": "2024-11-01T18:00:00Z", "satellites": satellites_data()[:1]}
    files = [plan_file(tmp_path, "Ridge", **short), plan_file(tmp_path, "Moor", **short, site__horizon=WOOD)]
    told = run("compare", *files, "--weigh-seats", "--json").json
    assert misfit(told, COMPARE_ANSWER) is None
    for file, plan in zip(files, told["plans"], strict=True):
        assert plan["best_evening"] == run("orient", file, "--json").json["best_evening"] is not None
    shown = run("compare", *files, "--weigh-seats").out
    assert "best by the evening" in shown
    assert "with each keyway at its best" in shown


def test_the_table_names_the_fields_and_the_one_that_is_worth_most(files):
    answer = run("compare", *files[:2], "--same-evening")
    assert answer.code == 0
    lines = answer.out.splitlines()
    assert [line.split()[0] for line in lines if line.startswith(("Ridge ", "Moor "))] == ["Ridge", "Moor"]
    assert lines[0] == "2024-11-01T17:00:00Z to 2024-11-01T20:00:00Z; times UTC"
    assert lines[-1].startswith("Worth ")


def test_another_evening_is_told_and_nothing_is_called_the_best(files, tmp_path):
    later = plan_file(tmp_path, "Heath", evening__end="2024-11-01T19:00:00Z", picks=PICKS)
    out = run("compare", files[0], later).out
    assert "Heath plans another evening than Ridge: they differ in hours and picks." in out
    assert "most of all" not in out
    assert "2024-11-01T17:00:00Z to 2024-11-01T19:00:00Z UTC" in out
    taken = run("compare", files[0], later, "--same-evening").out
    assert "another evening" not in taken
    assert "Worth " in taken


def test_a_plan_that_cannot_be_read_is_told_and_the_others_compared(files, tmp_path):
    torn = tmp_path / "torn.northkey.json"
    torn.write_text("{", encoding="utf-8")
    nowhere = plan_file(tmp_path, "Nowhere", site__time_zone="Europe/Zurch")
    answer = run("compare", files[0], torn, nowhere, files[2], "--json")
    assert answer.code == 0
    assert len(answer.json["plans"]) == 2
    assert str(torn) in answer.errors[0]
    assert "Europe/Zurch" in answer.errors[1]
    alone = run("compare", torn, files[0])
    assert (alone.code, alone.out) == (2, "")
    assert alone.errors[-1] == "1 of 2 plans can be read: nothing to compare"
    assert str(torn) in refused("compare", torn, *files[:2], "--same-evening")


def test_too_few_and_too_many_are_refused(files):
    for count in (1, 6):
        said = refused("compare", *(files[:1] * count))
        assert said == f"the number of plans is {count}, it must be 2 to 5"


def test_what_is_of_one_field_is_told_with_its_name_and_what_is_of_all_once(tmp_path):
    old = {"evening__start": "2024-11-30T17:00:00Z", "evening__end": "2024-11-30T20:00:00Z"}
    gone = [{"norad_id": 70001, "near": "2024-12-05T17:40:00Z"}]
    files = [plan_file(tmp_path, "Ridge", **old), plan_file(tmp_path, "Moor", **old, picks=gone)]
    errors = run("compare", *files).errors
    assert len(errors) == 2
    assert errors[0].startswith("Elements more than 14 days old")
    assert errors[1].startswith("Moor: No pass of Alder near 2024-12-05T17:40:00Z")


def test_without_satellites_there_is_no_answer(tmp_path):
    files = [plan_file(tmp_path, name, satellites=[]) for name in ("Ridge", "Moor")]
    answer = run("compare", *files)
    assert answer.code == 2
    assert answer.errors[-1] == "no plan has satellites; nothing to answer"
