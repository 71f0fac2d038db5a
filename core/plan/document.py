"""The plan document, put together from the models of the floors below."""

from typing import Literal, Self

from pydantic import Field, field_validator, model_validator

from core.base.model import Many, Model, Real
from core.base.text import GivenName, Line, Notes
from core.base.times import canonical_time, parse_iso
from core.elements.age import REFUSED_AGE_DAYS
from core.elements.model import ElementSet
from core.log.model import MOST_LOG, LogEntry
from core.mount.clearance.lengths import Clearance
from core.mount.evening.order.rules import EveningRules
from core.mount.model.station import Antenna, Mount, Station, Steering
from core.mount.seat.limits import SeatLimit
from core.place.site import Site
from core.plate.model import Plate
from core.radio.model import MOST_TRANSPONDERS, Transponder
from core.setup.model import (
    Checklist,
    CompassReading,
    Landmark,
    LevelReading,
    PointingErrors,
    SetupMinutes,
    Sighting,
)
from core.stand.model import Stand

FORMAT = "northkey-plan"
VERSION = 1

#: More are a mistake, or an attack: a list without measure costs memory and time without measure.
MOST_ANTENNAS, MOST_SATELLITES, MOST_PICKS, MOST_SEAT_LIMITS, MOST_SIGHTINGS = 16, 60_000, 2000, 100, 2000
MOST_LANDMARKS, MOST_LEVEL_READINGS = 200, 100

#: Longer than this, element sets say little of the end.
LONGEST_EVENING_S = 15 * 86_400.0


class Evening(Model):
    """The hours to be planned, ISO 8601 UTC."""

    start: str
    end: str

    _canonical = field_validator("start", "end")(canonical_time)

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.end_utc_s <= self.start_utc_s:
            raise ValueError("end must be later than start")
        if self.end_utc_s - self.start_utc_s > LONGEST_EVENING_S:
            raise ValueError("an evening is 15 days at most")
        return self

    @property
    def start_utc_s(self) -> float:
        """POSIX seconds."""
        return parse_iso(self.start)

    @property
    def end_utc_s(self) -> float:
        """POSIX seconds."""
        return parse_iso(self.end)


class Satellite(Model):
    """A satellite of the plan: a name of the operator's own, its element set, and what can be heard of it."""

    name: GivenName
    elements: ElementSet
    #: Printed on the cards of its passes; no pass and no evening depends on them.
    transponders: Many[Transponder] = Field(default=(), max_length=MOST_TRANSPONDERS)


class WayChoice(Model):
    """A way the operator insists on."""

    posture: Literal["upright", "over the top"]
    turn: int = Field(ge=-10, le=10)


class Pick(Model):
    """A wanted pass: the one of this satellite whose peak is nearest to ``near``."""

    norad_id: int = Field(ge=1, le=999_999_999)
    near: str
    worth: Real = Field(default=1.0, ge=0.0, le=1000.0)
    way: WayChoice | None = None

    _canonical = field_validator("near")(canonical_time)


class Plan(Model):
    """One evening at one site with one mount; the whole of the plan file."""

    format: Literal["northkey-plan"] = "northkey-plan"
    version: Literal[1] = 1
    title: Line = "Untitled evening"
    site: Site
    evening: Evening
    mount: Mount = Mount()
    antennas: Many[Antenna] = Field(default=(Antenna(),), min_length=1, max_length=MOST_ANTENNAS)
    satellites: Many[Satellite] = Field(default=(), max_length=MOST_SATELLITES)
    #: The station's lengths; without them nothing is checked for striking.
    clearance: Clearance | None = None
    #: The adapter between tripod and rotator; its index holes are the mount's.
    plate: Plate | None = None
    steering: Steering = "led"
    shortest_contact_s: Real = Field(default=180.0, ge=0.0, le=7200.0)
    #: Element sets whose epoch lies further from the evening's start, either way, are refused.
    maximum_element_age_days: Real = Field(default=REFUSED_AGE_DAYS, gt=0.0, le=100_000.0)
    picks: Many[Pick] = Field(default=(), max_length=MOST_PICKS)
    evening_rules: EveningRules = EveningRules()
    seat_limits: Many[SeatLimit] = Field(default=(), max_length=MOST_SEAT_LIMITS)
    landmarks: Many[Landmark] = Field(default=(), max_length=MOST_LANDMARKS)
    level_readings: Many[LevelReading] = Field(default=(), max_length=MOST_LEVEL_READINGS)
    compass: CompassReading | None = None
    sightings: Many[Sighting] = Field(default=(), max_length=MOST_SIGHTINGS)
    pointing: PointingErrors = PointingErrors()
    #: How long each step of setting up takes, and which are done: nothing is computed from what is ticked.
    setup_minutes: SetupMinutes = SetupMinutes()
    checklist: Checklist = Checklist()
    #: What came back from the field.
    log: Many[LogEntry] = Field(default=(), max_length=MOST_LOG)
    #: Masses, areas and feet; without them nothing is said of the wind.
    stand: Stand | None = None
    notes: Notes = ""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        seen: set[int] = set()
        for satellite in self.satellites:
            if satellite.elements.norad_id in seen:
                raise ValueError(f"satellites: catalogue number {satellite.elements.norad_id} is there twice")
            seen.add(satellite.elements.norad_id)
        names = [landmark.name for landmark in self.landmarks]
        if len(set(names)) != len(names):
            raise ValueError("landmarks: two landmarks have the same name")
        return self

    @property
    def orbits(self) -> tuple[Satellite, ...]:
        """The satellites without their transponders: all of them that passes and evenings depend on."""
        if not any(one.transponders for one in self.satellites):
            return self.satellites
        return tuple(
            one.model_copy(update={"transponders": ()}) if one.transponders else one
            for one in self.satellites
        )

    def transponders_of(self, norad_id: int) -> tuple[Transponder, ...]:
        """What can be heard of a satellite; nothing of one that the plan does not have."""
        return next((one.transponders for one in self.satellites if one.elements.norad_id == norad_id), ())

    @property
    def station(self) -> Station:
        """What the passes are worked with."""
        return Station(self.mount, self.antennas, self.steering, self.clearance)
