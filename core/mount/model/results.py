"""What the mount's computations hand on: ways, pointing, verdicts, moves. Frozen; arrays are numpy."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats
from core.mount.model.station import Posture
from core.passes.track import Pass

Change = Literal[
    "keyway_bearing_deg",
    "azimuth.travel_deg",
    "azimuth.rate_deg_s",
    "elevation.maximum_deg",
    "elevation.minimum_deg",
]


class Verdict(StrEnum):
    """What becomes of a pass, the least trouble first.

    Arrays hold a verdict's `code`, its place in this order. The first four are also the means by which a pass
    can be worked, and the rows of arrays of seconds lost.
    """

    UPRIGHT = "upright"
    OVER_THE_TOP = "over the top"
    SPLIT = "split"
    PART = "part"
    OUT_OF_REACH = "out of reach"

    @property
    def code(self) -> int:
        """What stands for it in arrays."""
        return VERDICTS.index(self)


#: By code.
VERDICTS = tuple(Verdict)
#: Those without one way that holds all through.
NOT_HELD = (Verdict.SPLIT, Verdict.PART, Verdict.OUT_OF_REACH)
#: Verdicts in an array, `Verdict.code` each.
VerdictCodes = NDArray[np.int8]

#: Held in one stretch, the seconds add up to the span; a longer span has a time off the guard in between.
_BETWEEN_S = 5.0


@dataclass(frozen=True)
class Way:
    """A posture and a turn in which a pass can be followed.

    Attributes:
        posture: upright or over the top.
        turn: floor(m at AOS / 360), m being the satellite's: a pass that begins by resting on the
            counter-clockwise guard is in turn -1, so that no two ways of a pass share a turn.
        clear: never touches the guards nor the elevation limits.
        rests: holds by resting at a guard or limit, the satellite staying inside the beam.
        m_min_deg, m_max_deg: least and greatest mechanical azimuth of the pointing, after resting; the axis'
            own, which may be far from the satellite's where it is too slow for it.
        e_min_deg, e_max_deg: least and greatest elevation axis angle of the pointing, after resting.
        m_aos_deg, m_los_deg: mechanical azimuth of the pointing at AOS and LOS.
        e_aos_deg, e_los_deg: elevation axis angle at AOS and LOS.
        peak_azimuth_rate_deg_s: fastest the azimuth axis would have to turn, unsigned.
        seconds_lost: seconds over the mask with the satellite outside the beam, rates counted.
        margin_deg: least distance of m from the guards; where it rests, minus how far the satellite's goes
            past them.
        rest: where and how it rests, or None.
    """

    posture: Posture
    turn: int
    clear: bool
    rests: bool
    m_min_deg: float
    m_max_deg: float
    e_min_deg: float
    e_max_deg: float
    m_aos_deg: float
    m_los_deg: float
    e_aos_deg: float
    e_los_deg: float
    peak_azimuth_rate_deg_s: float
    seconds_lost: float
    margin_deg: float
    rest: Rest | None = None


@dataclass(frozen=True)
class Rest:
    """Holding at a guard or an elevation limit while the satellite stays inside the beam.

    Attributes:
        where: "counter-clockwise stop", "clockwise stop", "elevation minimum" or "elevation maximum".
        start_utc_s, end_utc_s: first and last moment of holding.
        seconds: time held in all.
        overrun_deg: how far the satellite's angle goes past the guard or limit, on that axis.
        off_deg: worst angle between boresight and satellite on the sky.
        loss_db: what that costs on the narrowest antenna.
    """

    where: str
    start_utc_s: float
    end_utc_s: float
    seconds: float
    overrun_deg: float
    off_deg: float
    loss_db: float

    @property
    def comes_off(self) -> bool:
        """It is there more than once: the satellite comes back inside in between."""
        return self.end_utc_s - self.start_utc_s > self.seconds + _BETWEEN_S


@dataclass(frozen=True, eq=False)
class Pointing:
    """Where the axes are along a pass, in the way the verdict chose.

    Attributes:
        utc_s: (N,) from AOS to LOS.
        m_deg: (N,) mechanical azimuth, inside the guards.
        e_deg: (N,) elevation axis angle.
        off_deg: (N,) angle between boresight and satellite.
        worked: (N,) bool: over the mask and inside what is worked.
        moving: (N,) bool: leaving the satellite in a split's move.
    """

    utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    off_deg: Floats
    worked: Flags
    moving: Flags


@dataclass(frozen=True)
class Split:
    """One move in mid-pass.

    Attributes:
        start_utc_s, end_utc_s: the move, from leaving the satellite to being on it again.
        from_posture, from_turn, to_posture, to_turn: the two ways.
        m_from_deg, m_to_deg: mechanical azimuth when it starts and when it is back on the satellite.
        kind: "full turn" or "change of posture".
        stop_met, stop_met_utc_s, lost_waiting_s: where it is best to leave before a guard is met: which,
            when that would be, and what leaving only then would lose; else None.
        settling_utc_s: from when on both axes are there but settle, which does not count; None where there is
            no settling.
        absences: stretches off the beam before the move and after it, (from, to) in POSIX seconds, each a
            second or longer.
    """

    start_utc_s: float
    end_utc_s: float
    from_posture: Posture
    from_turn: int
    to_posture: Posture
    to_turn: int
    m_from_deg: float
    m_to_deg: float
    kind: str
    stop_met: str | None = None
    stop_met_utc_s: float | None = None
    lost_waiting_s: float | None = None
    settling_utc_s: float | None = None
    absences: tuple[tuple[float, float], ...] = ()

    @property
    def back_utc_s(self) -> float:
        """When the satellite is in the beam again: the axes may be there before it comes down to them."""
        later = (end for start, end in self.absences if abs(start - self.end_utc_s) < 1.0)
        return next(later, self.end_utc_s)


@dataclass(frozen=True)
class Part:
    """Working a pass in one way that does not hold it, and letting the rest go.

    Attributes:
        start_utc_s, end_utc_s: first and last on the beam, POSIX seconds.
        posture, turn: the way.
        absences: stretches off the beam between, (from, to) in POSIX seconds, each a second or longer.
    """

    start_utc_s: float
    end_utc_s: float
    posture: Posture
    turn: int
    absences: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class Cure:
    """The least single change that would make the pass upright or over the top.

    Attributes:
        change: key path below ``mount`` in the plan.
        by_deg: signed amount to add (deg/s for a rate).
        to_value: the value it then has (a bearing wrapped to 0..360).
        rests: cured, the pass is held by resting.
    """

    change: Change
    by_deg: float
    to_value: float
    rests: bool = False


@dataclass(frozen=True)
class Strike:
    """Where a way comes nearest to what it would strike.

    Attributes:
        posture, turn: the way that is refused.
        utc_s: when it is nearest; where it touches, the first moment.
        boom_from_keyway_deg: bearing of the boom from the keyway then, 0 to 360.
        m_deg, e_deg: the axes then.
        turning, standing: what comes too near to what.
        gap_mm, wanted_mm: the gap there and the least one stated; where the gap is the greater it is too near
            to tell, by the steps in which it is reckoned.
    """

    posture: Posture
    turn: int
    utc_s: float
    boom_from_keyway_deg: float
    m_deg: float
    e_deg: float
    turning: str
    standing: str
    gap_mm: float
    wanted_mm: float


@dataclass(frozen=True)
class Crossing:
    """The moment a track meets a stop's guard or an elevation limit.

    Attributes:
        utc_s: when.
        stop: "counter-clockwise stop", "clockwise stop", "elevation minimum" or "elevation maximum".
        bearing_deg: true azimuth of the satellite then.
        m_deg, e_deg: mechanical azimuth and elevation axis angle then.
        short_deg: how many degrees past the guard the pass goes (on that axis).
        posture, turn: the way it was found in.
        coming_off: it begins past it and is met coming back inside.
    """

    utc_s: float
    stop: str
    bearing_deg: float
    m_deg: float
    e_deg: float
    short_deg: float
    posture: Posture
    turn: int
    coming_off: bool = False


@dataclass(frozen=True, eq=False)
class PassCheck:
    """One pass on the mount.

    Attributes:
        pass_: the pass.
        ways: every way that is clear or holds by resting; upright first, then by turn.
        verdict: what becomes of it.
        resting: the chosen way rests.
        seconds_lost: seconds over the mask off the beam as the verdict does it.
        seconds_in_all: seconds over the mask.
        chosen: the way followed throughout; None for a split, a part and out of reach.
        pointing: the axes along the pass as the verdict does it; None when out of reach.
        split, part: details where the verdict is that.
        crossing: where a part's own way, else the turn that comes furthest in the posture the pass is worked
            in, or in either, meets a stop or limit; None for passes with a way.
    """

    pass_: Pass
    ways: tuple[Way, ...]
    verdict: Verdict
    resting: bool
    seconds_lost: float
    seconds_in_all: float
    chosen: Way | None
    pointing: Pointing | None
    split: Split | None = None
    part: Part | None = None
    crossing: Crossing | None = None

    @property
    def verdict_words(self) -> str:
        """The verdict, with "resting" where it rests."""
        return f"{self.verdict}, resting" if self.resting else self.verdict

    @property
    def clear_postures(self) -> tuple[Posture, ...]:
        """Postures that have a clear way, upright first."""
        return tuple(dict.fromkeys(way.posture for way in self.ways if way.clear))


class Topic(Enum):
    """What a sentence of a reason tells."""

    CROSSING = "where a stop or limit is met"
    STRIKE = "what a way would strike"
    WAY = "the way followed, from dial to dial"
    REST = "where it rests, or how far off the guards it keeps"
    RATE = "what the axes' motion costs"
    DONE = "how a pass that no way holds is worked"
    WAITING = "what waiting for the stop would lose"
    WORKED = "how much of it a contact works"
    CURE = "the least change that would let it through"


@dataclass(frozen=True)
class Sentence:
    """One topic of a reason in words; ``text`` ends with its full stop."""

    topic: Topic
    text: str


@dataclass(frozen=True)
class Reason:
    """Why a verdict is what it is: sentences in reading order, and the cure where the pass has no way.

    ``strikes`` are all ways that are refused since they would strike something, told in sentences or not.

    The sentences stay apart until they are shown: a contact that works a pass in another way than the verdict
    replaces those on what is done, and finished text cannot be cut at full stops ("1.5 deg." has two).
    """

    sentences: tuple[Sentence, ...] = ()
    cure: Cure | None = None
    strikes: tuple[Strike, ...] = ()

    @property
    def text(self) -> str:
        """All of it."""
        return " ".join(one.text for one in self.sentences)

    def without(self, *topics: Topic) -> tuple[Sentence, ...]:
        """The sentences on anything else."""
        return tuple(one for one in self.sentences if one.topic not in topics)
