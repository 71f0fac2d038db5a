"""Every evening there is, one by one: the best of a handful of passes by trying all choices.

Plain numbers in, plain numbers out; move times by the textbook's trapezoid. Each pass is worked at most
once, in one of its options, from one of its moments to a later one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

#: What a contact is to the enumeration: pass, satellite, start and end (time, m, e, over), both goals.
Contact = dict[str, Any]


@dataclass(frozen=True)
class Best:
    """The best evening: its goals (worth, clearance) in units, and how many there were."""

    goals: tuple[int, int]
    evenings: int


def counts_of(option: dict[str, Any], evening: dict[str, Any]) -> list[tuple[int, int, int]]:
    """At each moment: worth with all signal in full, worth with all of it a tenth, clearance, in units."""
    (low, high), units, costs = evening["guards"], evening["units"], evening["costs"]
    m, over, signal = option["m"], option["over"], option["signal"]
    clear, spent, found = 0.0, 0.0, [(0, 0, 0)]
    for k in range(1, len(signal)):
        off = [min(m[i] - low, high - m[i], 15.0) for i in (k - 1, k)]
        clear += (signal[k] - signal[k - 1]) * (off[0] + off[1]) / 2.0
        spent += costs["turn"] * abs(m[k] - m[k - 1]) / 360.0
        spent += costs["posture"] if over[k] != over[k - 1] else 0.0
        full, tenth = (
            round((share * option["worth"] * signal[k] - spent) / units[0]) for share in (1.0, 0.1)
        )
        found.append((full, tenth, round(clear / units[1])))
    return found


def goals_of(
    option: dict[str, Any], counts: list[tuple[int, int, int]], i: int, j: int, evening: dict[str, Any]
) -> tuple[int, int]:
    """What a contact from moment i to moment j is worth, and its clearance, in units."""
    enough = evening["costs"]["enough"]
    if option["signal"][j] - option["signal"][i] <= enough + 1e-9:
        worth = counts[j][0] - counts[i][0]
    else:
        bonus = round(0.9 * option["worth"] * enough / evening["units"][0])
        worth = counts[j][1] - counts[i][1] + bonus
    return worth, counts[j][2] - counts[i][2]


def contacts_of(option: dict[str, Any], evening: dict[str, Any]) -> list[Contact]:
    """Every contact that can be cut from an option.

    Args:
        option: pass, satellite, worth, least, and lists t, m, e, over, signal (seconds on the beam so far).
        evening: guards, units and costs as `best_evening` takes them.
    """
    t, m, e, over, signal = (option[name] for name in ("t", "m", "e", "over", "signal"))
    counts = counts_of(option, evening)
    found = []
    for i in range(len(t)):
        for j in range(i + 1, len(t)):
            dull = signal[i + 1] - signal[i] <= 1e-6 or signal[j] - signal[j - 1] <= 1e-6
            if dull or t[j] - t[i] < option["least"] - 1e-9:
                continue
            found.append(
                {
                    "pass": option["pass"],
                    "satellite": option["satellite"],
                    "from": (t[i], m[i], e[i], over[i]),
                    "to": (t[j], m[j], e[j], over[j]),
                    "goals": goals_of(option, counts, i, j, evening),
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
    """Seconds of a move of both axes, settling included; places are (time, m, e, ...)."""
    azimuth, elevation = axis_s(b[1] - a[1], mount["m"]), axis_s(b[2] - a[2], mount["e"])
    taken = max(azimuth, elevation) if mount["both"] else azimuth + elevation
    return taken + mount["settle"] if taken > 0.0 else 0.0


def step_between(a: tuple[float, ...], b: tuple[float, ...], evening: dict[str, Any]) -> int | None:
    """Cost in units of turning from where a contact ends to where one starts; None where it does not fit."""
    mount, margin, idle = evening["mount"], evening["margin"], evening["idle"]
    gap = b[0] - a[0]
    if move_s(a, b, mount) + margin > gap + 1e-9:
        return None
    far = abs(b[1] - a[1])
    if idle is not None:
        place = (0.0, *idle)
        if move_s(a, place, mount) + move_s(place, b, mount) + margin + 30.0 <= gap + 1e-9:
            far = abs(idle[0] - a[1]) + abs(b[1] - idle[0])
    return round(evening["costs"]["turn"] * far / 360.0 / evening["units"][0])


def change_between(a: Contact, b: Contact, evening: dict[str, Any]) -> int:
    """Cost in units of going over from one contact to another, whatever the move."""
    costs, unit = evening["costs"], evening["units"][0]
    change = round(costs["change"] / unit) if a["satellite"] != b["satellite"] else 0
    return change + (round(costs["posture"] / unit) if a["to"][3] != b["from"][3] else 0)


def best_evening(evening: dict[str, Any], must: int | None = None) -> Best | None:
    """The best of every choice of contacts; None where none works the pass it must.

    Args:
        evening: options, guards (low, high), units (of worth and clearance), costs (enough, change, posture,
            turn; seconds), mount, margin, idle (m, e) or None, standing (time, m, e) or None.
        must: a pass that is worked, whatever it costs.
    """
    contacts = [c for option in evening["options"] for c in contacts_of(option, evening)]
    count = len(contacts)
    if not count:
        return Best((0, 0), 1) if must is None else None
    cost = np.full((count, count), -1, dtype=np.int64)
    for i, a in enumerate(contacts):
        for j, b in enumerate(contacts):
            step = None if a["pass"] == b["pass"] else step_between(a["to"], b["from"], evening)
            if step is not None:
                cost[i, j] = step + change_between(a, b, evening)
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
    total[:, 0] -= begun
    worked = bit[last]
    needed = 0 if must is None else 1 << passes.get(must, 62)
    found: list[tuple[int, int]] = [] if needed else [(0, 0)]
    evenings = 1
    while last.size:
        evenings += int(last.size)
        good = total[(worked & needed) == needed]
        if good.size:
            top = good[np.lexsort((good[:, 1], good[:, 0]))[-1]]
            found.append((int(top[0]), int(top[1])))
        rows, following = np.nonzero((cost[last] >= 0) & ((worked[:, None] & bit[None, :]) == 0))
        before = last[rows]
        total = total[rows] + goals[following]
        total[:, 0] -= cost[before, following]
        worked, last = worked[rows] | bit[following], following
    return Best(max(found), evenings) if found else None
