"""Positions as the operator types and reads them, and the bearing of a landmark."""

from __future__ import annotations

import math
import re
from typing import Any, NamedTuple

from geographiclib.geodesic import Geodesic

from core.base.angles import wrap_360
from core.base.errors import ValueRangeError
from core.base.typed import ANGLE, LONGEST_TYPED, sexagesimal
from core.place.locator import check_position, from_locator, locator_of
from core.place.site import Site

_SITE_FORM = "LAT,LON[,HEIGHT_M] such as -33.9,151.2,40, or a grid locator such as QF56oc[,HEIGHT_M]"
_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)"
#: A figure that a letter or a semicolon ends can carry a decimal comma.
_COMMA_NUMBER = r"[+-]?\d+(?:[.,]\d*)?"


def _parted(number: str, mark: str) -> re.Pattern[str]:
    """Latitude, longitude and perhaps height, parted by one and the same mark."""
    return re.compile(rf"(?P<lat>{number})°?{mark}(?P<lon>{number})°?(?:{mark}(?P<height>{number})\s*m?)?")


_SIGNED = (
    _parted(_NUMBER, r"\s*,\s*"),
    _parted(_NUMBER, r"\s+"),
    _parted(_COMMA_NUMBER, r"\s*;\s*"),
    _parted(r"[+-]?\d+,\d+", r"\s*,\s+"),
)
#: Degrees with minutes, parted by a comma, a semicolon or blanks; south and west negative.
_DEGREES = re.compile(
    rf"(?P<lat>{ANGLE})\s*(?:[,;]\s*|\s)(?P<lon>{ANGLE})(?:\s*[,;]\s*(?P<height>{_NUMBER})\s*m?)?"
)
_LETTERED = re.compile(
    rf"(?P<first>{ANGLE})\s*°?\s*(?P<first_letter>[NSEW])\s*[,;]?\s*"
    rf"(?P<second>{ANGLE})\s*°?\s*(?P<second_letter>[NSEW])"
    rf"(?:\s*[,;]?\s*(?P<height>{_NUMBER})\s*m?)?",
    re.IGNORECASE,
)
_LETTERED_BEFORE = re.compile(
    rf"(?P<first_letter>[NSEW])\s*(?P<first>{ANGLE})\s*°?\s*[,;]?\s*"
    rf"(?P<second_letter>[NSEW])\s*(?P<second>{ANGLE})\s*°?(?:\s*[,;]\s*(?P<height>{_NUMBER})\s*m?)?",
    re.IGNORECASE,
)
_LOCATED = re.compile(
    rf"(?P<locator>[A-Z]{{2}}\d\d[A-Z0-9]*)(?:(?:\s*[,;]\s*|\s+)(?P<height>{_NUMBER})\s*m?)?", re.IGNORECASE
)


class LandmarkBearing(NamedTuple):
    """Where a landmark is seen from the site: true bearing 0 to 360, distance, and the bearing's error."""

    azimuth_deg: float
    distance_m: float
    error_deg: float


def parse_site_text(text: str) -> Site:
    """A site from what an operator types: a position or a grid locator, and the height in metres or nothing.

    Forms: ``LAT,LON[,HEIGHT_M]`` with signs as written (north and east positive), parted by commas, by
    spaces, or by semicolons (then decimal commas are read too); the same with a letter N, S, E or W at each
    figure, in either order; degrees with minutes and seconds in place of a figure (``47°15' 9°6'``); a
    locator, which stands for its cell's centre. What could be read in two ways is refused.

    Raises:
        ValueRangeError: none of these forms, or a figure out of its range.
    """
    plain = text.strip().replace("\N{MINUS SIGN}", "-")
    if len(plain) > LONGEST_TYPED:  # no position; and the forms below look at blanks and digits many times
        raise ValueRangeError("site", repr(text), _SITE_FORM)
    if match := _LOCATED.fullmatch(plain):
        cell = from_locator(match["locator"])
        return _site(cell.latitude_deg, cell.longitude_deg, match["height"])
    if match := next(filter(None, (form.fullmatch(plain) for form in _SIGNED)), None):
        return _site(_figure(match["lat"]), _figure(match["lon"]), match["height"])
    match = _DEGREES.fullmatch(plain)
    if match and sexagesimal(match["lat"]) is not None and sexagesimal(match["lon"]) is not None:
        return _site(_figure(match["lat"]), _figure(match["lon"]), match["height"])
    if match := _LETTERED.fullmatch(plain) or _LETTERED_BEFORE.fullmatch(plain):
        by_letter = {
            match["first_letter"].upper(): match["first"],
            match["second_letter"].upper(): match["second"],
        }
        signed = any(figure[0] in "+-" for figure in by_letter.values())
        latitude, longitude = _lettered(by_letter, "N", "S"), _lettered(by_letter, "E", "W")
        if latitude is not None and longitude is not None and not signed:
            return _site(latitude, longitude, match["height"])
    raise ValueRangeError("site", repr(text), _SITE_FORM)


def describe_position(site: Site) -> str:
    """The position with its signs in words, and its locator with how far that is off.

    West taken for east is the common mistake, and is seen at once so:
    ``"33.9000 S 151.2000 E 40 m, locator QF56oc (its centre 0.9 km away)"``.
    """
    locator = locator_of(site.latitude_deg, site.longitude_deg)
    south, west = site.latitude_deg < 0.0, site.longitude_deg < 0.0
    return (
        f"{abs(site.latitude_deg):.4f} {'S' if south else 'N'} "
        f"{abs(site.longitude_deg):.4f} {'W' if west else 'E'} {site.height_m:.0f} m, "
        f"locator {locator} (its centre {locator_distance_km(site, locator):.1f} km away)"
    )


def locator_distance_km(site: Site, locator: str) -> float:
    """Distance from the site to the centre of a locator's cell, to check a locator given beside it.

    Raises:
        ValueRangeError: the text is no locator.
    """
    cell = from_locator(locator)
    return distance_km(site, cell.latitude_deg, cell.longitude_deg)


def distance_km(site: Site, latitude_deg: float, longitude_deg: float) -> float:
    """Length of the WGS-84 geodesic from the site to a position; 0 where the two are one place."""
    check_position(latitude_deg, longitude_deg)
    return _geodesic(site, latitude_deg, longitude_deg)[0] / 1000.0


def landmark_bearing(
    site: Site, latitude_deg: float, longitude_deg: float, position_error_m: float = 3.0
) -> LandmarkBearing:
    """True bearing of a landmark of known position: the azimuth at which the WGS-84 geodesic leaves the site.

    Args:
        site: where the station stands.
        latitude_deg: of the landmark, north positive.
        longitude_deg: of the landmark, east positive.
        position_error_m: error of each of the two positions.

    Returns:
        Bearing, distance along the geodesic, and the bearing's error sqrt(2) s / D in radians (common
        practice, no source), at most 180 deg.

    Raises:
        ValueRangeError: a figure out of its range, or the landmark is the site itself.
    """
    check_position(latitude_deg, longitude_deg)
    distance_m, azimuth_deg = _geodesic(site, latitude_deg, longitude_deg)
    if distance_m == 0.0:
        raise ValueRangeError("landmark", f"{latitude_deg}, {longitude_deg}", "a place other than the site")
    error_deg = math.degrees(math.sqrt(2.0) * position_error_m / distance_m)
    return LandmarkBearing(wrap_360(azimuth_deg), distance_m, min(error_deg, 180.0))


def _geodesic(site: Site, latitude_deg: float, longitude_deg: float) -> tuple[float, float]:
    """Length in metres of the WGS-84 geodesic from the site to a position, and its azimuth at the site."""
    wgs84: Any = Geodesic.WGS84  # the library carries no types
    line = wgs84.Inverse(site.latitude_deg, site.longitude_deg, latitude_deg, longitude_deg)
    return float(line["s12"]), float(line["azi1"])


def _site(latitude_deg: float, longitude_deg: float, height: str | None) -> Site:
    check_position(latitude_deg, longitude_deg)
    if not height:  # left out, so that a plan can say that it is assumed
        return Site(latitude_deg=latitude_deg, longitude_deg=longitude_deg)
    height_m = _figure(height)
    if not -500.0 <= height_m <= 9000.0:
        raise ValueRangeError("height_m", height_m, "-500 to 9000")
    return Site(latitude_deg=latitude_deg, longitude_deg=longitude_deg, height_m=height_m)


def _figure(text: str) -> float:
    """Degrees, perhaps with minutes and seconds, or metres.

    Raises:
        ValueRangeError: minutes or seconds of 60 and more.
    """
    angle = sexagesimal(text)
    if angle is not None:
        return angle
    try:
        return float(text.rstrip(" °º").replace(",", "."))
    except ValueError:
        raise ValueRangeError("site", repr(text), "degrees with minutes and seconds below 60") from None


def _lettered(by_letter: dict[str, str], positive: str, negative: str) -> float | None:
    """The figure that carries one of two letters, with its sign; None without such a figure."""
    if positive in by_letter:
        return _figure(by_letter[positive])
    return -_figure(by_letter[negative]) if negative in by_letter else None
