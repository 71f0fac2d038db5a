"""The station as the plan has it: rotator, axes, dials, index holes, drive and antennas."""

from dataclasses import dataclass
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from core.base.angles import wrap_360
from core.base.model import Many, Model, Real, Turned
from core.base.text import Name, ShortName
from core.mount.clearance.lengths import Clearance
from core.mount.model.calibration import CalibrationPoint, calibration_fault, dial_curve

Posture = Literal["upright", "over the top"]
UPRIGHT: Posture = "upright"
OVER_THE_TOP: Posture = "over the top"
POSTURES: tuple[Posture, Posture] = (UPRIGHT, OVER_THE_TOP)

#: How a pass too fast for an axis is followed (`core.mount.drive.motion`).
Steering = Literal["led", "chased", "held"]

#: A plate drilled every 15 degrees.
MOST_HOLES = 24
#: The slowest rate of an axis: a turn in two hours. Below it every move is longer than the evening.
SLOWEST_DEG_S = 0.05
#: A figure of a dial: ten turns either way.
Figure = Annotated[Real, Field(ge=-3600.0, le=3600.0)]
#: How often a dial may come round along the travel.
MOST_JUMPS = 100
#: A dial read every few degrees of four turns.
MOST_PAIRS = 500


class IndexHole(Model):
    """A hole of the adapter. ``offset_deg`` is iota: from pin to datum mark, clockwise from above.

    A hole drilled h clockwise *from the datum mark*, seen from above, has iota = -h.
    """

    name: ShortName
    offset_deg: Real = Field(default=0.0, ge=-360.0, le=360.0)

    @property
    def drilled_deg(self) -> float:
        """Where the hole is drilled, clockwise from the datum mark seen from above, 0 to 360."""
        return wrap_360(-self.offset_deg)


class SightingCorrection(Model):
    """Tonight's correction, with the seat it was fitted for; a posture only where skew was fitted with it."""

    deg: Real = Field(ge=-180.0, le=180.0)
    keyway_bearing_deg: Turned
    index_hole: Name
    posture: Posture | None = None


class Tilt(Model):
    """The azimuth axis' lean: its top goes ``angle_deg`` toward the true bearing ``toward_deg``."""

    angle_deg: Real = Field(default=0.0, ge=0.0, le=30.0)
    toward_deg: Real = Field(default=0.0, ge=0.0, le=360.0)


#: The greatest speeds of an axis, deg/s, unsigned: where its angle grows, and where it falls.
Rates = tuple[float, float]


class Axis(Model):
    """What both axes have: their motion as far as it was measured, and a dial that may be crooked.

    ``rate_deg_s`` is forward (where the angle grows), and back too unless ``rate_back_deg_s`` says otherwise.
    Without an acceleration the axis is at its rate at once. It is not started for less than the deadband,
    never moves less than the least nudge, and its place is known to the readout's step. With a
    ``calibration`` the dial reads what its pairs say, between them along a smooth monotone curve and beyond
    them by its scale; where it would start without one then says nothing.
    """

    rate_deg_s: Real = Field(ge=SLOWEST_DEG_S, le=360.0)
    rate_back_deg_s: Real | None = Field(default=None, ge=SLOWEST_DEG_S, le=360.0)
    acceleration_deg_s2: Real | None = Field(default=None, ge=0.001, le=1000.0)
    deadband_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    least_nudge_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    readout_step_deg: Real = Field(default=0.0, ge=0.0, le=45.0)
    dial_division_deg: Real = Field(default=1.0, ge=0.01, le=90.0)
    calibration: Many[CalibrationPoint] = Field(default=(), max_length=MOST_PAIRS)

    @property
    def rates_deg_s(self) -> Rates:
        """Forward and back."""
        return self.rate_deg_s, self.rate_deg_s if self.rate_back_deg_s is None else self.rate_back_deg_s

    def _with_sound_calibration(self, scale: float) -> Self:
        fault = calibration_fault(self.calibration, scale)
        if fault:
            raise ValueError(fault)
        return self


class AzimuthAxis(Axis):
    """Azimuth travel, guard, motion and dial; forward is clockwise.

    dial = dial_at_stop_deg + dial_scale * m, before wrapping.
    """

    travel_deg: Real = Field(default=450.0, ge=1.0, le=1440.0)
    guard_deg: Real = Field(default=3.0, ge=0.0, le=90.0)
    rate_deg_s: Real = Field(default=6.0, ge=SLOWEST_DEG_S, le=360.0)
    dial_at_stop_deg: Figure = 0.0
    dial_scale: Real = Field(default=1.0, ge=-1000.0, le=1000.0)
    dial_wraps_at_deg: Real | None = Field(default=None, ge=-3600.0, le=3600.0)
    dial_wraps_to_deg: Real | None = Field(default=None, ge=-3600.0, le=3600.0)

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if 2.0 * self.guard_deg >= self.travel_deg:
            raise ValueError("guard_deg leaves no travel: twice the guard must be less than travel_deg")
        if self.dial_scale == 0.0:
            raise ValueError("dial_scale must not be 0")
        if (self.dial_wraps_at_deg is None) != (self.dial_wraps_to_deg is None):
            raise ValueError("dial_wraps_at_deg and dial_wraps_to_deg go together: give both or neither")
        if (
            self.dial_wraps_at_deg is not None
            and self.dial_wraps_to_deg is not None
            and self.dial_wraps_at_deg <= self.dial_wraps_to_deg
        ):
            raise ValueError("dial_wraps_at_deg must be more than dial_wraps_to_deg")
        self._refuse_many_jumps()
        return self._with_sound_calibration(self.dial_scale)

    def _refuse_many_jumps(self) -> None:
        """Every jump is a mark of the dial's picture, and a place that one figure may stand for."""
        if self.dial_wraps_at_deg is None or self.dial_wraps_to_deg is None:
            return
        curve = dial_curve(self.calibration, self.dial_scale, self.dial_at_stop_deg)
        swing_deg = abs(curve.dial_at(self.travel_deg) - curve.dial_at(0.0))
        jumps = swing_deg / (self.dial_wraps_at_deg - self.dial_wraps_to_deg)
        if jumps > MOST_JUMPS:
            raise ValueError(
                f"{jumps:.0f} times the dial jumps along the travel, it must be {MOST_JUMPS} times at most: "
                "dial_wraps_at_deg less dial_wraps_to_deg is too little"
            )


class ElevationAxis(Axis):
    """Elevation range, motion and dial; forward is upward, and above 90 is over the top.

    dial = e + dial_offset_deg.
    """

    minimum_deg: Real = Field(default=0.0, ge=-90.0, le=90.0)
    maximum_deg: Real = Field(default=180.0, gt=0.0, le=180.0)
    rate_deg_s: Real = Field(default=2.5, ge=SLOWEST_DEG_S, le=360.0)
    dial_offset_deg: Figure = 0.0

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.minimum_deg >= self.maximum_deg:
            raise ValueError("minimum_deg must be less than maximum_deg")
        return self._with_sound_calibration(1.0)


class Drive(Model):
    """How the two axes are driven together.

    ``settle_s`` passes after every move before the pointing counts. ``duty`` is what share of
    ``duty_window_s`` a motor may run (1: no limit).
    """

    both_axes_at_once: bool = True
    settle_s: Real = Field(default=0.0, ge=0.0, le=120.0)
    duty: Real = Field(default=1.0, ge=0.01, le=1.0)
    duty_window_s: Real = Field(default=600.0, ge=0.1, le=7200.0)


class Antenna(Model):
    """One antenna. Frequency 0 means not told; ``skew_deg`` is its angle to the boom."""

    name: Name = "antenna"
    frequency_hz: Real = Field(default=0.0, ge=0.0, le=1e12)
    beamwidth_deg: Real = Field(default=30.0, ge=0.1, le=180.0)
    skew_deg: Real = Field(default=0.0, ge=-90.0, le=90.0)


class Mount(Model):
    """The rotator on its plate, as it is set down tonight."""

    keyway_bearing_deg: Turned = 0.0
    index_holes: Many[IndexHole] = Field(default=(IndexHole(name="A"),), max_length=MOST_HOLES)
    index_hole: Name = "A"
    datum_to_stop_deg: Turned = 0.0
    elevation_unit_offset_deg: Turned = 0.0
    sighting_correction: SightingCorrection | None = None
    tilt: Tilt = Tilt()
    azimuth: AzimuthAxis = AzimuthAxis()
    elevation: ElevationAxis = ElevationAxis()
    drive: Drive = Drive()

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        names = [hole.name for hole in self.index_holes]
        if len(set(names)) != len(names):
            raise ValueError("index_holes: two holes have the same name")
        if self.index_hole not in names:
            raise ValueError(f"index_hole {self.index_hole!r} is not one of the holes {', '.join(names)}")
        return self


@dataclass(frozen=True)
class Station:
    """What a pass is worked with. Compared by value, as a memo wants its inputs.

    Attributes:
        mount: the rotator as it is set down.
        antennas: at least one; the narrowest decides when a satellite is off the beam.
        steering: how a pass too fast for an axis is followed.
        clearance: the lengths by which a way may strike; None: nothing is checked.
    """

    mount: Mount
    antennas: tuple[Antenna, ...]
    steering: Steering = "led"
    clearance: Clearance | None = None

    @property
    def narrowest_deg(self) -> float:
        """The least beamwidth."""
        return min(antenna.beamwidth_deg for antenna in self.antennas)

    @property
    def beam_limit_deg(self) -> float:
        """Half the least beamwidth: a satellite further off boresight counts as lost."""
        return self.narrowest_deg / 2.0
