"""The standing sentences of the set-up card: cautions, what the marks mean."""

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
    (Verdict.UPRIGHT, "followed, elevation up to 90"),
    (Verdict.OVER_THE_TOP, "followed, elevation from 180 down"),
    (Verdict.SPLIT, "left once for a move: the gap"),
    (Verdict.PART, "the outlined rest is let go"),
    (Verdict.OUT_OF_REACH, "not worked"),
)


def legend() -> tuple[LegendLine, ...]:
    """The five words with their marks."""
    return tuple(LegendLine(word, verdict_mark(word), meaning) for word, meaning in MEANINGS)
