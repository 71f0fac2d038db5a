"""The stand in words: short sentences, number first; and the cautions that go with every answer."""

from __future__ import annotations

from collections.abc import Sequence

from core.base.words import bearing_text, counted, listed
from core.mount.clearance.lengths import Guy, Leg
from core.stand.answer import StandAnswer
from core.stand.ground import Settling
from core.stand.guys import GuyForce
from core.stand.model import Foot, StandGuy
from core.stand.wind import FORCE_5_M_S

NO_CERTIFICATE = "Figures for planning, not a structural certificate: your tripod's own papers come first."
LINES_CAUTION = (
    "Overhead power lines: local codes and the utility come first. Keep far beyond the fall circle, and "
    "never raise anything under them."
)
FORECAST_CAUTION = (
    "A forecast is for 10 m over open ground: gusts between trees and over a ridge can be stronger."
)
#: A guy steeper than this over the ground draws its peg up more than along.
_STEEP_DEG = 45.0
#: A turn of the wind's own bearing.
_HALF_TURN = 180.0


def toward_text(toward_deg: float) -> str:
    """``toward 213.0 deg true (wind from 33.0)``: where it blows, both ways round."""
    return f"toward {bearing_text(toward_deg)} deg true (wind from {bearing_text(toward_deg + _HALF_TURN)})"


def load_sentence(found: StandAnswer) -> str:
    """What the tripod carries, against its rating."""
    load = found.load
    if load.rating_kg is None:
        return f"{load.kg:.1f} kg on the tripod. Its rating is not typed, so the load is not judged."
    if not load.holds:
        return (
            f"{load.kg:.1f} kg on a tripod rated for {load.rating_kg:.1f} kg: "
            f"{load.kg - load.rating_kg:.1f} kg too much."
        )
    return (
        f"{load.kg:.1f} kg on a tripod rated for {load.rating_kg:.1f} kg: "
        f"{load.rating_kg - load.kg:.1f} kg to spare."
    )


def centre_sentence(found: StandAnswer) -> str:
    """Where the centre of mass is."""
    body = found.body
    off = body.radius_m * 1000.0
    aside = (
        "on the axis"
        if off < 0.5
        else f"{off:.0f} mm off the axis, {body.from_keyway_deg:.0f} deg from the keyway"
    )
    turns = body.turning_m * 1000.0
    more = "" if turns < 0.5 else f" What turns moves it by {turns:.0f} mm, to any side."
    return f"{body.height_m:.2f} m over the ground, {aside}: the centre of {body.mass_kg:.1f} kg.{more}"


def weakest_sentence(found: StandAnswer) -> str:
    """The least mean wind that tips it, and the most."""
    weakest = found.tip_mean_m_s(found.weakest_deg)
    if weakest <= 0.0:
        return "0 m/s: the centre of mass is outside the feet, and the stand falls by itself."
    strongest = found.tip_mean_m_s(found.strongest_deg)
    return (
        f"{weakest:.1f} m/s mean tips it, in gusts of {weakest * found.stand.gust_factor:.1f}, blowing "
        f"{toward_text(found.weakest_deg)}. At best {strongest:.1f} m/s, {toward_text(found.strongest_deg)}."
    )


def slide_sentence(found: StandAnswer) -> str:
    """When it slides."""
    return (
        f"{found.slide_mean_m_s:.1f} m/s mean slides its feet, at a friction of {found.stand.friction:g} "
        "(wet grass or rock: less)."
    )


def wind_sentence(found: StandAnswer) -> str:
    """The wind that was reckoned with."""
    wind = found.wind
    if wind.typed:
        return f"{wind.mean_m_s:.1f} m/s mean, gusts of {wind.gust_m_s:.1f} m/s: the wind reckoned with."
    return (
        f"{wind.mean_m_s:.1f} m/s mean, gusts of {wind.gust_m_s:.1f} m/s are reckoned with, "
        "the top of force 4: no forecast is typed."
    )


def advice_sentence(found: StandAnswer) -> str:
    """Go, watch or take down, and at which figures that changes."""
    limits = found.limits
    stop = (
        f"Take down at gusts of {limits.stop_gust_m_s:.1f} m/s or a mean of {limits.stop_mean_m_s:.1f} m/s "
        "(force 5)."
    )
    if found.advice == "take down":
        why = (
            f"the gusts are over {limits.stop_gust_m_s:.1f} m/s"
            if found.wind.gust_m_s >= limits.stop_gust_m_s
            else f"the mean is at force 5 ({FORCE_5_M_S:g} m/s) or more"
        )
        return f"Take down: {why}. {stop}"
    if found.advice == "watch":
        return f"Watch: someone stays with it and looks at the wind. {stop}"
    return (
        f"Go. Watch from gusts of {limits.watch_gust_m_s:.1f} m/s or a mean of "
        f"{limits.watch_mean_m_s:.1f} m/s (force 4) on. {stop}"
    )


def ballast_sentence(found: StandAnswer) -> str:
    """What would hold it in this wind."""
    if found.ballast_kg is None:
        return "No ballast on the axis helps: the axis is outside the feet."
    if found.ballast_kg <= 0.0:
        return "0 kg of ballast: its weight holds these gusts with the margin."
    pulls = [one.pull_n for one in found.stakes]
    load = found.load
    over = load.rating_kg is not None and load.with_ballast_kg > load.rating_kg
    where = " That is over the tripod's rating: lay it on the feet." if over else ""
    return (
        f"{found.ballast_kg:.1f} kg hung on the axis so that it cannot swing, or the same laid equally on "
        f"the feet.{where} Or a stake at each foot that holds {max(pulls):.0f} N straight up."
    )


def guy_sentence(one: GuyForce) -> str:
    """What a guy takes."""
    judged = {None: "", True: " It holds.", False: " That is more than it holds."}[one.holds]
    steep = (
        " It is steeper than 45 deg and draws its peg up: move the peg out."
        if one.guy_deg > _STEEP_DEG + 1e-9
        else ""
    )
    return (
        f"{one.tension_n:.0f} N on the guy {one.from_keyway_deg:.0f} deg from the keyway "
        f"({one.straight_n:.0f} N straight against the wind). "
        f"Peg leaning away, {one.peg_angle_deg:.0f} deg over the ground.{judged}{steep}"
    )


def settling_sentence(found: StandAnswer) -> str:
    """What a sinking foot does."""
    worst: Settling = max(found.settlings, key=lambda one: one.lean_deg)
    return (
        f"{worst.lean_deg:.2f} deg of lean if the foot {worst.from_keyway_deg:.0f} deg from the keyway "
        f"sinks by {found.stand.settling_mm:g} mm."
    )


def fall_sentence(found: StandAnswer) -> str:
    """What the station could fall on."""
    fall = found.fall
    head = (
        f"{fall.circle_m:.1f} m from the axis: what it reaches when it falls "
        f"(highest point {fall.highest_m:.1f} m)."
    )
    if not fall.top_known:
        head = (
            f"{fall.circle_m:.1f} m and more from the axis: no boom's length and no highest point is typed "
            f"(highest of what is: {fall.highest_m:.1f} m)."
        )
    if not fall.near:
        return f"{head} Nothing near by is typed."
    if fall.reached:
        return f"{head} It could strike {listed(fall.reached)}."
    if not fall.top_known:
        return f"{head} What it reaches near by is not known."
    return f"{head} It reaches none of the {counted(len(fall.near), 'thing')} near by."


def stand_lines(found: StandAnswer) -> tuple[tuple[str, str], ...]:
    """Everything but the advice: a word and its sentence."""
    return (
        ("Wind", wind_sentence(found)),
        ("Load", load_sentence(found)),
        ("Centre", centre_sentence(found)),
        ("Tips", weakest_sentence(found)),
        ("Slides", slide_sentence(found)),
        ("Ballast", ballast_sentence(found)),
        *(("Guy", guy_sentence(one)) for one in found.guys.forces),
        ("Ground", settling_sentence(found)),
        ("Fall", fall_sentence(found)),
    )


def cautions(found: StandAnswer) -> tuple[str, ...]:
    """What has to be told with the answer, the certificate that it is not first."""
    stand = found.stand
    told = [NO_CERTIFICATE, LINES_CAUTION, FORECAST_CAUTION]
    if stand.tripod_mass_kg == 0.0:
        told.append("0 kg: the tripod's own mass is not typed and not counted.")
    if found.load.holds is False:
        told.append(load_sentence(found))
    if found.fall.overhead:
        told.append(f"Over the fall circle hangs {listed(found.fall.overhead)}: set up somewhere else.")
    if found.load.rating_kg is not None and found.load.with_guys_kg > found.load.rating_kg >= found.load.kg:
        told.append(
            f"{found.load.with_guys_kg:.1f} kg with the guys pressing down in the gust: "
            "over the tripod's rating."
        )
    told += _legs_differ(found) + _guys_cautions(found)
    if stand.hung:
        told.append("What hangs must not swing: tie it to a leg or let it touch the ground.")
    return tuple(told)


def _legs_differ(found: StandAnswer) -> list[str]:
    """Legs or guys that the plan tells twice, and not alike."""
    stand, lengths = found.stand, found.lengths
    if lengths is None:
        return []
    pairs = (
        ("legs", _legs(stand.legs), _legs(lengths.legs)),
        ("guys", _guys(stand.guys), _guys(lengths.guys)),
    )
    return [
        f"The stand's {word} are not where the clearance's are: one of the two is wrong."
        for word, ours, theirs in pairs
        if ours and theirs and ours != theirs
    ]


def _legs(legs: Sequence[Foot | Leg]) -> list[tuple[float, ...]]:
    """Their places in one order, whole turns aside."""
    return sorted((round(one.from_keyway_deg, 6) % 360.0, one.radius_mm) for one in legs)


def _guys(guys: Sequence[StandGuy | Guy]) -> list[tuple[float, ...]]:
    return sorted((round(one.from_keyway_deg, 6) % 360.0, one.peg_radius_mm, one.height_mm) for one in guys)


def _guys_cautions(found: StandAnswer) -> list[str]:
    guys = found.guys
    if not guys.forces:
        return []
    told = []
    for start, end in guys.unheld_deg:
        text = " to ".join(bearing_text(one + found.keyway_deg) for one in (start, end))
        told.append(f"Winds toward {text} deg true are held by no guy: put one more opposite.")
    if not guys.unheld_deg and any(one.holds is None for one in guys.forces):
        told.append(
            "The advice does not count the guys: what line and peg hold (holds_n) is not typed for each."
        )
    return told
