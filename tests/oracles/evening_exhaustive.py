"""Every evening there is, one by one: the best of a handful of passes by trying all choices.

Plain numbers in, plain numbers out; move times by the textbook's trapezoid. Each pass is worked at most
once, in one of its options, from one of its moments to a later one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

#: What a contact is to the enumeration: pass, satellite, start and end (time, m, e), the three goals.
Contact = dict[str, Any]


@dataclass(frozen=True)
class Best:
    """The best evening: its goals (signal, clearance, minus travel) in units, and how many there were."""

    goals: tuple[int, int, int]
    evenings: int


def contacts_of(
    option: dict[str, Any], low: float, high: float, units: tuple[float, float, float]
) -> list[Contact]:
    """Every contact that can be cut from an option.

    Args:
        option: pass, satellite, worth, least, and lists t, m, e, signal (seconds on the beam so far).
        low, high: the guards.
        units: of signal, clearance and travel.
    """
    t, m, e, signal = option["t"], option["m"], option["e"], option["signal"]
    clear, travel = [0.0], [0.0]
    for k in range(1, len(t)):
        off = [min(m[i] - low, high - m[i]) for i in (k - 1, k)]
        clear.append(clear[-1] + (signal[k] - signal[k - 1]) * (off[0] + off[1]) / 2.0)
        travel.append(travel[-1] + abs(m[k] - m[k - 1]) + abs(e[k] - e[k - 1]))
    counts = [
        (
            round(option["worth"] * signal[k] / units[0]),
            round(clear[k] / units[1]),
            round(travel[k] / units[2]),
        )
        for k in range(len(t))
    ]
    found = []
    for i in range(len(t)):
        for j in range(i + 1, len(t)):
            dull = counts[i + 1][:2] == counts[i][:2] or counts[j - 1][:2] == counts[j][:2]
            if dull or t[j] - t[i] < option["least"] - 1e-9:
                continue
            found.append(
                {
                    "pass": option["pass"],
                    "satellite": option["satellite"],
                    "from": (t[i], m[i], e[i]),
                    "to": (t[j], m[j], e[j]),
                    "goals": tuple(counts[j][g] - counts[i][g] for g in range(3)),
                }
            )
    return found


def axis_s(by: float, axis: dict[str, Any]) -> float:
    """Seconds of one axis' move: up to its rate at its acceleration, and down again."""
    far = abs(by)
    if far < 1e-12:
        return 0.0
    rate = axis["up"] if by > 0 else axis["down"]
    gain = axis["gain"]
    if gain is None:
        return float(far / rate)
    if far * gain < rate * rate:
        return 2.0 * math.sqrt(far / gain)
    return float(far / rate + rate / gain)


def move_s(a: tuple[float, ...], b: tuple[float, ...], mount: dict[str, Any]) -> float:
    """Seconds of a move of both axes, settling included; places are (time, m, e)."""
    azimuth, elevation = axis_s(b[1] - a[1], mount["m"]), axis_s(b[2] - a[2], mount["e"])
    taken = max(azimuth, elevation) if mount["both"] else azimuth + elevation
    return taken + mount["settle"] if taken > 0.0 else 0.0


def step_between(a: tuple[float, ...], b: tuple[float, ...], evening: dict[str, Any]) -> int | None:
    """Travel in units of a move from where a contact ends to where one starts; None where it does not fit."""
    mount, margin, idle = evening["mount"], evening["margin"], evening["idle"]
    gap = b[0] - a[0]
    if move_s(a, b, mount) + margin > gap + 1e-9:
        return None
    far = abs(b[1] - a[1]) + abs(b[2] - a[2])
    if idle is not None:
        place = (0.0, *idle)
        if move_s(a, place, mount) + move_s(place, b, mount) + margin + 30.0 <= gap + 1e-9:
            far = abs(idle[0] - a[1]) + abs(idle[1] - a[2]) + abs(b[1] - idle[0]) + abs(b[2] - idle[1])
    return round(far / evening["units"][2])


def best_evening(evening: dict[str, Any], must: int | None = None) -> Best | None:
    """The best of every choice of contacts; None where none works the pass it must.

    Args:
        evening: options, guards (low, high), units, mount, margin, change (seconds), idle (m, e) or None,
            standing (time, m, e) or None.
        must: a pass that is worked, whatever it costs.
    """
    low, high = evening["guards"]
    units = evening["units"]
    contacts = [c for option in evening["options"] for c in contacts_of(option, low, high, units)]
    count = len(contacts)
    if not count:
        return Best((0, 0, 0), 1) if must is None else None
    change = round(evening["change"] / units[0])
    travel = np.full((count, count), -1, dtype=np.int64)
    signal = np.zeros((count, count), dtype=np.int64)
    for i, a in enumerate(contacts):
        for j, b in enumerate(contacts):
            step = None if a["pass"] == b["pass"] else step_between(a["to"], b["from"], evening)
            if step is not None:
                travel[i, j] = step
                signal[i, j] = change if a["satellite"] != b["satellite"] else 0
    goals = np.array([c["goals"] for c in contacts], dtype=np.int64)
    passes = {name: place for place, name in enumerate(sorted({c["pass"] for c in contacts}))}
    bit = np.array([1 << passes[c["pass"]] for c in contacts], dtype=np.int64)
    first = [
        0 if evening["standing"] is None else step_between(evening["standing"], c["from"], evening)
        for c in contacts
    ]
    last = np.array([i for i in range(count) if first[i] is not None], dtype=np.int64)
    begun = np.array([step for step in first if step is not None], dtype=np.int64)
    total = goals[last].copy()
    total[:, 2] += begun
    worked = bit[last]
    needed = 0 if must is None else 1 << passes.get(must, 62)
    found: list[tuple[int, int, int]] = [] if needed else [(0, 0, 0)]
    evenings = 1
    while last.size:
        evenings += int(last.size)
        good = total[(worked & needed) == needed]
        if good.size:
            top = good[np.lexsort((-good[:, 2], good[:, 1], good[:, 0]))[-1]]
            found.append((int(top[0]), int(top[1]), -int(top[2])))
        rows, following = np.nonzero((travel[last] >= 0) & ((worked[:, None] & bit[None, :]) == 0))
        before = last[rows]
        total = total[rows] + goals[following]
        total[:, 0] -= signal[before, following]
        total[:, 2] += travel[before, following]
        worked, last = worked[rows] | bit[following], following
    return Best(max(found), evenings) if found else None
