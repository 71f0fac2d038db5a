"""The passes that a budget is drawn up for, and all their moments in columns, in the mount's frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import parted
from core.mount.model.chain import tilt_matrix, to_mount_frame
from core.mount.model.results import PassCheck
from core.mount.model.station import OVER_THE_TOP, Posture, Tilt
from core.passes.frames import slant_range
from core.passes.paths import Paths
from core.passes.track import Pass

#: Moments are no further apart, unless a stretch is so long that it would want more than the most of them.
_STEP_S = 2.0
_MOST_STEPS = 1500


@dataclass(frozen=True, eq=False)
class WorkedPass:
    """A pass, how it is worked and how old its elements are.

    Attributes:
        pass_: the pass.
        posture: in which it begins.
        start_utc_s, end_utc_s: what of it is worked; from AOS to LOS for the whole of it.
        age_days: of the elements, either way.
        changes_utc_s: from then on it is worked in the other posture; None where it never is.
    """

    pass_: Pass
    posture: Posture
    start_utc_s: float
    end_utc_s: float
    age_days: float = 0.0
    changes_utc_s: float | None = None

    @property
    def stretches(self) -> tuple[tuple[float, float], ...]:
        """What is worked and over the mask; none of it of no length."""
        cut = (
            (max(start, self.start_utc_s), min(end, self.end_utc_s)) for start, end in self.pass_.stretches
        )
        return tuple((start, end) for start, end in cut if end > start)


def worked_pass(
    check: PassCheck, age_days: float, span_utc_s: tuple[float, float] | None = None
) -> WorkedPass | None:
    """A pass as its verdict (or an evening's contact) has it worked; None where it is out of reach.

    Args:
        check: the pass on the mount.
        age_days: of its elements.
        span_utc_s: what a contact works of it; None for the whole pass.
    """
    split = check.split
    way = check.chosen or check.part
    if way is None and split is None:
        return None
    posture = split.from_posture if split is not None else way.posture  # type: ignore[union-attr]
    changes = split is not None and split.from_posture != split.to_posture
    start, end = span_utc_s or (check.pass_.aos.utc_s, check.pass_.los.utc_s)
    moved_utc_s = split.end_utc_s if split is not None and changes else None
    return WorkedPass(check.pass_, posture, start, end, age_days, moved_utc_s)


@dataclass(frozen=True, eq=False)
class Moments:
    """All moments of all passes, (N,) each, by pass and time.

    Attributes:
        count: passes, P.
        row: which pass.
        utc_s: when.
        weight_s: the seconds that each stands for.
        azimuth_deg, elevation_deg: of the satellite in the mount's frame.
        across_deg_s, up_deg_s: how it moves on the sky, clockwise and upward.
        over: worked over the top.
        paths: the passes' paths, owned by row.
        tilt: the axis' lean as it is believed.
    """

    count: int
    row: Indices
    utc_s: Floats
    weight_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    across_deg_s: Floats
    up_deg_s: Floats
    over: Flags
    paths: Paths
    tilt: Tilt

    @property
    def seconds(self) -> Floats:
        """(P,) worked seconds."""
        return np.asarray(np.bincount(self.row, self.weight_s, self.count), dtype=float)

    @property
    def arc_deg(self) -> Floats:
        """(P,) how far each satellite goes on the sky while it is worked."""
        rate = np.hypot(self.across_deg_s, self.up_deg_s)
        return np.asarray(np.bincount(self.row, self.weight_s * rate, self.count), dtype=float)


def moments_of(worked: Sequence[WorkedPass], tilt: Tilt) -> Moments:
    """The moments of some passes, at most 2 s apart in all but the longest, ends of stretches included."""
    rows, utc_s, weight_s = _grid(worked)
    paths = Paths.joined([one.pass_.stay.path for one in worked], [1] * len(worked))
    position, velocity = paths.at(paths.piece_at(rows, utc_s), utc_s)
    azimuth, elevation = to_mount_frame(position, tilt)
    across, up = sky_axes(azimuth, elevation)
    turning = np.degrees(velocity @ tilt_matrix(tilt) / slant_range(position)[:, None])
    begins_over = np.array([one.posture == OVER_THE_TOP for one in worked], dtype=bool)
    changes = [np.inf if one.changes_utc_s is None else one.changes_utc_s for one in worked]
    return Moments(
        count=len(worked),
        row=rows,
        utc_s=utc_s,
        weight_s=weight_s,
        azimuth_deg=azimuth,
        elevation_deg=elevation,
        across_deg_s=(turning * across).sum(axis=-1),
        up_deg_s=(turning * up).sum(axis=-1),
        over=begins_over[rows] ^ (utc_s >= np.array(changes, dtype=float)[rows]),
        paths=paths,
        tilt=tilt,
    )


def sky_axes(azimuth_deg: Floats, elevation_deg: Floats) -> tuple[Floats, Floats]:
    """Unit vectors (..., 3) on the sky at directions (...,): clockwise, and upward; east, north, up."""
    az, el = np.radians(azimuth_deg), np.radians(elevation_deg)
    across = np.stack([np.cos(az), -np.sin(az), np.zeros_like(az)], axis=-1)
    up = np.stack([-np.sin(az) * np.sin(el), -np.cos(az) * np.sin(el), np.cos(el)], axis=-1)
    return across, up


def _grid(worked: Sequence[WorkedPass]) -> tuple[Indices, Floats, Floats]:
    """Row, moment and weight of every moment: the trapezoid rule on each stretch."""
    spans = [(row, start, end) for row, one in enumerate(worked) for start, end in one.stretches]
    owner = np.array([row for row, _, _ in spans], dtype=np.intp)
    start, end = (np.array([span[place] for span in spans], dtype=float) for place in (1, 2))
    steps = np.clip(np.ceil((end - start) / _STEP_S), 1, _MOST_STEPS).astype(np.intp)
    stretch, share = parted(steps + 1)
    share = share * (steps + 1)[stretch] / steps[stretch]
    edge = (share == 0.0) | (share > 1.0 - 1e-9)
    width = ((end - start) / steps)[stretch]
    utc_s = np.where(share > 1.0 - 1e-9, end[stretch], start[stretch] + share * (end - start)[stretch])
    return owner[stretch], utc_s, width * np.where(edge, 0.5, 1.0)
