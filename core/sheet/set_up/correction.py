"""What to add to the printed azimuth dials where the keyway came out elsewhere than planned."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import wrap_180, wrap_360
from core.base.words import bearing_text, plain, signed
from core.mount.dial.readings import azimuth_curve, azimuth_dial, round_to_half_division
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
    """The rule for ten keyways off clockwise (sense 1) or counter-clockwise (-1), a degree or more each.

    They are those whose correction is a whole number of half divisions, as the dials are printed: added to a
    printed figure it gives one that the dial has.
    """
    half, slope = axis.dial_division_deg / 2.0, mean_scale(axis)
    add = half * max(math.ceil(abs(slope) / half - 1e-9), 1)
    offs = [sense * k * add / abs(slope) for k in range(1, 11)]
    return tuple(
        Correction(
            plain(wrap_360(intended_deg + off), 1),
            signed(round_to_half_division(correction_to_add(axis, 0.0, off), axis.dial_division_deg)),
        )
        for off in offs
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
        f"add {scale}(intended - actual) deg with its sign, to the nearest "
        f"{plain(axis.dial_division_deg / 2.0)}, to every azimuth dial.{wrap}"
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
    exact = correction_to_add(axis, intended, actual)
    add = round_to_half_division(exact, axis.dial_division_deg)
    printed = azimuth_dial(axis.travel_deg / 2.0, axis).value_deg
    rounded = round_to_half_division(float(round(printed / 10.0) * 10), axis.dial_division_deg)
    slope = mean_scale(axis)
    times = "" if slope == 1.0 else f"{plain(slope, 4)} x "
    nearest = "" if abs(exact - add) < 0.005 else f", {signed(add)} on the dial"
    off = f"{times}({bearing_text(intended)} - {bearing_text(actual)}) = {signed(exact)}"
    becomes = f"{plain(rounded)} becomes {plain(rounded + add)}"
    return f"Example: at {bearing_text(actual)} {off}{nearest}: {becomes}."


def place_within_words(
    contacts: Sequence[Contact], mount: Mount, intended: float, verdicts: tuple[float, float] | None
) -> str:
    """How far off a keyway that is then measured may be for tonight's verdicts and turns to hold.

    Turning the keyway clockwise by d takes d off every m: the room is what is left to the guards.

    Args:
        contacts: of the evening.
        mount: as planned.
        intended: its keyway bearing.
        verdicts: (minus, plus) within which every contact's verdict stays, by the study of the seat; None
            where that was not asked for.
    """
    guard, top = mount.azimuth.guard_deg, mount.azimuth.travel_deg - mount.azimuth.guard_deg
    ways = [c.check.chosen for c in contacts if c.check.chosen is not None and c.check.chosen.clear]
    if not contacts or not (ways or verdicts):
        return ""
    clockwise = max(min((way.m_min_deg for way in ways), default=math.inf) - guard, 0.0)
    back = max(top - max((way.m_max_deg for way in ways), default=-math.inf), 0.0)
    if verdicts is not None:
        back, clockwise = min(back, -verdicts[0]), min(clockwise, verdicts[1])
        what = (
            "before a verdict of tonight's changes or a clear pass meets a guard (by the study of the seat)"
        )
    else:
        first = f"one of tonight's {len(ways)} clear passes" if len(ways) > 1 else "tonight's one clear pass"
        what = f"before {first} meets a guard in the turn printed here (other verdicts were not looked at)"
    back, clockwise = (math.floor(10.0 * off + 1e-6) / 10.0 for off in (back, clockwise))
    return (
        f"Measured and corrected so, it may lie from {bearing_text(intended - back)} to "
        f"{bearing_text(intended + clockwise)} ({signed(-back, 1)} / {signed(clockwise, 1)} deg) {what}."
    )
