"""What changed mounts would save, in words: sentences with the number first, and the cells of tables."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from core.base.words import bearing_text, counted, duration, figure, listed, signed
from core.mount.model.results import NOT_HELD, VERDICTS, Verdict
from core.mount.seat.choice import BestSeat
from core.mount.seat.outcome import NOTHING_S
from core.mount.seat.season.words import percent
from core.what_if.evening import AtSeat, EveningRow, WhatIfEvening
from core.what_if.season import SeasonRow, WhatIfSeason

#: So many changes are told one by one; the table has them all.
_MOST_TOLD = 2
#: A share this much less is told: what a season's chart can show.
_A_TENTH = 0.001

STANDS_HEADS = (
    "As the keyway stands",
    "Signal, min",
    "Contacts",
    *("Upright", "Over", "Split", "Part", "Out"),
    "Lost, min",
    "Saved, min",
)
BEST_HEADS = (
    "Each at its best keyway",
    "Keyway",
    "Place, deg",
    "Know, deg",
    *STANDS_HEADS[1:],
)
SEASON_HEADS = (
    "Each at its best keyway",
    "Keyway, deg",
    "As good over, deg",
    "10 %",
    "Half",
    "90 %",
    "Mean",
    "Without loss",
    "Saved",
)
_SEAT_TIPS = (
    "Minutes on the beam in the evening's contacts",
    "Contacts of the ordered evening",
    "Passes followed upright all through",
    "Passes followed over the top all through",
    "Passes left once in mid-pass",
    "Passes worked in part",
    "Passes out of reach",
    "Minutes that the passes lose, each worked for itself",
    "Minutes less than the plan as it is loses; negative where it is more",
)
STANDS_TIPS = ("With the keyway where the plan has it", *_SEAT_TIPS)
BEST_TIPS = (
    "With the keyway where it is best by the passes alone",
    "Where the keyway points then, degrees true, and the hole",
    "How far off it may be placed, if it is then measured and the dials corrected",
    "How well it must then be known",
    *_SEAT_TIPS,
)
SEASON_TIPS = (
    "With the keyway where it is best over the season, through the hole in use",
    "Where the keyway points then, degrees true",
    "How wide the stretch is that is as good",
    *("So many evenings have no larger share of passes that are not clear",) * 3,
    "Share of an evening's passes that are not clear, in the mean",
    "Evenings on which every pass is clear",
    "Evenings more than with the plan as it is; negative where it is fewer",
)


def stands_cells(row: EveningRow, now: EveningRow) -> list[str]:
    """A row as the keyway stands, under `STANDS_HEADS`."""
    return [row.name, *_seat_cells(row.stands, now.stands, row.change is None)]


def best_cells(row: EveningRow, now: EveningRow) -> list[str]:
    """A row at its best keyway, under `BEST_HEADS`."""
    there = row.at_best
    keyway = f"{bearing_text(there.keyway_bearing_deg)} {there.index_hole}"
    placed, known = placed_words(row.best), _down(row.best.know_to_deg)
    return [row.name, keyway, placed, known, *_seat_cells(there, now.at_best, row.change is None)]


def season_cells(row: SeasonRow, now: SeasonRow) -> list[str]:
    """A season's row, under `SEASON_HEADS`."""
    through = row.through
    anywhere = through.best_width_deg == 360.0
    saved = "" if row.change is None else signed(row.free_evenings - now.free_evenings)
    return [
        row.name,
        "any" if anywhere else bearing_text(through.best_deg),
        figure(through.best_width_deg),
        *(percent(through.share_at(part)) for part in (10.0, 50.0, 90.0)),
        percent(row.mean_share),
        str(row.free_evenings),
        saved,
    ]


def placed_words(best: BestSeat) -> str:
    """``-26.9 / +30.1``, rounded to the safe side; ``any``."""
    minus, plus = (abs(side) for side in best.place_within_deg)
    return "any" if minus + plus >= 360.0 - 1e-6 else f"-{_down(minus)} / +{_down(plus)}"


def _down(deg: float) -> str:
    return figure(math.floor(deg * 10.0 + 1e-9) / 10.0)


def _seat_cells(there: AtSeat, now: AtSeat, is_now: bool) -> list[str]:
    return [
        figure(there.signal_s / 60.0),
        str(there.contacts),
        *(str(there.count(verdict)) for verdict in VERDICTS),
        figure(there.lost_s / 60.0),
        "" if is_now else _signed_minutes(now.lost_s - there.lost_s),
    ]


def _signed_minutes(seconds: float) -> str:
    minutes = figure(seconds / 60.0)
    return minutes if minutes.startswith("-") or float(minutes) == 0.0 else f"+{minutes}"


def evening_sentences(told: WhatIfEvening) -> tuple[str, ...]:
    """What the changes save this evening: as the keyway stands, and each at its best."""
    now, *others = told.rows
    if not others:
        return ()
    stands = _sentence(others, now, lambda row: row.stands, "as the keyway stands")
    if not any(saved_words(row.at_best, now.at_best) for row in others):
        return stands, _room_sentence(told.rows)
    return stands, _sentence(others, now, lambda row: row.at_best, "each at its best keyway")


def _room_sentence(rows: Sequence[EveningRow]) -> str:
    """What tells them apart where all lose the same at their best: how far off they may be placed."""
    widest, closest = max(rows, key=_room_deg), min(rows, key=_room_deg)
    alike = "0 s saved by any change, each at its best keyway"
    if _room_deg(widest) - _room_deg(closest) < 1.0:
        return f"{alike}."
    return f"{alike}. It may be placed {_placed_with(closest)}, {_placed_with(widest)}."


def _placed_with(row: EveningRow) -> str:
    within = placed_words(row.best)
    where = "anywhere" if within == "any" else f"within {within} deg"
    return f"{where} {row.name if row.change is None else f'with {row.name}'}"


def _room_deg(row: EveningRow) -> float:
    """The lesser side of how far off the best keyway may be placed."""
    minus, plus = row.best.place_within_deg
    return min(-minus, plus)


def _sentence(
    rows: Sequence[EveningRow], now: EveningRow, seat: Callable[[EveningRow], AtSeat], where: str
) -> str:
    """In one sentence, e.g. ``"3 min 07 s and 1 split saved with travel 540 deg: as the keyway stands."``."""
    here = seat(now)
    ahead = sorted(rows, key=lambda row: (seat(row).not_held, seat(row).lost_s))
    told = [(row.name, saved_words(seat(row), here)) for row in ahead]
    return f"{_told_apart(told, '0 s')}: {where}."


def _told_apart(told: Sequence[tuple[str, str]], nothing: str) -> str:
    """Names by what they save, the same words once; of many what saves most and what costs most."""
    names_of: dict[str, list[str]] = {}
    for name, said in told:
        names_of.setdefault(said, []).append(name)
    alike = names_of.pop("", [])
    moved = [f"{said} with {' or '.join(names)}" for said, names in names_of.items()]
    left = len(moved) - _MOST_TOLD - 1
    if left > 0:
        moved = [*moved[:_MOST_TOLD], f"{left} more in the table", moved[-1]]
    if alike:
        moved.append(f"{'nothing' if moved else nothing} saved with {' or '.join(alike)}")
    return "; ".join(moved)


def saved_words(there: AtSeat, now: AtSeat) -> str:
    """``"12 min 10 s and 3 splits saved"``, ``"40 s more lost"``; empty where all is alike."""
    saved: list[str] = []
    more: list[str] = []
    less_s = now.lost_s - there.lost_s
    if abs(less_s) >= NOTHING_S:
        (saved if less_s > 0.0 else more).append(duration(abs(less_s)))
    for verdict in NOT_HELD:
        less = now.count(verdict) - there.count(verdict)
        if less:
            (saved if less > 0 else more).append(_counted(abs(less), verdict))
    return _both(saved, more, "more lost" if len(more) == 1 and less_s <= -NOTHING_S else "more")


def _both(saved: Sequence[str], more: Sequence[str], word: str) -> str:
    told = [f"{listed(saved)} saved"] if saved else []
    told += [f"{listed(more)} {word}"] if more else []
    return ", but ".join(told)


def _counted(number: int, verdict: Verdict) -> str:
    if verdict == Verdict.OUT_OF_REACH:
        return f"{number} out of reach"
    return counted(number, str(verdict))


def season_sentences(told: WhatIfSeason) -> tuple[str, ...]:
    """What the changes save over a season, and how far chance goes."""
    now, *others = told.rows
    if not others:
        return ()
    ahead = sorted(others, key=lambda row: row.mean_share)
    apart = _told_apart([(row.name, season_saved_words(row, now)) for row in ahead], "0 evenings")
    halves = 100.0 * max(row.through.halves_differ for row in told.rows)
    return (
        f"{apart}: of {counted(told.evenings, 'evening')}, each at its best keyway.",
        f"{figure(halves)} points at most between two halves of the evenings drawn by lot: "
        "a smaller difference says little.",
    )


def season_saved_words(row: SeasonRow, now: SeasonRow) -> str:
    """``"31 evenings and 4.2 points saved"``; empty where all is alike."""
    evenings, share = row.free_evenings - now.free_evenings, now.mean_share - row.mean_share
    saved: list[str] = []
    more: list[str] = []
    if evenings:
        (saved if evenings > 0 else more).append(counted(abs(evenings), "evening"))
    if abs(share) >= _A_TENTH:
        (saved if share > 0.0 else more).append(f"{figure(100.0 * abs(share))} points of passes not clear")
    return _both(saved, more, "lost")


def sentences_of(told: WhatIfEvening | WhatIfSeason) -> tuple[str, ...]:
    """What an answer says."""
    return evening_sentences(told) if isinstance(told, WhatIfEvening) else season_sentences(told)
