"""Reading horizon masks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import FileProblem
from core.place.horizon_file import read_horizon_csv, read_horizon_file

_PAIRS = [(0.0, 3.5), (90.25, 12.0), (200.0, -1.5)]


def pairs(text: str) -> list[tuple[float, float]]:
    return [(point.azimuth_deg, point.elevation_deg) for point in read_horizon_csv(text, "mask.csv")]


@pytest.mark.parametrize(
    "text",
    [
        "0,3.5\n90.25,12\n200,-1.5\n",
        "0;3,5\r\n90,25;12\r\n200;-1,5\r\n",
        "0;3.5\n90.25;12\n200;-1.5",
        "0\t3,5\n90,25\t12\n200\t-1,5\n",
        "0 3.5\n  90.25   12\n200 -1.5\n",
        "0, 3.5\n90.25 ,12\n200, -1.5\n",
        "\ufeffazimuth_deg,elevation_deg\n0,3.5\n90.25,12\n200,-1.5\n",
        "# from the hill\n\nbearing;elevation\n0;3.5  # oak\n\n90.25;12;\n200;-1.5\n",
        "elevation,azimuth\n3.5,0\n12,90.25\n-1.5,200\n",
        "what,Azimuth (deg),Altitude (deg)\noak,0,3.5\nroof,90.25,12\n,200,-1.5\n",
        '"0","3.5"\n"90.25","12"\n"200","-1.5"\n',
        "Grad;Winkel\n0°;3,5°\n90,25°;12°\n200°;-1,5°\n",
        "+0,3.50\n9.025e1,12.\n200,-1.5",
    ],
)
def test_every_form_of_a_line(text):
    assert pairs(text) == _PAIRS


@pytest.mark.parametrize(
    ("text", "place", "reason"),
    [
        ("0,3\n90,x\n", "line 2", "'x' is not a number"),
        ("# mask\n0,3\n\n361,4\n", "line 4", "the bearing is 361, it must be 0 to 360"),
        ("-10,4\n", "line 1", "the bearing is -10"),
        ("10,91\n", "line 1", "the elevation is 91, it must be -10 to 90"),
        ("10;-10,5\n", "line 1", "the elevation is -10.5"),
        ("10,nan\n", "line 1", "'nan' is not a number"),
        ("10,inf\n", "line 1", "'inf' is not a number"),
        ("10\n", "line 1", "has 1 columns"),
        ("1,2,3\n", "line 1", "has 3 columns"),
        ("10,5 3,2\n", "line 1", "has 3 columns"),
        ("azimuth,elevation\nazimuth,elevation\n", "line 2", "'azimuth' is not a number"),
        ("name,azimuth,elevation\noak,3\n", "line 2", "lacks the bearing or the elevation"),
        ("10,,5\n", "line 1", "has 3 columns"),
        ("10,4\n,5\n", "line 2", "'' is not a number"),
        ("", "", "holds no horizon points"),
        ("# nothing\nazimuth,elevation\n", "", "holds no horizon points"),
    ],
)
def test_what_is_wrong_is_refused_by_its_line(text, place, reason):
    with pytest.raises(FileProblem) as caught:
        pairs(text)
    assert (caught.value.file, caught.value.place) == ("mask.csv", place)
    assert reason in caught.value.reason


@given(
    st.lists(st.tuples(st.floats(0.0, 360.0), st.floats(-10.0, 90.0)), min_size=1, max_size=20),
    st.sampled_from([",", ";", "\t", " ", " ; "]),
    st.sampled_from(["\n", "\r\n"]),
    st.booleans(),
)
def test_what_is_written_is_read_back(points, mark, line_end, header):
    lines = [f"azimuth{mark}elevation"] if header else []
    lines += [f"{azimuth!r}{mark}{elevation!r}" for azimuth, elevation in points]
    assert pairs(line_end.join(lines)) == points


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1"])
def test_encodings_of_editors_and_spreadsheets(tmp_path, encoding):
    path = tmp_path / "mask.csv"
    path.write_bytes("# Bäume im Süden\n0;3,5\n90,25;12\n200;-1,5\n".encode(encoding))
    assert [(p.azimuth_deg, p.elevation_deg) for p in read_horizon_file(path)] == _PAIRS


def test_a_file_that_cannot_be_read_is_told_by_name(tmp_path):
    with pytest.raises(FileProblem, match=r"absent\.csv: does not exist"):
        read_horizon_file(tmp_path / "absent.csv")
    with pytest.raises(FileProblem, match="is a folder; name a file"):
        read_horizon_file(tmp_path)


def test_a_long_row_of_digits_is_no_number():
    with pytest.raises(FileProblem, match=r"line 1: '1{40}' is not a number"):
        read_horizon_csv("1" * 9_000 + "x,2", "mask.csv")


def test_a_line_or_a_mask_beyond_measure_is_refused():
    with pytest.raises(FileProblem, match="line 2: is longer than 10000 letters"):
        read_horizon_csv("1,2\n" + "1" * 16_000 + "x,2", "mask.csv")
    assert len(read_horizon_csv("1 1\n" * 2000, "mask.csv")) == 2000
    with pytest.raises(FileProblem, match="line 2001: is beyond the 2000 points a mask can have"):
        read_horizon_csv("1 1\n" * 2001, "mask.csv")
