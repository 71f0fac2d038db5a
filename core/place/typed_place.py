"""A latitude or a longitude as people type and paste it; a whole position may stand in either field."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from core.base.errors import ValueRangeError
from core.base.typed import ANGLE, LONGEST_TYPED, numbers_in, sexagesimal
from core.place.position import parse_site_text

Coordinate = Literal["latitude", "longitude"]

_LETTERS: dict[Coordinate, str] = {"latitude": "NS", "longitude": "EW"}
_LIMIT_DEG: dict[Coordinate, float] = {"latitude": 90.0, "longitude": 180.0}
_FORM: dict[Coordinate, str] = {
    "latitude": "-90 to 90 deg, such as 47.25, 47°15' or 47.25 N",
    "longitude": "-180 to 180 deg, such as -9.1, 9°6' W or 9.1 W",
}
_ONE = re.compile(rf"(?P<before>[NSEW])?\s*(?P<angle>{ANGLE})\s*(?:deg)?\s*(?P<after>[NSEW])?", re.IGNORECASE)


class TypedPlace(NamedTuple):
    """What was typed: one coordinate, or a whole position, perhaps with its height."""

    latitude_deg: float | None = None
    longitude_deg: float | None = None
    height_m: float | None = None


def read_coordinate(text: str, coordinate: Coordinate) -> TypedPlace:
    """What was typed into the field of a coordinate.

    Forms: a number with a point or a comma, degrees with minutes and seconds (``47°15'30"``), either with a
    letter N, S, E or W; or a position with both, in every form that a site may be given in. South and west
    are negative without a letter.

    Raises:
        ValueRangeError: none of these, the letter of the other coordinate, or out of range.
    """
    plain = text.strip().replace("\N{MINUS SIGN}", "-")
    if len(plain) > LONGEST_TYPED:
        raise ValueRangeError(coordinate, repr(plain), _FORM[coordinate])
    if (one := _ONE.fullmatch(plain)) is not None and not (one["before"] and one["after"]):
        return _single(text, one, coordinate)
    try:
        site = parse_site_text(text)
    except ValueRangeError as error:
        if error.field == "site":
            raise ValueRangeError(coordinate, repr(plain) if plain else "empty", _FORM[coordinate]) from None
        raise
    given = "height_m" in site.model_fields_set
    return TypedPlace(site.latitude_deg, site.longitude_deg, site.height_m if given else None)


def _single(text: str, one: re.Match[str], coordinate: Coordinate) -> TypedPlace:
    letter = (one["before"] or one["after"] or "").upper()
    limit = _LIMIT_DEG[coordinate]
    values = [value for value in _degrees(one["angle"]) if abs(value) <= limit]
    signed = one["angle"][0] in "+-"
    if letter and letter not in _LETTERS[coordinate]:
        other = next(name for name in _LETTERS if name != coordinate)
        raise ValueRangeError(coordinate, repr(text.strip()), f"a {coordinate}: {letter} is of a {other}")
    if len(values) != 1 or (letter and signed):
        raise ValueRangeError(coordinate, repr(text.strip()), _FORM[coordinate])
    value = (-values[0] if letter in {"S", "W"} else values[0]) + 0.0
    return TypedPlace(latitude_deg=value) if coordinate == "latitude" else TypedPlace(longitude_deg=value)


def _degrees(angle: str) -> list[float]:
    value = sexagesimal(angle)
    return [value] if value is not None else numbers_in(angle.rstrip(" °º"))
