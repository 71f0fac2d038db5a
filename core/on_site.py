"""Setting up on site: a study of a plan at a moment, beside the evaluation; memoised alike, cancellable."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.errors import Cancelled
from core.base.memo import Memo
from core.base.units import Progress, no_progress
from core.evaluate import Result
from core.mount.evening.results import EveningOrder
from core.mount.model.station import OVER_THE_TOP, Mount, Station
from core.place.declination import Declination, declination_deg
from core.place.site import Site
from core.place.zones import resolve_time_zone, utc_offset_s
from core.plan.document import Plan
from core.plan.north_field import named_sets, north_field
from core.setup.budget.answer import PointingBudget
from core.setup.budget.budget import pointing_budget
from core.setup.budget.terms.fitted import absorbed_by
from core.setup.budget.terms.term import Absorbed, North
from core.setup.budget.worked import worked_pass
from core.setup.grid import GridNorth, grid_north
from core.setup.level import Level, Shim, level_of, shims
from core.setup.methods import Method, best_method, methods_at
from core.setup.minutes import Minutes, by_the_minute
from core.setup.model import PointingErrors
from core.setup.sightings.answer import SightingFit
from core.setup.sightings.fit import fit_sightings
from core.setup.sightings.question import Question
from core.setup.words import method_name

#: So long before the evening the station is set up, where nobody says when.
BEFORE_EVENING_S = 3600.0
#: The sky is told for so many minutes from the moment on.
_MINUTES = 120


@dataclass(frozen=True, eq=False)
class OnSite:
    """What setting up has to go by.

    Attributes:
        at_utc_s: the moment, POSIX seconds.
        methods: the ways to true north then.
        best: the best of them, None where none is possible.
        minutes: Sun, Moon and Polaris for two hours from then on.
        declination, grid: magnetic and map north.
        level: the plate's lean, None where the readings do not say.
        shims: what to put under the legs; empty where they are not written down.
        fit: what the sightings say; None without sightings in use.
        budget: of the evening's contacts; None where the evening was not handed in.
    """

    at_utc_s: float
    methods: tuple[Method, ...]
    best: Method | None
    minutes: tuple[Minutes, ...]
    declination: Declination
    grid: GridNorth | None
    level: Level | None
    shims: tuple[Shim, ...]
    fit: SightingFit | None
    budget: PointingBudget | None


def usual_moment(plan: Plan) -> float:
    """When the station is set up, POSIX seconds: an hour before the evening."""
    return plan.evening.start_utc_s - BEFORE_EVENING_S


def set_up(
    plan: Plan,
    at_utc_s: float,
    memo: Memo | None = None,
    progress: Progress = no_progress,
    result: Result | None = None,
) -> OnSite:
    """What there is to go by at a moment.

    Args:
        plan: with what was written down so far.
        at_utc_s: POSIX seconds.
        memo: the document owner's memo; without one everything is computed.
        progress: called between the stages.
        result: the plan's evening, for the budget of its contacts.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    memo = Memo() if memo is None else memo
    level = _level(plan, memo)
    fit = _fit(plan, level, memo)
    methods = memo.call("north methods", methods_at, north_field(plan, level), at_utc_s)
    minutes = memo.call("sky by the minute", _minutes, plan.site, plan.mount, at_utc_s, progress=progress)
    best = best_method(methods)
    return OnSite(
        at_utc_s=at_utc_s,
        methods=methods,
        best=best,
        minutes=minutes,
        declination=declination_deg(plan.site, at_utc_s),
        grid=grid_north(plan.site),
        level=level,
        shims=_shims(plan, level),
        fit=fit,
        budget=None if result is None else _budget(plan, result, (best, fit), memo, progress),
    )


def _budget(
    plan: Plan,
    result: Result,
    found: tuple[Method | None, SightingFit | None],
    memo: Memo,
    progress: Progress,
) -> PointingBudget:
    best, fit = found
    if not progress(0, 1, "pointing budget"):
        raise Cancelled
    north = None
    if best is not None and best.sigma_deg is not None:
        north = North(best.sigma_deg, method_name(best))
    ages = {norad_id: days for _name, norad_id, days in result.element_ages}
    return memo.call(
        "pointing budget",
        _budget_of,
        result.order,
        tuple(ages.items()),
        plan.station,
        plan.pointing,
        north,
        None if fit is None else _absorbed(plan, fit),
    )


def _absorbed(plan: Plan, fit: SightingFit) -> Absorbed | None:
    """What the fit takes from the budget; sighted along the boom of the narrowest antenna, as it is told."""
    kept = [one for index, one in enumerate(plan.sightings) if index in fit.kept]
    if not kept:
        return None
    over = sum(one.posture == OVER_THE_TOP for one in kept) * 2 > len(kept)
    boom = min(plan.antennas, key=lambda antenna: antenna.beamwidth_deg)
    return absorbed_by(fit.names, fit.covariance, boom.name, over)


def fit_of(plan: Plan, memo: Memo) -> SightingFit | None:
    """What the plan's sightings say; None without sightings in use."""
    return _fit(plan, _level(plan, memo), memo)


def _level(plan: Plan, memo: Memo) -> Level | None:
    errors = plan.pointing
    return memo.call("level", level_of, plan.level_readings, errors.level_deg, errors.level_zero_deg)


def _fit(plan: Plan, level: Level | None, memo: Memo) -> SightingFit | None:
    if not any(one.used for one in plan.sightings):
        return None
    start_utc_s = plan.evening.start_utc_s
    question = Question(
        mount=plan.mount,
        beamwidth_deg=plan.station.narrowest_deg,
        site=plan.site,
        sightings=plan.sightings,
        landmarks=plan.landmarks,
        sets=named_sets(plan),
        errors=plan.pointing,
        level=level,
        declination_deg=declination_deg(plan.site, start_utc_s).deg,
        zone_offset_s=utc_offset_s(start_utc_s, resolve_time_zone(plan.site)),
    )
    return memo.call("sightings", fit_sightings, question)


def _budget_of(
    order: EveningOrder,
    ages: tuple[tuple[int, float], ...],
    station: Station,
    errors: PointingErrors,
    north: North | None,
    absorbed: Absorbed | None,
) -> PointingBudget:
    """The budget of what the evening works."""
    days = dict(ages)
    worked = [
        worked_pass(one.check, days[one.check.pass_.norad_id], (one.start_utc_s, one.end_utc_s))
        for one in order.contacts
    ]
    some = [one for one in worked if one is not None]
    return pointing_budget(station, some, errors, north, absorbed)


def _minutes(site: Site, mount: Mount, at_utc_s: float, progress: Progress) -> tuple[Minutes, ...]:
    if not progress(0, 1, "Sun, Moon and Polaris"):
        raise Cancelled
    return by_the_minute(site, mount, at_utc_s + 60.0 * np.arange(_MINUTES, dtype=float))


def _shims(plan: Plan, level: Level | None) -> tuple[Shim, ...]:
    if level is None or plan.clearance is None:
        return ()
    legs = [(leg.from_keyway_deg, leg.radius_mm) for leg in plan.clearance.legs]
    return shims(level, plan.mount.keyway_bearing_deg, legs)
