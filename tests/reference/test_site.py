"""Locators, declination and geodesics against published values."""

from __future__ import annotations

import csv
import math
from datetime import UTC, datetime

import pytest

from core.place.declination import Declination, declination_deg
from core.place.locator import from_locator, locator_of
from core.place.position import landmark_bearing
from core.place.site import Site
from tests.shared_data import shared_file


def dms(degrees: int, minutes: int, seconds: float) -> float:
    """Degrees of an angle in degrees, minutes and seconds; the sign stands on the degrees."""
    return math.copysign(abs(degrees) + minutes / 60.0 + seconds / 3600.0, degrees)


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "locator"),
    [
        (48.14666, 11.60833, "JN58td"),  # Munich
        (-34.91, -56.21166, "GF15vc"),  # Montevideo
        (38.92, -77.065, "FM18lw"),  # Washington
        (-41.28333, 174.745, "RE78ir"),  # Wellington
    ],
)
def test_locators_of_tyson(latitude_deg, longitude_deg, locator):
    """Tyson, QST January 1989, the article's four examples."""
    assert locator_of(latitude_deg, longitude_deg) == locator


def test_locator_table():
    """Published locators, and four computed by the table's makers; its last column tells which."""
    with shared_file("reference/values/maidenhead.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 14
    for row in rows:
        found = locator_of(float(row["lat"]), float(row["lon"]), len(row["locator"]))
        assert found == row["locator"], row["name"]


def test_locator_on_an_edge():
    """37.1 N lies on a cell's edge: ...84, not ...83 (test data of the package maidenhead 1.8.0)."""
    assert locator_of(37.1, -80.1, 8) == "EM97wc84"


@pytest.mark.parametrize(
    ("locator", "latitude_deg", "longitude_deg"),
    [("BL11bh16", 21.319, -157.904), ("IO92va", 52.021, -0.208)],
)
def test_centres_of_locators(locator, latitude_deg, longitude_deg):
    """Examples in the documentation of the package upoints, to the three decimals printed there."""
    cell = from_locator(locator)
    assert cell.latitude_deg == pytest.approx(latitude_deg, abs=0.0005)
    assert cell.longitude_deg == pytest.approx(longitude_deg, abs=0.0005)


def declination_at(row: list[float]) -> Declination:
    """The declination for a line of the model's test values: year, height in km, latitude, longitude."""
    year, height_km, latitude_deg, longitude_deg = row[:4]
    start, end = (datetime(int(year) + more, 1, 1, tzinfo=UTC).timestamp() for more in (0, 1))
    # The table goes up to 100 km, where no station stands: the site is made without its range checks.
    site = Site.model_construct(
        latitude_deg=latitude_deg, longitude_deg=longitude_deg, height_m=1000.0 * height_km
    )
    return declination_deg(site, start + (year - int(year)) * (end - start))


@pytest.mark.parametrize("year", [2020, 2025])
def test_declination_of_the_world_magnetic_model(year):
    """The 100 test values that NCEI and BGS publish with WMM2020 and WMM2025, printed to 0.01 deg."""
    text = shared_file(f"reference/values/WMM{year}_TEST_VALUES.txt").read_text(encoding="utf-8")
    rows = [[float(cell) for cell in line.split()] for line in text.splitlines() if not line.startswith("#")]
    assert len(rows) == 100
    for row in rows:
        found = declination_at(row)
        apart_deg = (found.deg - row[4] + 180.0) % 360.0 - 180.0
        assert abs(apart_deg) <= 0.00501, row
        assert found.model == f"WMM{year}"


def test_declination_and_its_error_at_one_test_value():
    """WMM2025 test values, 2025.0, 65 km, 43 N 93 E: D 0.50 deg, X 24299.852822, Y 210.517066 nT.

    The error's terms 0.26 and 5417 are the WMM2025 report's; their combination is from memory.
    """
    found = declination_at([2025.0, 65.0, 43.0, 93.0])
    assert found.deg == pytest.approx(0.50, abs=0.005)
    assert found.sigma_deg == pytest.approx(
        math.sqrt(0.26**2 + (5417.0 / math.hypot(24299.852822, 210.517066)) ** 2), rel=1e-6
    )


def test_landmark_from_flinders_peak_to_buninyong():
    """GDA Technical Manual (ICSM, Geoscience Australia): 54972.271 m at 306 52 05.37, on GRS80.

    WGS-84 differs from GRS80 by 0.1 mm in the polar axis, which is far below the digits printed.
    """
    flinders = Site(latitude_deg=-dms(37, 57, 3.72030), longitude_deg=dms(144, 25, 29.52440))
    found = landmark_bearing(flinders, -dms(37, 39, 10.15610), dms(143, 55, 35.38390))
    assert found.distance_m == pytest.approx(54972.271, abs=0.0006)
    assert found.azimuth_deg == pytest.approx(dms(306, 52, 5.37), abs=0.006 / 3600.0)


def test_landmark_bearings_of_the_geodesic_test_set():
    """Karney's GeodTest set, 100 lines: the azimuth at the start and the length.

    Lines of over 179 deg of arc are left out: near the antipode the azimuth hangs on the input's last digit.
    """
    text = shared_file("reference/values/GeodTest-100.dat").read_text(encoding="utf-8")
    rows = [[float(cell) for cell in line.split()] for line in text.splitlines()]
    rows = [row for row in rows if row[7] < 179.0]
    assert len(rows) > 50
    for lat1, lon1, azi1, lat2, lon2, _, s12, *_ in rows:
        found = landmark_bearing(Site(latitude_deg=lat1, longitude_deg=lon1), lat2, lon2)
        assert found.distance_m == pytest.approx(s12, abs=1e-6)
        assert found.azimuth_deg == pytest.approx(azi1, abs=1e-8)
