"""Dials at the best signal as sightings, to the correction that they show."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from core.afterwards.effect import effect_sentence
from core.afterwards.rows import evening_log
from core.afterwards.sightings import (
    AT_THE_PEAK_S,
    NOTED_S,
    TO_THE_MINUTE_S,
    FromLog,
    Names,
    from_log,
    with_sightings,
)
from core.afterwards.words import row_words
from core.base.edits import changed
from core.base.memo import Memo
from core.base.times import format_iso, parse_iso
from core.elements.choosing import sets_named
from core.on_site import fit_of
from core.plan.document import Plan
from tests.core.afterwards.evenings import SATELLITES, evening, evening_data, noted
from tests.lasting import MEMO, result_of
from tests.plans import plan_of

OVER = {"mount__elevation__minimum_deg": 90.0, "mount__elevation__maximum_deg": 180.0}


def candidates(plan: Plan) -> tuple[FromLog, ...]:
    return from_log(plan, evening_log(plan, result_of(plan)))


def logged(*entries: dict[str, Any], **changes: Any) -> Plan:
    return plan_of(evening_data(**changes), log=list(entries))


@pytest.mark.parametrize("true_deg", [3.2, -7.0])
@pytest.mark.parametrize("changes", [{}, OVER], ids=["upright", "over the top"])
def test_the_fit_finds_the_correction_that_the_dials_show(true_deg, changes):
    """From dials rounded as a hand reads them, a few seconds late, to the station's true correction."""
    planned = plan_of(evening_data(**changes))
    chance = np.random.default_rng(7)
    entries = noted(planned, true_deg, later_s=float(round(chance.normal(0.0, NOTED_S))))
    assert len(entries) >= 4
    plan = plan_of(evening_data(**changes), log=entries)
    made = candidates(plan)
    assert all(one.to_make for one in made)
    sighted = with_sightings(plan, made)
    assert {one.posture for one in sighted.sightings} == ({"over the top"} if changes else {"upright"})
    fit = fit_of(sighted, Memo())
    assert fit is not None
    assert fit.correction_deg is not None
    assert abs(fit.correction_deg - true_deg) < fit.correction_sigma_deg < 4.0
    assert (fit.outliers, fit.doubtful, fit.refused) == ((), (), ())


def test_what_they_do_to_the_correction_is_told_in_one_sentence():
    plan = plan_of(evening_data(), log=noted(evening()[0], 3.2))
    sighted = with_sightings(plan, candidates(plan))
    fit = fit_of(sighted, Memo())
    assert fit is not None
    assert fit.correction_deg is not None
    within = f"{fit.correction_deg:.1f} deg, known to {1.96 * fit.correction_sigma_deg:.1f} deg (95 %)"
    assert effect_sentence(plan, sighted) == (
        f"With 6 more sightings tonight's correction is +{within}; there was none before."
    )
    more = with_sightings(plan, candidates(plan)[:3])
    assert effect_sentence(more, sighted, MEMO).endswith(" deg (95 %).")
    assert "; before, +" in effect_sentence(more, sighted, MEMO)
    level = logged(*({**one, "azimuth_dial_deg": None} for one in noted(evening()[0], 3.2)))
    assert effect_sentence(level, with_sightings(level, candidates(level))) == (
        "With 6 more sightings there is no correction still: no azimuth was read."
    )


def test_the_same_readings_again_change_nothing_and_a_corrected_one_takes_its_place():
    entries = noted(evening()[0], 3.2)
    plan = plan_of(evening_data(), log=entries)
    once = with_sightings(plan, candidates(plan)[1:3])
    assert [one.same for one in candidates(once)] == [False, True, True, False, False, False]
    all_of_them = with_sightings(once, candidates(once))
    assert len(all_of_them.sightings) == len(entries)
    assert not any(one.to_make for one in candidates(all_of_them))
    assert with_sightings(all_of_them, candidates(all_of_them)) is all_of_them
    entries[1]["azimuth_dial_deg"] += 1.0
    left_out = all_of_them.sightings[0].model_copy(update={"used": False})
    mended = plan_of(
        evening_data(),
        log=entries,
        sightings=[one.model_dump() for one in (left_out, *all_of_them.sightings[1:])],
    )
    again = with_sightings(mended, candidates(mended))
    assert len(again.sightings) == len(entries)
    assert again.sightings[0].azimuth_dial_deg == entries[1]["azimuth_dial_deg"]
    assert not again.sightings[0].used, "left out on the Setup page, it stays left out"


def test_a_reading_whose_moment_is_put_right_is_one_reading_still():
    """Noted to the minute and made, then found in the notes to the second: its weight must not double."""
    plan = plan_of(evening_data())
    (entry, *_others) = noted(plan, 3.2)
    made = logged(entry)
    once = with_sightings(made, candidates(made))
    assert len(once.sightings) == 1
    later = {**entry, "time": format_iso(parse_iso(entry["time"]) + 12.0)}
    again = changed(once, "log", logged(later).log)
    (one,) = from_log(again, evening_log(again, result_of(again)))
    assert one.to_make
    twice = with_sightings(again, [one])
    assert [(s.time, s.azimuth_dial_deg) for s in twice.sightings] == [
        (later["time"], entry["azimuth_dial_deg"])
    ]
    other = changed(once, "log", logged({**later, "azimuth_dial_deg": entry["azimuth_dial_deg"] + 1.0}).log)
    (one,) = from_log(other, evening_log(other, result_of(other)))
    assert one.place is None  # another figure at another moment is another reading


def test_how_well_the_moment_is_known_counts_along_the_track():
    entry = noted(evening()[0], 0.0)[0]
    minute = entry["time"][:17] + "00Z"
    by_time = {}
    for time, sigma_s in ((entry["time"], NOTED_S), (minute, TO_THE_MINUTE_S), (None, AT_THE_PEAK_S)):
        plan = logged({**entry, "time": time})
        (one,) = candidates(plan)
        assert one.sighting is not None
        assert one.sighting.time_sigma_s == sigma_s
        fit = fit_of(with_sightings(plan, (one,)), Memo())
        assert fit is not None
        by_time[sigma_s] = fit.correction_sigma_deg
    assert by_time[NOTED_S] < by_time[AT_THE_PEAK_S] < by_time[TO_THE_MINUTE_S]
    row = evening_log(plan, result_of(plan)).rows[0]
    assert one.sighting.time == format_iso(row.pass_.peak.utc_s), "without a time it is the peak"


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"worked": False}, "it was not worked"),
        ({"time": "2024-11-01T19:59:59Z"}, "its time is outside the pass"),
        ({"azimuth_dial_deg": 361.0}, "361 is nowhere on the azimuth dial"),
        ({"time_round": 3}, "the azimuth dial shows 281 1 times at most"),
        ({"elevation_dial_deg": 190.0}, "190 is nowhere on the elevation dial"),
    ],
)
def test_a_reading_that_says_nothing_of_north_is_left_with_its_reason(change, reason):
    entry = noted(evening()[0], 3.2)[0]
    (one,) = candidates(logged({**entry, **change}))
    assert (one.sighting, one.reason) == (None, reason)


def test_a_mount_that_rests_at_a_stop_says_nothing_of_north():
    """The satellite goes past the stop while the mount stands there: its dial is the stop's."""
    held = {"mount__azimuth__travel_deg": 20.0, "antennas": [{"beamwidth_deg": 60.0}]}
    plan = plan_of(evening_data(**held))
    rows = [
        row
        for row in evening_log(plan, result_of(plan)).rows
        if row.check.pointing is not None and row.check.pointing.off_deg.max() > 12.0
    ]
    assert rows
    row = rows[0]
    assert row.check.pointing is not None
    worst_s = float(row.check.pointing.utc_s[row.check.pointing.off_deg.argmax()])
    entry = {
        "norad_id": row.pass_.norad_id,
        "near": format_iso(row.pass_.peak.utc_s),
        "azimuth_dial_deg": 3.0,
        "time": format_iso(worst_s),
    }
    (one,) = candidates(logged(entry, **held))
    assert one.reason == "the mount is not on the satellite then, by plan: at a stop, too slow or in a move"


def test_which_time_round_is_inferred_where_the_plan_tells_it_and_asked_for_where_not():
    """A dial of 300 figures a turn comes round elsewhere: the same figure looks two ways."""
    twice = {"mount__azimuth__dial_wraps_at_deg": 300.0, "mount__azimuth__travel_deg": 650.0}
    plan = plan_of(evening_data(**twice))
    entries = noted(plan, 3.2)
    made = candidates(logged(*entries, **twice))
    assert all(one.sighting is not None for one in made)
    rounds = {one.sighting.time_round for one in made if one.sighting is not None}
    assert rounds <= {1, 2, 3}
    assert None not in rounds
    fit = fit_of(with_sightings(logged(*entries, **twice), made), Memo())
    assert fit is not None
    assert fit.correction_deg is not None
    assert abs(fit.correction_deg - 3.2) < fit.correction_sigma_deg
    row = next(
        r for r in evening_log(plan, result_of(plan)).rows if 160.0 < r.check.pointing.m_deg.mean() < 480.0
    )
    read = next(one for one in entries if one["near"] == format_iso(row.pass_.peak.utc_s))
    astray = {**read, "azimuth_dial_deg": (read["azimuth_dial_deg"] + 150.0) % 300.0}
    (one,) = candidates(logged(astray, **twice))
    assert one.reason == "the dial reads this figure more than once: note which, as in 20 (2nd)"
    (one,) = candidates(logged({**astray, "time_round": 2}, **twice))
    assert one.sighting is not None
    assert one.sighting.time_round == 2


def test_a_split_has_its_own_posture_on_both_sides_of_its_move():
    narrow = {
        "mount__azimuth__travel_deg": 200.0,
        "mount__keyway_bearing_deg": 60.0,
        "antennas": [{"beamwidth_deg": 20.0}],
    }
    plan = plan_of(evening_data(**narrow))
    rows = [row for row in evening_log(plan, result_of(plan)).rows if row.check.split is not None]
    split = rows[0].check.split
    assert split is not None
    assert split.from_posture != split.to_posture
    for utc_s, posture in (
        (split.start_utc_s - 5.0, split.from_posture),
        (split.end_utc_s + 5.0, split.to_posture),
    ):
        entry = {
            "norad_id": rows[0].pass_.norad_id,
            "near": format_iso(rows[0].pass_.peak.utc_s),
            "azimuth_dial_deg": 30.0,
            "time": format_iso(utc_s),
        }
        (one,) = candidates(logged(entry, **narrow))
        assert one.sighting is not None, one.reason
        assert one.sighting.posture == posture
    assert split.end_utc_s - split.start_utc_s > 4.0
    for utc_s in (split.start_utc_s + 1.0, split.end_utc_s - 1.0):
        (one,) = candidates(logged({**entry, "time": format_iso(utc_s)}, **narrow))
        assert one.sighting is None


def test_the_elevation_dial_says_the_posture_where_it_says_it_plainly():
    entry = noted(evening()[0], 3.2)[0]
    (one,) = candidates(logged({**entry, "elevation_dial_deg": 150.0}))
    assert one.sighting is not None
    assert one.sighting.posture == "over the top"


@pytest.mark.parametrize("name", ["Alder", "A, B", "70003", "Sun", "Birch", "mast"])
def test_a_sightings_target_means_its_satellite_alone(name):
    satellites = [{**SATELLITES[0], "name": name}, *SATELLITES[1:]]
    marks = [{"name": "Mast", "latitude_deg": 47.0, "longitude_deg": 9.0}]
    plan = plan_of(evening_data(), satellites=satellites, landmarks=marks)
    target = Names(plan).of(70001)
    assert target == (name if name == "Alder" else "70001")
    sets = [one.elements.model_copy(update={"name": one.name}) for one in plan.satellites]
    assert [one.norad_id for one in sets_named(sets, target).sets] == [70001]


def test_a_reading_is_told_beside_what_was_planned():
    entries = noted(evening()[0], 3.2)
    plan = plan_of(evening_data(), log=entries)
    rows = evening_log(plan, result_of(plan)).rows
    assert row_words(rows[0], plan.mount) == ("azimuth 3 deg less than planned", False)
    unread = logged({**entries[0], "azimuth_dial_deg": None, "elevation_dial_deg": None, "time": None})
    assert row_words(evening_log(unread, result_of(unread)).rows[0], unread.mount) == ("", False)
    for change, words in (
        (
            {"azimuth_dial_deg": 20.0},
            "azimuth 96 deg more than planned: is it the right row?",
        ),
        ({"azimuth_dial_deg": 400.0}, "400 is not on the azimuth dial: it shows 0 to 360"),
        ({"elevation_dial_deg": 181.5}, "181.5 is not on the elevation dial: it shows 0 to 180"),
        ({"time_round": 2}, "The azimuth dial shows 281 only once"),
    ):
        other = logged({**entries[0], **change})
        assert row_words(evening_log(other, result_of(other)).rows[0], other.mount) == (words, True)
    late = logged({**entries[0], "time": "2024-11-01T19:59:59Z"})
    told, attention = row_words(evening_log(late, result_of(late)).rows[0], late.mount)
    assert told.startswith("19:59:59 is not in this pass, ")
    assert attention
    assert math.isfinite(rows[0].best_utc_s)
