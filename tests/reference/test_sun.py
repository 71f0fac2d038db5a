"""The Sun's place and its setting against published values."""

from __future__ import annotations

import csv

import numpy as np
import pytest

from core.base.times import format_iso, parse_iso
from core.base.units import DAY_S, UNIX_EPOCH_JD
from core.place.site import Site
from core.place.sun import sky_spans, sun_direction_deg
from tests.shared_data import shared_file

#: The table's offsets from UTC; it keeps standard time all the year.
_OFFSETS = {"MST": "-07:00", "UTC": "+00:00"}


def test_sun_of_nrel():
    """NREL/TP-560-34302 (rev. 2008), the worked example: e0 39.872046, azimuth 194.340241.

    This formula leaves out 0.002 deg of parallax and is good to 0.01 deg; its source says no more.
    """
    moment = np.array([parse_iso("2003-10-17T12:30:30-07:00")])
    azimuth, elevation = sun_direction_deg(39.742476, -105.1786, moment)
    assert elevation[0] == pytest.approx(39.872046, abs=0.012)
    assert azimuth[0] == pytest.approx(194.340241, abs=0.015)


def test_sun_of_novas():
    """Topocentric Sun over Washington by NOVAS with DE405, delta T = 0 (tests of the package skyfield)."""
    with shared_file("reference/values/novas_topocentric_altaz.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["body"] == "sun"]
    assert len(rows) == 4
    for row in rows:
        utc_s = (float(row["jd_tt(delta_t=0)"]) - UNIX_EPOCH_JD) * DAY_S
        azimuth, elevation = sun_direction_deg(38.9215, -77.0669, np.array([utc_s]))
        # The observatory's place is from memory (38.9215 N, 77.0669 W): 0.01 deg, and as much of formula.
        assert elevation[0] == pytest.approx(float(row["alt_deg_airless"]), abs=0.02)
        assert azimuth[0] == pytest.approx(float(row["az_deg"]), abs=0.03)


def test_sunsets():
    """Sunset by NREL's calculator (tests of the package pvlib), to 30 s: this sky has no heights.

    The calculator's day is UTC's: the sunset it gives for Golden on 2 August 2015 at 19:13:58 local is
    02:13:58 UTC of that day, the evening before there.
    """
    with shared_file("reference/values/sun_rise_set.csv").open(encoding="utf-8") as file:
        rows = [
            row for row in csv.DictReader(file) if row["tz"] in _OFFSETS and row["sunset"].count(":") == 2
        ]
    assert len(rows) == 5
    for row in rows:
        told = parse_iso(f"{row['date']}T{row['sunset']}{_OFFSETS[row['tz']]}")
        if format_iso(told)[:10] != row["date"]:
            told -= DAY_S
        site = Site(latitude_deg=float(row["lat"]), longitude_deg=float(row["lon"]))
        spans = sky_spans(site, told - 3 * 3600.0, told + 1800.0)
        found = next(span.end_utc_s for span in spans if span.sky == "day")
        assert abs(found - told) < 30.0, row
