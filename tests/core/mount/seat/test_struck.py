"""The study of the seat with lengths for clearance, held against the verdicts themselves at each seat."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from core.mount.check.strikes import barring_of
from core.mount.check.verdict import check_passes
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import VERDICTS
from core.mount.model.station import Station
from core.mount.seat.losses.table import SeatTable, seat_table, verdicts_at
from core.mount.seat.study import seated, study_seat
from tests.core.mount.clearance.samples import station
from tests.core.mount.seat.seat_judge import agree
from tests.seat_evening import seat_evening, seat_plan


def drawn_bearings(number: int) -> list[float]:
    return np.random.default_rng(20261129).uniform(0.0, 360.0, number).tolist()


def clear_station() -> Station:
    """The evening's mount, over the top too, among legs and a guy."""
    plan = seat_plan(mount__elevation__maximum_deg=180.0, mount__azimuth__travel_deg=450.0)
    return replace(plan.station, clearance=station())


#: Few passes, as a table with lengths takes long.
FEW = slice(1, 3)


@cache
def table_of(hole: str) -> SeatTable:
    _plan, result, _study = seat_evening()
    here = clear_station()
    return seat_table(result.tracks[FEW], replace(here, mount=seated(here.mount, 0.0, hole)))


def test_the_table_says_at_every_seat_what_the_verdicts_say() -> None:
    _plan, result, _study = seat_evening()
    here, free = clear_station(), replace(clear_station(), clearance=None)
    refused, wrong = 0, []
    for hole in ("A", "B"):
        for bearing in drawn_bearings(12):
            there = replace(here, mount=seated(here.mount, bearing, hole))
            zeta = bearing + fixed_offset_deg(there.mount)
            seen = verdicts_at(table_of(hole), zeta)
            checks = check_passes(result.passes[FEW], result.tracks[FEW], there)
            plain = check_passes(result.passes[FEW], result.tracks[FEW], replace(free, mount=there.mount))
            for index, (check, without) in enumerate(zip(checks, plain, strict=True)):
                refused += len(without.ways) - len(check.ways)
                assert bool(seen.clear[index]) == bool(check.clear_postures), (hole, bearing, index)
                if not agree(seen, index, check):
                    told = VERDICTS[seen.verdict_code[index]], float(seen.lost_s[index])
                    wrong.append((hole, bearing, index, told, check.verdict, check.seconds_lost))
    assert refused > 2
    assert not wrong


def test_no_piece_of_any_verdict_strikes() -> None:
    _plan, result, _study = seat_evening()
    here = clear_station()
    kinds = set()
    for bearing in drawn_bearings(6):
        there = replace(here, mount=seated(here.mount, bearing, "A"))
        barring = barring_of(there)
        assert barring is not None
        for check in check_passes(result.passes, result.tracks, there):
            kinds.add(check.verdict)
            assert check.pointing is None or not barring.strikes(check.pointing)
    assert len(kinds) >= 3


def test_another_hole_has_the_same_strikes_at_the_same_keyway_bearing() -> None:
    here = clear_station()
    by_deg = fixed_offset_deg(here.mount, here.mount.index_holes[1]) - fixed_offset_deg(here.mount)
    for posture, arcs in table_of("A").clear.items():
        other = table_of("B").clear[posture].struck
        assert arcs.struck is not None
        assert other is not None
        here_deg = np.sort(np.mod(arcs.struck.start_deg + by_deg, 360.0))
        assert np.sort(other.start_deg) == pytest.approx(here_deg, abs=1e-6)


def test_the_study_has_a_table_for_each_hole_and_counts_what_strikes_as_not_clear() -> None:
    _plan, result, plain = seat_evening()
    here = clear_station()
    tables = {hole: table_of(hole) for hole in ("A", "B")}
    study = study_seat(result.passes[FEW], result.tracks[FEW], here, tables=tables)
    without = study_seat(result.passes[FEW], result.tracks[FEW], replace(here, clearance=None))
    assert [hole.table is study.table for hole in study.holes] == [True, False]
    assert study.table_of("B") is study.holes[1].table
    assert without.table_of("B") is without.table

    def mean_not_clear(intervals: tuple) -> float:
        return sum(i.counts.not_clear * (i.to_deg - i.from_deg) for i in intervals) / 360.0

    for hole, free in zip(study.holes, without.holes, strict=True):
        assert mean_not_clear(hole.intervals) > mean_not_clear(free.intervals)
    assert study.passes == plain.passes[FEW]


def test_without_lengths_the_arcs_know_nothing_of_strikes() -> None:
    _plan, _result, study = seat_evening()
    assert all(arcs.struck is None for arcs in study.table.clear.values())
