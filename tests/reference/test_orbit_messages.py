"""Orbit messages against published samples.

Sources: CCSDS 502.0-B (figures 4-1 and 4-2, GOES 9), as carried by test data of open-source libraries;
sample messages of public catalogues (NUSAT-8, ISS), the latter as in the Skyfield documentation; the SGP4
verification set of Vallado et al., AIAA 2006-6753, appendices D and E, as shipped in the sgp4 package.
"""

from __future__ import annotations

import importlib.resources
import math

import pytest
from sgp4.api import Satrec

from core.base.errors import PropagationError, ValueRangeError
from core.elements.model import ElementSet
from core.elements.propagator import satrec
from core.elements.readers.omm import set_from_keywords
from core.elements.readers.tle import checksum, from_alpha5
from core.elements.reading import ElementReading, read_elements
from tests.shared_data import shared_file

SAMPLES = "reference/values/ccsds/"


def _read(name: str) -> ElementReading:
    return read_elements(shared_file(SAMPLES + name).read_text(encoding="utf-8"), name)


def _one(name: str) -> ElementSet:
    reading = _read(name)
    assert reading.refused == ()
    (elements,) = reading.sets
    return elements


def _apart_km(ours: ElementSet, line_1: str, line_2: str) -> float:
    """Largest distance to the library's own two-line reader at -1, 0 and +1 day."""
    record, theirs = satrec(ours), Satrec.twoline2rv(line_1, line_2)
    apart = 0.0
    for days in (-1.0, 0.0, 1.0):
        error, here, _ = record.sgp4(theirs.jdsatepoch, theirs.jdsatepochF + days)
        other_error, there, _ = theirs.sgp4(theirs.jdsatepoch, theirs.jdsatepochF + days)
        assert error == other_error == 0
        apart = max(apart, math.dist(here, there))
    return apart


GOES_9_KVN = """\
CCSDS_OMM_VERS  = 3.0
CREATION_DATE   = 2007-065T16:00:00
ORIGINATOR      = NOAA/USA

OBJECT_NAME     = GOES 9
OBJECT_ID       = 1995-025A
CENTER_NAME     = EARTH
REF_FRAME       = TEME
TIME_SYSTEM     = UTC
MEAN_ELEMENT_THEORY = SGP/SGP4

EPOCH             = 2007-064T10:34:41.4264
MEAN_MOTION       = 1.00273272
ECCENTRICITY      = 0.0005013
INCLINATION       =   3.0539
RA_OF_ASC_NODE    =  81.7939
ARG_OF_PERICENTER = 249.2363
MEAN_ANOMALY      = 150.1602
GM                = 398600.8
EPHEMERIS_TYPE    = 0
CLASSIFICATION_TYPE = U
NORAD_CAT_ID      = 23581
ELEMENT_SET_NO    = 0925
REV_AT_EPOCH      = 4316
BSTAR             = 0.0001
MEAN_MOTION_DOT   = -0.00000113
MEAN_MOTION_DDOT  = 0.0
"""
GOES_9_TLE = (
    "1 23581U 95025A   07064.44075725 -.00000113  00000-0  10000-3 0  9250",
    "2 23581   3.0539  81.7939 0005013 249.2363 150.1602  1.00273272 43169",
)


def test_figure_4_1_of_ccsds_502():
    reading = read_elements(GOES_9_KVN, "figure 4-1")
    assert (reading.refused, reading.notes) == ((), ())
    (goes,) = reading.sets
    assert goes.model_dump() == {
        "name": "GOES 9",
        "object_id": "1995-025A",
        "center": "EARTH",
        "frame": "TEME",
        "time_system": "UTC",
        "theory": "SGP4",
        "epoch": "2007-03-05T10:34:41.4264",
        "mean_motion_rev_day": 1.00273272,
        "eccentricity": 0.0005013,
        "inclination_deg": 3.0539,
        "raan_deg": 81.7939,
        "arg_perigee_deg": 249.2363,
        "mean_anomaly_deg": 150.1602,
        "ephemeris_type": 0,
        "classification": "U",
        "norad_id": 23581,
        "element_set_no": 925,
        "rev_at_epoch": 4316,
        "bstar": 0.0001,
        "mean_motion_dot": -0.00000113,
        "mean_motion_ddot": 0.0,
    }


def test_goes_9_as_message_and_as_two_lines_is_one_set():
    (message,) = read_elements(GOES_9_KVN, "figure 4-1").sets
    (lines,) = read_elements("\n".join(GOES_9_TLE), "two lines").sets
    assert lines.model_copy(update={"name": message.name}) == message
    assert _apart_km(message, *GOES_9_TLE) < 1e-6


def test_the_messages_mean_motion_dot_is_the_field_of_the_two_lines():
    """GOES 9, NUSAT-8 and ISS samples carry the two-line field, half the derivative, though some readers take
    the keyword as the full derivative. SGP4's positions depend on neither reading.
    """
    (message,) = read_elements(GOES_9_KVN, "figure 4-1").sets
    assert message.mean_motion_dot == float(GOES_9_TLE[0][33:43])
    other = message.model_copy(update={"mean_motion_dot": message.mean_motion_dot / 2})
    assert satrec(other).sgp4_tsince(1440.0) == satrec(message).sgp4_tsince(1440.0)


def test_figure_4_2_of_ccsds_502_as_xml():
    goes = _one("omm_ccsds_502_fig4-2_goes9.xml")
    (message,) = read_elements(GOES_9_KVN, "figure 4-1").sets
    assert goes == message.model_copy(update={"name": "GOES-9"})
    assert _read("omm_ccsds_502_fig4-2_goes9.xml").notes == (
        "omm_ccsds_502_fig4-2_goes9.xml: left aside user-defined parameters (SGP4 has no use for them)",
    )


def test_nusat_8_in_three_forms_and_two_lines():
    kvn, xml, as_json = (_one(f"omm_nusat8_spacetrack.{form}") for form in ("kvn", "xml", "json"))
    assert kvn == xml == as_json
    line_1 = "1 45018U 20003C   20364.16527091  .00002241  00000-0  84553-4 0  9997"
    line_2 = "2 45018  97.2970  66.4161 0013356 110.6345 334.7107 15.27989249 53274"
    (lines,) = read_elements(f"0 NUSAT-8 (MARIE)\n{line_1}\n{line_2}\n", "two lines").sets
    assert lines == kvn
    assert _apart_km(kvn, line_1, line_2) < 1e-6


def test_iss_in_csv_json_and_two_lines():
    as_csv, as_json, lines = (_one(f"omm_iss_2024127.{form}") for form in ("csv", "json", "tle"))
    assert as_csv == as_json == lines
    _, line_1, line_2 = shared_file(SAMPLES + "omm_iss_2024127.tle").read_text().splitlines()
    assert _apart_km(as_csv, line_1, line_2) < 1e-6


def test_goes_9_two_line_file():
    assert _one("omm_goes9_equivalent.tle").name == "GOES 9 [P]"


def test_json_and_csv_are_read_although_the_standard_defines_kvn_and_xml_only():
    """CCSDS 502.0-B knows KVN and XML; the other two are the catalogues' own, mostly without metadata."""
    for name in ("omm_iss_2024127.csv", "omm_iss_2024127.json"):
        assert (_one(name).frame, _one(name).theory, _one(name).time_system) == ("TEME", "SGP4", "UTC")


@pytest.mark.parametrize("name", ["tdm_ccsds_503_B2_figE-21.xml", "tdm_ccsds_503_angles_fig_example8.kvn"])
def test_tracking_data_messages_are_no_orbit_messages(name):
    reading = _read(name)
    assert reading.sets == ()
    assert len(reading.refused) == 1


@pytest.mark.parametrize(
    ("norad_id", "text"),
    [
        (100_000, "A0000"),
        (148_493, "E8493"),
        (182_931, "J2931"),
        (234_018, "P4018"),
        (301_928, "W1928"),
        (339_999, "Z9999"),
        (129_876, "C9876"),
        (5, "00005"),
    ],
)
def test_alpha_5_table(norad_id, text):
    """From the tests of the sgp4 package, which cite the catalogue's own page; C9876 from a public FAQ."""
    assert from_alpha5(text) == norad_id


@pytest.mark.parametrize("text", ["I0001", "O9999", "#1234", "A12X3", ""])
def test_alpha_5_invalid_texts(text):
    """From the tests of an open-source port of Vallado's programs."""
    with pytest.raises(ValueRangeError):
        from_alpha5(text)


def test_checksum_rule():
    """AIAA 2006-6753, appendix B, note 8: digits add up, a minus counts 1, everything else 0, modulo 10."""
    lines = [
        *GOES_9_TLE,
        "1 25544U 98067A   24127.82853009  .00015698  00000+0  27310-3 0  9995",
        "2 25544  51.6393 160.4574 0003580 140.6673 205.7250 15.50957674452123",
    ]
    assert [checksum(line) for line in lines] == [int(line[68]) for line in lines]


def test_mean_motion_from_the_semi_major_axis_of_a_circular_orbit():
    """NUSAT-8's catalogue message gives both, 6859.961 km and 15.27989249 rev/day, to seven digits; its axis
    goes with WGS-84's GM (found by trying: WGS-72's is 4.5e-7 off, four times what the rounding allows).
    """
    fields = {
        "EPOCH": "2020-12-29T03:57:59.406624",
        "SEMI_MAJOR_AXIS": "6859.961",
        "GM": "398600.4418",
        "ECCENTRICITY": "0.00133560",
        "INCLINATION": "97.2970",
        "RA_OF_ASC_NODE": "66.4161",
        "ARG_OF_PERICENTER": "110.6345",
        "MEAN_ANOMALY": "334.7107",
        "NORAD_CAT_ID": "45018",
    }
    assert set_from_keywords(fields).mean_motion_rev_day == pytest.approx(15.27989249, rel=1.5e-7)


# The SGP4 verification set. Its lines 2 carry start, stop and step after column 69, which a two-line set has
# not: they are cut off before reading. Two-line sets that are deliberately odd and refused here:
#   33333, 33334, 33335  invented from others by changing fields, with checksums left wrong in line 1 or 2;
#   20413 (second time)  the same set once more, with other times.
# Blank designators, blank ephemeris types and blank-padded element numbers (11801, 88888) are read.
WRONG_CHECKSUM = (33333, 33334, 33335)


def _verification() -> tuple[str, list[str]]:
    folder = importlib.resources.files("sgp4")
    sets = (folder / "SGP4-VER.TLE").read_text(encoding="ascii")
    states = (folder / "tcppver.out").read_text(encoding="ascii").splitlines()
    return "\n".join(line[:69] if line[:2] in {"1 ", "2 "} else line for line in sets.splitlines()), states


def test_verification_set_is_read_but_for_its_odd_lines():
    text, _ = _verification()
    reading = read_elements(text, "SGP4-VER.TLE")
    assert len(reading.sets) == 29
    told = [(refusal.field, refusal.reason.partition(":")[0]) for refusal in reading.refused]
    assert [field for field, _ in told] == ["checksum"] * 3 + ["NORAD_CAT_ID"]
    assert told[3][1] == "duplicate"
    assert not {each.norad_id for each in reading.sets} & set(WRONG_CHECKSUM)
    assert len(read_elements(_verification_uncut(), "SGP4-VER.TLE").sets) == 0


def _verification_uncut() -> str:
    return (importlib.resources.files("sgp4") / "SGP4-VER.TLE").read_text(encoding="ascii")


def _published(states: list[str]) -> dict[int, list[tuple[float, ...]]]:
    """Object to rows of minutes, position in km and velocity in km/s; the second 20413 follows the first."""
    tables: dict[int, list[tuple[float, ...]]] = {}
    rows: list[tuple[float, ...]] = []
    for line in states:
        words = line.split()
        if len(words) == 2 and words[1] == "xx":
            rows = tables.setdefault(int(words[0]), [])
        else:
            rows.append(tuple(float(word) for word in words[:7]))
    return tables


def _mended_pair(text: str, norad_id: int) -> str:
    """The first two lines of an object, their checksums made right."""
    lines = text.splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith(f"1 {norad_id}"))
    return "\n".join(line[:68] + str(checksum(line)) for line in lines[at : at + 2])


def test_verification_states():
    """667 rows to 8 decimals of km and 9 of km/s. 666 are compared, those of the sets with wrong checksums
    after mending them; the one of 33334 is an error by design.
    """
    text, states = _verification()
    mended = [read_elements(_mended_pair(text, norad_id), "mended").sets[0] for norad_id in (33333, 33335)]
    tables = _published(states)
    compared, worst_km, worst_km_s = 0, 0.0, 0.0
    for elements in (*read_elements(text, "SGP4-VER.TLE").sets, *mended):
        record = satrec(elements)
        for minutes, x, y, z, vx, vy, vz in tables[elements.norad_id]:
            error, position, velocity = record.sgp4_tsince(minutes)
            assert error == 0
            worst_km = max(worst_km, math.dist(position, (x, y, z)))
            worst_km_s = max(worst_km_s, math.dist(velocity, (vx, vy, vz)))
            compared += 1
    assert compared == 666
    assert worst_km < 2e-7
    assert worst_km_s < 2e-9


@pytest.mark.parametrize(
    ("norad_id", "minutes", "error"),
    [(22312, 1440.0, 1), (28350, 2880.0, 1), (28872, 60.0, 6), (29141, 440.0, 6)],
)
def test_verification_sets_that_end(norad_id, minutes, error):
    """Error numbers at the stop times, found by running the shipped set through the sgp4 package."""
    text, _ = _verification()
    (elements,) = (each for each in read_elements(text, "v").sets if each.norad_id == norad_id)
    assert satrec(elements).sgp4_tsince(minutes)[0] == error


def test_verification_set_33334_cannot_start():
    """Its first row is error 3 by design: a mean motion of 0.00001 rev/day."""
    text, _ = _verification()
    (elements,) = read_elements(_mended_pair(text, 33334), "mended").sets
    with pytest.raises(PropagationError, match="perturbed eccentricity"):
        satrec(elements)
