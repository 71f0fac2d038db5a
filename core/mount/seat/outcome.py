"""How the studied passes fare at one seat: what becomes of each, from the study's table or from checks.

The checks of a seat are exact and take seconds; the study's table answers within a millisecond, is good to
some 0.4 s, and knows no correction from sightings. So a keyway in motion is told of from the table, and a
seat that has been worked out from its checks. Both give the same noun, so that nobody has to ask which it was
but for the word "about".
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from core.mount.model.chain import fixed_offset_deg, zeta_deg
from core.mount.model.results import VERDICTS, PassCheck, Verdict
from core.mount.model.station import POSTURES, Mount
from core.mount.seat.losses.table import verdicts_at
from core.mount.seat.study import SeatStudy
from core.passes.track import Pass

#: Losses below this are not told, seconds.
NOTHING_S = 0.5


@dataclass(frozen=True)
class PassAtSeat:
    """One pass at one seat.

    Attributes:
        index: into the passes studied.
        verdict: what becomes of it.
        resting: in a way that rests.
        clear: it has a clear way.
        lost_s: seconds lost.
    """

    index: int
    verdict: Verdict
    resting: bool
    clear: bool
    lost_s: float

    @property
    def held(self) -> bool:
        """Followed all through, upright or over the top, and so without turning back."""
        return self.verdict in POSTURES

    @property
    def harmless(self) -> bool:
        """It is held and nothing is lost, though it may rest."""
        return self.held and self.lost_s < NOTHING_S


@dataclass(frozen=True)
class SeatOutcome:
    """All studied passes at one seat.

    Attributes:
        passes: in the study's order.
        exact: from the checks of this very seat; else looked up in the study.
    """

    passes: tuple[PassAtSeat, ...]
    exact: bool

    @property
    def not_clear(self) -> int:
        """How many have no clear way."""
        return sum(not here.clear for here in self.passes)

    @property
    def held(self) -> int:
        """How many are followed all through."""
        return sum(here.held for here in self.passes)

    @property
    def in_reach(self) -> int:
        """How many are worked at all."""
        return sum(here.verdict != Verdict.OUT_OF_REACH for here in self.passes)

    @property
    def lost_s(self) -> float:
        """Seconds lost in all."""
        return sum(here.lost_s for here in self.passes)

    @property
    def troubled(self) -> tuple[PassAtSeat, ...]:
        """Those that lose something, first, then those that only rest; each by time."""
        marked = [here for here in self.passes if not here.clear or here.resting or not here.harmless]
        return tuple(sorted(marked, key=lambda here: (here.harmless, here.index)))


def outcome_from_study(study: SeatStudy, zeta_deg: float, hole: str | None = None) -> SeatOutcome:
    """How the passes fare with boresight at ``zeta_deg`` on the counter-clockwise stop.

    ``hole`` is the one in use there; left out, the one that was in use when it was studied.
    """
    seen = verdicts_at(study.table if hole is None else study.table_of(hole), zeta_deg)
    columns = zip(seen.verdict_code, seen.resting, seen.clear, seen.lost_s, strict=True)
    return SeatOutcome(
        tuple(
            PassAtSeat(index, VERDICTS[code], bool(rests), bool(clear), float(lost_s))
            for index, (code, rests, clear, lost_s) in enumerate(columns)
        ),
        exact=False,
    )


PassId = tuple[int, float]


def pass_id(pass_: Pass) -> PassId:
    """Names a pass within one evening: catalogue number and AOS."""
    return pass_.norad_id, pass_.aos.utc_s


def outcome_from_checks(passes: tuple[Pass, ...], checks: Mapping[PassId, PassCheck]) -> SeatOutcome | None:
    """How the passes fare by the checks of this seat; None where one of those studied has none."""
    found = [checks.get(pass_id(pass_)) for pass_ in passes]
    here = tuple(
        PassAtSeat(index, check.verdict, check.resting, bool(check.clear_postures), check.seconds_lost)
        for index, check in enumerate(found)
        if check is not None
    )
    return SeatOutcome(here, exact=True) if len(here) == len(found) else None


def not_clear_needlessly(study: SeatStudy, mount: Mount) -> int:
    """How many studied passes are not clear where the mount stands, if the best seat has fewer; else 0."""
    best = study.best.keyway_bearing_deg + fixed_offset_deg(mount, study.hole_of_best.hole)
    here = int((~verdicts_at(study.table_of(mount.index_hole), zeta_deg(mount)).clear).sum())
    return here if int((~verdicts_at(study.hole_of_best.table, best).clear).sum()) < here else 0
