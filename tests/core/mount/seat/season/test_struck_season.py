"""A season with strikes against one pass, one bearing and one hole at a time."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.model.station import POSTURES, Mount
from core.mount.seat.arcs import Arcs, Struck
from core.mount.seat.season.drilling import Drilling
from core.mount.seat.season.not_clear import NotClear
from core.mount.seat.season.placed import placed
from core.mount.seat.season.struck_season import StruckSeason
from core.mount.seat.season.study import SeasonQuestion, study_season

EVENINGS = 6


def drawn(seed: int, struck_arcs: int = 90) -> tuple[StruckSeason, NotClear]:
    """Some forty passes; the second is the same season with nothing to strike."""
    draw = np.random.default_rng(seed)
    evening = np.sort(draw.integers(0, EVENINGS, 40))
    # One evening has none.
    evening[evening == 2] = 3
    widths = draw.choice([-1.0, 0.0, 120.0, 250.0, 400.0], (2, 40)) + draw.uniform(0.0, 1.0, (2, 40))
    widths[widths < 0.5] = -1.0
    clear = {p: Arcs(draw.uniform(-300.0, 700.0, 40), widths[row]) for row, p in enumerate(POSTURES)}
    struck = {
        p: Struck(
            np.sort(draw.integers(0, 40, struck_arcs)),
            draw.uniform(0.0, 360.0, struck_arcs),
            draw.choice([0.3, 5.0, 90.0, 360.0], struck_arcs, p=[0.3, 0.4, 0.2, 0.1]),
        )
        for p in POSTURES
    }
    return StruckSeason.of(evening, EVENINGS, clear, struck), NotClear.of(evening, EVENINGS, *clear.values())


def inside(bearing: float, start: float, width: float) -> bool:
    return width >= 0.0 and (bearing - start) % 360.0 <= width


def plain_shares(season: StruckSeason, keyway: float, zeta: float) -> list[float]:
    lost = [0] * season.evenings
    for index, evening in enumerate(season.evening.tolist()):
        clear = False
        for posture in POSTURES:
            arcs, struck = season.clear[posture], season.struck[posture]
            own = np.flatnonzero(struck.of_pass == index)
            strikes = any(inside(keyway, struck.start_deg[k], struck.width_deg[k]) for k in own)
            clear |= inside(zeta, arcs.start_deg[index], arcs.width_deg[index]) and not strikes
        lost[evening] += not clear
    return (np.array(lost) / season.passes).tolist()


@pytest.mark.parametrize("seed", range(4))
def test_through_any_hole_the_shares_are_those_of_plain_loops(seed: int) -> None:
    season, _free = drawn(seed)
    assert season.evenings == EVENINGS - 1
    for shift in (0.0, -77.25, 512.5):
        through = season.through(shift)
        for keyway in np.random.default_rng(seed).uniform(0.0, 360.0, 25).tolist():
            expected = plain_shares(season, keyway, keyway + shift)
            assert through.shares_at(keyway).tolist() == pytest.approx(expected)
            assert season.shares_seated(keyway, shift - 10.0, 10.0).tolist() == pytest.approx(expected)


def test_what_drilling_sees_is_the_share_at_each_place_through_each_hole() -> None:
    season, _free = drawn(9)
    places, keyways = np.array([10, 200, 355]), np.array([3.3, 193.3, 348.3])
    seen = season.seen(places, keyways)
    assert seen.shape == (360, season.evenings, 3)
    for hole in (0, 7, 181, 359):
        for k, keyway in enumerate(keyways.tolist()):
            expected = plain_shares(season, keyway, float((places[k] + hole) % 360))
            assert seen[hole, :, k].tolist() == pytest.approx(expected, abs=1e-6)


def test_some_evenings_are_those_alone() -> None:
    season, _free = drawn(5)
    own = season.some(np.arange(2, 5))
    for keyway in (12.0, 133.0, 301.0):
        assert own.through(40.0).shares_at(keyway).tolist() == pytest.approx(
            season.through(40.0).shares_at(keyway)[2:].tolist()
        )


def test_with_nothing_to_strike_the_study_is_the_plain_one() -> None:
    season, free = drawn(3, struck_arcs=0)
    mount, question = Mount(), SeasonQuestion(most_holes=2)
    ours, plain = study_season(season, mount, question), study_season(free, mount, question)
    at = np.linspace(0.5, 359.5, 97)
    for one, other in zip(ours.holes, plain.holes, strict=True):
        assert one.curve.at(at) == pytest.approx(other.curve.at(at), abs=1e-9)
        assert one.best_deg == pytest.approx(other.best_deg, abs=1e-6)
    assert ours.halves_differ == pytest.approx(plain.halves_differ)
    for one, other in zip(ours.sets, plain.sets, strict=True):
        assert one.judged.mean_share == pytest.approx(other.judged.mean_share, abs=0.01)


def test_sets_of_holes_are_judged_with_what_strikes() -> None:
    season, _free = drawn(6)
    offsets, keyways = np.array([0.0, -70.0]), np.array([20.0, 200.0])
    judged = placed(season, offsets, 17.0, keyways)
    least = [
        np.min([plain_shares(season, k, k + 17.0 + offset) for offset in offsets], axis=0) for k in keyways
    ]
    assert judged.share.tolist() == pytest.approx(np.mean(least, axis=0).tolist())
    round_ = placed(season, offsets, 17.0, None)
    grid = np.arange(0.25, 360.0, 0.5)
    told = [np.min([season.through(17.0 + o).shares_at(k) for o in offsets], axis=0) for k in grid]
    assert round_.share.tolist() == pytest.approx(np.mean(told, axis=0).tolist(), abs=0.01)
    found = Drilling(season, 17.0, None, 0.0, 20.0).offsets_deg(2)
    best = placed(season, found, 17.0, None).mean_share
    assert best <= round_.mean_share + 0.02
