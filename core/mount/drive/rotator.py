"""The rotator as measured: where both axes really are when they are told to follow a path.

Each axis is switched on and off by a hand or a controller that sees the dial. It compares the reading with
what is wanted, both to the readout's step, starts the motor where they differ by the deadband or more (and
where the least nudge does not bring the axis further off), and stops it as soon as the reading is right,
but never before the least nudge. A motor gains and loses speed at its acceleration, up to its rate in that
sense; it is slowed in time to stand where it should. Axes move both at once, or the one whose error is the
greater on the sky while the other waits. A motor that has run its share of the duty's window rests until
the window has moved on. A motor of one speed runs for the part of a step that its rate needs; one that gains
and loses speed runs as long as it moves at all.

Simulated in even steps of a quarter of a second (longer ones for stays of hours), trapezoidal in speed.
Settling belongs to moves (`core.mount.drive.slew`): corrections while following stay inside the beam.
"""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.mount.model.chain import axis_elevation_deg
from core.mount.model.station import Axis, Drive, Mount, Posture

#: Seconds of a simulation step, and the most steps of one pass.
STEP_S = 0.25
_MOST_STEPS = 8000
#: One axis at a time: the waiting axis takes over where it is this much further off on the sky.
_TAKES_OVER_DEG = 0.5
#: A motor that runs down when cut off is cut off at this share of what it is started for.
_STOPS_AT = 0.1
_TINY_DEG = 1e-9
#: A coarse reading is right when its step has been entered so far.
_INTO_DEG = 1e-6


@dataclass(frozen=True, eq=False)
class Achieved:
    """Where the axes were.

    Attributes:
        m_deg, e_deg: (N,) at the moments asked for.
        azimuth_ran_s, elevation_ran_s: seconds each motor ran.
    """

    m_deg: Floats
    e_deg: Floats
    azimuth_ran_s: float
    elevation_ran_s: float


class _Motor:
    """One axis in steps of ``step_s``. All angles in degrees, speeds signed."""

    def __init__(self, axis: Axis, at_deg: float, step_s: float, drive: Drive) -> None:
        self.place, self.speed, self.ran = at_deg, 0.0, 0.0
        self._step = step_s
        self._up, self._down = axis.rates_deg_s
        self._gain = axis.acceleration_deg_s2
        self._nudge = axis.least_nudge_deg
        self._start_at = max(axis.deadband_deg, axis.least_nudge_deg / 2.0, _TINY_DEG)
        self._stop_at = _STOPS_AT * self._start_at
        self._readout = axis.readout_step_deg
        self._sense, self._left_nudge = 0, 0.0
        window = max(round(drive.duty_window_s / step_s), 1)
        self._allowed = math.inf if drive.duty >= 1.0 else drive.duty * window
        self._history: deque[float] = deque([0.0] * window if drive.duty < 1.0 else [], maxlen=window)
        self._ran_lately = 0.0

    def error(self, wanted: float) -> float:
        """What is still to be turned until the reading is right; 0 where it is, as far as can be read."""
        by = wanted - self.place
        if self._readout == 0.0:
            return by
        reading = math.floor(wanted / self._readout + 0.5) * self._readout
        if abs(reading - self.place) <= self._readout / 2.0 + _TINY_DEG:
            return 0.0
        return reading - math.copysign(self._readout / 2.0 - _INTO_DEG, by) - self.place

    def wants(self, wanted: float) -> float:
        """Unsigned error of an axis that would move now, 0 of one that would not."""
        by = abs(self.error(wanted))
        if self._sense:
            return max(by, self._left_nudge, _TINY_DEG)
        read = by + (self._readout / 2.0 if by else 0.0)
        return by if read >= self._start_at and by > 0.0 else 0.0

    def step(self, wanted: float, free: bool = True) -> None:
        """One step on, toward where the axis should be at its end; ``free`` False: it may not run."""
        if self._ran_lately >= self._allowed:
            free = False
        by = self._told(wanted) if free else 0.0
        before = self.place
        if self._gain is None:
            self.place += min(max(by, -self._down * self._step), self._up * self._step)
        else:
            self._accelerate(by, self._gain)
        if self._gain is None and self._sense and abs(self.place - before - by) <= _TINY_DEG:
            self._sense = 0
        moved = self.place - before
        self._left_nudge = max(self._left_nudge - abs(moved), 0.0)
        ran = self._running(moved)
        self.ran += ran
        if self._history.maxlen and self._allowed < math.inf:
            self._ran_lately += ran - self._history[0]
            self._history.append(ran)

    def _running(self, moved: float) -> float:
        """The share of the step the motor ran: what its one speed needs, or all of it where it has many."""
        if abs(moved) <= _TINY_DEG:
            return 0.0
        if self._gain is not None:
            return 1.0
        return min(abs(moved) / ((self._up if moved > 0.0 else self._down) * self._step), 1.0)

    def _told(self, wanted: float) -> float:
        """What the hand wants turned now, having started or stopped the motor."""
        by = self.error(wanted)
        near = self._stop_at if self._gain is not None else 0.0
        if self._sense and by * self._sense <= near + _TINY_DEG and self._left_nudge <= near + _TINY_DEG:
            self._sense = 0
        if not self._sense and self.wants(wanted) > 0.0:
            self._sense, self._left_nudge = (1 if by > 0.0 else -1), self._nudge
        return self._sense * max(by * self._sense, self._left_nudge) if self._sense else 0.0

    def _accelerate(self, by: float, gain: float) -> None:
        """Speed toward the greatest from which the axis still comes to stand after ``by``."""
        step, old = self._step, self.speed
        half = gain * step / 2.0
        # Nothing left to turn: brake. (0.0 times a speed has the speed's sign, and would go on for ever.)
        room = abs(by) - math.copysign(old * step / 2.0, by * old) if by else 0.0
        top = math.sqrt(half * half + 2.0 * gain * room) - half if room > 0.0 else 0.0
        aim = min(top, self._up) if by > 0.0 else -min(top, self._down)
        self.speed = min(max(aim, old - gain * step), old + gain * step)
        self.place += (old + self.speed) * step / 2.0


def follow(utc_s: Floats, m_deg: Floats, e_deg: Floats, mount: Mount) -> Achieved:
    """Both axes told to follow a path, from rest and on it at its first moment.

    Args:
        utc_s: (N,) rising, POSIX seconds.
        m_deg: (N,) azimuth wanted, unwrapped; any zero (the readout's steps are counted from it).
        e_deg: (N,) elevation axis angle wanted.
        mount: rates, accelerations, deadbands, nudges, readouts, drive. Stops are not looked at.
    """
    span = float(utc_s[-1] - utc_s[0])
    count = min(max(math.ceil(span / STEP_S), 1), _MOST_STEPS)
    moments = np.linspace(float(utc_s[0]), float(utc_s[-1]), count + 1)
    if span <= 0.0:
        return Achieved(m_deg.copy(), e_deg.copy(), 0.0, 0.0)
    step_s = span / count
    wanted_m = np.interp(moments, utc_s, m_deg).tolist()
    wanted_e = np.interp(moments, utc_s, e_deg).tolist()
    azimuth = _Motor(mount.azimuth, wanted_m[0], step_s, mount.drive)
    elevation = _Motor(mount.elevation, wanted_e[0], step_s, mount.drive)
    if mount.drive.both_axes_at_once:
        m_path, e_path = _alone(azimuth, wanted_m), _alone(elevation, wanted_e)
    else:
        m_path, e_path = _in_turn(azimuth, elevation, wanted_m, wanted_e)
    return Achieved(
        np.interp(utc_s, moments, m_path),
        np.interp(utc_s, moments, e_path),
        azimuth.ran * step_s,
        elevation.ran * step_s,
    )


def _alone(motor: _Motor, wanted: list[float]) -> list[float]:
    path = [motor.place]
    for place in wanted[1:]:
        motor.step(place)
        path.append(motor.place)
    return path


def _in_turn(
    azimuth: _Motor, elevation: _Motor, wanted_m: list[float], wanted_e: list[float]
) -> tuple[list[float], list[float]]:
    """Only one motor at a time is driven; the other may still be running down."""
    m_path, e_path = [azimuth.place], [elevation.place]
    turning = True
    for m_deg, e_deg in zip(wanted_m[1:], wanted_e[1:], strict=True):
        # An azimuth error is smaller on the sky than on the axis, and nothing at the zenith.
        m_off = azimuth.wants(m_deg) * abs(math.cos(math.radians(e_deg)))
        e_off = elevation.wants(e_deg)
        mine, others = (m_off, e_off) if turning else (e_off, m_off)
        if others > 0.0 and (mine <= _TINY_DEG or others > mine + _TAKES_OVER_DEG):
            turning = not turning
        azimuth.step(m_deg, turning)
        elevation.step(e_deg, not turning)
        m_path.append(azimuth.place)
        e_path.append(elevation.place)
    return m_path, e_path


def follow_in(
    posture: Posture, utc_s: Floats, azimuth_deg: Floats, elevation_deg: Floats, mount: Mount
) -> tuple[Floats, Floats]:
    """`follow` for azimuth and elevation in upright terms: (N,) and (N,) achieved, likewise.

    Over the top the elevation axis runs the other way.
    """
    done = follow(utc_s, azimuth_deg, axis_elevation_deg(elevation_deg, posture), mount)
    return done.m_deg, axis_elevation_deg(done.e_deg, posture)


def turns_over_differ(mount: Mount) -> bool:
    """True where over the top the axes follow otherwise than upright: elevation's rates differ each way."""
    forward, back = mount.elevation.rates_deg_s
    return back != forward and mount.elevation.maximum_deg > 90.0
