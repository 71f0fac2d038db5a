"""A dial that is set to read true at a sighting, for every command that prints dials."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.app.commands.runner import refused, run
from tests.plans import write_plan_file

SEAT = {"mount__keyway_bearing_deg": 100.0}
COMPASS = {"mount__azimuth__dial_wraps_at_deg": 360.0, "mount__azimuth__dial_wraps_to_deg": 0.0}


def test_the_dial_reads_bearings_once_it_is_set(tmp_path):
    path = write_plan_file(tmp_path, **SEAT, **COMPASS)
    answer = run("check", path, "--reads-true", "250", "--json").json
    for row in answer["travel_test"][:3]:
        assert row["dial_deg"] == pytest.approx(row["bearing_deg"])
    for one in answer["passes"]:
        for way in one["ways"]:
            if way["posture"] == "upright" and not way["rests"]:
                assert way["dial_aos_deg"] == pytest.approx(one["aos"]["azimuth_deg"], abs=0.01)


def test_a_dial_that_runs_on_is_set_by_the_first_place_that_points_there(tmp_path):
    path = write_plan_file(tmp_path, **SEAT)
    rows = run("check", path, "--reads-true", "110,12", "--json").json["travel_test"]
    assert [row["dial_deg"] for row in rows[:3]] == [100.0, 325.0, 550.0]


def test_the_seat_as_found_is_the_one_it_is_set_in(tmp_path):
    path = write_plan_file(tmp_path, **SEAT)
    words = ("--reads-true", "200", "--now", "2024-11-01T17:00:00Z", "--dial", "200", "--keyway", "90")
    now = run("evening", path, *words, "--json").json["now"]
    assert (now["m_deg"], now["bearing_deg"]) == (110.0, 200.0)


def rows_of(file: Path) -> list[dict[str, str]]:
    lines = [line for line in file.read_text().splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def test_exports_follow_the_dial_too(tmp_path):
    path, plain, true = write_plan_file(tmp_path, **SEAT), tmp_path / "plain.csv", tmp_path / "true.csv"
    assert run("export", path, "--as", "csv", "-o", plain).code == 0
    assert run("export", path, "--as", "csv", "-o", true, "--reads-true", "150").code == 0
    before, after = (rows_of(file) for file in (plain, true))
    assert before
    for one, other in zip(before, after, strict=True):
        assert float(other["azimuth_dial_deg"]) - float(one["azimuth_dial_deg"]) == pytest.approx(100.0)


@pytest.mark.parametrize("words", ["north", "1,2,3", "400", "10,95"])
def test_what_is_no_bearing_is_refused(tmp_path, words):
    assert "a true bearing" in refused("check", write_plan_file(tmp_path), "--reads-true", words)


def test_a_bearing_no_place_points_to_is_refused(tmp_path):
    path = write_plan_file(tmp_path, mount__azimuth__travel_deg=300.0)
    assert "can turn to" in refused("check", path, "--reads-true", "330")
