"""Frequencies of a contact, one line a transponder: what to add to each, and where nothing is to be added."""

from __future__ import annotations

from collections.abc import Sequence

from core.base.angles import Floats
from core.base.times import clock
from core.base.words import figure, plain
from core.passes.stays import Stay
from core.radio.doppler import RangeRates, downlink_shift_hz, range_rates, uplink_shift_hz
from core.radio.model import Transponder
from core.sheet.words import clean

#: Lines on a card; the rest is counted.
MOST_RADIO_LINES = 3
#: What has room on a line at its full length, in characters.
_LINE = 110
_NAME, _MODE, _STATUS = 24, 12, 32
#: A shift that is printed to a tenth of a kHz is not told apart from another by less.
_SAME_KHZ = 0.05

RADIO_READ = (
    "Radio: in brackets the shift in kHz, from start to end. Receive at the down frequency plus its shift, "
    "send at the up frequency plus its own."
)


def radio_lines(
    transponders: Sequence[Transponder], stay: Stay, start_utc_s: float, end_utc_s: float
) -> tuple[str, ...]:
    """A line for each transponder that has a frequency, those that are off last; the first few and a count.

    Raises:
        ValueRangeError: a moment lies outside the stay.
    """
    tuned = [one for one in transponders if one.downlink_hz is not None or one.uplink_hz is not None]
    if not tuned:
        return ()
    rates = range_rates(stay, start_utc_s, end_utc_s)
    told = sorted(tuned, key=lambda one: one.is_off)
    lines = tuple(_line(one, rates) for one in told[:MOST_RADIO_LINES])
    left = len(told) - len(lines)
    return (*lines, f"and {left} more in the plan") if left else lines


def _line(one: Transponder, rates: RangeRates) -> str:
    name = _name(one)
    if one.is_off:
        return f"{name}: {one.status.casefold()}{_as_of(one)}"
    with_zero = f"{name}: {_tuning(one, rates, zero=True)}"
    return with_zero if len(with_zero) <= _LINE else f"{name}: {_tuning(one, rates, zero=False)}"


def _name(one: Transponder) -> str:
    name, mode = clean(one.name, _NAME), clean(one.mode, _MODE)
    return name if not mode or mode.casefold() in name.casefold().split() else f"{name} {mode}"


def _as_of(one: Transponder) -> str:
    return f", as of {one.status_date}" if one.status_date else ""


def _tuning(one: Transponder, rates: RangeRates, zero: bool) -> str:
    """Both links and what else is to be set; units and zero are told of the first link alone."""
    links = [
        (word, frequency_hz, shift)
        for word, frequency_hz, shift in (
            ("down", one.downlink_hz, downlink_shift_hz),
            ("up", one.uplink_hz, uplink_shift_hz),
        )
        if frequency_hz is not None
    ]
    parts = []
    for place, (word, frequency_hz, shift) in enumerate(links):
        first = place == 0
        band = _band(frequency_hz, one.bandwidth_hz)
        shifts = _shifts(shift(frequency_hz, rates.km_s), rates, " kHz" if first else "", zero and first)
        parts.append(f"{word} {band}{' MHz' if first else ''} ({shifts})")
    parts += ["inverting"] if one.inverting else []
    parts += [f"tone {figure(one.tone_hz)} Hz"] if one.tone_hz is not None else []
    parts += [f"{clean(one.told_status, _STATUS)}{_as_of(one)}"] if one.told_status else []
    return ", ".join(parts)


def _band(frequency_hz: float, bandwidth_hz: float | None) -> str:
    if bandwidth_hz is None:
        return _mhz(frequency_hz)
    return f"{_mhz(frequency_hz - 0.5 * bandwidth_hz)} to {_mhz(frequency_hz + 0.5 * bandwidth_hz)}"


def _mhz(frequency_hz: float) -> str:
    """To the hertz where it takes it, at least three decimals: 145.850, 435.10325."""
    text = plain(frequency_hz / 1e6, 6)
    whole, _, decimals = text.partition(".")
    return f"{whole}.{decimals:0<3}"


def _shifts(shift_hz: Floats, rates: RangeRates, unit: str, zero: bool) -> str:
    """``+3.3 to -3.3 kHz, 0 at 17:01:53``, with what it goes beyond both ends by, and when."""
    khz = shift_hz / 1000.0
    if abs(khz).max() < _SAME_KHZ:
        return f"0{unit}"
    ends = sorted((khz[0], khz[-1]))
    inside = [turn for turn in rates.turns if not ends[0] - _SAME_KHZ <= khz[turn] <= ends[1] + _SAME_KHZ]
    between = [f"{_khz(khz[turn])} at {clock(rates.utc_s[turn])}" for turn in inside]
    told = [_khz(khz[0]), *between, _khz(khz[-1])]
    zeros = [clock(moment) for moment in rates.zeros_utc_s] if zero else []
    return f"{' to '.join(told)}{unit}" + (f", 0 at {' and '.join(zeros)}" if zeros else "")


def _khz(value: float) -> str:
    text = figure(value)
    return text if text.startswith("-") or text == "0.0" else f"+{text}"
