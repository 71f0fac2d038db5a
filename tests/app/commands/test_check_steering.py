"""`northkey check --steering`: the table and the JSON of passes over a keyhole."""

from __future__ import annotations

from contextlib import contextmanager

import pytest

import app.commands.steering
from core.plan.storage import read_plan
from core.studies import over_keyhole, study_pass
from tests.app.commands.fields import CHECK_ANSWER, STEERING_ANSWER, misfit
from tests.app.commands.runner import run
from tests.lasting import result_of
from tests.plans import full_plan_data, write_plan_file

SLOW = {"mount__azimuth__rate_deg_s": 0.5}


@pytest.mark.parametrize("changes", [{}, SLOW, SLOW | {"mount__azimuth__travel_deg": 90.0}])
def test_json_has_its_fields_and_no_others(tmp_path, changes):
    path = write_plan_file(tmp_path, **changes)
    answer = run("check", path, "--json", "--steering")
    assert (answer.code, answer.err) == (0, "")
    assert misfit(answer.json, STEERING_ANSWER) is None
    assert misfit(run("check", path, "--json").json, CHECK_ANSWER) is None


def test_json_of_a_full_plan(tmp_path):
    path = write_plan_file(tmp_path, full_plan_data(), picks=[], **SLOW)
    answer = run("check", path, "--json", "--steering")
    assert misfit(answer.json, STEERING_ANSWER) is None
    told = [pass_["steering"] for pass_ in answer.json["passes"] if pass_["steering"]]
    assert told
    for steering in told:
        assert steering["in_use"] == "chased"
        assert [a["name"] for a in steering["runs"][0]["antennas"]] == ["long", "short"]


def test_json_tells_the_study_of_each_pass_over_the_keyhole_and_null_for_others(tmp_path):
    path = write_plan_file(tmp_path, **SLOW)
    plan = read_plan(path)
    result = result_of(plan)
    over = over_keyhole(plan, result)
    assert over
    for index, pass_ in enumerate(run("check", path, "--json", "--steering").json["passes"]):
        told = pass_["steering"]
        assert (told is not None) == (index in over)
        if told is None:
            continue
        study = study_pass(plan, result, result.checks[index])
        assert study is not None
        assert told["peak_deg"] > told["keyhole_deg"]
        assert [r["name"] for r in told["runs"]] == [row.name for row in study.study.runs]
        for shape, row in zip(told["runs"], study.study.runs, strict=True):
            assert shape["worst_off_deg"] == pytest.approx(row.worst_off_deg, abs=1e-4)
            assert shape["azimuth_travel_deg"] == pytest.approx(row.azimuth_travel_deg, abs=1e-2)
            assert shape["antennas"][0]["seconds_off"] == pytest.approx(row.antennas[0].seconds_off, abs=0.1)
            assert shape["antennas"][0]["worst_loss_db"] == pytest.approx(
                row.antennas[0].worst_loss_db, abs=1e-2
            )


def test_the_table_stands_below_the_others(tmp_path):
    path = write_plan_file(tmp_path, **SLOW)
    plan = read_plan(path)
    result = result_of(plan)
    index = over_keyhole(plan, result)[0]
    study = study_pass(plan, result, result.checks[index])
    assert study is not None
    plain, with_table = run("check", path).out, run("check", path, "--steering").out
    assert with_table.startswith(plain)
    table = with_table.removeprefix(plain)
    assert f"Steering {result.passes[index].satellite}" in table
    assert "over the keyhole" in table
    rows = {line.split("  ")[0]: line.split() for line in table.splitlines() if line}
    assert "antenna s off" in table
    assert "led, in use" in rows
    for row in study.study.runs:
        name = "led, in use" if row.name == "led" else row.name
        assert rows[name][-5] == f"{row.worst_off_deg:.1f}"
        assert rows[name][-2] == f"{row.antennas[0].seconds_off:.0f}"
        assert rows[name][-1] == f"{row.antennas[0].worst_loss_db:.1f}"


def test_where_azimuth_follows_all_the_table_says_so(tmp_path):
    out = run("check", write_plan_file(tmp_path), "--steering").out
    assert "Steering: no pass in reach peaks over the keyhole; azimuth follows them all." in out


def test_progress_is_told_pass_by_pass(tmp_path, monkeypatch):
    told = []

    @contextmanager
    def listening():
        yield lambda *progress: told.append(progress) or True

    monkeypatch.setattr(app.commands.steering, "shown_progress", listening)
    answer = run("check", write_plan_file(tmp_path, **SLOW), "--json", "--steering")
    studied = sum(shape["steering"] is not None for shape in answer.json["passes"])
    assert studied
    assert [done for done, _total, _what in told] == list(range(studied + 1))
    assert told[-1][2] == "setting steerings side by side"
