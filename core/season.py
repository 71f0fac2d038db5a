"""The season: a plan's hours repeated day after day, asked before a hole is drilled in the adapter.

A study beside the evaluation: memoised alike, cancellable.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.base.errors import PropagationError, ValueRangeError
from core.base.memo import Memo
from core.base.units import Progress, no_progress
from core.elements.model import ElementSet
from core.mount.model.station import Mount, Tilt
from core.mount.seat.limits import SeatLimit
from core.mount.seat.season.evenings import SeasonPasses, Standing, Window, find_season, not_clear_of
from core.mount.seat.season.study import SeasonQuestion, SeasonStudy, study_season
from core.place.local_hours import repeated
from core.place.site import Site
from core.place.zones import resolve_time_zone
from core.plan.document import Plan

#: Beyond so many days precession itself is no longer known.
MOST_DAYS = 1100


@dataclass(frozen=True, eq=False)
class Season:
    """A season of a plan.

    Attributes:
        days: how many days the hours were repeated on.
        zone: the time zone whose clocks they go by.
        windows: start and end of each evening, POSIX seconds.
        refused: satellites that could not be followed.
        study: the answer.
    """

    days: int
    zone: str
    windows: tuple[Window, ...]
    refused: tuple[PropagationError, ...]
    study: SeasonStudy


def study_plan(
    plan: Plan,
    days: int,
    question: SeasonQuestion | None = None,
    memo: Memo | None = None,
    progress: Progress = no_progress,
) -> Season:
    """The season of a plan: its satellites, site and mount, its local hours on so many days from its own on.

    Args:
        plan: picks and rules of the evening do not enter.
        days: 2 to 1100.
        question: what is asked; left out, of every keyway bearing alike.
        memo: the document owner's memo; without one everything is computed.
        progress: called with the number of evenings done, then while holes are placed.

    Raises:
        Cancelled: ``progress`` returned False.
        NorthkeyError: fewer than two evenings have passes.
        ValueRangeError: so many days cannot be asked for, or the time zone does not exist.
    """
    if not 2 <= days <= MOST_DAYS:
        raise ValueRangeError("days", days, f"2 to {MOST_DAYS}")
    memo = Memo() if memo is None else memo
    zone = resolve_time_zone(plan.site)
    windows = tuple(repeated(plan.evening.start_utc_s, plan.evening.end_utc_s, days, zone))
    sets = tuple(one.elements.model_copy(update={"name": one.name}) for one in plan.satellites)
    standing = None
    if plan.clearance is not None and plan.clearance.keep_out.any:
        standing = Standing(plan.clearance, plan.mount.elevation)
    passes = memo.call(
        "season passes", _passes, sets, plan.site, plan.mount.tilt, windows, standing, progress=progress
    )
    study = memo.call(
        "season",
        _study,
        passes,
        days,
        without_seat(plan.mount),
        SeasonQuestion() if question is None else question,
        plan.seat_limits,
        progress=progress,
    )
    return Season(days, zone, windows, passes.refused, study)


def without_seat(mount: Mount) -> Mount:
    """What a season is asked of: equal wherever the mount is seated, so a turned keyway finds it studied."""
    first = mount.index_holes[0].name
    no_seat = {"keyway_bearing_deg": 0.0, "index_hole": first, "sighting_correction": None}
    return mount.model_copy(update=no_seat)


def _passes(
    sets: tuple[ElementSet, ...],
    site: Site,
    tilt: Tilt,
    windows: tuple[Window, ...],
    standing: Standing | None,
    progress: Progress,
) -> SeasonPasses:
    return find_season(sets, site, tilt, windows, progress, standing)


def _study(
    passes: SeasonPasses,
    days: int,
    mount: Mount,
    question: SeasonQuestion,
    limits: tuple[SeatLimit, ...],
    progress: Progress,
) -> SeasonStudy:
    return study_season(not_clear_of(passes, days, mount), mount, question, limits, progress)
