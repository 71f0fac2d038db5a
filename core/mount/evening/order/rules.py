"""What the order of an evening keeps to, which passes are wanted, and where the mount starts from."""

from dataclasses import dataclass

from pydantic import Field

from core.base.model import Model, Real
from core.mount.evening.joining import AxisAngles
from core.mount.model.station import Posture

#: The mount is not sent to its idle place to stand there for less.
LEAST_IDLE_S = 30.0
#: Contacts start and end on multiples of this (POSIX), or where what can be had of the pass does.
GRID_S = 5.0


class EveningRules(Model):
    """What the order of the evening keeps to.

    Between contacts there is at least ``move_margin_s`` beside the move itself. Seconds of one contact beyond
    ``enough_s`` count a tenth. Going over to another satellite costs ``change_cost_s`` of signal, to the
    other posture ``posture_change_cost_s``, and a full turn of the azimuth motor ``turn_cost_s``.

    The mount waits where the next contact starts, or where
    ``idle_m_deg`` is given goes there, elevation level, whenever the gap has room for both moves, the margin
    and half a minute to stand there. It is stowed at ``stow_elevation_deg`` after the last contact where that
    is given.
    """

    move_margin_s: Real = Field(default=0.0, ge=0.0, le=600.0)
    enough_s: Real = Field(default=900.0, gt=0.0, le=86400.0)
    change_cost_s: Real = Field(default=0.0, ge=0.0, le=600.0)
    posture_change_cost_s: Real = Field(default=60.0, ge=0.0, le=600.0)
    turn_cost_s: Real = Field(default=5.0, ge=0.0, le=600.0)
    idle_m_deg: Real | None = Field(default=None, ge=-360.0, le=1440.0)
    stow_elevation_deg: Real | None = Field(default=None, ge=-360.0, le=360.0)


@dataclass(frozen=True)
class Wanted:
    """A pass somebody wants: its index among the checks, its worth, the way (posture, turn) insisted on."""

    index: int
    worth: float
    way: tuple[Posture, int] | None = None


@dataclass(frozen=True)
class MountStart:
    """Where the mount stands when the evening begins, and from when on (POSIX seconds) it can move."""

    axes: AxisAngles
    utc_s: float
