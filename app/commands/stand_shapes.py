"""The stand as JSON shapes. Field names are fixed: they are what scripts read."""

from __future__ import annotations

from typing import Any

from app.commands.shapes import number
from core.stand.answer import StandAnswer
from core.stand.guys import GuyForce
from core.stand.words import advice_sentence, cautions
from core.wishes.ranked import Wished
from core.wishes.words import reason_sentence, wished_sentence


def stand_shape(found: StandAnswer) -> dict[str, Any]:
    """Everything of a stand in a wind; bearings true but where the name says from the keyway."""
    body, load, fall = found.body, found.load, found.fall
    rose = zip(found.rose.toward_deg.tolist(), found.rose.mean_m_s.tolist(), strict=True)
    return {
        "wind": {
            "mean_m_s": number(found.wind.mean_m_s),
            "gust_m_s": number(found.wind.gust_m_s),
            "typed": found.wind.typed,
        },
        "centre_of_mass": {
            "height_mm": number(body.height_m * 1000.0),
            "from_keyway_deg": number(body.from_keyway_deg),
            "radius_mm": number(body.radius_m * 1000.0),
            "turning_mm": number(body.turning_m * 1000.0),
            "mass_kg": number(body.mass_kg),
        },
        "tip_over": [[number(toward), number(mean)] for toward, mean in rose],
        "weakest": _tips(found, found.weakest_deg),
        "strongest": _tips(found, found.strongest_deg),
        "slides": {"mean_wind_m_s": number(found.slide_mean_m_s)},
        "limits": {
            "stop_gust_m_s": number(found.limits.stop_gust_m_s),
            "stop_mean_m_s": number(found.limits.stop_mean_m_s),
            "watch_gust_m_s": number(found.limits.watch_gust_m_s),
            "watch_mean_m_s": number(found.limits.watch_mean_m_s),
        },
        "load": {
            "kg": number(load.kg),
            "rating_kg": None if load.rating_kg is None else number(load.rating_kg),
            "holds": load.holds,
            "with_ballast_kg": number(load.with_ballast_kg),
            "with_guys_kg": number(load.with_guys_kg),
        },
        "ballast_kg": None if found.ballast_kg is None else number(found.ballast_kg),
        "stakes": [
            {"from_keyway_deg": number(one.from_keyway_deg), "pull_n": number(one.pull_n)}
            for one in found.stakes
        ],
        "guys": [_guy(one) for one in found.guys.forces],
        "unheld": [
            {"from_deg": number(start), "to_deg": number(end)} for start, end in found.guys.unheld_deg
        ],
        "settling": [
            {
                "from_keyway_deg": number(one.from_keyway_deg),
                "lean_deg": number(one.lean_deg),
                "toward_from_keyway_deg": number(one.toward_deg),
            }
            for one in found.settlings
        ],
        "fall_circle_m": number(fall.circle_m),
        "highest_m": number(fall.highest_m),
        "top_known": fall.top_known,
        "reached": list(fall.reached),
        "overhead": list(fall.overhead),
        "advice": found.advice,
        "advice_text": advice_sentence(found),
        "cautions": list(cautions(found)),
    }


def wished_shape(wished: Wished) -> dict[str, Any]:
    """The seats ranked by all wishes together."""
    return {
        "text": wished_sentence(wished),
        "grants_all": wished.grants_all,
        "given_up": list(wished.seats[0].given_up) if wished.seats else [],
        "seats": [_seat(wished, rank) for rank in range(len(wished.seats))],
        "not_wished": list(wished.not_wished),
    }


def _seat(wished: Wished, rank: int) -> dict[str, Any]:
    seat = wished.seats[rank]
    return {
        "keyway_bearing_deg": number(seat.keyway_bearing_deg),
        "index_hole": seat.index_hole,
        "cost_s": number(seat.cost_s, 1),
        "seconds_lost": number(seat.seconds_lost, 1),
        "given_up": list(seat.given_up),
        "wishes": [
            {
                "name": one.name,
                "worth": number(one.worth_s),
                "cost_s": number(one.cost_s, 1),
                "granted": one.granted,
                "text": one.words,
            }
            for one in seat.met
        ],
        "reason": reason_sentence(wished, rank),
    }


def _tips(found: StandAnswer, toward_deg: float) -> dict[str, float]:
    return {
        "toward_deg": number(toward_deg),
        "from_deg": number((toward_deg + 180.0) % 360.0),
        "mean_wind_m_s": number(found.tip_mean_m_s(toward_deg)),
    }


def _guy(one: GuyForce) -> dict[str, Any]:
    return {
        "from_keyway_deg": number(one.from_keyway_deg),
        "tension_n": number(one.tension_n),
        "straight_n": number(one.straight_n),
        "guy_deg": number(one.guy_deg),
        "peg_angle_deg": number(one.peg_angle_deg),
        "holds": one.holds,
    }
