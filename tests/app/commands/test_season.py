"""`northkey season`."""

from __future__ import annotations

import pytest

from tests.app.commands.fields import SEASON_ANSWER, misfit
from tests.app.commands.runner import refused, run
from tests.plans import full_plan_data, short_plan_data, write_plan_file

LOSES = {"mount__azimuth__travel_deg": 360.0, "mount__elevation__maximum_deg": 90.0}
HOLES = [{"name": "B", "offset_deg": -30.0}, {"name": "A"}]


@pytest.mark.parametrize("changes", [{}, LOSES, LOSES | {"mount__index_holes": HOLES}])
def test_json_has_the_fields_of_the_design(tmp_path, changes):
    answer = run("season", write_plan_file(tmp_path, **changes), "--days", "6", "--json")
    assert (answer.code, answer.err) == (0, "")
    assert misfit(answer.json, SEASON_ANSWER) is None
    assert (answer.json["days"], answer.json["evenings"]) == (6, 6)
    assert answer.json["held_out"]["evenings"] == 3
    assert list(answer.json["drill"]) == ["1", "2", "3", "4"]
    assert [len(holes) for holes in answer.json["drill"].values()] == [1, 2, 3, 4]
    assert [row[0] for row in answer.json["curve"]] == list(range(360))


def test_json_of_a_full_plan_and_the_curve_of_hole_a(tmp_path):
    path = write_plan_file(tmp_path, full_plan_data(), mount__index_holes=HOLES, mount__index_hole="B")
    answer = run("season", path, "--days", "4", "--json").json
    assert misfit(answer, SEASON_ANSWER) is None
    assert answer["curve"] == answer["holes"]["A"]["curve"] != answer["holes"]["B"]["curve"]
    assert answer["holes"]["B"]["drilled_deg"] == 30.0
    one, other = (answer["holes"][name]["curve"] for name in ("A", "B"))
    assert [row[1] for row in other] == [one[bearing - 30][1] for bearing in range(360)]


def test_the_best_is_on_the_curve_and_shares_are_between_their_spread(tmp_path):
    answer = run("season", write_plan_file(tmp_path, **LOSES), "--days", "12", "--json").json
    best = answer["holes"]["A"]["best"]
    assert best["not_clear_share_10"] <= best["not_clear_share_50"] <= best["not_clear_share_90"]
    assert best["not_clear_share_mean"] <= min(row[1] for row in answer["curve"]) + 0.0011
    near = answer["curve"][round(best["keyway_bearing_deg"]) % 360][1]
    assert best["as_good_over_deg"] < 2.0 or near <= best["not_clear_share_mean"] + 0.0011
    held_out = answer["held_out"]
    assert held_out["not_clear_share"] == answer["drill_judged"]["4"]["not_clear_share"]
    assert held_out["best_single_share"] == answer["drill_judged"]["1"]["not_clear_share"]
    assert held_out["not_clear_share"] < held_out["best_single_share"]
    for count, holes in answer["drill"].items():
        assert all(hole["drilled_deg"] == -hole["offset_deg"] % 360.0 for hole in holes)
        assert len(answer["drill_judged"][count]["evenly_spaced"]["holes"]) == int(count)


def test_the_same_seed_gives_the_same_answer_and_another_other_halves(tmp_path):
    path = write_plan_file(tmp_path, **LOSES)
    one, same, other = (
        run("season", path, "--days", "8", "--seed", seed, "--holes", "1", "--json").json
        for seed in ("5", "5", "6")
    )
    assert one == same
    assert one["halves"]["apart_at_most"] != other["halves"]["apart_at_most"]
    assert one["curve"] == other["curve"]


def test_the_table_says_what_it_is(tmp_path):
    path = write_plan_file(tmp_path, **LOSES, mount__index_holes=HOLES)
    answer = run("season", path, "--days", "6", "--keyways", "30,150.5", "--holes", "2", "--apart", "45")
    assert (answer.code, answer.err) == (0, "")
    for words in [
        "6 evenings from 2024-11-01, 18:00 to 21:00 on the clocks of Europe/Zurich; ",
        "Statistics only, no times",
        "Hole B: ",
        "Where to drill, clockwise from the datum mark as seen from above:",
        "Keyway at 30 and 150.5 deg true, holes 45 deg apart or more, the best hole each evening.",
        "Chosen on the first 3 evenings, judged on the other 3.",
        "drawn by lot (seed 1)",
        "through holes B and A, as the mount is.",
    ]:
        assert words in answer.out
    assert "keyway true  hole B  hole A" in answer.out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--days", "1"], "2 to 1100"),
        (["--days", "5000"], "2 to 1100"),
        (["--holes", "5"], "1 to 4"),
        (["--apart", "200"], "90 deg with 4 holes"),
        (["--keyways", "30;150"], "commas between"),
        (["--keyways", "nan"], "commas between"),
        (["--seed", "-1"], "0 or above"),
        (["--days", "x"], "--help"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_line(tmp_path, words, told):
    assert told in refused("season", write_plan_file(tmp_path), *words)


def test_a_plan_without_passes_or_satellites_is_refused(tmp_path):
    path = write_plan_file(tmp_path, short_plan_data(), site__minimum_elevation_deg=89.9)
    assert "two evenings or more" in refused("season", path, "--days", "3")
    assert "no satellites" in refused("season", write_plan_file(tmp_path, satellites=[]), "--days", "3")
    zone = write_plan_file(tmp_path, site__time_zone="Europe/Atlantis")
    assert "Europe/Atlantis" in refused("season", zone, "--days", "3")
