"""The words that plan again from now, and what they mean."""

from __future__ import annotations

import argparse

from app.commands.output import say, shown_progress
from app.commands.words import moment
from core.base.errors import DialTwiceError, NorthkeyError, ValueRangeError
from core.base.memo import Memo
from core.base.times import clock, parse_moment
from core.base.words import bearing_text
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.next_moves import move_words, next_moves
from core.plan.document import Plan
from core.replan import Missed, Now, Replanned, replan


def add_now_words(parser: argparse.ArgumentParser) -> None:
    """The present moment, dials and seat, and what was missed."""
    group = parser.add_argument_group("from now on", "plan the rest of the evening again")
    group.add_argument("--now", metavar="ISO", help="the present moment, UTC; needs --dial")
    group.add_argument("--dial", metavar="AZ[,EL]", help="what the dials read now")
    group.add_argument(
        "--time-round", type=int, metavar="N", help="which time round, where the dial reads the same twice"
    )
    group.add_argument("--keyway", type=float, metavar="DEG", help="true bearing of the keyway as found")
    group.add_argument("--hole", metavar="NAME", help="the index hole as found")
    group.add_argument(
        "--missed", metavar="NORAD@ISO,...", help="passes missed or given up, each by a moment near its peak"
    )


def now_of(options: argparse.Namespace) -> Now | None:
    """What the words say; None without them.

    Raises:
        ValueRangeError: they do not say enough, or what cannot be.
    """
    others = ("dial", "time_round", "keyway", "hole", "missed")
    if options.now is None:
        given = [f"--{name.replace('_', '-')}" for name in others if getattr(options, name) is not None]
        if given:
            raise ValueRangeError(given[0], "given alone", "given together with --now")
        return None
    if options.dial is None:
        raise ValueRangeError("--dial", "left out", "given with --now: what the azimuth dial reads")
    azimuth, elevation = _dials(options.dial)
    return Now(
        utc_s=parse_moment(options.now, "--now"),
        azimuth_dial_deg=azimuth,
        elevation_dial_deg=elevation,
        time_round=options.time_round,
        keyway_bearing_deg=options.keyway,
        index_hole=options.hole,
        missed=tuple(_missed(part) for part in (options.missed or "").split(",") if part.strip()),
    )


def _dials(text: str) -> tuple[float, float | None]:
    parts = text.split(",")
    try:
        figures = [float(part) for part in parts]
    except ValueError:
        figures = []
    if not 1 <= len(figures) <= 2 or not all(abs(figure) < 1e6 for figure in figures):
        raise ValueRangeError("--dial", repr(text), "one or two figures, AZ or AZ,EL")
    return figures[0], figures[1] if len(figures) == 2 else None


def _missed(text: str) -> Missed:
    number, mark, when = text.strip().partition("@")
    if not mark or not number.isdecimal() or not 1 <= int(number) <= 999_999_999:
        raise ValueRangeError(
            "--missed", repr(text), "a catalogue number, @ and a time, as 70001@2024-11-01T18:00Z"
        )
    return int(number), parse_moment(when, "--missed")


def planned_again(plan: Plan, now: Now, memo: Memo) -> Replanned:
    """The rest of the evening, with the progress shown."""
    try:
        with shown_progress() as progress:
            return replan(plan, now, memo, progress)
    except DialTwiceError as error:
        raise NorthkeyError(f"{error.occurs}: add --time-round {error.rounds}") from error


def say_now(again: Replanned) -> None:
    """Where the mount stands, and the next moves."""
    plan, mount = again.plan, again.plan.mount
    azimuth, elevation = (
        azimuth_dial(again.place.m_deg, mount.azimuth),
        elevation_dial(again.place.e_deg, mount.elevation),
    )
    say(
        f"Now {clock(again.now.utc_s)}: azimuth dial {azimuth.text} "
        f"({bearing_text(again.bearing_deg)} deg true), elevation dial {elevation.text}."
    )
    for name, passes in (("Over", again.over), ("Missed", again.missed)):
        if passes:
            told = ", ".join(f"{one.satellite} {moment(one.aos.utc_s, plan)}" for one in passes)
            say(f"{name}: {told}.")
    say("Next moves:")
    for line in [move_words(move) for move in next_moves(again)] or ["none"]:
        say(f"  {line}")
