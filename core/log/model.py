"""What the operator noted of one contact."""

from pydantic import Field, field_validator

from core.base.model import Model, Real
from core.base.text import Remark
from core.base.times import canonical_time

#: More are a mistake, or an attack.
MOST_LOG = 2000


class LogEntry(Model):
    """One contact as it was: of the pass of this satellite whose peak is nearest to ``near``.

    ``worked`` is None where nobody noted it. The dials are those at the best signal, as the controller showed
    them, at ``time`` (None: at the peak of the pass); ``time_round`` says which of the places with one
    azimuth figure was meant, 1 for the first from the counter-clockwise stop. Nothing is computed from it.
    """

    norad_id: int = Field(ge=1, le=999_999_999)
    near: str
    worked: bool | None = None
    azimuth_dial_deg: Real | None = Field(default=None, ge=-3600.0, le=3600.0)
    elevation_dial_deg: Real | None = Field(default=None, ge=-3600.0, le=3600.0)
    time: str | None = None
    time_round: int | None = Field(default=None, ge=1, le=1000)
    last_heard: str | None = None
    note: Remark = ""

    @field_validator("near", "time", "last_heard")
    @classmethod
    def _canonical(cls, value: str | None) -> str | None:
        return None if value is None else canonical_time(value)

    @property
    def has_a_dial(self) -> bool:
        """One of the dials was read."""
        return self.azimuth_dial_deg is not None or self.elevation_dial_deg is not None

    @property
    def says_nothing(self) -> bool:
        """A line that was left empty."""
        told = (self.worked, self.azimuth_dial_deg, self.elevation_dial_deg, self.time, self.last_heard)
        return not self.note and all(value is None for value in told)
