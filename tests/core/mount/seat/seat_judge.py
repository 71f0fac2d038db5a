"""The table of losses held against the verdicts themselves, for the tests of the seat."""

from __future__ import annotations

import numpy as np

from core.mount.check.verdict import NEAR_ENOUGH_S, check_passes
from core.mount.drive.tracks import MountTrack, mount_tracks
from core.mount.model.chain import fixed_offset_deg, hole_in_use
from core.mount.model.results import VERDICTS, PassCheck
from core.mount.model.station import POSTURES, Antenna, Mount, Station
from core.mount.seat.curve import LossCurve
from core.mount.seat.losses.table import SeatTable, SeatVerdicts, seat_table, verdicts_at
from core.mount.seat.study import seated
from core.passes.track import Pass

#: Jumps of a loss (a run that breaks in two) are known to this, in bearing.
BESIDE_DEG = 0.1
#: How far losses may be out where they do not jump. Where a satellite lingers at the beam's edge, the five
#: thousandths of a degree to which the table's tracks are told are a second.
OUT_BY_S = 1.5
LEAST_TROUBLE = ["upright", "over the top", "part", "split"]


class Judge:
    """A table beside the plain verdicts of the same evening."""

    def __init__(
        self,
        passes: tuple[Pass, ...],
        mount: Mount,
        antennas: tuple[Antenna, ...],
        table: SeatTable | None = None,
    ) -> None:
        self.passes, self.mount, self.antennas = passes, mount, antennas
        self.tracks: tuple[MountTrack, ...] = mount_tracks(passes, mount.tilt)
        self.table = seat_table(self.tracks, Station(mount, antennas)) if table is None else table

    def checks(self, zeta: float, which: slice = slice(None)) -> tuple[PassCheck, ...]:
        bearing = (zeta - fixed_offset_deg(self.mount, hole_in_use(self.mount))) % 360.0
        there = seated(self.mount, bearing, self.mount.index_hole)
        return check_passes(self.passes[which], self.tracks[which], Station(there, self.antennas))

    def disagreements(self, zeta: float) -> list[str]:
        seen, wrong = verdicts_at(self.table, zeta), []
        for index, check in enumerate(self.checks(zeta)):
            if bool(seen.clear[index]) != bool(check.clear_postures):
                wrong.append(f"pass {index} at {zeta}: clear {seen.clear[index]}, not {check.clear_postures}")
            if agree(seen, index, check):
                continue
            one = slice(index, index + 1)
            beside = [self.checks(zeta + by, one)[0] for by in (-BESIDE_DEG, BESIDE_DEG)]
            if not any(agree(seen, index, other) for other in beside) and not between(seen, index, beside):
                told = VERDICTS[seen.verdict_code[index]], round(float(seen.lost_s[index]), 2)
                said = [(c.verdict, round(c.seconds_lost, 2)) for c in (beside[0], check, beside[1])]
                wrong.append(f"pass {index} at {zeta}: {told}, verdicts about there {said}")
        return wrong


def agree(seen: SeatVerdicts, index: int, check: PassCheck) -> bool:
    """The same word, rest and loss; or a word that the least difference would have decided otherwise."""
    word, lost = VERDICTS[seen.verdict_code[index]], float(seen.lost_s[index])
    if word == check.verdict:
        return abs(lost - check.seconds_lost) <= OUT_BY_S and bool(seen.resting[index]) == check.resting
    return hardly_decided(word, lost, check)


def hardly_decided(word: str, lost_s: float, check: PassCheck) -> bool:
    """Two words for one seat, by losses within a second or so of what decides between them."""
    told = {word: lost_s, check.verdict: check.seconds_lost}
    if "out of reach" in told:
        other = next(loss for name, loss in told.items() if name != "out of reach")
        spare = other - 0.75 * check.seconds_in_all
        return -2.0 * OUT_BY_S <= spare <= NEAR_ENOUGH_S + 2.0 * OUT_BY_S
    first, later = sorted(told, key=LEAST_TROUBLE.index)
    by_the_order = abs(told[first] - told[later] - NEAR_ENOUGH_S) <= 2.0 * OUT_BY_S
    return by_the_order or (first in POSTURES and abs(told[first] - NEAR_ENOUGH_S) <= OUT_BY_S)


def between(seen: SeatVerdicts, index: int, beside: list[PassCheck]) -> bool:
    """On a slope as steep as a jump: the same word as on both sides, and a loss between theirs."""
    if any(VERDICTS[seen.verdict_code[index]] != check.verdict for check in beside):
        return False
    low, high = sorted(check.seconds_lost for check in beside)
    return low - OUT_BY_S <= float(seen.lost_s[index]) <= high + OUT_BY_S


def rows_of(curve: LossCurve) -> np.ndarray:
    """(M, 5): bearing, seconds lost, splits, parts, out of reach."""
    columns = (curve.bearing_deg, curve.lost_s, curve.splits, curve.parts, curve.out_of_reach)
    return np.column_stack(columns)
