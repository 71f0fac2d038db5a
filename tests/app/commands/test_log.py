"""`northkey log`: read back, made sightings of, written."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from core.evaluate import identity
from core.plan.storage import read_plan
from tests.app.commands.fields import LOG_ANSWER, misfit
from tests.app.commands.runner import refused, run
from tests.core.afterwards.evenings import evening, evening_data, noted
from tests.plans import plan_of, write_plan_file


@pytest.fixture
def plan_file(tmp_path) -> Path:
    return write_plan_file(tmp_path, evening_data())


def saved(folder: Path, *more: dict[str, Any], plan_identity: str = "") -> Path:
    """A pocket page's file of the evening, by a station that stood 3.2 deg further clockwise."""
    path = folder / "pocket.json"
    entries = [*noted(evening()[0], 3.2), *more]
    head = {"format": "northkey-log", "version": 1, "identity": plan_identity or identity(evening()[0])}
    path.write_text(json.dumps(head | {"log": entries}), "utf-8")
    return path


def test_the_pocket_pages_file_goes_into_the_plan_and_its_dials_become_sightings(tmp_path, plan_file):
    out = tmp_path / "after.northkey.json"
    answer = run("log", plan_file, "--read", saved(tmp_path), "--make-sightings", "-o", out)
    assert (answer.code, answer.err) == (0, "")
    lines = answer.out.splitlines()
    assert lines[:2] == ["6 entries read: 6 new.", "6 contacts planned: 6 worked."]
    assert lines[-1].startswith("With 6 more sightings tonight's correction is +3.2 deg, known to ")
    written = read_plan(out)
    assert (len(written.log), len(written.sightings)) == (6, 6)
    assert identity(written) == identity(evening()[0])
    again = run("log", out, "--read", saved(tmp_path), "--make-sightings", "--json")
    assert again.json["read"] == {"new": 0, "changed": 0, "same": 6, "unmatched": 0}
    assert (again.json["sightings_made"], again.json["effect"]) == (0, None)
    assert {row["sighting"] for row in again.json["rows"]} == {"made"}
    fit = run("setup", out, "--json").json["fit"]
    assert abs(fit["correction_deg"] - 3.2) < fit["correction_sigma_deg"]
    assert len(fit["residuals"]) == 6


def test_json_has_the_fields_of_the_list_and_no_others(tmp_path, plan_file):
    stranger = {"norad_id": 4711, "near": "2024-11-01T18:00:00Z", "worked": True}
    read = run("log", plan_file, "--read", saved(tmp_path, stranger), "--make-sightings", "--json")
    for answer in (run("log", plan_file, "--json"), read):
        assert answer.code == 0
        assert misfit(answer.json, LOG_ANSWER) is None
    assert read.errors == [
        "An entry near 2024-11-01 18:00 UTC is of catalogue number 4711, which is not among the satellites.",
        "nothing was written: name a plan file with -o",
    ]


def test_another_plans_file_is_refused_unless_it_is_allowed(tmp_path, plan_file):
    stranger = saved(tmp_path, plan_identity="0123abcd")
    words = refused("log", plan_file, "--read", stranger)
    assert f"The file is of plan 0123abcd, this one is {identity(evening()[0])}" in words
    assert "--any-plan reads it" in words
    assert "6 entries read: 6 new." in run("log", plan_file, "--read", stranger, "--any-plan").out


def test_files_are_not_replaced_unasked(tmp_path, plan_file):
    pocket = saved(tmp_path)
    before = plan_file.read_bytes(), pocket.read_bytes()
    assert "use --force" in refused("log", plan_file, "--read", pocket, "-o", plan_file)
    refused("log", plan_file, "--read", pocket, "-o", pocket, "--force")
    assert (plan_file.read_bytes(), pocket.read_bytes()) == before
    assert run("log", plan_file, "--read", pocket, "-o", plan_file, "--force").code == 0
    assert read_plan(plan_file).log == plan_of(evening_data(), log=noted(evening()[0], 3.2)).log
