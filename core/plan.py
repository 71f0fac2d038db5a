"""The plan document, put together from the models of the floors below."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, field_validator, model_validator

from core.elements.model import ElementSet
from core.model import Model, Real
from core.mount.stack import Antenna, Mount
from core.site import Site
from core.times import format_iso, parse_iso

FORMAT = "northkey-plan"
VERSION = 1

Steering = Literal["led", "chased", "held"]


def _canonical_time(text: str) -> str:
    return format_iso(parse_iso(text))


class Evening(Model):
    """The hours to be planned, ISO 8601 UTC."""

    start: str
    end: str

    _canonical = field_validator("start", "end")(_canonical_time)

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.end_utc_s <= self.start_utc_s:
            raise ValueError("end must be later than start")
        if self.end_utc_s - self.start_utc_s > 15 * 86_400:
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
    """A satellite of the plan: a name of the operator's own and its element set."""

    name: str = Field(min_length=1)
    elements: ElementSet


class WayChoice(Model):
    """A way the operator insists on."""

    posture: Literal["upright", "over the top"]
    turn: int


class Pick(Model):
    """A wanted pass: the one of this satellite whose peak is nearest to ``near``."""

    norad_id: int = Field(ge=1, le=999_999_999)
    near: str
    worth: Real = Field(default=1.0, ge=0.0, le=1000.0)
    way: WayChoice | None = None

    _canonical = field_validator("near")(_canonical_time)


class Sighting(Model):
    """A dial reading taken while pointing at something whose true direction is known."""

    time: str
    target: str
    azimuth_dial_deg: Real
    elevation_dial_deg: Real | None = None

    _canonical = field_validator("time")(_canonical_time)


class Plan(Model):
    """One evening at one site with one mount; the whole of the plan file."""

    format: Literal["northkey-plan"] = "northkey-plan"
    version: Literal[1] = 1
    title: str = "Untitled evening"
    site: Site
    evening: Evening
    mount: Mount = Mount()
    antennas: tuple[Antenna, ...] = Field(default=(Antenna(),), min_length=1)
    satellites: tuple[Satellite, ...] = ()
    steering: Steering = "led"
    shortest_contact_s: Real = Field(default=180.0, ge=0.0, le=7200.0)
    picks: tuple[Pick, ...] = ()
    sightings: tuple[Sighting, ...] = ()
    notes: str = ""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        seen: set[int] = set()
        for satellite in self.satellites:
            if satellite.elements.norad_id in seen:
                raise ValueError(f"satellites: catalogue number {satellite.elements.norad_id} is there twice")
            seen.add(satellite.elements.norad_id)
        return self
