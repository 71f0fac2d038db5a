"""Sentences about the plate, for screen and paper."""

from __future__ import annotations

from core.base.words import counted, figure, percent, plain
from core.plate.checks.check import Check
from core.plate.holding.bolting import LOSS, Screwed
from core.plate.model import Plate
from core.plate.tables.screws import cap_screw
from core.plate.tables.threads import INCH_MM

CAUTION = (
    "These figures are advice for planning. They are no structural certificate, and strengths are "
    "typical values: let a person who answers for it check a part that could fall on somebody."
)
SHOP_CAUTION = (
    "The shop decides how it is held and cut. Its rules go before this list: eye protection, no gloves "
    "or sleeves near a spindle, chips by brush and never by hand, edges deburred before a part is handed "
    "on."
)
DRAWING_CAUTION = (
    "Angles are clockwise seen from above. The view from below is mirrored: there they run the other way."
)


def length_text(mm: float, units: str) -> str:
    """``25.4 mm``, or ``1.000 in``."""
    return f"{mm / INCH_MM:.3f} in" if units == "inch" else f"{plain(mm)} mm"


def measure_text(value: float) -> str:
    """As many decimals as tell something: 19076, 276.4, 0.34."""
    size = abs(value)
    return plain(value, 0 if size >= 1000.0 else 1 if size >= 100.0 else 2)


def ways_sentence(plate: Plate, ways: int) -> str:
    """Whether the part goes in one way only; empty where it does."""
    if ways == 1:
        return ""
    why = []
    if plate.keyway.right_across:
        why.append("the keyway is cut right across")
    if ways > (2 if plate.keyway.right_across else 1):
        why.append("nothing tells its two sides apart")
    return (
        f"{ways} ways to put the part into the tripod plate: {' and '.join(why)}. One of them is right; "
        "ask which each time, or close the others."
    )


def rotator_sentence(ways: int) -> str:
    """The same of the rotator on the part."""
    if ways == 1:
        return ""
    told = f"{ways} ways to bolt the rotator on: its holes do not tell."
    return f"{told} Mark the datum on both with a witness line."


def holding_sentence(checks: tuple[Check, ...]) -> str:
    """How many checks hold, and which do not."""
    failed = [check.name for check in checks if not check.holds]
    if not failed:
        return f"{counted(len(checks), 'check')}, all hold."
    return f"{len(failed)} of {counted(len(checks), 'check')} do not hold: " + "; ".join(failed) + "."


def torque_sentence(screwed: Screwed) -> str:
    """``bolts, M8: 18.2 Nm gives 12640 N, 8848 N after 30 % loss``."""
    return (
        f"{screwed.name}, {screwed.thread.name}: {plain(screwed.torque_nm, 1)} Nm gives "
        f"{screwed.preload_n:.0f} N, {screwed.left_n:.0f} N after {percent(LOSS)} loss"
        + ("" if screwed.given else " (worked out)")
    )


def unresolved_sentences(plate: Plate) -> tuple[str, ...]:
    """Which table values in use are in doubt."""
    threads = [plate.index_pin.thread] + ([plate.bolts.thread] if plate.bolts else [])
    notes = {thread: cap_screw(thread).unresolved for thread in threads}
    return tuple(f"{thread}: {note}" for thread, note in notes.items() if note)


def play_words(play_deg: float, pushed_deg: tuple[float, float]) -> str:
    """How far the part can stand off, free and pushed to one side."""
    off_deg, left_deg = pushed_deg
    return (
        f"Play {figure(play_deg, 2)} deg each way, free; pushed to one side {figure(left_deg, 2)} deg "
        f"each way, {figure(off_deg, 2)} deg off the middle."
    )
