"""The order of work, and the hole table that goes with it."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings

from core.plate.part import plate_part
from core.plate.shop.hole_table import HEADS, hole_table_csv
from core.plate.shop.operations import operations_of
from core.plate.words import length_text, ways_sentence
from tests.core.plate.samples import HOLES, mount_of, plate_of, plates


def place(work: str, plate) -> int:
    """Of the one operation that begins so."""
    found = [one.number for one in operations_of(plate, HOLES) if one.work.startswith(work)]
    assert len(found) == 1, (work, found)
    return found[0]


def test_what_is_drilled_before_the_step_is_cut_tells_its_depth_from_the_face_there_is():
    drilled, bored = (
        next(one for one in operations_of(plate_of(), HOLES) if word in one.work)
        for word in ("drill every hole", "Counterbore")
    )
    assert "15 mm deep from the finished face; 20 mm from the face before the step is cut" in drilled.tool
    assert "8.6 mm deep from the finished face; 13.6 mm from the face before the step is cut" in bored.work
    above = operations_of(plate_of(step__side="above"), HOLES)
    assert not any("before the step" in one.work + one.tool for one in above)


def test_a_blank_has_metal_to_face_away_or_is_not_faced():
    assert "24 mm thick" in operations_of(plate_of(), HOLES)[0].work
    assert "turn over" in operations_of(plate_of(), HOLES)[1].work
    assert "skim neither" in operations_of(plate_of(stock={"thickness_mm": 22.0}), HOLES)[1].work


def test_the_order_is_the_shops():
    """Holes and step before the outside, nothing let go uninspected, threads after, fit before finish."""
    plate = plate_of(anodise_um=10.0)
    order = [
        "Rough cut", "Face", "Find the centre", "Counterbore", "Rough the step outside and inside",
        "Finish the step", "Inspect", "Clamp anew by the centre", "Tap M6", "Tap 1/2-13 UNC",
        "Deburr both sides", "Stamp", "Test fit", "Anodise",
    ]  # fmt: skip
    places = [place(work, plate) for work in order]
    assert places == list(range(1, len(order) + 1)) == [one.number for one in operations_of(plate, HOLES)]


@settings(max_examples=20)
@given(plates())
def test_every_operation_is_whole(plate):
    for one in operations_of(plate, HOLES):
        assert all((one.work, one.tool, one.held_by, one.inspect, one.hazard)), one


def test_what_a_plate_has_not_is_not_made():
    bare = plate_of(step=None, bolts=None, centre_thread=None)
    works = " ".join(one.work for one in operations_of(bare, HOLES))
    assert not any(word in works for word in ("step outside", "Counterbore", "UNC", "Anodise"))


def test_drills_are_the_tables_and_the_metals_taps_are_its_own():
    operations = operations_of(plate_of(), HOLES)
    drilling = next(one for one in operations if one.work.startswith("Find"))
    assert "drill 27/64 in for the centre" in drilling.tool
    assert "drill 5 mm for 2 index holes, from the tripod's side" in drilling.tool
    assert "drill 9 mm for 4 bolts" in drilling.tool
    tapping = [one.tool for one in operations if one.work.startswith("Tap")]
    assert all("aluminium" in tool for tool in tapping)
    steel = [
        one.tool for one in operations_of(plate_of(material="S235"), HOLES) if one.work.startswith("Tap")
    ]
    assert not any("aluminium" in tool for tool in steel)
    assert "bottoming tap" in tapping[0]
    assert "bottoming tap" not in tapping[1]


def test_in_inches_the_shop_reads_inches():
    plate = plate_of(thickness_mm=25.4, units="inch")
    assert "thickness 1.000 in" in operations_of(plate, HOLES)[1].inspect
    assert length_text(25.4, "mm") == "25.4 mm"


def table(plate, mount) -> tuple[list[str], list[dict[str, str]]]:
    lines = hole_table_csv(plate_part(plate, mount)).decode("utf-8").split("\r\n")
    notes = [line for line in lines if line.startswith("#")]
    return notes, list(csv.DictReader(io.StringIO("\r\n".join(lines[len(notes) :]))))


def test_both_angles_of_a_hole_and_both_views_stand_side_by_side():
    notes, rows = table(plate_of(), mount_of(0.0, -30.0, 90.0))
    by_name = {row["name"]: row for row in rows}
    assert tuple(rows[0]) == HEADS
    b, c = by_name["index B"], by_name["index C"]
    assert (b["offset_deg"], b["drilled_deg"], b["from_below_deg"]) == ("-30", "30", "330")
    assert (c["offset_deg"], c["drilled_deg"], c["from_below_deg"]) == ("90", "270", "90")
    assert (b["x_mm"], b["from_below_x_mm"], b["y_mm"]) == ("23.5", "-23.5", b["from_below_y_mm"])
    assert by_name["bolt 1"]["offset_deg"] == ""
    assert any("mirrored" in note for note in notes)
    assert any("no structural certificate" in note for note in notes)
    assert plate_part(plate_of(), mount_of(0.0, -30.0, 90.0)).identity in notes[0]


@pytest.mark.parametrize(
    ("across", "ways", "words"),
    [(False, 1, ""), (True, 2, "right across"), (False, 2, "nothing tells"), (True, 4, "and nothing tells")],
)
def test_ways_in_words(across, ways, words):
    sentence = ways_sentence(plate_of(keyway__right_across=across), ways)
    assert (words in sentence) if words else sentence == ""
