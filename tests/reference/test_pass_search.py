"""The search and the mask against a slow referee, on real element sets.

The referee (tests/oracles/dense_passes.py) is Skyfield sampled every two seconds. The campaign draws 1,000
satellites of the whole catalogue by seed and takes every amateur satellite, from five sites, under three
limits each; a hundredth of it runs in the suite.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime

import numpy as np
import pytest

from core.elements.model import ElementSet
from core.passes.frames import Observer
from core.passes.search import find_stays
from core.passes.stays import Stay
from core.passes.track import Pass, cut_pass, cut_passes
from core.place.site import HorizonPoint, mask_floor_deg
from tests.oracles.dense_passes import Best, Referee, Sky, Span, mask_threshold, read_rows
from tests.shared_data import shared_file

START = datetime(2024, 11, 1, 16, 0, tzinfo=UTC)
HOURS = 8.0
SEED = 20241101
DRAWN = 1000
BATCH = 100

#: Far north, far south, the date line, mid-latitude and the equator: latitude, longitude, height in m.
SITES = [
    (78.2, 15.6, 20.0),
    (-33.9, 18.4, 110.0),
    (51.9, 180.0, 0.0),
    (47.2, 9.1, 1300.0),
    (0.0, -51.1, 15.0),
]
#: A ridge, a gable with upright sides, narrow notches, a slot one degree wide: (azimuth, elevation).
NOTCHED = [
    (0, 4),
    (30, 12),
    (40, 12),
    (41, 2),
    (42, 12),
    (75, 7),
    (110, 1),
    (140, 25),
    (150, 25),
    (152, 8),
    (153, 8),
    (155, 25),
    (170, 18),
    (200, 3),
    (240, 15),
    (242.5, 4),
    (245, 15),
    (290, 40),
    (291, 40),
    (292, 5),
    (330, 5),
    (345, 0),
]
#: The same over a valley: a site on a mountain looks below the horizontal.
VALLEY = [(0, -2), (60, 3), (100, -1.5), (180, 6), (230, -2), (300, 10)]
#: (mask, minimum elevation) of each comparison.
LIMITS: list[tuple[list[tuple[float, float]], float]] = [([], 0.0), (NOTCHED, 2.0), (VALLEY, -5.0)]

#: What the referee allows.
TIME_S = 0.05
PEAK_DEG = 0.005
SHORTEST_S = 2.0


@dataclass
class Tally:
    """Worst figures of a comparison, and how much it has seen."""

    objects: int = 0
    spans: int = 0
    short: int = 0
    two_tops: int = 0
    worst_time_s: float = 0.0
    worst_time_where: str = ""
    worst_peak_deg: float = 0.0
    worst_peak_where: str = ""
    worst_peak_time_s: float = 0.0
    worst_tca_km: float = 0.0
    worst_tca_time_s: float = 0.0
    touches: int = 0
    faults: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        return (
            f"{self.objects} satellites, {self.spans} stretches and stays ({self.short} under 30 s), "
            f"{self.two_tops} stays with two peaks or more\n"
            f"worst crossing {self.worst_time_s * 1e3:.2f} ms ({self.worst_time_where})\n"
            f"worst peak elevation {self.worst_peak_deg:.2e} deg ({self.worst_peak_where})\n"
            f"worst peak time {self.worst_peak_time_s * 1e3:.1f} ms, TCA time "
            f"{self.worst_tca_time_s * 1e3:.1f} ms (where the turn is sharp), "
            f"TCA range {self.worst_tca_km * 1e3:.2f} m\n"
            f"seen by one side only, each shorter than {SHORTEST_S:g} s: {self.touches}\n"
            f"missed, invented or off: {len(self.faults)}"
        )

    def spans_agree(self, truth: Sequence[Span], found: Sequence[Span], where: str) -> None:
        """Match the ends of both one to one; what is left over must be shorter than two seconds."""
        self.spans += len(truth)
        self.short += sum(end - start < 30.0 for start, end in truth)
        left = [sorted([(s, 1) for s, _ in spans] + [(e, -1) for _, e in spans]) for spans in (truth, found)]
        for edge in list(left[0]):
            near = [other for other in left[1] if other[1] == edge[1] and abs(other[0] - edge[0]) < 1.0]
            if near:
                other = min(near, key=lambda candidate: abs(candidate[0] - edge[0]))
                left[0].remove(edge)
                left[1].remove(other)
                self._time(abs(other[0] - edge[0]), where)
        for edges, word in zip(left, ("missed", "invented"), strict=True):
            pairs = list(zip(edges[::2], edges[1::2], strict=False))
            if len(edges) % 2 or any(b[0] - a[0] >= SHORTEST_S or a[1] == b[1] for a, b in pairs):
                self.faults.append(f"{word}: {where}: {edges}")
            else:
                self.touches += len(pairs)

    def _time(self, off_s: float, where: str) -> None:
        if off_s > self.worst_time_s:
            self.worst_time_s, self.worst_time_where = off_s, where
        if off_s > TIME_S:
            self.faults.append(f"crossing off by {off_s:.3f} s: {where}")

    def stay_agrees(self, sky: Sky, span: Span, stay: Stay, where: str) -> None:
        """Peak and least range of one stay."""
        self.two_tops += sky.tops(span) >= 2
        peak, near = sky.highest(span), sky.nearest(span)
        off_deg = abs(peak.value - stay.peak.elevation_deg)
        if off_deg > self.worst_peak_deg:
            self.worst_peak_deg, self.worst_peak_where = off_deg, where
        if off_deg > PEAK_DEG:
            self.faults.append(f"peak off by {off_deg:.4f} deg: {where}")
        self.worst_tca_km = max(self.worst_tca_km, abs(near.value - stay.tca.range_km))
        peak_off = _sharp_time_off(sky, peak, stay.peak.utc_s, 1, 1e-5)
        tca_off = _sharp_time_off(sky, near, stay.tca.utc_s, 2, 1e-4)
        self.worst_peak_time_s = max(self.worst_peak_time_s, peak_off)
        self.worst_tca_time_s = max(self.worst_tca_time_s, tca_off)
        if max(peak_off, tca_off) > TIME_S:
            self.faults.append(f"peak or TCA off by {max(peak_off, tca_off):.3f} s: {where}")


def _sharp_time_off(sky: Sky, best: Best, utc_s: float, column: int, least_change: float) -> float:
    """How far apart in time two peaks are, or 0 where a second more or less hardly changes the value.

    A flat top, or two tops of one height, has no well defined moment.
    """
    values = sky.exact(np.array([best.utc_s - 1.0, best.utc_s, best.utc_s + 1.0, utc_s]))[column]
    sharp = min(abs(values[0] - values[1]), abs(values[2] - values[1])) > least_change
    twins = abs(utc_s - best.utc_s) > 30.0 and abs(values[3] - best.value) < 10.0 * least_change
    return abs(utc_s - best.utc_s) if sharp and not twins else 0.0


def _horizon(points: Sequence[tuple[float, float]]) -> tuple[HorizonPoint, ...]:
    return tuple(HorizonPoint(azimuth_deg=azimuth, elevation_deg=elevation) for azimuth, elevation in points)


def _compare(rows: Sequence[dict[str, str]], tally: Tally) -> None:
    """Our search and the referee over all sites and limits, some satellites at a time to spare memory."""
    referee = Referee(START, HOURS)
    for begin in range(0, len(rows), BATCH):
        _compare_batch(rows[begin : begin + BATCH], referee, tally)


def _compare_batch(rows: Sequence[dict[str, str]], referee: Referee, tally: Tally) -> None:
    sets = [ElementSet.model_validate(row) for row in rows]
    ours = _ours(sets, referee)
    for number, row in enumerate(rows):
        skies = list(referee.skies(row, SITES))
        tally.objects += bool(skies)
        for site, sky in skies:
            for limit, (points, minimum_deg) in enumerate(LIMITS):
                where = f"{row['OBJECT_NAME']} {row['NORAD_CAT_ID']} site {site} limit {limit}"
                stays, passes = ours[site, limit].get(number, ([], []))
                floor_deg = mask_floor_deg(_horizon(points), minimum_deg)
                truth = sky.over(mask_threshold([], floor_deg))
                if limit != 1:  # limit 1 shares its floor with limit 0
                    tally.spans_agree(truth, [(s.start_utc_s, s.end_utc_s) for s in stays], f"{where} stay")
                    for span, stay in _pairs(truth, stays):
                        tally.stay_agrees(sky, span, stay, where)
                if limit != 0:
                    stretches = sorted(stretch for found in passes for stretch in found.stretches)
                    tally.spans_agree(sky.over(mask_threshold(points, minimum_deg)), stretches, where)


def _ours(
    sets: Sequence[ElementSet], referee: Referee
) -> dict[tuple[int, int], dict[int, tuple[list[Stay], list[Pass]]]]:
    """Stays and passes of each site and limit, by the position of the element set."""
    by_id = {elements.norad_id: index for index, elements in enumerate(sets)}
    assert len(by_id) == len(sets)
    answer: dict[tuple[int, int], dict[int, tuple[list[Stay], list[Pass]]]] = {}
    for site, place in enumerate(SITES):
        for limit, (points, minimum_deg) in enumerate(LIMITS):
            horizon = _horizon(points)
            floor_deg = mask_floor_deg(horizon, minimum_deg)
            search = find_stays(sets, Observer(*place), referee.start_utc_s, referee.end_utc_s, floor_deg)
            found: dict[int, tuple[list[Stay], list[Pass]]] = {}
            for stay in search.stays:
                found.setdefault(by_id[stay.norad_id], ([], []))[0].append(stay)
            for cut in cut_passes(search.stays, horizon, minimum_deg):
                found[by_id[cut.norad_id]][1].append(cut)
            answer[site, limit] = found
    return answer


def _pairs(truth: Sequence[Span], stays: Sequence[Stay]) -> list[tuple[Span, Stay]]:
    """Each span of the referee with the stay that overlaps it."""
    return [
        (span, stay)
        for span in truth
        for stay in stays
        if stay.start_utc_s < span[1] and stay.end_utc_s > span[0]
    ]


def _drawn_rows(drawn: int) -> list[dict[str, str]]:
    rows = read_rows(shared_file("data/gp_20241101.csv"))
    return random.Random(SEED).sample(rows, drawn)


def _with_amateurs(
    drawn: Sequence[dict[str, str]], amateurs: Sequence[dict[str, str]]
) -> list[dict[str, str]]:
    known = {row["NORAD_CAT_ID"] for row in amateurs}
    return [*amateurs, *(row for row in drawn if row["NORAD_CAT_ID"] not in known)]


def test_hundredth_of_the_campaign_agrees_with_the_referee():
    amateurs = read_rows(shared_file("data/amateur_20241101.csv"))
    tally = Tally()
    _compare(_with_amateurs(_drawn_rows(DRAWN // 100), random.Random(SEED).sample(amateurs, 1)), tally)
    assert not tally.faults, "\n".join(tally.faults)
    assert tally.spans > 100


@pytest.mark.long
def test_whole_campaign_agrees_with_the_referee(capsys):
    amateurs = read_rows(shared_file("data/amateur_20241101.csv"))
    tally = Tally()
    _compare(_with_amateurs(_drawn_rows(DRAWN), amateurs), tally)
    with capsys.disabled():
        print(f"\n{tally}", *tally.faults[:40], sep="\n")
    assert not tally.faults
    assert tally.objects >= 500
    assert tally.short >= 20
    assert tally.two_tops >= 5


def test_synchronous_satellite_grazes_the_minimum_elevation():
    """A limit laid a hair under and through the slow curve of a synchronous satellite."""
    rows = read_rows(shared_file("data/gp_20241101.csv"))
    slow = [
        row
        for row in rows
        if abs(float(row["MEAN_MOTION"]) - 1.0027) < 0.001 and 0.5 < float(row["INCLINATION"]) < 8.0
    ]
    referee = Referee(START, HOURS, step_s=20.0)
    tested = 0
    for row in random.Random(SEED).sample(slow, 12):
        for _, sky in referee.skies(row, [SITES[3]]):
            inside = sky.elevation_deg[1:-1]
            if inside.min() < 1.0 or np.ptp(inside) < 0.05:
                continue
            tested += 1
            _check_grazing(row, sky, referee)
    assert tested >= 3


def _check_grazing(row: dict[str, str], sky: Sky, referee: Referee) -> None:
    elements = ElementSet.model_validate(row)
    search = find_stays([elements], Observer(*SITES[3]), referee.start_utc_s, referee.end_utc_s)
    (stay,) = search.stays
    assert stay.cut == "both"
    top, span = sky.elevation_deg.max(), np.ptp(sky.elevation_deg)
    for minimum_deg in (top - 0.5 * span, top - 0.01 * span, top - 1e-5):
        tally = Tally()
        cut = cut_pass(stay, (), float(minimum_deg))
        assert cut is not None
        tally.spans_agree(sky.over(mask_threshold([], float(minimum_deg))), cut.stretches, row["OBJECT_NAME"])
        assert not tally.faults, tally.faults
    assert cut_pass(stay, (), float(stay.peak.elevation_deg + 1e-6)) is None
