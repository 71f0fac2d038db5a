"""`northkey plan`: a plan from element sets, without a script."""

from __future__ import annotations

import json

import pytest

from core.plan.storage import read_plan
from tests.app.commands.runner import refused, run
from tests.plans import elements_data, write_elements_file

WHEN = ("--start", "2024-11-01T17:00:00Z", "--hours", "3")


@pytest.fixture
def words(tmp_path):
    files = write_elements_file(tmp_path)
    return "plan", "--elements", files, "--site", "47.2,9.1", *WHEN, "-o", tmp_path / "made.northkey.json"


def test_the_plan_says_only_what_was_given(words, tmp_path):
    answer = run(*words)
    assert (answer.code, answer.err) == (0, "")
    assert answer.out.startswith(f"{words[-1]}: 2 satellites, 3 h from 2024-11-01T17:00:00.000Z\n")
    assert "assumed: minimum elevation 5 deg, height 0 m, no horizon mask" in answer.out
    content = json.loads(words[-1].read_text("utf-8"))
    assert set(content) == {"format", "version", "site", "evening", "satellites"}
    assert content["site"] == {"latitude_deg": 47.2, "longitude_deg": 9.1}
    assert content["evening"] == {"start": "2024-11-01T17:00:00.000Z", "end": "2024-11-01T20:00:00.000Z"}
    assert [satellite["elements"]["NORAD_CAT_ID"] for satellite in content["satellites"]] == [70001, 70002]


def test_its_passes_are_those_of_the_files(words):
    assert run(*words).code == 0
    from_files = run("passes", *words[1:-2], "--json").json["passes"]
    checked = run("check", words[-1], "--json").json["passes"]
    assert [(row["norad_id"], row["aos"]) for row in checked] == [
        (row["norad_id"], row["aos"]) for row in from_files
    ]


def test_height_horizon_elevation_title_and_names_go_in(words, tmp_path):
    horizon = tmp_path / "horizon.csv"
    horizon.write_text("azimuth,elevation\n0,4\n120,14\n")
    more = ("--site", "47.2,9.1,1300", "--min-elevation", "7", "--horizon", horizon, "--title", "Friday")
    assert run(*words, *more, "--names", "70002").code == 0
    plan = read_plan(words[-1])
    assert (plan.title, plan.site.height_m, plan.site.minimum_elevation_deg) == ("Friday", 1300.0, 7.0)
    assert [point.elevation_deg for point in plan.site.horizon] == [4.0, 14.0]
    assert [satellite.elements.norad_id for satellite in plan.satellites] == [70002]


def test_a_file_is_replaced_only_with_force(words):
    assert run(*words).code == 0
    before = words[-1].read_bytes()
    assert "is there already; use --force" in refused(*words, "--names", "70001")
    assert words[-1].read_bytes() == before
    assert run(*words, "--names", "70001", "--force").code == 0
    assert len(read_plan(words[-1]).satellites) == 1


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (["--hours", "361"], "--hours is 361.0, it must be from 0.0003 (a second) to 360 (15 days)"),
        (["--hours", "nan"], "--hours"),
        (["--site", "91,9"], "latitude"),
        (["--start", "tomorrow"], "--start"),
        (["--min-elevation", "90"], "--min-elevation"),
    ],
)
def test_wrong_words_are_refused_in_one_line_and_nothing_is_written(words, change, said):
    assert said in refused(*words, *change)
    assert not words[-1].exists()


def test_near_names_are_offered_and_the_part_in_brackets_is_taken(words, tmp_path):
    files = write_elements_file(
        tmp_path, elements_data(70001, "LARCH 1 (LA-1)"), elements_data(70002, "EMBER-3")
    )
    answer = run(words[0], "--elements", files, *words[3:], "--names", "la-1,ember3")
    assert answer.errors == ["no satellite is called 'ember3' in these files; perhaps EMBER-3"]
    assert [satellite.name for satellite in read_plan(words[-1]).satellites] == ["LARCH 1 (LA-1)"]
