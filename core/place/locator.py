"""The grid locator: position to cell and back, exact on the cells' edges.

A locator's pairs divide the globe in turn into 18 by 18 fields, 10 by 10 squares, 24 by 24 subsquares,
10 by 10 extended squares and 24 by 24 cells, longitude ahead of latitude, counted from 180 W and 90 S.
Source: Tyson, "Conversion between geodetic and grid locator systems", QST, January 1989, for the first three
pairs. Pairs beyond the fourth are not formally defined; letters here, as in common practice.
"""

from __future__ import annotations

import math
import string
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from core.base.errors import ValueRangeError

_BASES = (18, 10, 24, 10, 24)
_LENGTHS = (4, 6, 8, 10)
_FORM = (
    "a locator of 4, 6, 8 or 10 characters such as JN58td: pairs of A to R, 0 to 9, A to X, 0 to 9, A to X"
)


@dataclass(frozen=True)
class Cell:
    """The cell a locator names.

    Attributes:
        locator: in its canonical letter case.
        latitude_deg: of the centre, north positive.
        longitude_deg: of the centre, east positive.
        half_height_deg: from the centre to the northern edge.
        half_width_deg: from the centre to the eastern edge.
    """

    locator: str
    latitude_deg: float
    longitude_deg: float
    half_height_deg: float
    half_width_deg: float


def locator_of(latitude_deg: float, longitude_deg: float, characters: int = 6) -> str:
    """The locator of a position, fields in capitals and later letters small.

    A cell owns its southern and western edge. The figures count as the decimals they are written as, so
    that 37.1 lies on an edge though its binary value falls short of it. The meridian 180 E is 180 W, and
    the north pole belongs to the cells south of it.

    Args:
        latitude_deg: -90 to 90, north positive.
        longitude_deg: -180 to 180, east positive.
        characters: 4, 6, 8 or 10.

    Raises:
        ValueRangeError: a figure out of its range.
    """
    check_position(latitude_deg, longitude_deg)
    if characters not in _LENGTHS:
        raise ValueRangeError("characters", characters, "4, 6, 8 or 10")
    bases = _BASES[: characters // 2]
    cells = math.prod(bases)
    column = math.floor((_as_written(longitude_deg) + 180) * cells / 360) % cells
    row = min(math.floor((_as_written(latitude_deg) + 90) * cells / 180), cells - 1)
    pairs = []
    for level in reversed(range(len(bases))):
        column, east = divmod(column, bases[level])
        row, north = divmod(row, bases[level])
        symbols = _symbols(level)
        pairs.append(symbols[east] + symbols[north])
    return "".join(reversed(pairs))


def from_locator(text: str) -> Cell:
    """The cell of a locator of 4, 6, 8 or 10 characters in any letter case.

    Raises:
        ValueRangeError: the text is no locator.
    """
    locator = text.strip()
    if len(locator) not in _LENGTHS:
        raise ValueRangeError("locator", repr(text), _FORM)
    column = row = 0
    bases = _BASES[: len(locator) // 2]
    canonical = ""
    for level, base in enumerate(bases):
        symbols = _symbols(level)
        pair = locator[2 * level : 2 * level + 2]
        pair = pair.upper() if level == 0 else pair.lower()
        if not all(symbol in symbols for symbol in pair):
            raise ValueRangeError("locator", repr(text), _FORM)
        column = column * base + symbols.index(pair[0])
        row = row * base + symbols.index(pair[1])
        canonical += pair
    cells = math.prod(bases)
    return Cell(
        locator=canonical,
        latitude_deg=float(Fraction(2 * row + 1, 2 * cells) * 180 - 90),
        longitude_deg=float(Fraction(2 * column + 1, 2 * cells) * 360 - 180),
        half_height_deg=float(Fraction(90, cells)),
        half_width_deg=float(Fraction(180, cells)),
    )


def check_position(latitude_deg: float, longitude_deg: float) -> None:
    """Raises ValueRangeError unless latitude is within -90 to 90 and longitude within -180 to 180."""
    if not -90.0 <= latitude_deg <= 90.0:
        raise ValueRangeError("latitude_deg", latitude_deg, "-90 to 90, and it comes before the longitude")
    if not -180.0 <= longitude_deg <= 180.0:
        raise ValueRangeError("longitude_deg", longitude_deg, "-180 to 180, east positive")


def _as_written(value_deg: float) -> Fraction:
    """The value of the shortest decimal that reads back as this float."""
    return Fraction(Decimal(repr(float(value_deg))))


def _symbols(level: int) -> str:
    """The symbols of a pair, in order of rising longitude and latitude."""
    if _BASES[level] == 10:
        return string.digits
    letters = string.ascii_uppercase if level == 0 else string.ascii_lowercase
    return letters[: _BASES[level]]
