"""The lines of a contact: every setting of the dials, what is held or moved, and what happens meanwhile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.base.angles import Floats
from core.base.times import clock
from core.mount.evening.drawn import DrawnPass
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount, Station
from core.sheet.dials import NO_DIAL, PrintedDial, printed_axes
from core.sheet.hand.happenings import Happening, happenings, last_note
from core.sheet.hand.holds import Told, held_where_fast
from core.sheet.hand.line import HandLine, LineKind, Turning
from core.sheet.hand.seconds import boresight_path_deg, stepped_seconds
from core.sheet.hand.steered import Setting, as_printed, lost_by_hand_s
from core.sheet.hand.stretches import Break, breaks_of, contact_seconds
from core.sheet.words import clock_beside

#: Lines are this share of the half beam apart on the sky.
STEP_SHARE = 0.25
#: Dials that stay longer than this are said to.
_LONG_S = 60.0


@dataclass(frozen=True)
class HandTable:
    """What the hand does in a contact.

    Attributes:
        lines: in order; the last one sets nothing and says when it is over. Empty out of reach.
        step_deg: lines are no further apart on the sky, but where the hand needs more time.
        widened: the step had to grow, or the lines would not fit a page.
        lost_by_hand_s: what a hand that is a second late on every line, its dials on the printed figures,
            loses beyond the plan.
    """

    lines: tuple[HandLine, ...] = ()
    step_deg: float = 0.0
    widened: bool = False
    lost_by_hand_s: float = 0.0


def hand_table(station: Station, check: PassCheck, drawn: DrawnPass, most: int) -> HandTable:
    """The lines of a pass as it is worked; the step grows until at most ``most`` remain."""
    if check.pointing is None:
        return HandTable()
    limit = station.beam_limit_deg
    least = step = STEP_SHARE * limit
    path = boresight_path_deg(drawn.m_deg, drawn.e_deg)
    told = happenings(drawn, check, station)
    while True:
        work = _Work(station.mount, drawn, told)
        for stretch, before in _stretches(drawn, check):
            seconds = _seconds(stretch, told, drawn, path, step)
            settings = [work.setting(t) for t in seconds]
            held = held_where_fast(drawn, station.mount, settings, limit, stretch[1])
            work.follow(held, before)
        if len(work.lines) < most or step > 16.0 * least:
            break
        step *= 1.1
    end = contact_seconds(drawn)[1]
    work.lines.append(
        HandLine("word", end, clock(end), None, NO_DIAL, NO_DIAL, "", last_note(drawn, check), True)
    )
    printed = [as_printed(one, station.mount) for one in work.settings]
    lost = lost_by_hand_s(drawn, station.mount, printed, limit)
    return HandTable(tuple(_with_stays(work.lines)), step, step > least, lost)


def _stretches(drawn: DrawnPass, check: PassCheck) -> list[tuple[tuple[float, float], Break | None]]:
    """Each stretch that is followed, (first, last) second, and what is before it."""
    first, last = contact_seconds(drawn)
    breaks = breaks_of(drawn, check)
    starts = [first, *(one.end_s for one in breaks)]
    ends = [*(one.start_s for one in breaks), last]
    return list(zip(zip(starts, ends, strict=True), [None, *breaks], strict=True))


def _seconds(
    stretch: tuple[float, float], told: Sequence[Happening], drawn: DrawnPass, path: Floats, step_deg: float
) -> list[float]:
    """Of a stretch but its end: where it begins, where something happens, and the steps between."""
    start, end = stretch
    fixed = sorted({start, *(one.second for one in told if start < one.second < end)})
    seconds: list[float] = []
    for here, there in zip(fixed, [*fixed[1:], end], strict=True):
        seconds += [here, *stepped_seconds(drawn, path, here, there, step_deg).tolist()]
    return seconds


class _Work:
    """The lines so far, and where the axes are told to be."""

    def __init__(self, mount: Mount, drawn: DrawnPass, told: Sequence[Happening]) -> None:
        self.mount, self.drawn = mount, drawn
        self.notes = {one.second: one for one in told}
        self.lines: list[HandLine] = []
        self.settings: list[Setting] = []
        self.dials: tuple[PrintedDial, PrintedDial] = NO_DIAL, NO_DIAL

    def setting(self, utc_s: float, there_s: float | None = None) -> Setting:
        """At ``utc_s`` to where the pass is followed at ``there_s`` (the same moment, if not told)."""
        at = utc_s if there_s is None else there_s
        return Setting(utc_s, self.drawn.at(self.drawn.m_deg, at), self.drawn.at(self.drawn.e_deg, at))

    def follow(self, held: Sequence[Told], before: Break | None) -> None:
        """One stretch, and how it is come to."""
        if before is None:
            first = held[0].setting
            self._set(first, "set", None, self.notes.get(first.utc_s))
        else:
            self._come_back(before)
        for one in held[1:]:
            note = self.notes.get(one.setting.utc_s)
            if one.until_s is not None:
                self._hold(one, one.until_s, note)
            elif one.azimuth:
                self._set(one.setting, "set", None, note)
            else:
                self._set_elevation(one.setting, note)

    def _come_back(self, gap: Break) -> None:
        setting = self.setting(gap.start_s, gap.there_s)
        azimuth, elevation = printed_axes(setting.m_deg, setting.e_deg, self.mount)
        if gap.moves:
            by = setting.m_deg - self.settings[-1].m_deg
            note = (
                f"MOVE {_sense(by).upper()} {abs(by):.0f} deg to {azimuth.text}, el {elevation.text}, "
                f"back on at {clock(gap.end_s)}"
            )
            self._set(setting, "move", gap.end_s, Happening(gap.start_s, note))
        else:
            note = f"behind the mask until {clock(gap.end_s)}"
            self._set(setting, "set", None, Happening(gap.start_s, note))

    def _hold(self, held: Told, until_s: float, note: Happening | None) -> None:
        setting = held.setting
        azimuth, _elevation = printed_axes(setting.m_deg, setting.e_deg, self.mount)
        sense = _sense(setting.m_deg - self.settings[-1].m_deg)
        words = f"hold {sense} from {clock(setting.utc_s)} to {clock(until_s)}, then {azimuth.text}"
        more = f", {note.words}" if note is not None else ""
        self._set(setting, "hold", until_s, Happening(setting.utc_s, f"{words}{more}"))

    def _set(self, setting: Setting, kind: LineKind, until_s: float | None, note: Happening | None) -> None:
        azimuth, elevation = printed_axes(setting.m_deg, setting.e_deg, self.mount)
        if kind != "move" and self.lines and (azimuth, elevation) == self.dials:
            self._noted(note)
            return
        by = setting.m_deg - self.settings[-1].m_deg if self.settings else 0.0
        turn = "" if kind == "set" and azimuth == self.dials[0] else _sense(by)
        self._add(setting, kind, until_s, azimuth, elevation, turn, note)

    def _set_elevation(self, setting: Setting, note: Happening | None) -> None:
        """In the middle of a hold: azimuth goes on, and is not told again."""
        azimuth, elevation = printed_axes(setting.m_deg, setting.e_deg, self.mount)
        if elevation == self.dials[1]:
            self._noted(note)
            self.settings.append(setting)
            return
        until_s = next((one.until_s for one in reversed(self.lines) if one.kind == "hold"), None)
        held = until_s is not None and setting.utc_s < until_s
        self._add(setting, "hold" if held else "set", until_s if held else None, NO_DIAL, elevation, "", note)
        self.dials = azimuth, elevation

    def _noted(self, note: Happening | None) -> None:
        """Where no dial changes, what happens stands with the line before."""
        if note is not None:
            last = self.lines[-1]
            self.lines[-1] = replace(last, note=", ".join(filter(None, (last.note, note.words))))

    def _add(
        self,
        setting: Setting,
        kind: LineKind,
        until_s: float | None,
        azimuth: PrintedDial,
        elevation: PrintedDial,
        turn: Turning,
        note: Happening | None,
    ) -> None:
        words = "" if note is None else note.words
        at = clock(setting.utc_s)
        self.lines.append(
            HandLine(kind, setting.utc_s, at, until_s, azimuth, elevation, turn, words, note is not None)
        )
        self.settings.append(setting)
        self.dials = azimuth, elevation


def _sense(by_deg: float) -> Turning:
    """Which way azimuth turns."""
    return "" if by_deg == 0.0 else ("cw" if by_deg > 0.0 else "ccw")


def _with_stays(lines: Sequence[HandLine]) -> list[HandLine]:
    """Where the dials stay long, until when."""
    found = []
    for line, following in zip(lines, [*lines[1:], None], strict=True):
        long = following is not None and following.utc_s - line.utc_s >= _LONG_S
        if following is None or not long or line.kind != "set" or "until" in line.note:
            found.append(line)
            continue
        stay = f"stay at {line.azimuth.text} until {clock_beside(following.utc_s, line.utc_s)}"
        found.append(replace(line, note=", ".join(filter(None, (line.note, stay)))))
    return found
