"""What can be heard of a satellite and spoken through: the plan's "transponders"."""

from datetime import date

from pydantic import Field, field_validator

from core.base.model import Model, Real
from core.base.text import GivenName, Line, Name

#: A satellite has a handful; more are a mistake, or an attack.
MOST_TRANSPONDERS = 24
#: From the lowest frequency that comes down through the ionosphere to beyond any portable dish, Hz.
LOWEST_HZ, HIGHEST_HZ = 1e6, 1e12
#: A status that says, by itself, that nothing is to be heard. A longer one ("off on weekends") is told.
_OFF = frozenset(
    {
        *("off", "inactive", "not active", "dead", "failed", "silent", "switched off", "out of order"),
        *("out of service", "not working"),
    }
)
#: A status that need not be told.
_ON = frozenset({"", "on", "active", "working", "in service"})


class Transponder(Model):
    """A beacon, a channel or a passband of a satellite.

    ``downlink_hz`` and ``uplink_hz`` are nominal: what the satellite sends, and what it is to hear. With
    ``bandwidth_hz`` it is a passband, and both are its middles; ``inverting`` turns the passband round.
    ``tone_hz`` is sent along with the voice to open the transponder. ``status`` is free text, as of
    ``status_date`` (YYYY-MM-DD).
    """

    name: GivenName
    downlink_hz: Real | None = Field(default=None, ge=LOWEST_HZ, le=HIGHEST_HZ)
    uplink_hz: Real | None = Field(default=None, ge=LOWEST_HZ, le=HIGHEST_HZ)
    mode: Name = ""
    bandwidth_hz: Real | None = Field(default=None, ge=1.0, le=1e9)
    inverting: bool = False
    tone_hz: Real | None = Field(default=None, ge=20.0, le=5000.0)
    status: Name = ""
    status_date: str | None = None
    notes: Line = ""

    @field_validator("status_date")
    @classmethod
    def _a_day(cls, value: str | None) -> str | None:
        if value is None:
            return None
        try:
            return date.fromisoformat(value.strip()).isoformat()
        except ValueError:
            raise ValueError(f"must be a day such as 2026-11-27, not {value!r}") from None

    @property
    def is_off(self) -> bool:
        """Its status says that nothing is to be heard."""
        return self._plain_status in _OFF

    @property
    def told_status(self) -> str:
        """Its status where it is more than that it works."""
        return "" if self._plain_status in _ON else self.status

    @property
    def _plain_status(self) -> str:
        return self.status.casefold().strip(" .!")
