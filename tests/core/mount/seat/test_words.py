"""The seat in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.base.times import clock
from core.base.words import bearing_text
from core.mount.model.from_above import station_from_above
from core.mount.model.results import Verdict
from core.mount.model.station import AzimuthAxis, Mount
from core.mount.seat.choice import BestSeat
from core.mount.seat.curve import curve_steps
from core.mount.seat.limits import SeatLimit
from core.mount.seat.outcome import PassAtSeat, SeatOutcome, outcome_from_study
from core.mount.seat.words import (
    curve_description,
    curve_reading,
    forbidden_words,
    full_why,
    hole_best_words,
    loss_words,
    lost_words,
    outcome_details,
    outcome_sentence,
    seat_name,
    second_best_sentence,
    short_why,
    station_description,
    tolerance_sentence,
    travel_words,
)
from tests.lasting import result_of
from tests.seat_evening import seat_evening, seat_plan


def _here(
    verdict: Verdict = Verdict.UPRIGHT, *, resting: bool = False, clear: bool = True, lost_s: float = 0.0
) -> PassAtSeat:
    return PassAtSeat(0, verdict, resting, clear, lost_s)


def _best(**changes: object) -> BestSeat:
    known: dict[str, object] = {
        "keyway_bearing_deg": 86.5,
        "index_hole": "B",
        "place_within_deg": (-9.7, 14.2),
        "know_to_deg": 2.9,
        "seconds_lost": 0.0,
        "splits": 0,
        "parts": 0,
        "out_of_reach": 0,
    }
    return BestSeat(**(known | changes))  # type: ignore[arg-type]


def test_bearings_are_told_to_a_tenth_and_never_as_360() -> None:
    assert [bearing_text(deg) for deg in (86.54, 359.96, 0.0, 214.0)] == ["86.5", "0.0", "0.0", "214.0"]


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0.4, "nothing lost"),
        (34.4, "34 s off the beam"),
        (99.6, "1.7 minutes off the beam"),
        (204.0, "3.4 minutes off the beam"),
    ],
)
def test_losses(seconds: float, words: str) -> None:
    assert lost_words(seconds) == words


def test_the_sentence_of_a_bad_seat() -> None:
    passes = [_here(Verdict("split"), clear=False, lost_s=34.0)] * 6 + [_here(resting=True, clear=False)]
    outcome = SeatOutcome(tuple(passes + [_here()] * 6), exact=True)
    assert outcome_sentence(outcome) == "7 of 13 passes are not clear, 3.4 minutes off the beam"
    assert outcome_details(outcome) == "6 split, 1 resting"
    quick = SeatOutcome(outcome.passes, exact=False)
    assert outcome_sentence(quick) == "7 of 13 passes are not clear, about 3.4 minutes off the beam"


def test_the_sentence_of_a_good_seat_and_of_none() -> None:
    assert outcome_sentence(SeatOutcome((_here(),) * 4, True)) == "All 4 passes are clear, nothing lost"
    assert outcome_sentence(SeatOutcome((_here(),), True)) == "The one pass is clear, nothing lost"
    one = SeatOutcome((_here(Verdict("part"), clear=False, lost_s=12.0), _here()), True)
    assert outcome_sentence(one) == "1 of 2 passes is not clear, 12 s off the beam"
    assert outcome_sentence(SeatOutcome((), True)) == "There are no passes to study"
    assert outcome_details(SeatOutcome((_here(),), True)) == ""


@pytest.mark.parametrize(
    ("here", "words"),
    [
        (_here(Verdict("split"), clear=False, lost_s=51.0), "split, 51 s off the beam"),
        (_here(resting=True, clear=False), "upright, rests at a guard, inside the beam"),
        (_here(Verdict("over the top"), lost_s=8.0), "over the top, 8 s off the beam"),
        (_here(resting=True, lost_s=8.0), "upright, rests at a guard, inside the beam, 8 s off the beam"),
        (_here(), "upright"),
    ],
)
def test_short_reasons(here: PassAtSeat, words: str) -> None:
    assert short_why(here) == words


def test_full_reasons_name_stop_time_and_bearing() -> None:
    seen = set()
    for keyway in (0.0, 60.0, 330.0):
        for check in result_of(seat_plan(mount__keyway_bearing_deg=keyway)).checks:
            words = full_why(check)
            if check.crossing is not None:
                seen.add("crossing")
                assert check.crossing.stop in words
                where = f"{bearing_text(check.crossing.bearing_deg)} deg true"
                assert f"{clock(check.crossing.utc_s, False)}, {where}" in words
                assert words.startswith(lost_words(check.seconds_lost).removesuffix(" off the beam") + ": ")
            elif check.resting:
                seen.add("resting")
                assert words.startswith("rests ")
                assert " dB" in words
            else:
                assert words == lost_words(check.seconds_lost)
    assert seen == {"crossing", "resting"}


@pytest.mark.parametrize(
    ("travel", "words"),
    [
        (450.0, "Travel 450 deg, guard 5 deg, overlap 80 deg"),
        (360.0, "Travel 360 deg, guard 5 deg, 10 deg cannot be pointed to"),
        (370.0, "Travel 370 deg, guard 5 deg"),
    ],
)
def test_travel(travel: float, words: str) -> None:
    assert travel_words(Mount(azimuth=AzimuthAxis(travel_deg=travel, guard_deg=5.0))) == words


def test_tolerances_are_kept_apart_and_rounded_to_the_safe_side() -> None:
    assert tolerance_sentence(_best()) == (
        "Set it within -9.7 / +14.2 deg. Then measure it to 2.9 deg and correct the dials."
    )
    anywhere = tolerance_sentence(_best(place_within_deg=(-180.0, 180.0), know_to_deg=1.27))
    assert anywhere.startswith("Set it anywhere. Then measure it to 1.2 deg")
    assert "Then measure it to better than 0.1 deg" in tolerance_sentence(_best(know_to_deg=0.02))
    even = tolerance_sentence(_best(place_within_deg=(-26.98, 26.93)))
    assert even.startswith("Set it within ±26.9 deg.")
    assert tolerance_sentence(_best(place_within_deg=(-0.02, 0.05))).startswith(
        "Set it to better than 0.1 deg."
    )


def test_the_best_in_words() -> None:
    assert seat_name(86.5, "B") == "86.5 deg, hole B"
    assert loss_words(_best()) == "nothing lost"
    assert (
        loss_words(_best(splits=2, out_of_reach=1, seconds_lost=72.0))
        == "1 out of reach, 2 split, 72 s off the beam"
    )
    hole = replace(seat_evening()[2].holes[1], best=_best(), best_rounded_deg=86.4)
    assert hole_best_words(hole) == "B 86.4 deg, nothing lost"


def test_descriptions_for_those_who_cannot_see_the_picture() -> None:
    plan, _result, study = seat_evening()
    above = station_from_above(plan.mount)
    words = station_description(above, outcome_from_study(study, 60.0))
    assert words.startswith("Keyway at 60.0 deg true, pin in hole A.")
    assert "clockwise stop at 60.0 deg true" in words
    assert words.endswith("off the beam.")
    assert "not clear" not in station_description(above, None)
    drawn = curve_steps(study.holes[0].curve)
    reading = curve_reading(drawn, 60.0)
    assert reading.startswith("60.0 deg: ")
    assert reading in curve_description(drawn, 60.0, study.holes[0])


def test_the_overlap_is_described() -> None:
    above = station_from_above(Mount(azimuth=AzimuthAxis(travel_deg=450.0, guard_deg=5.0)))
    assert "Overlap of 80 deg from 5.0." in station_description(above, None)


def test_what_forbids_a_bearing_is_told_with_its_reason():
    limits = (SeatLimit(from_deg=300.0, to_deg=340.0, why="the wall"), SeatLimit(from_deg=310.0, to_deg=5.0))
    assert forbidden_words(()) == ""
    assert forbidden_words(limits) == ("Forbidden here: 300.0 to 340.0 deg (the wall); 310.0 to 5.0 deg")


def test_the_second_best_is_told_or_why_there_is_none():
    best = BestSeat(100.0, "A", (-5.0, 5.0), 3.0, 0.0, 0, 0, 0)
    second = BestSeat(200.04, "B", (-5.0, 5.0), 3.0, 70.0, 1, 0, 0)
    assert second_best_sentence(second, best) == (
        "If a rock or a wall forbids it: 200.0 deg, hole B, 1 split, 70 s off the beam."
    )
    assert "leave no other place" in second_best_sentence(None, best)
    assert "as if none were" in second_best_sentence(None, replace(best, forbidden=True))
