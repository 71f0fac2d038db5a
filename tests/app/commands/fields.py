"""The full field lists of the JSON answers, and a check that an answer has these and no others.

The names are what scripts read: a change here is a change of the program's promise (DESIGN, section 6, and
DEVELOPERS). Times are ISO 8601 UTC with milliseconds and Z; degrees, seconds and kilometres as the names say.

passes --json
    passes: list of PASS; refused: list of {satellite, reason}
PASS
    satellite, norad_id
    aos, peak, los: {time, azimuth_deg, elevation_deg}; tca: the same and range_km
    stretches: list of [start, end]; cut: null, "start", "end" or "both"
check --json
    identity, assumed, motion; passes: list of CHECK; refused: as above
    travel_test: list of {axis, place, axis_deg, bearing_deg (null for elevation), dial_deg, dial}
    with --steering each CHECK has steering: null below the keyhole or out of reach, else
        {posture, turn: the way it begins in; peak_deg: in the mount's frame; keyhole_deg; in_use: the plan's;
        runs: list of {name, worst_off_deg, azimuth_travel_deg, elevation_travel_deg,
        antennas: list of {name, seconds_off, worst_loss_db}}}
CHECK: as PASS and
    clear: postures with a clear way; ways: list of WAY verdict; resting; seconds_lost; seconds_over_mask;
    reason: sentences strikes: ways refused since they would strike, list of {posture, turn, time, turning,
    standing, gap_mm, wanted_mm,
        boom_from_keyway_deg, e_deg, dial_deg, elevation_dial_deg}
    cure: null or {change, by, to}: key path in the plan, signed amount, value it then has
    split: null or {kind, start, end, from, to}, the last two {posture, turn}
    part: null or {from, to, posture, turn}
WAY
    posture, turn, clear, rests, m_min_deg, m_max_deg, e_min_deg, e_max_deg,
    dial_aos_deg, dial_los_deg, elevation_dial_aos_deg, elevation_dial_los_deg,
    peak_azimuth_rate_deg_s, seconds_lost
    rest: null or {where, start, end, seconds, overrun_deg, off_deg, loss_db}
orient --json
    identity, assumed, motion; index_hole; passes_studied; left_out: list of {satellite, norad_id, reason}
    intervals, points, curve, best: of the hole in use but for best, which is over all holes
    holes: by name {offset_deg, drilled_deg, intervals, points, curve, best}
    interval: {from_deg, to_deg, clear_upright, clear_over_the_top_only, not_clear, lost}
    point: {keyway_bearing_deg, clear_upright, clear_over_the_top_only, not_clear, lost}
    lost: list of {norad_id, aos}
    curve: list of [keyway_bearing_deg, seconds_lost, splits, parts, out_of_reach]
    best: {keyway_bearing_deg, index_hole, place_within_deg: [minus, plus], know_to_deg, seconds_lost,
        splits, parts, out_of_reach, forbidden}
    best_evening: null or {keyway_bearing_deg, index_hole, place_within_deg, know_to_deg, seconds_lost: of its
        contacts, worth_s, signal_s, contacts, turned_back, over_the_top, forbidden}
    evening_curve: list of [keyway_bearing_deg, worth_s, signal_s, contacts, turned_back, over_the_top]
    second_best: null or the fields of best and starts: list of {satellite, norad_id, aos, verdict,
        seconds_lost, azimuth_dial_deg, elevation_dial_deg}, the dials null out of reach
    forbidden: list of {from_deg, to_deg, why}
season --json
    identity, assumed, statistics_only: a sentence; days, evenings: of them with passes; passes, time_zone
    holes: by name {offset_deg, drilled_deg, best, curve}
    best: {keyway_bearing_deg, not_clear_share_10, _50, _90: of the evenings at most that share, and _mean;
        as_good_over_deg, halves_apart, forbidden: every bearing is}
    curve: list of [keyway_bearing_deg, not_clear_share]; at the top hole A's (else the first one's)
    drill: by count, list of {offset_deg, drilled_deg}: chosen on the first half of the evenings
    drill_judged: by count {not_clear_share, evenings_without_loss, evenly_spaced: the same and holes}: on the
        second half
    held_out: {evenings, not_clear_share: through the largest set; best_single_share; present_share: through
        the mount's own holes; evenings_without_loss, best_single_evenings_without_loss}
    halves: {seed, apart_at_most}: two halves drawn by lot, at any bearing; refused: as above
evening --json
    identity, assumed, motion; contacts: list of CONTACT; unmatched: list of sentences
    now: null or, with --now, {time, azimuth_dial_deg, time_round, elevation_dial_deg, m_deg, e_deg,
        bearing_deg, on_first: when the first contact is joined by moving at once or null,
        over, missed: lists of {satellite, norad_id, aos}}; the first contact's move starts there
    left_out: list of {satellite, norad_id, aos, reason}
    rests: list of {kind: idle or stow, after: place of the contact before, dial_deg, elevation_dial_deg,
        start, end: null where it stays}
    worth: {worth_s: what the evening is chosen by, in weighted seconds: signal_s less changes_s (of
        satellite), postures_s (changes of posture) and turning_s; turned_deg: of the azimuth motor;
        short_s: the best evening may be worth so much more at most; 0 where this is it}
stand --json
    identity, wind, centre_of_mass, tip_over, weakest, strongest, slides, limits, load, ballast_kg, stakes,
    guys, unheld, settling, fall_circle_m, highest_m, top_known, reached, overhead, advice, advice_text,
    cautions,
    wishes: see DEVELOPERS
compare --json
    same_evening: the plans differ in nothing but their fields; sentences: which plans are of another evening,
        else which field's evening is worth most; plans: list of FIELD
FIELD
    title, name: of the field, no two alike; identity, assumed, motion, file
    site: {name: may be empty, latitude_deg, longitude_deg, height_m}; evening: {start, end}
    minutes: of the picks (without picks of all passes) over mask and minimum elevation; minutes_lost_to_mask
    contacts, worth_s: of the evening as the keyway stands; off_beam_s, let_go_s, before_joining_s: its
        contacts' seconds lost told apart
    best, passes_studied: as in orient; best_evening: as in orient with --weigh-seats, else null
    unmatched: as in evening; refused: as in passes
    differs: list of words, in what the evening is another one than the first plan's: hours, satellites,
        minimum elevation, mount, keyway, picks, rules
log --json
    identity, assumed; rows: the contacts in order, then passes logged without being planned, list of
        {number: the sheet's or null, satellite, norad_id, start, end, worked, azimuth_dial_deg, time_round,
        elevation_dial_deg, time, last_heard: null where not noted, note, printed_azimuth_dial_deg,
        printed_time_round, printed_elevation_dial_deg: at that time (else at the peak), null out of reach,
        azimuth_more_deg, elevation_more_deg: noted less printed or null, told: sentence or empty,
        sighting: null, "possible" or "made", no_sighting: why none, or empty}
    unmatched: list of sentences; read: null or, with --read, {new, changed, same, unmatched: entries}
    sightings_made; effect: null or, with --make-sightings, a sentence on tonight's correction
setup --json
    identity, assumed, at; methods: list of METHOD; best: name of the method, null where none is possible
    declination: {deg, sigma_deg, model, valid}
    grid: null or {convergence_deg: true bearing = grid bearing + it, central_meridian_deg}
    level: null or {lean_deg, toward_deg, sigma_deg, zero_deg: of the inclinometer or null, shims: list of
        {from_keyway_deg, mm}}
    fit: null or FIT; times: list of {satellite, norad_id, aos, sigma_s}
    budget: of the evening's contacts, list of {satellite, norad_id, aos, antenna, rss_deg, worst_deg, loss_db
        and worst_loss_db: null outside the main lobe, off_95_deg, terms: list of {name, deg}, improve_first,
        ties: others that do as much}; budget_before: the same as it was before the sightings
METHOD
    method, target, possible, reason: why not, or what to mind
    bearing_deg: of the target, of the keyway for a compass; elevation_deg: as seen by eye where it is
    azimuth_dial_deg, azimuth_dial: as read, elevation_dial_deg, sigma_deg: null where there is none
    terms: list of {name, sigma_deg}
FIT
    correction_deg, correction_sigma_deg, elevation_zero_deg, elevation_zero_sigma_deg: null where unknown
    posture: null for both; lean: null or {angle_deg, toward_deg, sigma_deg}
    constants: list of {name, deg, sigma_deg, determined}
    residuals: list of {index, azimuth_deg, elevation_deg, weight: 0 where left out}
    outliers, doubtful: lists of index; undetermined: list of names; refused: list of {index, reason}
    explanations: list of {mistake, expected_deg, left_deg, left_sigma_deg, hole, index: of the one that is
        off or null, sentence}
    next_sighting: null or {bearing_deg, elevation_deg, why}
plate --json
    identity: of the plan; part: eight hex digits of plate and index holes; assumed; caution: a sentence
    features: list of {name, kind, x_mm, y_mm, angle_deg: h, clockwise from the datum mark seen from above,
        radius_mm,
        diameter_mm, inner_diameter_mm: of the step, else 0, depth_mm, thread: null or its name, side,
        offset_deg: iota
        = -h of an index hole, else null, from_below: {x_mm, y_mm, angle_deg} on the mirrored view; source}
    checks: list of {name, value, limit, unit, sense: "at most" or "at least", margin: in the unit, below 0
        where it
        does not hold, holds, formula, numbers: the same in figures, source, advice: what to change}
    operations: list of {number, work, tool, held_by, inspect, hazard}
    mass_kg, blank_mass_kg; play_deg: each way, free; pushed: {off_deg, play_deg}: pushed to one side
    fits_ways: into the tripod plate; rotator_ways: the rotator onto the part
    screws: list of {name: "bolts", "clamp" or "pin", thread, torque_nm, given, preload_n, preload_left_n,
        proof_n}
    turning: {wind_nm, stop_nm, hand_nm: about the azimuth axis; overturning_nm: tips the rotator}
    files: list of paths written with -o
CONTACT: as CHECK and
    worth, picked, start, end, wrap_before_deg, wrap_after_deg
    joined_late_s, left_early_s: let go before and after; explained: the alternative refused and its cost
    off_beam_s, let_go_s, before_joining_s: seconds_lost told apart: outside the beam of the way followed; let
        go for another contact; before joining
    chosen: the WAY followed, null for a split or a part (its ways stand there)
    move_before: null or {from_dial_deg, to_dial_deg, from_elevation_dial_deg, to_elevation_dial_deg,
        seconds_needed, seconds_there, feasible}
    joining: null or {from_idle, from_anywhere: on the pass when nothing moves before its start, or null;
        leave_idle_by, leave_anywhere_by: latest start of a move that is there at its start;
        caution: sentences where such a move may strike, else null}
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any

from core.setup.model import STEP_NAMES

_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z")
Kind = Callable[[Any], bool]


def time(value: Any) -> bool:
    return isinstance(value, str) and _TIME.fullmatch(value) is not None


def number(value: Any) -> bool:
    """A finite number that is no minus zero."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return False
    return value != 0 or math.copysign(1.0, value) > 0.0


def whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def text(value: Any) -> bool:
    return isinstance(value, str) and value != ""


def flag(value: Any) -> bool:
    return isinstance(value, bool)


def one_of(*allowed: Any) -> Kind:
    return lambda value: value in allowed and not isinstance(value, bool)


class Maybe:
    """Null, or a shape."""

    def __init__(self, shape: Any) -> None:
        self.shape = shape


class ByName:
    """An object whose keys are names, all values of one shape."""

    def __init__(self, shape: Any) -> None:
        self.shape = shape


POSTURE = one_of("upright", "over the top")
VERDICT = one_of("upright", "over the top", "split", "part", "out of reach")
EVENT = {"time": time, "azimuth_deg": number, "elevation_deg": number}
PASS = {
    "satellite": text,
    "norad_id": whole,
    "aos": EVENT,
    "peak": EVENT,
    "tca": EVENT | {"range_km": number},
    "los": EVENT,
    "stretches": [(time, time)],
    "cut": one_of(None, "start", "end", "both"),
}
REFUSED = {"satellite": text, "reason": text}
PASSES_ANSWER = {"passes": [PASS], "refused": [REFUSED]}
REST = {
    "where": one_of("counter-clockwise stop", "clockwise stop", "elevation minimum", "elevation maximum"),
    "start": time,
    "end": time,
    "seconds": number,
    "overrun_deg": number,
    "off_deg": number,
    "loss_db": number,
}
WAY = {
    "posture": POSTURE,
    "turn": whole,
    "clear": flag,
    "rests": flag,
    "m_min_deg": number,
    "m_max_deg": number,
    "e_min_deg": number,
    "e_max_deg": number,
    "dial_aos_deg": number,
    "dial_los_deg": number,
    "elevation_dial_aos_deg": number,
    "elevation_dial_los_deg": number,
    "peak_azimuth_rate_deg_s": number,
    "seconds_lost": number,
    "rest": Maybe(REST),
}
CHECK = PASS | {
    "clear": [POSTURE],
    "ways": [WAY],
    "verdict": VERDICT,
    "resting": flag,
    "seconds_lost": number,
    "seconds_over_mask": number,
    "reason": text,
    "strikes": [
        {
            "posture": POSTURE,
            "turn": whole,
            "time": time,
            "turning": text,
            "standing": text,
            "gap_mm": number,
            "wanted_mm": number,
            "boom_from_keyway_deg": number,
            "e_deg": number,
            "dial_deg": number,
            "elevation_dial_deg": number,
        }
    ],
    "cure": Maybe({"change": text, "by": number, "to": number}),
    "split": Maybe(
        {
            "kind": one_of("full turn", "change of posture"),
            "start": time,
            "end": time,
            "back": time,
            "from": {"posture": POSTURE, "turn": whole},
            "to": {"posture": POSTURE, "turn": whole},
            "absences": [{"from": time, "to": time}],
        }
    ),
    "part": Maybe(
        {
            "from": time,
            "to": time,
            "posture": POSTURE,
            "turn": whole,
            "absences": [{"from": time, "to": time}],
        }
    ),
}
HEAD = {"identity": text, "assumed": [text], "motion": one_of("simple", "full")}
TRAVEL_TEST = {
    "axis": one_of("azimuth", "elevation"),
    "place": text,
    "axis_deg": number,
    "bearing_deg": Maybe(number),
    "dial_deg": number,
    "dial": text,
}
STEERING = {
    "posture": POSTURE,
    "turn": whole,
    "peak_deg": number,
    "keyhole_deg": number,
    "in_use": one_of("chased", "led", "held"),
    "runs": [
        {
            "name": one_of("chased", "led", "held", "through the zenith", "best path"),
            "worst_off_deg": number,
            "azimuth_travel_deg": number,
            "elevation_travel_deg": number,
            "antennas": [{"name": text, "seconds_off": number, "worst_loss_db": number}],
        }
    ],
}
STEERING_ANSWER = HEAD | {
    "passes": [CHECK | {"steering": Maybe(STEERING)}],
    "refused": [REFUSED],
    "travel_test": [TRAVEL_TEST],
}
CHECK_ANSWER = HEAD | {"passes": [CHECK], "refused": [REFUSED], "travel_test": [TRAVEL_TEST]}
COUNTS = {
    "clear_upright": whole,
    "clear_over_the_top_only": whole,
    "not_clear": whole,
    "lost": [{"norad_id": whole, "aos": time}],
}
BEST = {
    "keyway_bearing_deg": number,
    "index_hole": text,
    "place_within_deg": (number, number),
    "know_to_deg": number,
    "seconds_lost": number,
    "splits": whole,
    "parts": whole,
    "out_of_reach": whole,
    "forbidden": flag,
}
START = {
    "satellite": text,
    "norad_id": whole,
    "aos": time,
    "verdict": VERDICT,
    "seconds_lost": number,
    "azimuth_dial_deg": Maybe(number),
    "elevation_dial_deg": Maybe(number),
}
STUDY = {
    "intervals": [{"from_deg": number, "to_deg": number} | COUNTS],
    "points": [{"keyway_bearing_deg": number} | COUNTS],
    "curve": [(number, number, whole, whole, whole)],
    "best": BEST,
}
BEST_EVENING = {
    "keyway_bearing_deg": number,
    "index_hole": text,
    "place_within_deg": (number, number),
    "know_to_deg": number,
    "seconds_lost": number,
    "worth_s": number,
    "signal_s": number,
    "contacts": whole,
    "turned_back": whole,
    "over_the_top": whole,
    "forbidden": flag,
}
ORIENT_ANSWER = (
    HEAD
    | STUDY
    | {
        "index_hole": text,
        "best_evening": Maybe(BEST_EVENING),
        "evening_curve": [(number, number, number, whole, whole, whole)],
        "second_best": Maybe(BEST | {"starts": [START]}),
        "forbidden": [{"from_deg": number, "to_deg": number, "why": lambda value: isinstance(value, str)}],
        "passes_studied": whole,
        "left_out": [{"satellite": text, "norad_id": whole, "reason": text}],
        "holes": ByName({"offset_deg": number, "drilled_deg": number} | STUDY),
    }
)
PLACE = {"offset_deg": number, "drilled_deg": number}
SEASON_CURVE = [(number, number)]
PLACED = {"not_clear_share": number, "evenings_without_loss": number}
SEASON_ANSWER = {
    "identity": text,
    "assumed": [text],
    "statistics_only": text,
    "days": whole,
    "evenings": whole,
    "passes": whole,
    "time_zone": text,
    "holes": ByName(
        PLACE
        | {
            "best": {
                "keyway_bearing_deg": number,
                "not_clear_share_10": number,
                "not_clear_share_50": number,
                "not_clear_share_90": number,
                "not_clear_share_mean": number,
                "as_good_over_deg": number,
                "halves_apart": number,
                "forbidden": flag,
            },
            "curve": SEASON_CURVE,
        }
    ),
    "curve": SEASON_CURVE,
    "drill": ByName([PLACE]),
    "drill_judged": ByName(PLACED | {"evenly_spaced": PLACED | {"holes": [PLACE]}}),
    "held_out": {
        "evenings": whole,
        "not_clear_share": number,
        "best_single_share": number,
        "present_share": number,
        "evenings_without_loss": number,
        "best_single_evenings_without_loss": number,
    },
    "halves": {"seed": whole, "apart_at_most": number},
    "refused": [REFUSED],
}
MOVE = {
    "from_dial_deg": number,
    "to_dial_deg": number,
    "from_elevation_dial_deg": number,
    "to_elevation_dial_deg": number,
    "seconds_needed": number,
    "seconds_there": number,
    "feasible": flag,
}
CONTACT = CHECK | {
    "worth": number,
    "picked": flag,
    "start": time,
    "end": time,
    "chosen": Maybe(WAY),
    "move_before": Maybe(MOVE),
    "joining": Maybe(
        {
            "from_idle": Maybe(time),
            "from_anywhere": Maybe(time),
            "leave_idle_by": time,
            "leave_anywhere_by": time,
            "caution": Maybe(text),
        }
    ),
    "wrap_before_deg": number,
    "wrap_after_deg": number,
    "joined_late_s": number,
    "left_early_s": number,
    "off_beam_s": number,
    "let_go_s": number,
    "before_joining_s": number,
    "explained": text,
}
PASS_ID = {"satellite": text, "norad_id": whole, "aos": time}
NOW = {
    "time": time,
    "azimuth_dial_deg": number,
    "time_round": whole,
    "elevation_dial_deg": number,
    "m_deg": number,
    "e_deg": number,
    "bearing_deg": number,
    "on_first": Maybe(time),
    "over": [PASS_ID],
    "missed": [PASS_ID],
}
WISH = one_of("seconds lost", "a leg downhill", "the lee", "the cable's side")
STAND_ANSWER = {
    "identity": text,
    "wind": {"mean_m_s": number, "gust_m_s": number, "typed": flag},
    "centre_of_mass": {
        "height_mm": number,
        "from_keyway_deg": number,
        "radius_mm": number,
        "turning_mm": number,
        "mass_kg": number,
    },
    "tip_over": [(number, number)],
    "weakest": {"toward_deg": number, "from_deg": number, "mean_wind_m_s": number},
    "strongest": {"toward_deg": number, "from_deg": number, "mean_wind_m_s": number},
    "slides": {"mean_wind_m_s": number},
    "limits": {
        "stop_gust_m_s": number,
        "stop_mean_m_s": number,
        "watch_gust_m_s": number,
        "watch_mean_m_s": number,
    },
    "load": {
        "kg": number,
        "rating_kg": Maybe(number),
        "holds": Maybe(flag),
        "with_ballast_kg": number,
        "with_guys_kg": number,
    },
    "ballast_kg": Maybe(number),
    "stakes": [{"from_keyway_deg": number, "pull_n": number}],
    "guys": [
        {
            "from_keyway_deg": number,
            "tension_n": number,
            "straight_n": number,
            "guy_deg": number,
            "peg_angle_deg": number,
            "holds": Maybe(flag),
        }
    ],
    "unheld": [{"from_deg": number, "to_deg": number}],
    "settling": [{"from_keyway_deg": number, "lean_deg": number, "toward_from_keyway_deg": number}],
    "fall_circle_m": number,
    "highest_m": number,
    "top_known": flag,
    "reached": [text],
    "overhead": [text],
    "advice": one_of("go", "watch", "take down"),
    "advice_text": text,
    "cautions": [text],
    "wishes": Maybe(
        {
            "text": text,
            "grants_all": flag,
            "given_up": [WISH],
            "seats": [
                {
                    "keyway_bearing_deg": number,
                    "index_hole": text,
                    "cost_s": number,
                    "seconds_lost": number,
                    "given_up": [WISH],
                    "wishes": [
                        {"name": WISH, "worth": number, "cost_s": number, "granted": flag, "text": text}
                    ],
                    "reason": text,
                }
            ],
            "not_wished": [text],
        }
    ),
}
EVENING_ANSWER = HEAD | {
    "now": Maybe(NOW),
    "contacts": [CONTACT],
    "left_out": [{"satellite": text, "norad_id": whole, "aos": time, "reason": text}],
    "unmatched": [text],
    "cautions": [{"contact": whole, "text": text}],
    "rests": [
        {
            "kind": one_of("idle", "stow"),
            "after": whole,
            "dial_deg": number,
            "elevation_dial_deg": number,
            "start": time,
            "end": Maybe(time),
        }
    ],
    "worth": {
        "worth_s": number,
        "signal_s": number,
        "changes_s": number,
        "postures_s": number,
        "turning_s": number,
        "turned_deg": number,
        "short_s": number,
    },
}
COMPARE_ANSWER = {
    "same_evening": flag,
    "sentences": [text],
    "plans": [
        HEAD
        | {
            "title": text,
            "name": text,
            "file": text,
            "site": {
                "name": lambda value: isinstance(value, str),
                "latitude_deg": number,
                "longitude_deg": number,
                "height_m": number,
            },
            "evening": {"start": time, "end": time},
            "minutes": number,
            "minutes_lost_to_mask": number,
            "contacts": whole,
            "worth_s": number,
            "off_beam_s": number,
            "let_go_s": number,
            "before_joining_s": number,
            "passes_studied": whole,
            "best": BEST,
            "best_evening": Maybe(BEST_EVENING),
            "unmatched": [text],
            "refused": [REFUSED],
            "differs": [
                one_of("hours", "satellites", "minimum elevation", "mount", "keyway", "picks", "rules")
            ],
        }
    ],
}

BUDGET = {
    "satellite": text,
    "norad_id": whole,
    "aos": time,
    "antenna": text,
    "rss_deg": number,
    "worst_deg": number,
    "loss_db": Maybe(number),
    "worst_loss_db": Maybe(number),
    "off_95_deg": number,
    "terms": [{"name": text, "deg": number}],
    "improve_first": lambda value: isinstance(value, str),
    "ties": [text],
}
LOG_ROW = {
    "number": Maybe(whole),
    "satellite": text,
    "norad_id": whole,
    "start": time,
    "end": time,
    "worked": Maybe(flag),
    "azimuth_dial_deg": Maybe(number),
    "time_round": Maybe(whole),
    "elevation_dial_deg": Maybe(number),
    "time": Maybe(time),
    "last_heard": Maybe(time),
    "note": lambda value: isinstance(value, str),
    "printed_azimuth_dial_deg": Maybe(number),
    "printed_time_round": Maybe(whole),
    "printed_elevation_dial_deg": Maybe(number),
    "azimuth_more_deg": Maybe(number),
    "elevation_more_deg": Maybe(number),
    "told": lambda value: isinstance(value, str),
    "sighting": Maybe(one_of("possible", "made")),
    "no_sighting": lambda value: isinstance(value, str),
}
LOG_ANSWER = {
    "identity": text,
    "assumed": [text],
    "rows": [LOG_ROW],
    "unmatched": [text],
    "read": Maybe({"new": whole, "changed": whole, "same": whole, "unmatched": whole}),
    "sightings_made": whole,
    "effect": Maybe(text),
}
SETUP_ANSWER = {
    "identity": text,
    "assumed": [text],
    "at": time,
    "methods": [
        {
            "method": one_of("sun", "moon", "polaris", "landmark", "compass", "satellite"),
            "target": lambda value: isinstance(value, str),
            "possible": flag,
            "reason": lambda value: isinstance(value, str),
            "bearing_deg": Maybe(number),
            "elevation_deg": Maybe(number),
            "azimuth_dial_deg": Maybe(number),
            "azimuth_dial": Maybe(text),
            "elevation_dial_deg": Maybe(number),
            "sigma_deg": Maybe(number),
            "terms": [{"name": text, "sigma_deg": number}],
        }
    ],
    "best": Maybe(one_of("sun", "moon", "polaris", "landmark", "compass", "satellite")),
    "declination": {"deg": number, "sigma_deg": number, "model": text, "valid": flag},
    "grid": Maybe({"convergence_deg": number, "central_meridian_deg": number}),
    "level": Maybe(
        {
            "lean_deg": number,
            "toward_deg": number,
            "sigma_deg": number,
            "zero_deg": Maybe(number),
            "shims": [{"from_keyway_deg": number, "mm": number}],
        }
    ),
    "fit": Maybe(
        {
            "correction_deg": Maybe(number),
            "correction_sigma_deg": Maybe(number),
            "posture": Maybe(one_of("upright", "over the top")),
            "elevation_zero_deg": Maybe(number),
            "elevation_zero_sigma_deg": Maybe(number),
            "lean": Maybe({"angle_deg": number, "toward_deg": number, "sigma_deg": number}),
            "constants": [{"name": text, "deg": number, "sigma_deg": number, "determined": flag}],
            "residuals": [
                {
                    "index": whole,
                    "azimuth_deg": Maybe(number),
                    "elevation_deg": Maybe(number),
                    "weight": number,
                }
            ],
            "outliers": [whole],
            "doubtful": [whole],
            "undetermined": [text],
            "explanations": [
                {
                    "mistake": one_of(
                        "another hole",
                        "offset sign",
                        "drawn from below",
                        "half a turn",
                        "declination sign",
                        "declination left out",
                        "local time",
                        "elevation unit reversed",
                    ),
                    "expected_deg": number,
                    "left_deg": number,
                    "left_sigma_deg": number,
                    "hole": Maybe(text),
                    "index": Maybe(whole),
                    "sentence": text,
                }
            ],
            "next_sighting": Maybe({"bearing_deg": number, "elevation_deg": number, "why": text}),
            "refused": [{"index": whole, "reason": text}],
        }
    ),
    "budget": [BUDGET],
    "budget_before": [BUDGET],
    "times": [{"satellite": text, "norad_id": whole, "aos": time, "sigma_s": number}],
    "timetable": Maybe(
        {
            **dict.fromkeys(("arrive", "arrive_by_contact", "first_contact"), time),
            **dict.fromkeys(("sun_last", "sunset", "dusk"), Maybe(time)),
            "north": Maybe(one_of("sun", "moon", "polaris", "landmark")),
            "spare_share": number,
            "stages": [
                {
                    "name": text,
                    "start": time,
                    "end": time,
                    "minutes": number,
                    "needs": Maybe(one_of("daylight", "Sun")),
                    "moved": flag,
                    "dark": flag,
                }
            ],
        }
    ),
    "checklist": [{"name": one_of(*STEP_NAMES), "text": text, "holds": Maybe(flag), "done": flag}],
    "kit": [{"what": text, "why": text}],
}

PLATE_ANSWER = {
    "identity": text,
    "assumed": [text],
    "part": text,
    "features": [
        {
            "name": text,
            "kind": one_of("through hole", "counterbore", "tapped hole", "step", "outside"),
            **dict.fromkeys(("x_mm", "y_mm", "angle_deg", "radius_mm", "diameter_mm"), number),
            "inner_diameter_mm": number,
            "depth_mm": number,
            "thread": Maybe(text),
            "side": one_of("below", "above"),
            "offset_deg": Maybe(number),
            "source": text,
            "from_below": {"x_mm": number, "y_mm": number, "angle_deg": number},
        }
    ],
    "checks": [
        {
            "name": text,
            "value": number,
            "limit": number,
            "unit": lambda value: isinstance(value, str),
            "sense": one_of("at most", "at least"),
            "margin": number,
            "holds": flag,
            **dict.fromkeys(("formula", "numbers", "source", "advice"), text),
        }
    ],
    "operations": [
        {"number": whole, **dict.fromkeys(("work", "tool", "held_by", "inspect", "hazard"), text)}
    ],
    **dict.fromkeys(("mass_kg", "blank_mass_kg", "play_deg"), number),
    "pushed": {"off_deg": number, "play_deg": number},
    "fits_ways": whole,
    "rotator_ways": whole,
    "screws": [
        {
            "name": one_of("bolts", "clamp", "pin"),
            "thread": text,
            "torque_nm": number,
            "given": flag,
            **dict.fromkeys(("preload_n", "preload_left_n", "proof_n"), number),
        }
    ],
    "turning": dict.fromkeys(("wind_nm", "stop_nm", "hand_nm", "overturning_nm"), number),
    "caution": text,
    "files": [text],
}


def misfit(value: Any, shape: Any, path: str = "") -> str | None:
    """Where an answer first departs from a shape, or None."""
    if isinstance(shape, Maybe):
        return None if value is None else misfit(value, shape.shape, path)
    if callable(shape):
        return None if shape(value) else f"{path}: {value!r} is no {getattr(shape, '__name__', 'choice')}"
    pairs = _pairs(value, shape)
    if isinstance(pairs, str):
        return f"{path}: {pairs}"
    found = (misfit(one, other, path + name) for name, one, other in pairs)
    return next((where for where in found if where), None)


def _pairs(value: Any, shape: Any) -> str | list[tuple[str, Any, Any]]:
    """The parts of an object or list with their shapes, or why there are none."""
    if isinstance(shape, ByName | dict):
        if not isinstance(value, dict):
            return "no object"
        shapes = dict.fromkeys(value, shape.shape) if isinstance(shape, ByName) else shape
        odd = sorted(set(value) ^ set(shapes))
        return f"keys differ by {odd}" if odd else [(f".{key}", value[key], shapes[key]) for key in shapes]
    if not isinstance(value, list):
        return "no list"
    shapes_ = shape * len(value) if isinstance(shape, list) else list(shape)
    if len(shapes_) != len(value):
        return f"{len(value)} items"
    return [(f"[{i}]", one, other) for i, (one, other) in enumerate(zip(value, shapes_, strict=True))]
