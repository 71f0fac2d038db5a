"""Splits by brute force: every start second and pair of ways, axes walked densely, the beam by unit vectors.

Imports nothing of the project. A pass is given by samples of where the satellite is and of where the axes
are told to be in each posture (all in the mount's frame, degrees), and the stretches over the mask. A drive
is a plain dict:

    travel, guard                 of azimuth
    e_min, e_max                  of elevation
    az_rate, el_rate              (forward, back) degrees a second
    az_gain, el_gain              degrees a second squared, or None
    together                      both axes at once; else azimuth first
    settle                        seconds after a move that do not count
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

STEP_S = 0.25


@dataclass
class Told:
    """A pass: sample times, the satellite, and per posture ("upright", "over") what the axes are told."""

    utc_s: np.ndarray
    azimuth: np.ndarray
    elevation: np.ndarray
    axes: dict[str, tuple[np.ndarray, np.ndarray]]
    stretches: tuple[tuple[float, float], ...]


@dataclass
class Found:
    """The least loss, when it starts, and the ways (posture, k) it goes from and to."""

    lost_s: float
    start_s: float
    before: tuple[str, int]
    after: tuple[str, int]


def unit(azimuth_deg: np.ndarray, elevation_deg: np.ndarray) -> np.ndarray:
    """East, north, up; an elevation above 90 looks backward over the top."""
    a, e = np.radians(azimuth_deg), np.radians(elevation_deg)
    return np.stack([np.sin(a) * np.cos(e), np.cos(a) * np.cos(e), np.sin(e)], axis=-1)


def takes_s(by: np.ndarray, rates: tuple[float, float], gain: float | None) -> np.ndarray:
    """Rest to rest: gaining speed, running, losing it."""
    far, rate = np.abs(by), np.where(by < 0.0, rates[1], rates[0])
    if gain is None:
        return far / rate
    gaining = np.minimum(rate / gain, np.sqrt(far / gain))
    top = gain * gaining
    return 2.0 * gaining + np.where(top > 0.0, (far - top * gaining) / np.where(top > 0.0, top, 1.0), 0.0)


def gone(by: float, after_s: np.ndarray, rates: tuple[float, float], gain: float | None) -> np.ndarray:
    """How far of a move is made so long after its start, signed."""
    whole = float(takes_s(np.array(by), rates, gain))
    if whole == 0.0:
        return np.zeros_like(after_s)
    if gain is None:
        return by * np.clip(after_s / whole, 0.0, 1.0)
    # The area under the speed: a ramp up, level, a ramp down.
    fine = np.linspace(0.0, whole, 401)
    rate = rates[0] if by > 0.0 else rates[1]
    speed = np.minimum(np.minimum(gain * fine, gain * (whole - fine)), rate)
    area = np.concatenate([[0.0], np.cumsum((speed[1:] + speed[:-1]) / 2.0 * np.diff(fine))])
    return np.interp(after_s, fine, area) / area[-1] * by


class Scan:
    """One pass on one drive at one seat; ``zeta`` per posture, ``half_beam`` in degrees."""

    def __init__(self, told: Told, drive: dict[str, Any], zeta: dict[str, float], half_beam: float) -> None:
        begin, end = float(told.utc_s[0]), float(told.utc_s[-1])
        count = max(int(np.ceil((end - begin) / STEP_S)), 8)
        edges = np.linspace(begin, end, count + 1)
        self.edges, self.time = edges, (edges[1:] + edges[:-1]) / 2.0
        self.weight = np.zeros(count)
        for start, stop in told.stretches:
            self.weight += np.clip(np.minimum(edges[1:], stop) - np.maximum(edges[:-1], start), 0.0, None)
        self.drive, self.zeta, self.cos = drive, zeta, np.cos(np.radians(half_beam))
        azimuth = np.interp(self.time, told.utc_s, told.azimuth)
        self.satellite = unit(azimuth, np.interp(self.time, told.utc_s, told.elevation))
        self.paths: dict[tuple[str, int], tuple[np.ndarray, np.ndarray]] = {}
        self.on: dict[tuple[str, int], np.ndarray] = {}
        for posture, (wanted_m, wanted_e) in told.axes.items():
            for k in range(-5, 6):
                shift = (180.0 if posture == "over" else 0.0) - zeta[posture] + 360.0 * k
                m = np.interp(self.time, told.utc_s, wanted_m) + shift
                # As the ends of the pass tell: a way may touch the travel between two of these moments only.
                low, high = float(told.azimuth.min()) + shift, float(told.azimuth.max()) + shift
                if high < drive["guard"] - 1e-9 or low > drive["travel"] - drive["guard"] + 1e-9:
                    continue
                m = np.clip(m, drive["guard"], drive["travel"] - drive["guard"])
                e = np.interp(self.time, told.utc_s, wanted_e)
                e = np.clip(180.0 - e if posture == "over" else e, drive["e_min"], drive["e_max"])
                self.paths[posture, k] = (m, e)
                self.on[posture, k] = self._on(posture, m, e, np.arange(count))

    @property
    def in_all_s(self) -> float:
        return float(self.weight.sum())

    def _on(self, posture: str, m: np.ndarray, e: np.ndarray, where: np.ndarray) -> np.ndarray:
        """Weighted seconds of each moment with the satellite in the beam; m's zero is this posture's."""
        looks = unit(m + self.zeta[posture], e)
        inside = (looks * self.satellite[where]).sum(axis=-1) >= self.cos - 1e-9
        return np.where(inside, self.weight[where], 0.0)

    def kept(self, before: tuple[str, int], after: tuple[str, int], start_s: float) -> float:
        """Seconds on the beam of one split."""
        drive, index = self.drive, min(int(np.searchsorted(self.time, start_s)), self.time.size - 1)
        (m1, e1), (m2, e2) = self.paths[before], self.paths[after]
        m0, e0 = np.interp(start_s, self.time, m1), np.interp(start_s, self.time, e1)
        m_there = self._meets(m2 - m0, start_s, index, drive["az_rate"], drive["az_gain"])
        off_s = start_s if drive["together"] else min(m_there, float(self.edges[-1]))
        e_there = self._meets(
            e2 - e0, off_s, int(np.searchsorted(self.time, off_s)), drive["el_rate"], drive["el_gain"]
        )
        there = max(m_there, e_there)
        rest = there + (drive["settle"] if there > start_s + 1e-9 else 0.0)
        last = min(int(np.searchsorted(self.time, there)), self.time.size)
        where = np.arange(index, last)
        now = self.time[where]
        m_by = float(np.interp(m_there, self.time, m2)) - m0
        e_by = float(np.interp(e_there, self.time, e2)) - e0
        m = np.where(
            now < m_there, m0 + gone(m_by, now - start_s, drive["az_rate"], drive["az_gain"]), m2[where]
        )
        waited = np.maximum(now - off_s, 0.0)
        e = np.where(now < e_there, e0 + gone(e_by, waited, drive["el_rate"], drive["el_gain"]), e2[where])
        moving = float(self._on(before[0], m, e, where).sum())
        back = min(int(np.searchsorted(self.time, rest)), self.time.size)
        return float(self.on[before][:index].sum()) + moving + float(self.on[after][back:].sum())

    def _meets(
        self, by: np.ndarray, start_s: float, index: int, rates: tuple[float, float], gain: float | None
    ) -> float:
        """First moment from ``start_s`` at which a move of ``by`` (N,) can be done; infinite if never."""
        if index < by.size and abs(np.interp(start_s, self.time, by)) < 1e-9:
            return start_s
        late = self.time[index:] - start_s - takes_s(by[index:], rates, gain)
        could = np.flatnonzero(late >= -1e-9)
        if not could.size:
            return np.inf
        first = int(could[0])
        if first == 0 or late[first] == late[first - 1]:
            return float(self.time[index + first])
        share = -late[first - 1] / (late[first] - late[first - 1])
        return float(self.time[index + first - 1] + min(max(share, 0.0), 1.0) * STEP_S)

    def starts(self, every_s: float = 1.0) -> np.ndarray:
        return np.arange(self.edges[0], self.edges[-1], every_s)

    def pairs(self) -> Iterator[tuple[tuple[str, int], tuple[str, int]]]:
        worth = [way for way, on in self.on.items() if on.sum() > 0.0]
        return ((a, b) for a in worth for b in worth if a != b)

    def best(self, every_s: float = 1.0) -> Found:
        """The least loss over all pairs and starts; those that may keep most are walked first.

        One that cannot be better is not walked.
        """
        best = Found(self.in_all_s, float("nan"), ("upright", 0), ("upright", 0))
        starts, pairs = self.starts(every_s), list(self.pairs())
        index = np.minimum(np.searchsorted(self.time, starts), self.time.size - 1)
        worked = np.concatenate([[0.0], np.cumsum(self.weight)])
        bounds = np.array([self._most(*pair, index, worked) for pair in pairs]).reshape(
            len(pairs), starts.size
        )
        for at in np.argsort(-bounds, axis=None):
            k, i = divmod(int(at), starts.size)
            if self.in_all_s - bounds[k, i] >= best.lost_s:
                break
            lost = self.in_all_s - self.kept(*pairs[k], float(starts[i]))
            if lost < best.lost_s:
                best = Found(lost, float(starts[i]), *pairs[k])
        return best

    def _most(
        self, before: tuple[str, int], after: tuple[str, int], index: np.ndarray, worked: np.ndarray
    ) -> np.ndarray:
        """(S,) no less than a start can keep: the move as long as suits it and all in the beam."""
        so_far = np.concatenate([[0.0], np.cumsum(self.on[before])])
        to_go = np.concatenate([np.cumsum(self.on[after][::-1])[::-1], [0.0]])
        return so_far[index] + np.maximum.accumulate((to_go + worked)[::-1])[::-1][index] - worked[index]
