"""The study of a season on invented evenings."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.base.angles import wrap_180
from core.base.errors import NorthkeyError, ValueRangeError
from core.base.words import bearing_text
from core.mount.model.station import IndexHole, Mount
from core.mount.seat.limits import SeatLimit
from core.mount.seat.season.best import AS_GOOD
from core.mount.seat.season.not_clear import NotClear
from core.mount.seat.season.placed import placed
from core.mount.seat.season.study import SeasonQuestion, study_season
from core.mount.seat.season.words import curve_sentence, present_sentence, saved_sentence, share_reading
from tests.core.mount.seat.season.seasons import drawn_season, season_of

MOUNT = Mount(
    index_holes=(IndexHole(name="A", offset_deg=-30.0), IndexHole(name="B", offset_deg=111.0)),
    index_hole="B",
    datum_to_stop_deg=12.5,
    elevation_unit_offset_deg=-4.0,
)


def joined(one: NotClear, other: NotClear) -> NotClear:
    return NotClear(
        np.concatenate([one.passes, other.passes]),
        np.concatenate([one.evening, other.evening + one.evenings]),
        np.concatenate([one.start_deg, other.start_deg]),
        np.concatenate([one.width_deg, other.width_deg]),
    )


def test_a_hole_only_turns_the_adapter():
    season = drawn_season(3, evenings=20)
    study = study_season(season, MOUNT, SeasonQuestion())
    one, other = study.holes
    assert wrap_180(one.best_deg - other.best_deg - 141.0) == pytest.approx(0.0, abs=1e-6)
    assert one.shares.tolist() == other.shares.tolist()
    zeta = one.best_deg - 30.0 + 12.5 - 4.0
    assert one.shares.tolist() == season.shares_at(zeta).tolist()
    assert one.share_at(10.0) <= one.share_at(50.0) <= one.share_at(90.0)
    assert one.curve.value.min() >= one.shares.mean() - 0.001 - 1e-9
    middles = np.arange(0.5, 360.0, 13.0)
    told = [season.shares_at(place - 21.5).mean() for place in middles]
    assert one.curve.at(middles).tolist() == pytest.approx(told)


def test_two_halves_of_a_long_season_agree_and_other_seeds_draw_others():
    """Within two points at every bearing; of a short one the difference is told for what it is."""
    season = drawn_season(4, evenings=730, arcs=40)
    found = [study_season(season, MOUNT, SeasonQuestion(most_holes=1, seed=seed)) for seed in (1, 2, 1)]
    assert all(0.0 < study.halves_differ <= 0.02 for study in found)
    assert all(hole.halves_differ <= study.halves_differ for study in found for hole in study.holes)
    assert found[0].halves_differ == found[2].halves_differ != found[1].halves_differ
    short = study_season(drawn_season(4, evenings=10, arcs=40), MOUNT, SeasonQuestion(most_holes=1))
    assert short.halves_differ > 2.0 * found[0].halves_differ


def test_the_halves_are_what_their_means_differ_by():
    season = drawn_season(5, evenings=9)
    study = study_season(season, MOUNT, SeasonQuestion(most_holes=1, seed=7))
    drawn = np.random.default_rng(7).permutation(9)
    table = season.shares_round(7200)
    apart = table[drawn[:4]].mean(axis=0) - table[drawn[4:]].mean(axis=0)
    assert study.halves_differ == pytest.approx(np.abs(apart).max(), abs=0.02)


def test_holes_are_chosen_without_a_look_at_the_evenings_that_judge_them():
    first, second, third = (drawn_season(seed, evenings=12) for seed in (1, 2, 3))
    question = SeasonQuestion(most_holes=3)
    one, other = (study_season(joined(first, last), MOUNT, question) for last in (second, third))
    assert [found.holes for found in one.sets] == [found.holes for found in other.sets]
    assert (one.held_out, one.evenings) == (12, 24)
    for study, judges in ((one, second), (other, third)):
        for found in study.sets:
            offsets = np.array([hole.offset_deg for hole in found.holes])
            assert found.judged.share.tolist() == placed(judges, offsets, 0.0, None).share.tolist()
        assert study.present.mean_share == placed(judges, np.array([-30.0, 111.0]), 0.0, None).mean_share


def test_more_holes_serve_better_and_the_first_stays():
    study = study_season(drawn_season(6, evenings=40), MOUNT, SeasonQuestion(apart_deg=40.0))
    shares = [found.judged.mean_share for found in study.sets]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] > 2.0 * shares[-1]
    assert [len(found.holes) for found in study.sets] == [1, 2, 3, 4]
    assert all(found.holes[0].offset_deg == -30.0 for found in study.sets)
    assert all(hole.drilled_deg == -hole.offset_deg % 360.0 for found in study.sets for hole in found.holes)


def test_given_keyways_are_what_the_holes_are_for():
    """Nothing is clear but over 30 deg of zeta; each of two keyways gets a hole of its own."""
    season = season_of(*[(1, [(100.0, 330.0)])] * 4)
    study = study_season(season, MOUNT, SeasonQuestion(most_holes=2, keyways_deg=(0.0, 200.0)))
    assert [found.judged.mean_share for found in study.sets] == [0.5, 0.0]
    zetas = [
        (hole.offset_deg + 8.5 + keyway) % 360.0 for hole in study.sets[1].holes for keyway in (0.0, 200.0)
    ]
    assert sum(70.0 <= zeta <= 100.0 for zeta in zetas) == 2


def test_forbidden_bearings_are_kept_to():
    season = drawn_season(3, evenings=20)
    free = study_season(season, MOUNT, SeasonQuestion(most_holes=1)).holes[0]
    shut = SeatLimit(from_deg=(free.best_deg - 40.0) % 360.0, to_deg=(free.best_deg + 40.0) % 360.0)
    kept = study_season(season, MOUNT, SeasonQuestion(most_holes=1), (shut,)).holes[0]
    assert not shut.holds(kept.best_deg)
    assert kept.shares.mean() > free.shares.mean()


def test_what_cannot_be_asked_is_refused():
    with pytest.raises(NorthkeyError, match="two evenings or more; 1 has"):
        study_season(season_of((2, [(0.0, 30.0)])), MOUNT, SeasonQuestion())
    with pytest.raises(ValueRangeError, match="1 to 4"):
        SeasonQuestion(most_holes=5)
    with pytest.raises(ValueRangeError, match="90 deg with 4 holes"):
        SeasonQuestion(apart_deg=91.0)
    with pytest.raises(ValueRangeError, match="above 0"):
        SeasonQuestion(apart_deg=0.0)
    assert SeasonQuestion(apart_deg=0.5).apart_deg == 0.5
    with pytest.raises(ValueRangeError, match="0 or above"):
        SeasonQuestion(seed=-1)
    assert SeasonQuestion(most_holes=2, apart_deg=180.0).apart_deg == 180.0


def test_sentences_give_the_number_first():
    study = study_season(drawn_season(6, evenings=40), MOUNT, SeasonQuestion(most_holes=2))
    first, two = (found.judged for found in study.sets)
    saved = saved_sentence(study)
    assert saved.startswith(
        f"{100.0 * first.mean_share:.1f} % of the passes are not clear through the best single"
    )
    assert f"{two.free_evenings:.1f} of 20 evenings lose no pass" in saved
    assert present_sentence(study).endswith("through holes A and B, as the mount is.")
    assert "the worst" in curve_sentence(study.holes[0])
    clear = study_season(season_of((3, []), (2, [])), MOUNT, SeasonQuestion(most_holes=2))
    assert curve_sentence(clear.holes[0]) == "Hole A: every pass is clear at every bearing."
    assert saved_sentence(clear).endswith("through one hole: more holes gain nothing.")
    one = study_season(drawn_season(6, evenings=40), MOUNT, SeasonQuestion(most_holes=1))
    assert saved_sentence(one).endswith("not clear through the best single hole.")


@pytest.mark.parametrize("seed", range(3))
def test_the_spans_of_the_best_are_as_good_as_it_and_no_wider(seed):
    study = study_season(drawn_season(seed, evenings=12), MOUNT, SeasonQuestion(most_holes=1))
    for hole in study.holes:
        spans = hole.best_spans
        assert sum(end - start for start, end in spans) == pytest.approx(hole.best_width_deg)
        assert all(0.0 <= start < end <= 360.0 for start, end in spans)
        middles = np.array([(start + end) / 2.0 for start, end in spans])
        assert (hole.curve.at(middles) <= hole.curve.value.min() + AS_GOOD + 1e-12).all()
        told = share_reading(hole, hole.best_deg)
        assert told.startswith(f"{bearing_text(hole.best_deg)} deg: ")
        assert f"{100.0 * float(hole.shares.mean()):.1f} %" in told
    over_north = replace(study.holes[0], best_deg=2.0, best_width_deg=10.0)
    assert over_north.best_spans == ((0.0, 7.0), (357.0, 360.0))
    assert replace(study.holes[0], best_deg=0.0, best_width_deg=360.0).best_spans == ((0.0, 360.0),)
