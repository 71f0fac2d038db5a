"""`northkey plate`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from core.evaluate import identity
from core.plate.shop.files import NO_SOLID, WRITERS, writers
from core.plate.words import CAUTION, SHOP_CAUTION
from tests.app.commands.fields import PLATE_ANSWER, misfit
from tests.app.commands.runner import refused, run
from tests.plans import plan_of, plate_data, short_plan_data, write_plan_file

HOLES = {
    "index_holes": [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": -30.0}],
    "index_hole": "B",
}


def plan_file(folder, **plate):
    return write_plan_file(folder, mount=HOLES, plate=plate_data() | plate)


def test_the_answer_for_scripts_has_every_field(tmp_path):
    answer = run("plate", plan_file(tmp_path), "--json")
    assert answer.code == 0
    assert misfit(answer.json, PLATE_ANSWER) is None
    found = answer.json
    assert found["identity"] == identity(plan_of(short_plan_data(), mount=HOLES, plate=plate_data()))
    assert (found["fits_ways"], found["files"]) == (1, [])
    b = found["features"][-1]
    assert (b["name"], b["kind"], b["thread"], b["side"]) == ("index B", "tapped hole", "M6", "below")
    assert (b["angle_deg"], b["offset_deg"], b["from_below"]["angle_deg"]) == (30.0, -30.0, 330.0)
    assert b["from_below"]["x_mm"] == -b["x_mm"] == -23.5
    assert [one["number"] for one in found["operations"]] == list(range(1, len(found["operations"]) + 1))


def test_the_table_says_what_it_is_good_for(tmp_path):
    answer = run("plate", plan_file(tmp_path))
    assert answer.code == 0
    assert CAUTION in answer.out
    assert SHOP_CAUTION in answer.out
    assert "drilled deg  offset deg" in answer.out
    assert answer.errors == [
        "4 ways to bolt the rotator on: its holes do not tell. Mark the datum on both with a witness line."
    ]


def test_a_keyway_right_across_is_warned_of(tmp_path):
    keyway = {"width_mm": 10.5, "depth_mm": 7.0, "right_across": True}
    answer = run("plate", plan_file(tmp_path, keyway=keyway), "--json")
    assert answer.json["fits_ways"] == 2
    assert answer.errors[0].startswith("2 ways to put the part into the tripod plate")


def test_a_value_in_doubt_is_told(tmp_path):
    answer = run(
        "plate", plan_file(tmp_path, bolts={"thread": "M12", "count": 3, "circle_diameter_mm": 124.0})
    )
    assert any(line.startswith("M12: clearance") for line in answer.errors)


def test_the_shops_files_are_written_into_their_folder(tmp_path):
    plan = write_plan_file(tmp_path, title="At the <old> quarry", mount=HOLES, plate=plate_data())
    folder = tmp_path / "shop" / "here"
    answer = run("plate", plan, "-o", folder, "--json")
    made = [str(folder / name) for name, _ in writers()]
    assert answer.json["files"] == made
    assert sorted(made) == sorted(map(str, folder.iterdir()))
    assert {Path(name).suffix for name in made} >= {".pdf", ".svg", ".dxf", ".csv"}
    drawing = (folder / "drawing.svg").read_text("utf-8")
    assert f"plan {answer.json['identity']}" in drawing
    assert ">At the &lt;old&gt; quarry<" in drawing
    text = (folder / "hole_table.csv").read_text("utf-8")
    assert answer.json["part"] in text.splitlines()[0]


def test_a_missing_kernel_is_told_and_the_rest_is_written(tmp_path, monkeypatch):
    for module in ("app.commands.plate", "core.plate.shop.files"):
        monkeypatch.setattr(f"{module}.solids_can_be_made", lambda: False)
    answer = run("plate", plan_file(tmp_path), "-o", tmp_path / "shop", "--json")
    assert NO_SOLID in answer.errors
    assert len(answer.json["files"]) == len(WRITERS)


def test_nothing_is_replaced_without_force(tmp_path):
    plan, folder = plan_file(tmp_path), tmp_path / "shop"
    folder.mkdir()
    table = folder / "hole_table.csv"
    table.write_text("mine")
    assert "is there already; use --force" in refused_with_warnings("plate", plan, "-o", folder)
    assert table.read_text() == "mine"
    assert run("plate", plan, "-o", folder, "--force").code == 0
    assert table.read_text() != "mine"


def refused_with_warnings(*words) -> str:
    answer = run(*words)
    assert (answer.code, answer.out) == (2, "")
    return answer.errors[-1]


def test_a_file_in_the_folders_place_is_told(tmp_path):
    plan = plan_file(tmp_path)
    assert "cannot be made a folder" in refused_with_warnings("plate", plan, "-o", plan)


def test_a_plan_without_a_plate_is_told(tmp_path):
    assert "plate: is not there" in refused("plate", write_plan_file(tmp_path))


@pytest.mark.parametrize("key", ["thickness_mm", "keyway", "index_pin"])
def test_what_a_plate_needs_is_asked_for(tmp_path, key):
    data = short_plan_data() | {"plate": {name: value for name, value in plate_data().items() if name != key}}
    path = tmp_path / "evening.northkey.json"
    path.write_text(json.dumps(data), "utf-8")
    assert f"plate.{key}" in refused("plate", path)
