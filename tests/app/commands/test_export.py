"""`northkey export`."""

from __future__ import annotations

import pytest

from core.evaluate import identity
from tests.app.commands.runner import refused, run
from tests.plans import plan_of, short_plan_data, write_plan_file


def test_the_readings_are_written(tmp_path):
    out = tmp_path / "out.csv"
    answer = run("export", write_plan_file(tmp_path), "--as", "csv", "-o", out)
    assert (answer.code, answer.err) == (0, "")
    plan_name = identity(plan_of(short_plan_data()))
    assert answer.out == f"{out}: readings of plan {plan_name}, 4 passes\n"
    lines = out.read_bytes().decode().split("\r\n")
    assert lines[0].startswith(f"# northkey readings, plan {plan_name}, made 20")
    assert sum(not line.startswith("#") for line in lines) > 4 * 58


def test_the_pocket_page_is_written(tmp_path):
    out = tmp_path / "evening.html"
    answer = run("export", write_plan_file(tmp_path), "--as", "html", "-o", out)
    assert (answer.code, answer.err) == (0, "")
    plan_name = identity(plan_of(short_plan_data()))
    assert answer.out == f"{out}: pocket page of plan {plan_name}, 4 passes\n"
    page = out.read_text(encoding="utf-8")
    assert page.startswith("<!DOCTYPE html>")
    assert f"<b>Plan {plan_name}</b>, made 20" in page
    assert page.count("<section class=card") == 4


def test_the_step_is_the_step(tmp_path):
    plan, sizes = write_plan_file(tmp_path), []
    for step in ("60", "6"):
        run("export", plan, "--as", "csv", "-o", tmp_path / "out.csv", "--step", step, "--force")
        sizes.append(len((tmp_path / "out.csv").read_text().splitlines()))
    assert 9 * (sizes[0] - 9) < sizes[1] < 10 * sizes[0]


def test_nothing_is_replaced_without_force(tmp_path):
    plan, out = write_plan_file(tmp_path), tmp_path / "out.csv"
    out.write_text("mine")
    assert "is there already; use --force" in refused("export", plan, "--as", "csv", "-o", out)
    assert out.read_text() == "mine"
    assert run("export", plan, "--as", "csv", "-o", out, "--force").code == 0
    assert out.read_text() != "mine"
    assert {path.name for path in tmp_path.iterdir()} == {plan.name, "out.csv"}


@pytest.mark.parametrize(
    ("target", "words"),
    [
        ("none/out.csv", "no such file or directory"),
        ("evening.northkey.json/out.csv", "not a directory"),
        (".", "is a folder"),
        ("", "is a folder"),
    ],
)
@pytest.mark.parametrize("force", [[], ["--force"]])
def test_places_that_cannot_be_written_to_are_told(tmp_path, monkeypatch, target, words, force):
    monkeypatch.chdir(tmp_path)
    plan = write_plan_file(tmp_path)
    before = plan.read_bytes()
    assert words in refused("export", plan, "--as", "csv", "-o", target, *force)
    assert [path.name for path in tmp_path.iterdir()] == [plan.name]
    assert plan.read_bytes() == before


@pytest.mark.parametrize("step", ["0", "-5", "0.01", "601", "nan", "inf", "soon"])
def test_steps_out_of_range_are_refused(tmp_path, step):
    out = tmp_path / "out.csv"
    assert "step" in refused("export", write_plan_file(tmp_path), "--as", "csv", "-o", out, "--step", step)
    assert not out.exists()


def test_a_form_that_is_not_there_is_refused(tmp_path):
    assert "--as" in refused("export", write_plan_file(tmp_path), "--as", "xls", "-o", tmp_path / "out")
    assert "-o" in refused("export", write_plan_file(tmp_path), "--as", "csv")


def test_without_an_answer_nothing_is_written(tmp_path):
    out = tmp_path / "out.csv"
    refused("export", write_plan_file(tmp_path, satellites=[]), "--as", "csv", "-o", out)
    assert not out.exists()


def test_the_log_is_written_beside_what_was_planned(tmp_path):
    log = [{"norad_id": 70001, "near": "2024-11-01T17:45:00Z", "worked": True, "note": "loud"}]
    out = tmp_path / "log.csv"
    answer = run("export", write_plan_file(tmp_path, log=log), "--as", "log", "-o", out)
    plan_name = identity(plan_of(short_plan_data()))
    assert answer.out == (f"{out}: log of plan {plan_name}. 4 contacts planned: 1 worked, 3 not noted.\n")
    lines = [line for line in out.read_bytes().decode().split("\r\n") if line and not line.startswith("#")]
    assert len(lines) == 1 + 4
    assert sum(line.endswith(",loud") for line in lines) == 1


@pytest.mark.parametrize("form", ["csv", "html"])
def test_the_rest_of_the_evening_is_written_as_it_is_planned_again(tmp_path, form):
    out, plan = tmp_path / "rest", write_plan_file(tmp_path)
    now = ("--now", "2024-11-01T18:00:00Z", "--dial", "100,10")
    assert run("export", plan, "--as", form, "-o", out, *now).code == 0
    text = out.read_text(encoding="utf-8")
    before = identity(plan_of(short_plan_data()))
    assert f"plan {before}, made" not in text.lower()
    assert (f"Set-up card: see the sheet of plan {before}" in text) == (form == "html")
    assert ("re-planned from 18:00:00 UTC" in text) == (form == "html")


def test_the_log_is_of_the_whole_evening(tmp_path):
    now = ("--now", "2024-11-01T18:00:00Z", "--dial", "100,10")
    told = refused("export", write_plan_file(tmp_path), "--as", "log", "-o", tmp_path / "log.csv", *now)
    assert "--now" in told
