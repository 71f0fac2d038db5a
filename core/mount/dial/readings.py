"""The dials: what the controller's indicator shows for a mechanical angle, and what to print of it.

A dial may start anywhere, run backwards, be crooked, and wrap: then one figure stands for two mechanical
azimuths a turn apart, and whoever goes to the wrong one winds the cable the wrong way. So a reading knows
which time round it is meant. That is told of the figure as it is printed, to half a division: just before a
wrap rounding carries 359.8 to 360, which is the next round's 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.base.angles import wrap_360
from core.base.edits import changed_together
from core.base.errors import ValueRangeError
from core.base.units import INSIDE_DEG
from core.base.words import ordinal
from core.mount.model.calibration import DialCurve, dial_curve
from core.mount.model.chain import to_mount_frame, zeta_deg
from core.mount.model.station import UPRIGHT, AzimuthAxis, ElevationAxis, Mount


@dataclass(frozen=True)
class DialReading:
    """What the operator reads.

    Attributes:
        value_deg: the figure on the dial, unrounded.
        shown_deg: to half a division.
        time_round: which of the mechanical azimuths that show this figure is meant, counted from the
            counter-clockwise stop, 1 for the first.
        times_in_all: how many mechanical azimuths inside the travel show this figure.
    """

    value_deg: float
    shown_deg: float
    time_round: int = 1
    times_in_all: int = 1

    @property
    def text(self) -> str:
        """``"212.5"``, or ``"20, second time round"`` where the dial reads the same twice."""
        figure = dial_figure(self.shown_deg)
        return figure if self.times_in_all < 2 else f"{figure}, {ordinal(self.time_round)} time round"

    @property
    def short(self) -> str:
        """``"212.5"``, or ``"20 (2nd)"``: for narrow columns."""
        figure = dial_figure(self.shown_deg)
        if self.times_in_all < 2:
            return figure
        return f"{figure} ({['1st', '2nd', '3rd', '4th', '5th'][min(self.time_round, 5) - 1]})"


def dial_figure(shown_deg: float) -> str:
    """A rounded reading without needless decimals: 212, 212.5, 212.25."""
    return f"{shown_deg + 0.0:.2f}".rstrip("0").rstrip(".")


def round_to_half_division(value_deg: float, division_deg: float) -> float:
    """Nearest half division, halves upward."""
    half = division_deg / 2.0
    return math.floor(value_deg / half + 0.5) * half + 0.0


def azimuth_curve(axis: AzimuthAxis) -> DialCurve:
    """The azimuth dial over m, without its wrapping."""
    return dial_curve(axis.calibration, axis.dial_scale, axis.dial_at_stop_deg)


def elevation_curve(axis: ElevationAxis) -> DialCurve:
    """The elevation dial over e."""
    return dial_curve(axis.calibration, 1.0, axis.dial_offset_deg)


def _span(axis: AzimuthAxis) -> float | None:
    """Dial degrees after which the figures come again; None where the dial runs on."""
    if axis.dial_wraps_at_deg is None or axis.dial_wraps_to_deg is None:
        return None
    return axis.dial_wraps_at_deg - axis.dial_wraps_to_deg


def _is_on_face(reading_deg: float, axis: AzimuthAxis) -> bool:
    """Whether a wrapping dial has such a figure; the one at which it wraps is read there as well."""
    ends = [end for end in (axis.dial_wraps_to_deg, axis.dial_wraps_at_deg) if end is not None]
    return min(ends) - INSIDE_DEG <= reading_deg <= max(ends) + INSIDE_DEG


def _wrap(value_deg: float, axis: AzimuthAxis) -> float:
    """Into [wraps_to, wraps_at), the dial's own circle; runs on where none is stated."""
    span = _span(axis)
    if span is None or axis.dial_wraps_to_deg is None:
        return value_deg
    return axis.dial_wraps_to_deg + (value_deg - axis.dial_wraps_to_deg) % span


def azimuth_dial(m_deg: float, axis: AzimuthAxis) -> DialReading:
    """The azimuth dial at mechanical azimuth m (0 on the counter-clockwise stop).

    Which time round is told of the figure as it is shown: just before a wrap the rounded figure is already
    the next round's.
    """
    curve, division = azimuth_curve(axis), axis.dial_division_deg
    running = curve.dial_at(m_deg)
    rounded = round_to_half_division(running, division)
    shown, value = _wrap(rounded, axis), _wrap(running, axis)
    span = _span(axis)
    if span is None:
        return DialReading(value, shown)
    first, last = (round_to_half_division(curve.dial_at(m), division) for m in (0.0, axis.travel_deg))
    sense = 1.0 if axis.dial_scale > 0.0 else -1.0
    below = max(math.floor((sense * (rounded - first) + INSIDE_DEG) / span), 0)
    above = max(math.floor((sense * (last - rounded) + INSIDE_DEG) / span), 0)
    return DialReading(value, shown, below + 1, below + above + 1)


def azimuth_from_dial(reading_deg: float, axis: AzimuthAxis) -> tuple[float, ...]:
    """Every m of the travel at which the dial shows a figure, rising; empty where none does.

    A figure that a stop shows only by rounding means that stop. The inverse of `azimuth_dial`: entry
    ``time_round - 1`` of what a shown figure gives is the m that was meant, to the rounding.
    """
    curve, division, span = azimuth_curve(axis), axis.dial_division_deg, _span(axis)
    stops = [curve.dial_at(m) for m in (0.0, axis.travel_deg)]
    ends = [*stops, *(round_to_half_division(stop, division) for stop in stops)]
    low, high = min(ends) - INSIDE_DEG, max(ends) + INSIDE_DEG
    if span is None:
        running = [reading_deg] if low <= reading_deg <= high else []
    elif not _is_on_face(reading_deg, axis):
        running = []
    else:
        first, last = math.ceil((low - reading_deg) / span), math.floor((high - reading_deg) / span)
        running = [reading_deg + k * span for k in range(first, last + 1)]
    places = (curve.axis_at(figure) for figure in running)
    return tuple(sorted(min(max(m, 0.0), axis.travel_deg) for m in places))


def elevation_dial(e_deg: float, axis: ElevationAxis) -> DialReading:
    """The elevation dial at axis angle e (0 level, 90 up, above 90 over the top)."""
    value = elevation_curve(axis).dial_at(e_deg)
    return DialReading(value, round_to_half_division(value, axis.dial_division_deg))


def elevation_from_dial(reading_deg: float, axis: ElevationAxis) -> float | None:
    """The axis angle at which the elevation dial shows a figure; None outside the axis' range.

    A figure that an end of the range shows only by rounding means that end.
    """
    e_deg = elevation_curve(axis).axis_at(reading_deg)
    held = min(max(e_deg, axis.minimum_deg), axis.maximum_deg)
    end = elevation_dial(held, axis)
    off = min(abs(end.value_deg - reading_deg), abs(end.shown_deg - reading_deg))
    return held if off <= INSIDE_DEG or e_deg == held else None


def dial_at_stop_for_true(bearing_deg: float, m_deg: float, axis: AzimuthAxis) -> float:
    """What the dial must read on the counter-clockwise stop so that at m it reads a true bearing.

    For a controller that can be set to read true at a sighting. A crooked dial keeps its shape: the whole of
    it is shifted. Inside the dial's own circle where it wraps.

    Args:
        bearing_deg: the true bearing of what is sighted.
        m_deg: where the azimuth axis stands then.
        axis: the dial before it is set.
    """
    curve = azimuth_curve(axis)
    return _wrap(curve.dial_at(0.0) + bearing_deg - curve.dial_at(m_deg), axis)


def m_of_bearing(bearing_deg: float, mount: Mount, elevation_deg: float = 0.0) -> tuple[float, ...]:
    """Every m of the travel at which boresight, upright, points to a true bearing; tilt included."""
    az, el = np.radians(bearing_deg), np.radians(elevation_deg)
    sight = np.array([[np.sin(az) * np.cos(el), np.cos(az) * np.cos(el), np.sin(el)]])
    in_mount, _elevation = to_mount_frame(sight, mount.tilt)
    travel = mount.azimuth.travel_deg
    places = turns_within(float(in_mount[0]) - zeta_deg(mount, UPRIGHT), travel)
    return tuple(min(m, travel) for m in places)


def turns_within(clockwise_deg: float, span_deg: float) -> tuple[float, ...]:
    """Every m in [0, span] that is so far clockwise of the counter-clockwise stop, whole turns apart, rising.

    An exact touch of the stop or of the span's end is inside.
    """
    first = wrap_360(clockwise_deg)
    if 360.0 - first <= INSIDE_DEG:
        first = 0.0
    count = math.floor((span_deg - first + INSIDE_DEG) / 360.0) + 1
    return tuple(first + 360.0 * k for k in range(count))


def reading_true(mount: Mount, bearing_deg: float, elevation_deg: float = 0.0, turn: int = 0) -> AzimuthAxis:
    """The azimuth axis with its dial set to read true at a sighting, as the station is seated now.

    Args:
        mount: with the seat as found.
        bearing_deg, elevation_deg: where what is sighted lies, true.
        turn: which of the m that point there, counted from the counter-clockwise stop, 0 for the first.

    Raises:
        ValueRangeError: no m of the travel points there, or not so many; the dial cannot read so.
    """
    places = m_of_bearing(bearing_deg, mount, elevation_deg)
    if not 0 <= turn < len(places):
        fits = "one the rotator can turn to" if not places else f"in one of its {len(places)} turns"
        raise ValueRangeError("sighting", f"at {bearing_deg:g} deg true, turn {turn}", fits)
    axis = mount.azimuth
    at_stop = dial_at_stop_for_true(bearing_deg, places[turn], axis)
    return shifted_dial(axis, at_stop - azimuth_curve(axis).dial_at(0.0))


def shifted_dial(axis: AzimuthAxis, by_deg: float) -> AzimuthAxis:
    """The same dial, every figure of it (its calibration's too) higher by so many degrees.

    Raises:
        ValueRangeError: a figure is then out of its range.
    """
    updates: dict[str, object] = {"dial_at_stop_deg": axis.dial_at_stop_deg + by_deg}
    if axis.calibration:
        updates["calibration"] = tuple(
            {"axis_deg": p.axis_deg, "dial_deg": p.dial_deg + by_deg} for p in axis.calibration
        )
    return changed_together(axis, updates)
