"""What changes save, in words: the number first, the same words once, nothing claimed that is not so."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.mount.model.station import IndexHole
from core.mount.seat.choice import BestSeat
from core.mount.seat.season.not_clear import StepCurve
from core.mount.seat.season.study import HoleSeason
from core.what_if.changes import Change
from core.what_if.evening import AtSeat, EveningRow, WhatIfEvening
from core.what_if.season import SeasonRow, WhatIfSeason
from core.what_if.words import (
    BEST_HEADS,
    BEST_TIPS,
    SEASON_HEADS,
    SEASON_TIPS,
    STANDS_HEADS,
    STANDS_TIPS,
    best_cells,
    evening_sentences,
    saved_words,
    season_cells,
    season_sentences,
    sentences_of,
    stands_cells,
)

SEAT = AtSeat(40.0, "A", 9, 3000.0, 2900.0, (4, 1, 3, 2, 1), 790.0)
FLAT = StepCurve(np.array([0.0]), np.array([0.0]))
BEST = BestSeat(306.8, "A", (-26.97, 30.19), 12.96, 0.0, 0, 0, 0)


def row(change: Change | None, stands: AtSeat, room=(-26.97, 30.19)) -> EveningRow:
    calm = replace(SEAT, keyway_bearing_deg=306.8, passes=(11, 0, 0, 0, 0), lost_s=0.0)
    return EveningRow(change, stands, replace(BEST, place_within_deg=room), calm, FLAT, 306.8)


@pytest.mark.parametrize(
    ("passes", "lost_s", "words"),
    [
        ((4, 1, 3, 2, 1), 790.0, ""),
        ((7, 1, 0, 2, 1), 60.0, "12 min 10 s and 3 splits saved"),
        ((4, 2, 3, 2, 0), 790.4, "1 out of reach saved"),
        ((4, 1, 3, 2, 1), 830.0, "40 s more lost"),
        ((3, 1, 3, 3, 1), 830.0, "40 s and 1 part more"),
        ((4, 2, 2, 2, 1), 830.0, "1 split saved, but 40 s more lost"),
        ((4, 1, 2, 3, 1), 790.0, "1 split saved, but 1 part more"),
    ],
)
def test_a_saving_is_told_by_what_is_saved_and_what_it_costs(passes, lost_s, words):
    assert saved_words(replace(SEAT, passes=passes, lost_s=lost_s), SEAT) == words


def test_equal_savings_are_said_once_and_nothing_is_called_nothing():
    better = replace(SEAT, passes=(8, 3, 0, 0, 0), lost_s=0.0)
    rows = (
        row(None, SEAT),
        row(Change(guard_deg=0.0), SEAT),
        row(Change(travel_deg=540.0), better, (-180.0, 180.0)),
        row(Change(elevation_maximum_deg=180.0), better),
    )
    stands, best = evening_sentences(WhatIfEvening(rows, 11))
    assert stands == (
        "13 min 10 s, 3 splits, 2 parts and 1 out of reach saved with travel 540 deg or elevation to "
        "180 deg; nothing saved with guard 0 deg: as the keyway stands."
    )
    assert best == (
        "0 s saved by any change, each at its best keyway. It may be placed within -26.9 / +30.1 deg "
        "as it is now, anywhere with travel 540 deg."
    )
    alone = WhatIfEvening((rows[0], rows[1]), 11)
    assert evening_sentences(alone) == (
        "0 s saved with guard 0 deg: as the keyway stands.",
        "0 s saved by any change, each at its best keyway.",
    )
    assert sentences_of(WhatIfEvening(rows[:1], 11)) == ()


def test_of_many_the_first_and_the_last_are_told():
    lost = [replace(SEAT, lost_s=SEAT.lost_s - 60.0 * place) for place in range(7)]
    rows = [row(Change(travel_deg=400.0 + place), there) for place, there in enumerate(lost[1:], start=1)]
    told = evening_sentences(WhatIfEvening((row(None, SEAT), *rows), 11))[0]
    assert told == (
        "6 min 00 s saved with travel 406 deg; 5 min 00 s saved with travel 405 deg; 3 more in the table; "
        "1 min 00 s saved with travel 401 deg: as the keyway stands."
    )


def test_cells_stand_under_their_heads_with_the_difference_to_now():
    now, other = row(None, SEAT), row(Change(travel_deg=540.0), replace(SEAT, lost_s=60.0))
    assert stands_cells(now, now) == ["as it is now", "50.0", "9", "4", "1", "3", "2", "1", "13.2", ""]
    assert stands_cells(other, now)[-2:] == ["1.0", "+12.2"]
    assert stands_cells(row(Change(), replace(SEAT, lost_s=800.0)), now)[-1] == "-0.2"
    assert best_cells(now, now)[1:4] == ["306.8 A", "-26.9 / +30.1", "12.9"]
    assert best_cells(row(None, SEAT, (-180.0, 180.0)), now)[2] == "any"
    for heads, tips, cells in (
        (STANDS_HEADS, STANDS_TIPS, stands_cells(other, now)),
        (BEST_HEADS, BEST_TIPS, best_cells(other, now)),
        (SEASON_HEADS, SEASON_TIPS, season_cells(season_row(None, (0.0,)), season_row(None, (0.0,)))),
    ):
        assert len(heads) == len(tips) == len(cells)


def season_row(change: Change | None, shares: tuple[float, ...]) -> SeasonRow:
    hole = IndexHole(name="A")
    return SeasonRow(change, HoleSeason(hole, FLAT, 120.0, 3.0, np.array(shares), 0.019, False))


def test_a_season_is_told_in_evenings_and_points_with_what_chance_makes():
    now = season_row(None, (0.0, 0.2, 0.2, 0.2))
    rows = (
        now,
        season_row(Change(travel_deg=540.0), (0.0, 0.0, 0.0, 0.1)),
        season_row(Change(travel_deg=360.0), (0.3, 0.3, 0.3, 0.3)),
        season_row(Change(index_hole="B"), (0.2, 0.0, 0.2, 0.2)),
    )
    saved, chance = season_sentences(WhatIfSeason(rows, 4, 4, 40))
    assert saved == (
        "2 evenings and 12.5 points of passes not clear saved with travel 540 deg; 1 evening and 15.0 points "
        "of passes not clear lost with travel 360 deg; nothing saved with hole B: of 4 evenings, each at its "
        "best keyway."
    )
    assert chance.startswith("1.9 points at most between two halves")
    assert season_cells(rows[1], now)[-2:] == ["3", "+2"]
    assert season_cells(rows[2], now)[-2:] == ["0", "-1"]
