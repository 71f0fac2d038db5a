"""What checklist and kit are told of the station: plain figures, since they know no plan, plate or stand."""

from __future__ import annotations

from dataclasses import dataclass

from core.mount.model.station import Antenna, Mount
from core.setup.methods import MethodName


@dataclass(frozen=True)
class Tightened:
    """Screws of one kind: what for, how many, their thread, the torque. ``given``: typed, not reckoned."""

    what: str
    count: int
    thread: str
    torque_nm: float
    given: bool


@dataclass(frozen=True)
class NearBy:
    """What is near by.

    ``clear``: no part of the station comes to it, falling or turning, and it hangs over no part of the ground
    that the station could fall on.
    """

    name: str
    distance_m: float
    height_m: float
    clear: bool


@dataclass(frozen=True)
class Holding:
    """What holds the stand, as far as the plan has one.

    Attributes:
        guys: how many. pegs_n: the greatest pull of one, 0 without guys.
        ballast_kg: wanted in the wind reckoned with; None where none helps, 0 where none is needed.
        stakes_n: the greatest pull of a stake; 0 where none is needed.
        hung: names of what hangs from the tripod.
        wind: the wind reckoned with, in words.
    """

    guys: int = 0
    pegs_n: float = 0.0
    ballast_kg: float | None = 0.0
    stakes_n: float = 0.0
    hung: tuple[str, ...] = ()
    wind: str = ""


@dataclass(frozen=True)
class StationFacts:
    """The station of a plan, tonight.

    Attributes:
        mount, antennas: as planned.
        keyway_magnetic_deg: by the compass.
        highest_m: the highest that a boom's end reaches; None where no length is typed.
        near: what is typed of the surroundings.
        screws: the plate's, empty without one.
        holding: None without a stand.
        first: the first contact's start in words, with its dials; empty without a contact.
        north: by what north is sighted in time.
        landmarks: their names.
        compass, level: a compass, an inclinometer is read in this plan.
        after_dark: something is worked or set up after sunset.
    """

    mount: Mount
    antennas: tuple[Antenna, ...]
    keyway_magnetic_deg: float
    highest_m: float | None = None
    near: tuple[NearBy, ...] = ()
    screws: tuple[Tightened, ...] = ()
    holding: Holding | None = None
    first: str = ""
    north: MethodName | None = None
    landmarks: tuple[str, ...] = ()
    compass: bool = False
    level: bool = False
    after_dark: bool = True
