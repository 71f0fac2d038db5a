"""From OMM keywords to an element set: what CCSDS 502.0-B (section 4) allows, whatever form carried it.

MEAN_MOTION_DOT and MEAN_MOTION_DDOT are taken as the fields of a two-line set, that is half the first and
a sixth of the second derivative. The standard's table 4-3 reads as if the full derivative were meant, but
the messages in circulation, the standard's own example among them, carry the two-line figures. SGP4's
states do not depend on either.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Mapping
from typing import Any

from pydantic import ValidationError

from core.base.text import one_line
from core.base.units import DAY_S, GM_WGS72_KM3_S2
from core.elements.model import ElementSet
from core.elements.readers.harvest import Fault, Harvest, shorten

_HEADER = ("CCSDS_OMM_VERS", "COMMENT", "CLASSIFICATION", "CREATION_DATE", "ORIGINATOR", "MESSAGE_ID")
METADATA_KEYWORDS = (
    "OBJECT_NAME",
    "OBJECT_ID",
    "CENTER_NAME",
    "REF_FRAME",
    "TIME_SYSTEM",
    "MEAN_ELEMENT_THEORY",
)
_MEAN_ELEMENTS = (
    "MEAN_MOTION",
    "ECCENTRICITY",
    "INCLINATION",
    "RA_OF_ASC_NODE",
    "ARG_OF_PERICENTER",
    "MEAN_ANOMALY",
)
MEAN_ELEMENT_KEYWORDS = ("EPOCH", *_MEAN_ELEMENTS)
_REALS = (*_MEAN_ELEMENTS, "BSTAR", "MEAN_MOTION_DOT", "MEAN_MOTION_DDOT")
_INTEGERS = ("NORAD_CAT_ID", "EPHEMERIS_TYPE", "ELEMENT_SET_NO", "REV_AT_EPOCH")
_TEXTS = (*METADATA_KEYWORDS, "EPOCH", "CLASSIFICATION_TYPE")
TWO_LINE_KEYWORDS = (
    "EPHEMERIS_TYPE",
    "CLASSIFICATION_TYPE",
    "NORAD_CAT_ID",
    "ELEMENT_SET_NO",
    "REV_AT_EPOCH",
    "BSTAR",
    "MEAN_MOTION_DOT",
    "MEAN_MOTION_DDOT",
)
_MANDATORY = ("EPOCH", *_MEAN_ELEMENTS, "NORAD_CAT_ID")
#: Metadata that SGP4 elements have but one value for, with it.
_ONLY = {"CENTER_NAME": "EARTH", "REF_FRAME": "TEME", "TIME_SYSTEM": "UTC", "MEAN_ELEMENT_THEORY": "SGP4"}

_SPACECRAFT = frozenset({"MASS", "SOLAR_RAD_AREA", "SOLAR_RAD_COEFF", "DRAG_AREA", "DRAG_COEFF"})
_COVARIANCE = frozenset(
    {"COV_REF_FRAME"}
    | {
        f"C{row}_{column}"
        for at, row in enumerate(("X", "Y", "Z", "X_DOT", "Y_DOT", "Z_DOT"))
        for column in ("X", "Y", "Z", "X_DOT", "Y_DOT", "Z_DOT")[: at + 1]
    }
)
_USED = frozenset(
    (*_REALS, *_INTEGERS, *_TEXTS, *_HEADER, "SEMI_MAJOR_AXIS", "GM", "REF_FRAME_EPOCH", "BTERM", "AGOM")
)
#: Every keyword of an OMM but the user-defined ones.
STANDARD_KEYWORDS = _USED | _SPACECRAFT | _COVARIANCE

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[Ee][+-]?[0-9]+)?")
_INTEGER = re.compile(r"\+?[0-9]{1,18}(?:\.0*)?")
#: Longer texts are no numbers, whatever their characters; converting them would take very long.
_LONGEST_NUMBER = 1000
#: The standard's units (502.0-B, tables 4-2 and 4-3), capitals and blanks apart; others are refused.
_UNITS = {
    "SEMI_MAJOR_AXIS": ("km",),
    "GM": ("km**3/s**2",),
    "MEAN_MOTION": ("rev/day", "rev/d"),
    "ECCENTRICITY": ("n/a", "nd"),
    **dict.fromkeys(("INCLINATION", "RA_OF_ASC_NODE", "ARG_OF_PERICENTER", "MEAN_ANOMALY"), ("deg",)),
    "BSTAR": ("1/er", "er**-1"),
    "MEAN_MOTION_DOT": ("rev/day**2", "rev/d**2"),
    "MEAN_MOTION_DDOT": ("rev/day**3", "rev/d**3"),
}
_UNIT = re.compile(r"([^\[\]]*)\[([^\[\]]*)\]")
_RANGES = {
    "MEAN_MOTION": "above 0 and below 20 revolutions a day",
    "ECCENTRICITY": "from 0 to below 1",
    "INCLINATION": "from 0 to 180 deg",
    "RA_OF_ASC_NODE": "from -360 to 360 deg",
    "ARG_OF_PERICENTER": "from -360 to 360 deg",
    "MEAN_ANOMALY": "from -360 to 360 deg",
    "NORAD_CAT_ID": "from 1 to 999999999",
    "ELEMENT_SET_NO": "from 0 to 999999999",
    "REV_AT_EPOCH": "from 0 to 999999999",
}


def sort_keywords(keywords: Collection[str], harvest: Harvest) -> None:
    """Tell the harvest which of a message's keywords are dropped and which blocks are left aside."""
    unused = [keyword for keyword in keywords if keyword not in _USED]
    if not unused:
        return
    for keyword in unused:
        if keyword in _SPACECRAFT:
            harvest.set_aside(("spacecraft parameters",))
        elif keyword in _COVARIANCE:
            harvest.set_aside(("covariance",))
        elif keyword.startswith("USER_DEFINED"):
            harvest.set_aside(("user-defined parameters",))
        else:
            harvest.drop((keyword,))


def add_message(
    fields: Mapping[str, Any],
    place: str,
    harvest: Harvest,
    *,
    lines: Mapping[str, int] | None = None,
    metadata_expected: bool = False,
) -> None:
    """Make one message's keywords into an element set and add it to the harvest, or refuse it there.

    Args:
        fields: keyword to value, a text or a number as it was found; empty texts and None count as absent.
        place: where the message stands in its file.
        harvest: takes the set or the refusal, and the note of what had to be assumed.
        lines: where the form has one keyword a line, the line of each, so that a refusal can point at it.
        metadata_expected: the form makes frame, centre, time system and theory mandatory (KVN, XML), so a
            message without them is told; JSON and CSV customarily leave them out.
    """
    try:
        elements = set_from_keywords(fields)
    except Fault as fault:
        line = (lines or {}).get(fault.field)
        harvest.refuse(f"line {line}" if line else place, fault.field, fault.reason)
        return
    harvest.add(place, elements)
    if _absent(fields.get("BSTAR")):
        harvest.assume("BSTAR missing, taken as 0", place)
    if metadata_expected:
        for keyword, value in _ONLY.items():
            if _absent(fields.get(keyword)):
                harvest.assume(f"{keyword} missing, taken as {value}", place)


def set_from_keywords(fields: Mapping[str, Any]) -> ElementSet:
    """The element set that OMM keywords describe.

    SEMI_MAJOR_AXIS (km) in place of MEAN_MOTION is converted by Kepler's third law with the message's GM,
    or that of WGS-72. A missing name becomes ``object <catalogue number>``, a missing BSTAR 0.

    Raises:
        Fault: a mandatory keyword is missing, a value is no number or out of range, or the elements
            belong to another frame or propagator.
    """
    present = {keyword: raw for keyword, raw in fields.items() if keyword in _USED and not _absent(raw)}
    if "BTERM" in present and "BSTAR" not in present:  # 502.0-B-3, table 4-3
        raise Fault("BTERM", "stands in place of BSTAR: elements of SGP4-XP, which is another propagator")
    values: dict[str, Any] = {
        keyword: convert(keyword, present[keyword])
        for keyword, convert in _CONVERT.items()
        if keyword in present
    }
    if "MEAN_MOTION" not in values:
        values |= _mean_motion_from_axis(present)
    for keyword in _MANDATORY:
        if keyword not in values:
            raise Fault(keyword, "is missing")
    if not one_line(values.get("OBJECT_NAME", "")):
        values["OBJECT_NAME"] = f"object {values['NORAD_CAT_ID']}"
    return validated(values)


def validated(values: Mapping[str, Any]) -> ElementSet:
    """An element set of checked types, its ranges checked here.

    Raises:
        Fault: a value is out of range or cannot be used, naming the first.
    """
    try:
        return ElementSet.model_validate(values)
    except ValidationError as error:
        raise _fault(error) from None


def real(keyword: str, raw: object) -> float:
    """A finite number from a text or a number.

    Raises:
        Fault: it is none, or too large for a float.
    """
    if isinstance(raw, str):
        text = raw.strip()
        if len(text) > _LONGEST_NUMBER or _NUMBER.fullmatch(text) is None:
            if text.lower().lstrip("+-") in {"nan", "inf", "infinity"}:
                raise Fault(keyword, f"is {shorten(text)}, it must be a finite number")
            raise Fault(keyword, f"is '{shorten(text)}', which is not a number")
        value = float(text)
    elif isinstance(raw, (int, float)) and not isinstance(raw, bool):
        try:
            value = float(raw)
        except OverflowError:
            value = math.inf
    else:
        raise Fault(keyword, f"is '{shorten(raw)}', which is not a number")
    if not math.isfinite(value):
        raise Fault(keyword, f"is {shorten(raw, 24)}, it must be a finite number")
    return value


def integer(keyword: str, raw: object) -> int:
    """A whole number without sign from a text or a number.

    Raises:
        Fault: it is none.
    """
    text = raw.strip() if isinstance(raw, str) else "" if isinstance(raw, bool) else str(raw)
    if _INTEGER.fullmatch(text) is None:
        raise Fault(keyword, f"is '{shorten(raw)}', which is not a whole number of at most 18 digits")
    return int(text.partition(".")[0])


def without_unit(keyword: str, value: str) -> str:
    """A KVN value without its unit in brackets; texts such as names keep theirs.

    Raises:
        Fault: the unit is not the standard's for this keyword.
    """
    if not value.endswith("]") or keyword in _TEXTS or keyword not in _USED:
        return value
    match = _UNIT.fullmatch(value)
    if match is None:
        return value
    check_unit(keyword, match.group(2))
    return match.group(1).strip()


def check_unit(keyword: str, unit: str) -> None:
    """Refuse a unit that is not the standard's.

    Raises:
        Fault: naming the unit expected.
    """
    expected = _UNITS.get(keyword)
    if expected and "".join(unit.split()).lower() not in expected:
        raise Fault(keyword, f"is in '{shorten(unit, 24)}', it must be in {expected[0]}")


def _absent(raw: object) -> bool:
    return raw is None or (isinstance(raw, str) and not raw.strip())


def _text(keyword: str, raw: object) -> str:
    if isinstance(raw, str):
        return raw
    if isinstance(raw, (int, float)) and not isinstance(raw, bool):
        return str(raw)
    raise Fault(keyword, f"is '{shorten(raw)}', which is not a text")


_CONVERT: dict[str, Callable[[str, object], Any]] = {
    **dict.fromkeys(_TEXTS, _text),
    **dict.fromkeys(_REALS, real),
    **dict.fromkeys(_INTEGERS, integer),
}


def _mean_motion_from_axis(present: Mapping[str, Any]) -> dict[str, float]:
    """MEAN_MOTION = sqrt(GM / a^3) in rev/day; nothing where there is no axis either."""
    if "SEMI_MAJOR_AXIS" not in present:
        return {}
    axis_km = real("SEMI_MAJOR_AXIS", present["SEMI_MAJOR_AXIS"])
    gm_km3_s2 = real("GM", present.get("GM", GM_WGS72_KM3_S2))
    if not 398_000.0 < gm_km3_s2 < 399_200.0:
        raise Fault("GM", f"is {gm_km3_s2!r}, it must be the Earth's, near 398600.8 km**3/s**2")
    if not 6_000.0 < axis_km < 1e7:
        raise Fault("SEMI_MAJOR_AXIS", f"is {axis_km!r}, it must be above 6000 and below 10 million km")
    return {"MEAN_MOTION": math.sqrt(gm_km3_s2 / axis_km**3) * DAY_S / (2.0 * math.pi)}


def _fault(error: ValidationError) -> Fault:
    """The first of a model's complaints, in this project's words."""
    first = error.errors(include_url=False)[0]
    keyword = str(first["loc"][0]) if first["loc"] else ""
    found = shorten(first["input"])
    if first["type"] == "value_error":
        return Fault(keyword, str(first["ctx"]["error"]))
    if keyword == "MEAN_ELEMENT_THEORY":
        return Fault(keyword, f"is {found}, elements of another propagator: only SGP4 elements are read")
    if keyword in _ONLY:
        return Fault(keyword, f"is {found}, only {_ONLY[keyword]} is read")
    if keyword in _RANGES:
        return Fault(keyword, f"is {found}, it must be {_RANGES[keyword]}")
    return Fault(keyword, f"is '{found}': {first['msg']}")
