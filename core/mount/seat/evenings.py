"""The evening that would be worked at other seats: what it is worth, told at one bearing after the other.

Over zeta, since another hole only turns the adapter.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Floats, Indices, wrap_180, wrap_360
from core.base.errors import Cancelled
from core.base.units import INSIDE_DEG, Progress, no_progress
from core.mount.check.verdict import check_passes
from core.mount.evening.evening import order_evening
from core.mount.evening.order.joined import joined_tracks
from core.mount.evening.question import EveningQuestion
from core.mount.evening.results import EveningOrder
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import OVER_THE_TOP
from core.mount.seat.study import know_to_deg, seated


@dataclass(frozen=True, eq=False)
class EveningCurve:
    """The evening at M candidates, rising in zeta.

    Attributes:
        zeta_deg: (M,) true bearing of boresight on the counter-clockwise stop.
        worth_s, signal_s: (M,) what the evening is worth, and its seconds of signal, not weighted.
        lost_s: (M,) seconds of its contacts' passes over the mask and off the beam or not worked.
        contacts, turned_back, over_the_top: (M,) how many contacts, with a move in mid-pass, over the top.
        know_to_deg: (M,) how well the keyway must be known.
    """

    zeta_deg: Floats
    worth_s: Floats
    signal_s: Floats
    lost_s: Floats
    contacts: Indices
    turned_back: Indices
    over_the_top: Indices
    know_to_deg: Floats

    def nearest(self, zeta_deg: float) -> int:
        """Index of the candidate nearest to a bearing."""
        return int(np.abs(wrap_180(self.zeta_deg - zeta_deg)).argmin())

    def off_deg(self, zeta_deg: Floats) -> Floats:
        """(Z,) how far each bearing (Z,) is off the nearest candidate."""
        zeta = wrap_360(zeta_deg)
        right = np.searchsorted(self.zeta_deg, zeta)
        beside = np.stack([right - 1, right % self.zeta_deg.size])
        return np.asarray(np.abs(wrap_180(self.zeta_deg[beside] - zeta)).min(axis=0))

    def and_more(self, more: EveningCurve) -> EveningCurve:
        """These candidates, and others."""
        order = np.argsort(np.concatenate([self.zeta_deg, more.zeta_deg]), kind="stable")
        pairs = {name: (getattr(self, name), getattr(more, name)) for name in self.__dataclass_fields__}
        return EveningCurve(**{name: np.concatenate(pair)[order] for name, pair in pairs.items()})

    def turned(self, by_deg: float) -> EveningCurve:
        """The same over bearings that are greater by so much."""
        bearing = wrap_360(self.zeta_deg + by_deg)
        order = np.argsort(bearing, kind="stable")
        columns = {name: getattr(self, name)[order] for name in self.__dataclass_fields__}
        return EveningCurve(**(columns | {"zeta_deg": bearing[order]}))


def evenings_at(question: EveningQuestion, zetas: Floats, progress: Progress = no_progress) -> EveningCurve:
    """The evening at each zeta (Z,), rising; those that touch are told once.

    Args:
        question: of the evening as the mount stands; what is wanted, rules and drive are kept.
        zetas: (Z,) any turn.
        progress: called per candidate.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    few, rows = wanted_alone(question), []
    rising = np.unique(wrap_360(zetas))
    rising = rising[np.diff(rising, prepend=-1.0) > INSIDE_DEG]
    for done, zeta in enumerate(rising.tolist()):
        if not progress(done, rising.size, "evenings of other seats"):
            raise Cancelled
        rows.append(_at(few, zeta, _within(progress, done, rising.size)))
    columns = {name: np.array([getattr(row, name) for row in rows]) for name in _At.__annotations__}
    return EveningCurve(zeta_deg=rising, **columns)


def with_candidates(
    curve: EveningCurve, question: EveningQuestion, zetas: Floats, progress: Progress = no_progress
) -> EveningCurve:
    """The curve with more candidates (Z,), each asked where it is not there yet; else as `evenings_at`."""
    fresh = zetas[curve.off_deg(zetas) > INSIDE_DEG]
    return curve.and_more(evenings_at(question, fresh, progress)) if fresh.size else curve


def _within(progress: Progress, done: int, total: int) -> Progress:
    """Inside one evening, which may take long: how many are done stays, and an end can be asked for."""
    return lambda _done, _total, _what: progress(done, total, "evenings of other seats")


def wanted_alone(question: EveningQuestion) -> EveningQuestion:
    """The question with the passes that are wanted, and no others; what is not wanted decides nothing."""
    if question.picks is None:
        return question
    kept = [want.index for want in question.picks]
    steered, reaches, station = question.steered, question.reaches, question.station
    tracks = tuple(question.tracks[i] for i in kept)
    followed = None if steered is None else tuple(steered[i] for i in kept)
    return replace(
        question,
        checks=tuple(question.checks[i] for i in kept),
        tracks=tracks,
        picks=tuple(replace(want, index=place) for place, want in enumerate(question.picks)),
        steered=followed,
        joined=None
        if followed is None
        else joined_tracks(tracks, followed, station.mount.elevation, station.beam_limit_deg),
        reaches=None if reaches is None else tuple(reaches[i] for i in kept),
    )


@dataclass(frozen=True)
class _At:
    """The evening at one candidate; fields as in `EveningCurve`."""

    worth_s: float
    signal_s: float
    lost_s: float
    contacts: int
    turned_back: int
    over_the_top: int
    know_to_deg: float


def _at(question: EveningQuestion, zeta: float, progress: Progress = no_progress) -> _At:
    order = evening_at(question, zeta, progress)
    checks = [contact.check for contact in order.contacts]
    lost_s = sum(check.seconds_lost for check in checks)
    return _At(
        worth_s=order.worth.worth_s,
        signal_s=sum(check.seconds_in_all for check in checks) - lost_s,
        lost_s=lost_s,
        contacts=len(checks),
        turned_back=turned_back_in(order),
        over_the_top=over_the_top_in(order),
        know_to_deg=know_to_deg(tuple(checks), question.station.beam_limit_deg),
    )


def evening_at(question: EveningQuestion, zeta: float, progress: Progress = no_progress) -> EveningOrder:
    """The evening with boresight, on the counter-clockwise stop, toward ``zeta``; no sighting taken yet.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    mount = question.station.mount
    hole = mount.index_holes[0]
    there = seated(mount, wrap_360(zeta - fixed_offset_deg(mount, hole)), hole.name)
    station = replace(question.station, mount=there)
    passes = tuple(check.pass_ for check in question.checks)
    checks = check_passes(passes, question.tracks, station, progress, question.steered, question.reaches)
    moved = replace(question, checks=checks, station=station, mount_start=None)
    return order_evening(moved, tuple(Reason() for _ in checks), progress=progress)


def turned_back_in(order: EveningOrder) -> int:
    """How many contacts of an evening have a move in mid-pass."""
    return sum(contact.check.split is not None for contact in order.contacts)


def over_the_top_in(order: EveningOrder) -> int:
    """How many contacts of an evening are worked over the top, all through or in part."""
    return sum(_is_over(contact.check) for contact in order.contacts)


def _is_over(check: PassCheck) -> bool:
    """The contact is worked over the top, a split where it begins so or ends so."""
    if check.split is not None:
        return OVER_THE_TOP in {check.split.from_posture, check.split.to_posture}
    if check.part is not None:
        return check.part.posture == OVER_THE_TOP
    return check.chosen is not None and check.chosen.posture == OVER_THE_TOP
