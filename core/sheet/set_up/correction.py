"""What to add to the printed azimuth dials where the keyway came out elsewhere than planned."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import wrap_180, wrap_360
from core.base.words import bearing_text, plain, signed
from core.mount.dial.readings import azimuth_curve, azimuth_dial
from core.mount.evening.results import Contact
from core.mount.model.station import AzimuthAxis, Mount


@dataclass(frozen=True)
class Correction:
    """What to add to every azimuth dial for a keyway that came out at ``keyway_deg``."""

    keyway_deg: str
    add: str


def correction_to_add(axis: AzimuthAxis, intended_deg: float, actual_deg: float) -> float:
    """What to add to a printed azimuth dial when the keyway came out at ``actual_deg``.

    The bearing of boresight is zeta + m and zeta turns with the keyway, so the same bearing needs m less
    (actual - intended); the dial is stop + scale * m, so it needs scale * (intended - actual) more. For a
    crooked dial its mean scale over the travel stands in; `correction_error_deg` says how well.
    """
    return mean_scale(axis) * wrap_180(intended_deg - actual_deg) + 0.0


def mean_scale(axis: AzimuthAxis) -> float:
    """Degrees on the dial for each degree turned clockwise; over all the travel where the dial is crooked."""
    if not axis.calibration:
        return axis.dial_scale
    curve = azimuth_curve(axis)
    return (curve.dial_at(axis.travel_deg) - curve.dial_at(0.0)) / axis.travel_deg


def correction_error_deg(axis: AzimuthAxis, off_deg: float) -> float:
    """How wrong that is at worst, on the dial, for a keyway up to ``off_deg`` off; 0 for a straight dial."""
    if not axis.calibration:
        return 0.0
    curve, scale = azimuth_curve(axis), mean_scale(axis)
    places = np.linspace(0.0, axis.travel_deg, 91)
    return max(
        abs(curve.dial_at(float(m) + turned) - curve.dial_at(float(m)) - scale * turned)
        for m in places
        for turned in (-off_deg, off_deg)
        if 0.0 <= m + turned <= axis.travel_deg
    )


def corrections(axis: AzimuthAxis, intended_deg: float, sense: int) -> tuple[Correction, ...]:
    """The rule worked out for keyways 1 to 10 deg off, clockwise (sense 1) or counter-clockwise (-1)."""
    actual = [intended_deg + float(sense * off) for off in range(1, 11)]
    return tuple(
        Correction(plain(wrap_360(deg), 1), signed(correction_to_add(axis, intended_deg, deg)))
        for deg in actual
    )


def rule_words(axis: AzimuthAxis, intended: float) -> str:
    """The rule as a sentence with a gap for the bearing that the keyway came out at."""
    slope = mean_scale(axis)
    scale = "" if slope == 1.0 else f"{plain(slope, 4)} times "
    wrap = ""
    if axis.dial_wraps_at_deg is not None and axis.dial_wraps_to_deg is not None:
        span = plain(axis.dial_wraps_at_deg - axis.dial_wraps_to_deg)
        wrap = (
            f" If the sum leaves {plain(axis.dial_wraps_to_deg)} to {plain(axis.dial_wraps_at_deg)}, "
            f"bring it back by {span}."
        )
    return (
        f"If the keyway came out at ___ deg true instead of {bearing_text(intended)}, "
        f"correct every azimuth dial by {scale}(intended - actual) degrees: add it, with its sign.{wrap}"
        f"{_crooked(axis)}"
    )


def _crooked(axis: AzimuthAxis) -> str:
    if not axis.calibration:
        return ""
    error = math.ceil(correction_error_deg(axis, 10.0) * 10.0) / 10.0
    return f" The dial is crooked: within 10 deg this is right to {plain(error)} on the dial."


def example_words(axis: AzimuthAxis, intended: float) -> str:
    """The rule worked out for a keyway 3 deg clockwise of the intended one."""
    actual = wrap_360(intended + 3.0)
    add = correction_to_add(axis, intended, actual)
    printed = azimuth_dial(axis.travel_deg / 2.0, axis).value_deg
    rounded = float(round(printed / 10.0) * 10)
    slope = mean_scale(axis)
    times = "" if slope == 1.0 else f"{plain(slope, 4)} x "
    return (
        f"Example: it came out at {bearing_text(actual)}. "
        f"{times}({bearing_text(intended)} - {bearing_text(actual)}) = {signed(add)}; "
        f"where the sheet says {plain(rounded)}, set {plain(rounded + add)}."
    )


def place_within_words(contacts: Sequence[Contact], mount: Mount, intended: float) -> str:
    """How far off a keyway that is then measured may be before a clear pass of tonight's meets a guard.

    Turning the keyway clockwise by d takes d off every m: the room is what is left to the guards.
    """
    guard, top = mount.azimuth.guard_deg, mount.azimuth.travel_deg - mount.azimuth.guard_deg
    ways = [c.check.chosen for c in contacts if c.check.chosen is not None and c.check.chosen.clear]
    if not ways:
        return ""
    first = f"one of tonight's {len(ways)} clear passes" if len(ways) > 1 else "tonight's one clear pass"
    clockwise = max(min(way.m_min_deg for way in ways) - guard, 0.0)
    back = max(top - max(way.m_max_deg for way in ways), 0.0)
    return (
        f"Measured and corrected so, it may lie from {bearing_text(intended - back)} to "
        f"{bearing_text(intended + clockwise)} "
        f"({signed(-back, 1)} / {signed(clockwise, 1)} deg) before {first} "
        "meets a guard in the turn printed here."
    )
