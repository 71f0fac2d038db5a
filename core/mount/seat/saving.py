"""What turning the keyway to the study's best saves against the seat as it stands, counted in passes.

A pass is *held* where it is followed all through, upright or over the top, and so needs no turning back; it
is *in reach* where it is worked at all. The best has fewest out of reach first, so that in rare evenings it
holds fewer passes than the seat as it stands and works more.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.mount.dial.summary import CorrectionState, correction_state
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import Verdict
from core.mount.model.station import Mount
from core.mount.seat.choice import SeatLimit, forbidding
from core.mount.seat.outcome import Standing, looked_up
from core.mount.seat.study import SeatStudy


@dataclass(frozen=True)
class Fare:
    """How the studied passes fare at one seat: how many are held, how many are in reach, seconds lost."""

    held: int
    in_reach: int
    lost_s: float


@dataclass(frozen=True)
class Saving:
    """The seat as it stands beside the best.

    Attributes:
        keyway_bearing_deg, index_hole: the best seat, as it is told.
        present_deg, hole_in_use: the seat as it stands.
        passes: how many were studied.
        here, there: how they fare at the seat as it stands and at the best.
        at_best: it stands there already.
        all_forbidden: every bearing is forbidden, and the best is told as if none were.
        forbidden_here: the forbidden arcs the keyway lies in as it stands.
        correction: whether tonight's correction holds for the seat as it stands.
    """

    keyway_bearing_deg: float
    index_hole: str
    present_deg: float
    hole_in_use: str
    passes: int
    here: Fare
    there: Fare
    at_best: bool
    all_forbidden: bool
    forbidden_here: tuple[SeatLimit, ...]
    correction: CorrectionState

    @property
    def saved(self) -> int:
        """Passes that need no turning back at the best and do as it stands; negative where it holds fewer."""
        return self.there.held - self.here.held


def fare(standing: Standing) -> Fare:
    """The sums of a standing."""
    return Fare(
        held=sum(here.held for here in standing.passes),
        in_reach=sum(here.word != Verdict.OUT_OF_REACH for here in standing.passes),
        lost_s=standing.lost_s,
    )


def fare_at_best(study: SeatStudy, mount: Mount, best_bearing_deg: float) -> Fare:
    """How the passes fare at the best seat, its bearing as it is told."""
    hole = next(hole for hole in mount.index_holes if hole.name == study.best.index_hole)
    return fare(looked_up(study, best_bearing_deg + fixed_offset_deg(mount, hole)))


def saving(
    study: SeatStudy,
    mount: Mount,
    best_bearing_deg: float,
    standing: Standing,
    there: Fare,
    limits: tuple[SeatLimit, ...] = (),
) -> Saving:
    """What the best of a study saves.

    Args:
        study: of the seat.
        mount: as it stands.
        best_bearing_deg: the best seat's bearing as it is told (`core.mount.seat.outcome.best_bearing_deg`).
        standing: how the studied passes fare as it stands.
        there: how they fare at the best (`fare_at_best`).
        limits: the plan's forbidden arcs.
    """
    best = study.best
    same_bearing = round(mount.keyway_bearing_deg, 1) % 360.0 == round(best_bearing_deg, 1) % 360.0
    at_best = same_bearing and mount.index_hole == best.index_hole
    return Saving(
        keyway_bearing_deg=best_bearing_deg,
        index_hole=best.index_hole,
        present_deg=mount.keyway_bearing_deg,
        hole_in_use=mount.index_hole,
        passes=len(study.passes),
        here=fare(standing),
        there=fare(standing) if at_best else there,
        at_best=at_best,
        all_forbidden=best.forbidden,
        forbidden_here=forbidding(mount.keyway_bearing_deg, limits),
        correction=correction_state(mount),
    )
