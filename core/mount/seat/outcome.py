"""How the studied passes fare at one seat, and the study's curve in the form it is drawn and read in."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, wrap_360
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import VERDICTS, PassCheck, Verdict
from core.mount.model.station import POSTURES, IndexHole, Mount
from core.mount.seat.choice import BestSeat
from core.mount.seat.study import HoleStudy, SeatStudy, glance
from core.passes.track import Pass

#: Losses below this are not told.
_NOTHING_S = 0.5


@dataclass(frozen=True)
class PassHere:
    """One pass at one seat.

    Attributes:
        index: into the passes studied.
        word: its verdict. resting: in a way that rests. clear: it has a clear way.
        lost_s: seconds lost.
    """

    index: int
    word: Verdict
    resting: bool
    clear: bool
    lost_s: float

    @property
    def held(self) -> bool:
        """Followed all through, upright or over the top."""
        return self.word in POSTURES


@dataclass(frozen=True)
class Standing:
    """All studied passes at one seat.

    Attributes:
        passes: in the study's order.
        exact: from the checks of this very seat; else looked up in the study.
    """

    passes: tuple[PassHere, ...]
    exact: bool

    @property
    def not_clear(self) -> int:
        """How many have no clear way."""
        return sum(not here.clear for here in self.passes)

    @property
    def lost_s(self) -> float:
        """Seconds lost in all."""
        return sum(here.lost_s for here in self.passes)

    @property
    def troubled(self) -> tuple[PassHere, ...]:
        """Those that lose something, first, then those that only rest; each by time."""
        marked = [p for p in self.passes if not p.clear or p.resting or not p.held or p.lost_s >= _NOTHING_S]
        return tuple(sorted(marked, key=lambda p: (p.held and p.lost_s < _NOTHING_S, p.index)))


def looked_up(study: SeatStudy, zeta_deg: float) -> Standing:
    """The standing at a seat from the study alone, fast enough for a keyway in motion."""
    seen = glance(study, zeta_deg)
    return Standing(
        tuple(
            PassHere(index, VERDICTS[code], bool(rest), bool(clear), float(lost))
            for index, (code, rest, clear, lost) in enumerate(
                zip(seen.verdict_code, seen.resting, seen.clear, seen.lost_s, strict=True)
            )
        ),
        exact=False,
    )


PassId = tuple[int, float]


def pass_id(pass_: Pass) -> PassId:
    """Names a pass within one evening."""
    return pass_.norad_id, pass_.aos.utc_s


def checked(passes: tuple[Pass, ...], checks: Mapping[PassId, PassCheck]) -> Standing | None:
    """The standing from the checks of this seat; None where one of the studied passes has none."""
    found = [checks.get(pass_id(pass_)) for pass_ in passes]
    here = tuple(
        PassHere(index, check.verdict, check.resting, bool(check.clear_postures), check.seconds_lost)
        for index, check in enumerate(found)
        if check is not None
    )
    return Standing(here, exact=True) if len(here) == len(found) else None


def best_bearing_deg(study: SeatStudy, mount: Mount, best: BestSeat) -> float:
    """A best seat's keyway bearing, to a tenth where that is as good: what a compass card can be set to."""
    hole = next(h for h in mount.index_holes if h.name == best.index_hole)
    shift = fixed_offset_deg(mount, hole)
    exact = best.keyway_bearing_deg
    there = looked_up(study, exact + shift)
    # The best may lie on the very end of an arc, so that only one of the neighbouring tenths is as good.
    tenths = sorted(
        (math.floor(exact * 10.0) / 10.0, math.ceil(exact * 10.0) / 10.0), key=lambda t: abs(t - exact)
    )
    for tenth in tenths:
        here = looked_up(study, tenth + shift)
        if here.not_clear <= there.not_clear and here.lost_s <= there.lost_s + _NOTHING_S:
            return wrap_360(tenth)
    return exact


def to_decide(study: SeatStudy, mount: Mount, zeta_deg: float) -> int:
    """How many studied passes are not clear here, if the best seat has fewer; else 0."""
    hole = next((h for h in mount.index_holes if h.name == study.best.index_hole), None)
    if hole is None:
        return 0
    best = study.best.keyway_bearing_deg + fixed_offset_deg(mount, hole)
    here = int((~glance(study, zeta_deg).clear).sum())
    return here if int((~glance(study, best).clear).sum()) < here else 0


@dataclass(frozen=True, eq=False)
class CurvePieces:
    """The study's curve of one hole as steps over the keyway bearing, covering 0 to 360 once.

    Attributes:
        from_deg, to_deg: (K,) rising.
        lost_s, splits, parts, out_of_reach: (K,) at the middle of each piece.
    """

    from_deg: Floats
    to_deg: Floats
    lost_s: Floats
    splits: Floats
    parts: Floats
    out_of_reach: Floats

    def at(self, bearing_deg: float) -> int:
        """Index of the piece that holds a bearing."""
        found = int(np.searchsorted(self.from_deg, wrap_360(bearing_deg), side="right")) - 1
        return max(found, 0)


def curve_pieces(study: SeatStudy, mount: Mount, hole: IndexHole) -> CurvePieces:
    """The curve of a hole; inside a piece its middle speaks."""
    samples, table = study.samples, study.samples.table()
    ends = np.flatnonzero(samples.is_end)
    if ends.size == 0:
        return _pieces(np.zeros(1), table[:1])
    start = wrap_360(samples.zeta_deg[ends] - fixed_offset_deg(mount, hole))
    values = table[(ends + 1) % samples.zeta_deg.size]
    order = np.argsort(start, kind="stable")
    start, values = start[order], values[order]
    if start[0] > 0.0:
        # The last piece runs past 360 and is also the first one.
        start, values = np.concatenate([[0.0], start]), np.concatenate([values[-1:], values])
    return _pieces(start, values)


def _pieces(start: Floats, values: Floats) -> CurvePieces:
    return CurvePieces(start, np.append(start[1:], 360.0), *values.T)


@dataclass(frozen=True)
class BestArcs:
    """Where fewest passes are not clear with one hole.

    Attributes:
        not_clear: how many that is, over the intervals.
        spans: (from, to) keyway bearings inside 0 to 360, rising, joined where they touch.
        points: isolated bearings that are as good or better.
    """

    not_clear: int
    spans: tuple[tuple[float, float], ...]
    points: tuple[float, ...]


def best_arcs(hole: HoleStudy) -> BestArcs:
    """The best arcs of a hole's study."""
    least = min(interval.not_clear for interval in hole.intervals)
    cut: list[tuple[float, float]] = []
    for interval in hole.intervals:
        if interval.not_clear == least:
            cut.append((interval.from_deg, min(interval.to_deg, 360.0)))
            if interval.to_deg > 360.0:
                cut.append((0.0, interval.to_deg - 360.0))
    spans: list[tuple[float, float]] = []
    for start, end in sorted(cut):
        if spans and start - spans[-1][1] < 1e-6:
            spans[-1] = (spans[-1][0], max(end, spans[-1][1]))
        else:
            spans.append((start, end))
    points = tuple(point.keyway_bearing_deg for point in hole.points if point.not_clear <= least)
    return BestArcs(least, tuple(spans), points)
