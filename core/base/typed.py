"""Numbers and angles as people type them: units, decimal commas, thousands, degrees with minutes, bearings.

What can be read in one way within the range is read; what can be read in two ways is asked back, not guessed.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from core.base.errors import NorthkeyError, ValueRangeError

#: How the unit of a field may stand behind its number.
_SPELLINGS: dict[str, tuple[str, ...]] = {
    "deg": ("deg", "degree", "degrees", "°", "º"),
    "deg/s": ("deg/s", "°/s", "degrees/s"),
    "deg/s2": ("deg/s2", "deg/s²", "°/s2", "°/s²"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "mm": ("mm",),
    "m/s": ("m/s",),
    "kg": ("kg",),
    "N": ("n",),
    "Nm": ("nm",),
    "s": ("s", "sec", "second", "seconds"),
    "MHz": ("mhz",),
}
#: Nobody types a longer number; a whole file that was pasted by mistake is none.
LONGEST_TYPED = 200
# Patterns are compiled by the first number that is typed, and kept by `re`: no start needs them.
_SPACES = r"(?<=\d)[\s'\N{RIGHT SINGLE QUOTATION MARK}](?=\d{3}(?!\d))"
_PLAIN = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?"
_GROUPED = r"[+-]?[1-9]\d{{0,2}}(?:{mark}\d{{3}})+"
#: The only comma or point that could part thousands as well as decimals.
_ONE_GROUP = r"[+-]?[1-9]\d{0,2},\d{3}"
_FIGURE = r"\d+(?:[.,]\d+)?"
#: Degrees, perhaps with minutes and seconds; the degree sign is what makes minutes of what follows.
ANGLE = (
    rf"[+-]?{_FIGURE}(?:\s*[°º]\s*(?:{_FIGURE}\s*['′\N{{RIGHT SINGLE QUOTATION MARK}}]\s*"
    rf"(?:{_FIGURE}\s*(?:[\"″\N{{RIGHT DOUBLE QUOTATION MARK}}]|'')?)?|{_FIGURE})?)?"
)
_SEXAGESIMAL = (
    rf"(?P<sign>[+-]?)(?P<deg>\d+)\s*[°º]\s*(?P<min>{_FIGURE})\s*['′\N{{RIGHT SINGLE QUOTATION MARK}}]?\s*"
    rf"(?:(?P<sec>{_FIGURE})\s*(?:[\"″\N{{RIGHT DOUBLE QUOTATION MARK}}]|'')?)?"
)
_KEY_IN_BRACKETS = r" \([a-z]+(?:[._][a-z]+)+\)"
_KEY = r"\b([a-z]+(?:_[a-z]+)*?)_(?:deg_s2|deg_s|deg|hz|mm|m_s|m|kg|nm|n|s)\b"


@dataclass(frozen=True)
class Quantity:
    """What a field takes.

    Attributes:
        words: what it is, as the page calls it.
        unit: shown behind it; a typed one of the same kind is read.
        low, high: the least and the greatest that is taken.
        bearing: an angle round the horizon; one beyond is taken round into 0 to 360.
        closed: of a bearing, whether 360 stays 360 (an end of an arc) or becomes 0.
    """

    words: str
    unit: str = ""
    low: float = -math.inf
    high: float = math.inf
    bearing: bool = False
    closed: bool = False

    @property
    def range_words(self) -> str:
        """``0 to 90 deg``, ``at least 0 s`` or ``a number``."""
        unit = f" {self.unit}" if self.unit else ""
        if math.isinf(self.low) and math.isinf(self.high):
            return "a number"
        if math.isinf(self.high):
            return f"at least {self.low:g}{unit}"
        if math.isinf(self.low):
            return f"at most {self.high:g}{unit}"
        return f"{self.low:.12g} to {self.high:.12g}{unit}"


def read_quantity(text: str, quantity: Quantity) -> float:
    """What was typed into a field; never -0.0.

    Raises:
        ValueRangeError: no number, one that can be read in two ways, or one out of the range.
    """
    if quantity.bearing:
        turned = _within(text, Quantity(quantity.words, quantity.unit, -360.0, 720.0), "0 to 360 deg")
        stays = 0.0 <= turned < 360.0 or (quantity.closed and turned == 360.0)
        return turned if stays else math.fmod(turned + 720.0, 360.0) + 0.0
    return _within(text, quantity, quantity.range_words)


def _within(text: str, quantity: Quantity, allowed: str) -> float:
    found = _readings(text, quantity)
    if not found:
        raise ValueRangeError(quantity.words, _shown(text), allowed if _ranged(quantity) else "a number")
    inside = [value for value in found if quantity.low <= value <= quantity.high]
    if not inside:
        raise ValueRangeError(quantity.words, _shown(text), allowed)
    if len(inside) > 1:
        ways = " or ".join(f"{value:.12g}" for value in inside)
        raise ValueRangeError(quantity.words, _shown(text), f"{ways}: leave the comma out")
    return inside[0] + 0.0


def _ranged(quantity: Quantity) -> bool:
    return not (math.isinf(quantity.low) and math.isinf(quantity.high))


def _shown(text: str) -> str:
    return repr(text.strip()) if text.strip() else "empty"


def _readings(text: str, quantity: Quantity) -> list[float]:
    """Every value a text can mean, none where it is no number."""
    if len(text) > LONGEST_TYPED:
        return []
    plain = text.strip().replace("\N{MINUS SIGN}", "-")
    if quantity.unit == "deg" and (angle := sexagesimal(plain)) is not None:
        return [angle]
    return [value for value in numbers_in(_without_unit(plain, quantity.unit)) if math.isfinite(value)]


def _without_unit(text: str, unit: str) -> str:
    low = text.casefold()
    for spelling in sorted(_SPELLINGS.get(unit, ()), key=len, reverse=True):
        if low.endswith(spelling):
            return text[: len(text) - len(spelling)].rstrip()
    return text


def numbers_in(text: str) -> list[float]:
    """The values of a bare number: one, two where a comma parts thousands or decimals, none of other texts.

    A point is a decimal point, unless a comma or more points say otherwise.
    """
    text = re.sub(_SPACES, "", text)
    if re.fullmatch(_ONE_GROUP, text):
        return [float(text.replace(",", "")), float(text.replace(",", "."))]
    for mark, decimal in ((",", "."), (".", ",")):
        head, point, tail = text.rpartition(decimal)
        if point and mark in head and tail.isdigit() and _grouped(head, mark):
            return [float(head.replace(mark, "") + "." + tail)]
        if text.count(mark) > 1 and _grouped(text, mark):
            return [float(text.replace(mark, ""))]
    if text.count(",") == 1 and "." not in text:
        text = text.replace(",", ".")
    return [float(text)] if text.isascii() and re.fullmatch(_PLAIN, text) else []


def _grouped(text: str, mark: str) -> bool:
    return text.isascii() and re.fullmatch(_GROUPED.format(mark=re.escape(mark)), text) is not None


def sexagesimal(text: str) -> float | None:
    """Degrees of ``47°15'``, ``47° 15' 30"`` or ``47°15.5``; None of other texts and of minutes over 59."""
    match = re.fullmatch(_SEXAGESIMAL, text.strip()) if text.isascii() or "°" in text or "º" in text else None
    if match is None:
        return None
    minutes, seconds = (float((match[name] or "0").replace(",", ".")) for name in ("min", "sec"))
    if minutes >= 60.0 or seconds >= 60.0 or (match["sec"] and minutes != int(minutes)):
        return None
    value = round(float(match["deg"]) + minutes / 60.0 + seconds / 3600.0, 8)
    return (-value if match["sign"] == "-" else value) + 0.0


def page_words(error: NorthkeyError) -> str:
    """Why something was refused, for a note beside it: what it must be, without any key of the plan file."""
    reason = str(error)
    if isinstance(error, ValueRangeError):
        reason = error.allowed.removeprefix("valid: ")
        reason = f"must be {reason}" if reason == error.allowed else reason
    said = re.sub(_KEY, _key_words, reason)
    return said[:1].upper() + said[1:].rstrip(".")


def without_keys(sentence: str) -> str:
    """A sentence for a page: what it adds of the plan file's keys, in brackets, is left out."""
    return re.sub(_KEY_IN_BRACKETS, "", sentence)


def _key_words(match: re.Match[str]) -> str:
    return match[1].replace("_", " ")
