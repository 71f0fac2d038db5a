"""The standing sentences of the set-up card: order of work, cautions, what the marks mean."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.drawing import Drawing
from core.mount.model.results import Verdict
from core.sheet.drawing.marks import verdict_mark


@dataclass(frozen=True)
class LegendLine:
    """A verdict's word, its mark, and what the mark says."""

    word: str
    mark: Drawing
    meaning: str


#: (what, sentence). They defer to local codes and licensed practice and give no figure of their own.
CAUTIONS: tuple[tuple[str, str], ...] = (
    (
        "Overhead power lines",
        "Look up first. Treat every line as live. "
        "Nothing you raise, carry or drop may ever fall within reach of one.",
    ),
    (
        "Wind and tip-over",
        "Stake, guy or ballast before the antennas go up. "
        "Stop and lower at the limit you set; a half-built tripod tips first.",
    ),
    ("Lightning", "At the first thunder leave the station and stay away until it has long passed."),
    (
        "Pinch points",
        "Hands off joints and boom while anything can move. "
        "One person turns, one watches; power off before you reach in.",
    ),
    (
        "RF exposure",
        "No one in front of the antennas or within the keep-out distance while transmitting. "
        "Boom ends stand at eye height.",
    ),
    ("The Sun", "Never look at the Sun, nor through anything aimed at it. Sight it by its shadow."),
)

DEFER = "Local codes, the landowner and licensed practice come before this sheet."

MEANINGS: tuple[tuple[Verdict, str], ...] = (
    (Verdict.UPRIGHT, "followed all through, elevation dial no higher than 90"),
    (
        Verdict.OVER_THE_TOP,
        "followed all through, laid over: azimuth half a turn round, elevation from 180 down",
    ),
    (Verdict.SPLIT, "left once in mid-pass for a move; the gap is where the signal is lost"),
    (Verdict.PART, "followed in one way as far as that goes; the outlined rest is let go"),
    (Verdict.OUT_OF_REACH, "less than a quarter of it can be had: not worked"),
)


def setting_up(mid_dial: str, hole: str, over_the_top: bool) -> tuple[str, ...]:
    """The order of setting up, a box to tick each. Common practice, no source.

    Args:
        mid_dial: azimuth dial at mid travel.
        hole: the index hole in use.
        over_the_top: elevation goes beyond 90.
    """
    ends = "stop to stop and over the top" if over_the_top else "stop to stop, elevation end to end"
    return (
        "Look up and around: lines, branches, people, traffic, the way out.",
        "Choose the spot; unload; mark a ring to keep others clear.",
        "Open the tripod; stakes or ballast on before any weight goes up.",
        "Level the plate two ways; again when the antennas are on.",
        "Turn the keyway to its bearing; check it by a second means.",
        f"Seat the adapter; index screw in hole {hole}, no other.",
        "Tighten the plate bolts in turn to their torque.",
        "Draw a witness line across plate and adapter.",
        f"Rotator on; turn it to mid travel, azimuth dial {mid_dial}.",
        "Only now dress the cables: loops free to both stops.",
        "Antennas on; feeders to their own bands, labels read aloud.",
        f"Travel test {ends}, with a spotter.",
        "Pointing checked on something known; write it below.",
        "Pull at the boom end: the witness line must stay whole.",
        "Rope off. Receive on both bands before the first AOS.",
    )


def legend() -> tuple[LegendLine, ...]:
    """The five words with their marks."""
    return tuple(LegendLine(word, verdict_mark(word), meaning) for word, meaning in MEANINGS)
