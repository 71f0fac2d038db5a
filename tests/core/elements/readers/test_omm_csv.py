from __future__ import annotations

import pytest

from core.elements.reading import read_elements
from core.elements.writing import write_omm_csv
from tests.core.elements.samples import MADE, element_set, five_sets, keywords


def test_csv_columns_in_any_order_and_small_letters():
    fields = keywords()
    for names in (sorted(fields), sorted(fields, reverse=True), [name.lower() for name in fields]):
        text = ",".join(names) + "\n" + ",".join(fields[name.upper()] for name in names) + "\n"
        assert read_elements(text, "a.csv").sets == (element_set(),)


def test_csv_quoted_header_and_cells():
    fields = keywords(OBJECT_NAME="A, B")
    text = ",".join(f'"{name}"' for name in fields) + "\n" + ",".join(f'"{v}"' for v in fields.values())
    reading = read_elements(text, "a.csv")
    assert reading.sets == (element_set(OBJECT_NAME="A, B"),)
    assert reading.refused == ()


@pytest.mark.parametrize(("change", "told"), [("x,", "20 columns"), ("", "18 columns"), (",,", None)])
def test_csv_rows_of_another_width(change, told):
    lines = write_omm_csv(five_sets(), **MADE).splitlines()
    lines[3] = (
        change + lines[3] if change == "x," else lines[3] + ",," if change else lines[3].rpartition(",")[0]
    )
    reading = read_elements("\n".join(lines), "a.csv")
    if told is None:
        assert reading.refused == ()
        assert reading.sets == five_sets()
    else:
        assert len(reading.sets) == 4
        assert reading.refused[0].place == "line 4"
        assert told in reading.refused[0].reason


def test_csv_header_faults_are_told_once_for_the_file():
    text = write_omm_csv(five_sets(), **MADE)
    for damaged, field in (
        (text.replace("EPOCH,", "EPOQUE,", 1), "EPOCH"),
        (text.replace("MEAN_MOTION,", "ECCENTRICITY,", 1), "ECCENTRICITY"),
    ):
        reading = read_elements(damaged, "a.csv")
        assert reading.sets == ()
        assert [(refusal.place, refusal.field) for refusal in reading.refused] == [("line 1", field)]


def test_csv_semi_major_axis_column():
    fields = keywords(SEMI_MAJOR_AXIS="7000", MEAN_MOTION=None)
    reading = read_elements(",".join(fields) + "\n" + ",".join(fields.values()), "a.csv")
    assert reading.sets[0].mean_motion_rev_day == pytest.approx(14.8237, abs=1e-3)


def test_csv_blank_lines_are_passed_over():
    text = write_omm_csv(five_sets(), **MADE).replace("\n", "\n\n")
    assert read_elements(text, "a.csv").sets == five_sets()
    assert read_elements(text, "a.csv").origins[1].place == "line 5"
