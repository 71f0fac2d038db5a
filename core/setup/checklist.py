"""The checklist of setting up: what is ticked, each step with its figure. Common practice, no source.

One list for the window, the sheet and the command. What is ticked is the plan's, and nothing is computed
from it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from core.base.words import bearing_text, counted, figure, listed, plain, signed
from core.mount.dial.readings import azimuth_dial
from core.mount.model.chain import hole_in_use
from core.mount.model.station import Antenna
from core.setup.facts import NearBy, StationFacts, Tightened
from core.setup.model import STEP_NAMES, StepName

#: So many lines are told one by one: those that do not hold, or else the nearest.
_MOST_LINES, _NEAREST = 3, 2
LOCAL_CODES = "Local codes and the line's owner come first."


@dataclass(frozen=True)
class CheckStep:
    """A step to be ticked.

    Attributes:
        name: as the plan's ``checklist.done`` names it.
        words: what to do, with its figures.
        holds: whether what is looked at holds by the plan's figures; None where there is nothing to say.
        done: it is ticked in the plan.
    """

    name: StepName
    words: str
    holds: bool | None
    done: bool


def checklist(facts: StationFacts, done: Sequence[str]) -> tuple[CheckStep, ...]:
    """Every step in its order."""
    words = _words(facts)
    holds: dict[StepName, bool | None] = {"look up": _lines_hold(facts)}
    return tuple(CheckStep(name, words[name], holds.get(name), name in done) for name in STEP_NAMES)


def progress_words(done: int) -> str:
    """``7 of 16 done``."""
    return f"{done} of {len(STEP_NAMES)} done"


def _words(facts: StationFacts) -> Mapping[StepName, str]:
    mount = facts.mount
    hole = hole_in_use(mount)
    over = "and over the top" if mount.elevation.maximum_deg > 90.0 else "and elevation end to end"
    mid = azimuth_dial(mount.azimuth.travel_deg / 2.0, mount.azimuth).short
    return {
        "look up": _look_up(facts),
        "tripod": _tripod(facts),
        "level": "Level the plate two ways; again when the antennas are on.",
        "keyway": f"Keyway to {bearing_text(mount.keyway_bearing_deg)} deg true "
        f"({bearing_text(facts.keyway_magnetic_deg)} on the compass); check it by a second means.",
        "index": f"Index screw in hole {hole.name} (offset {signed(hole.offset_deg)} deg), no other, and "
        "down in the keyway: the adapter does not turn.",
        "torque": _torque(facts.screws),
        "witness mark": "Witness line drawn across plate and adapter.",
        "rotator": f"Rotator on, at mid travel: azimuth dial {mid}.",
        "cables": f"Cables dressed at azimuth dial {mid}: loops free to both stops.",
        "antennas": f"Antennas on: {_named(facts.antennas)}; every boom along the same line.",
        "feeders": f"Feeders to their own bands, labels read aloud: {_bands(facts.antennas)}.",
        "travel test": f"Travel test stop to stop {over}, with a spotter; dials as in the travel test.",
        "sighting": f"North sighted along the boom{_by(facts)}; both dials written down.",
        "pull test": "Pull at the boom's end both ways: the witness line stays whole.",
        "receive check": "Received on every band, before the first AOS.",
        "first dials": f"First start set: {facts.first}." if facts.first else "First start set on the dials.",
    }


def _look_up(facts: StationFacts) -> str:
    if facts.highest_m is None:
        return f"Look up and around: lines, branches, people, the way out.{_unjudged(facts)} {LOCAL_CODES}"
    reach = f"{figure(facts.highest_m)} m: so high the boom's end reaches"
    lines = [one for one in facts.near if one.height_m > 0.0]
    if not lines:
        return f"{reach}. No line is typed: look up and around. {LOCAL_CODES}"
    near = sorted(lines, key=lambda one: (one.clear, one.distance_m))
    shown = [one for one in near if not one.clear] or near[:_NEAREST]
    others = sum(one.clear for one in near if one not in shown)
    told = [_line(one) for one in shown[:_MOST_LINES]]
    told += [f"{len(shown) - _MOST_LINES} more do NOT hold"] if len(shown) > _MOST_LINES else []
    told += [f"{counted(others, 'other')} {'holds' if others == 1 else 'hold'}"] if others else []
    return f"{reach}; {listed(told)}. {LOCAL_CODES}"


def _unjudged(facts: StationFacts) -> str:
    """The nearest lines where the plan does not say how high a boom's end comes; empty without lines."""
    lines = sorted((one for one in facts.near if one.height_m > 0.0), key=lambda one: one.distance_m)
    if not lines:
        return ""
    told = listed([_where(one) for one in lines[:_NEAREST]])
    return f" {told}: no boom is typed to say whether that holds."


def _line(one: NearBy) -> str:
    return f"{_where(one)}: {'holds' if one.clear else 'does NOT hold'}"


def _where(one: NearBy) -> str:
    return f"{one.name!r} is {plain(one.distance_m)} m away, {plain(one.height_m)} m up"


def _lines_hold(facts: StationFacts) -> bool | None:
    lines = [one for one in facts.near if one.height_m > 0.0]
    return all(one.clear for one in lines) if lines and facts.highest_m is not None else None


def _tripod(facts: StationFacts) -> str:
    held = facts.holding
    if held is None:
        return "Tripod open, stakes or ballast on before any weight goes up."
    told = []
    if held.guys:
        told.append(counted(held.guys, "guy"))
    if held.stakes_n > 0.0:
        told.append(f"a stake at each foot ({held.stakes_n:.0f} N)")
    if held.ballast_kg:
        told.append(f"{held.ballast_kg:.0f} kg of ballast on the axis")
    if held.hung:
        told.append(f"{listed(held.hung)} hung")
    by = f" for {held.wind}" if held.wind else ""
    what = f": {listed(told)}{by}" if told else ""
    return f"Tripod open, held before any weight goes up{what}."


def _torque(screws: Sequence[Tightened]) -> str:
    if not screws:
        return "Plate bolts tightened in turn to their torque (the tripod's and rotator's own papers)."
    told = [f"{one.what} {one.thread} {plain(one.torque_nm, 1)} Nm" for one in screws]
    by = "" if all(one.given for one in screws) else " (reckoned from thread and plate)"
    return f"Tightened in turn: {listed(told)}{by}."


def _named(antennas: Sequence[Antenna]) -> str:
    return listed([one.name for one in antennas])


def _bands(antennas: Sequence[Antenna]) -> str:
    return listed([f"{one.name} {band_words(one)}".strip() for one in antennas])


def band_words(antenna: Antenna) -> str:
    """``145.9 MHz``; empty where the frequency is not told."""
    return f"{plain(antenna.frequency_hz / 1e6, 3)} MHz" if antenna.frequency_hz else ""


def _by(facts: StationFacts) -> str:
    words = {
        "sun": " by the Sun's shadow (never look at the Sun)",
        "moon": " by the Moon",
        "polaris": " by Polaris",
        "landmark": " by the landmark",
    }
    return words.get(facts.north or "", "")
