"""The evening by a plain loop: the same recursion as the textbook writes it, one pair of moments at a time.

Plain numbers in and out, as in `evening_exhaustive`. Two contacts in a row are never of one pass; that a pass
is worked once in all is not asked, so the answer is the best evening only where its chain has none twice.
"""

from __future__ import annotations

from typing import Any

from tests.oracles.evening_exhaustive import change_between, counts_of, goals_of, move_s, step_between

Goals = tuple[int, int]
_NONE: Goals = (-(10**15), 0)


def best_chain(evening: dict[str, Any]) -> tuple[Goals, list[int]]:
    """The goals of the best chain, and its passes in order.

    Args:
        evening: as `evening_exhaustive.best_evening` takes it.
    """
    moments = []
    for option in evening["options"]:
        counts = counts_of(option, evening)
        moments += [
            (t, option, k, counts, (t, option["m"][k], option["e"][k], option["over"][k]))
            for k, t in enumerate(option["t"])
        ]
    moments.sort(key=lambda one: one[0])
    longest = _longest(evening, moments) + evening["margin"]
    starts: dict[tuple[int, int], tuple[Goals, tuple[int, int] | None]] = {}
    ends: list[tuple[float, dict[str, Any], Goals, tuple[float, ...], tuple[int, int]]] = []
    came: dict[tuple[int, int], tuple[int, int]] = {}
    best, best_end = (0, 0), None
    for t, option, k, counts, place in moments:
        found, start = _NONE, None
        for i in range(k):
            if option["t"][k] - option["t"][i] < option["least"] - 1e-9:
                break
            known = starts.get((id(option), i))
            if known is not None and option["signal"][k] - option["signal"][k - 1] > 1e-6:
                worth, clear = goals_of(option, counts, i, k, evening)
                value = known[0][0] + worth, known[0][1] + clear
                if value > found:
                    found, start = value, (id(option), i)
        if start is not None:
            ends.append((t, option, found, place, (id(option), k)))
            came[(id(option), k)] = start
            if found > best:
                best, best_end = found, (id(option), k)
        if k + 1 < len(counts) and option["signal"][k + 1] - option["signal"][k] > 1e-6:
            starts[(id(option), k)] = _start(evening, option, place, ends, longest)
    return best, _passes(evening, best_end, starts, came)


def _start(
    evening: dict[str, Any],
    option: dict[str, Any],
    place: tuple[float, ...],
    ends: list,
    longest: float,
) -> tuple[Goals, tuple[int, int] | None]:
    """What a start is worth, and the end before it."""
    begun: Goals = (0, 0)
    if evening["standing"] is not None:
        step = step_between(evening["standing"], place, evening)
        begun = _NONE if step is None else (-step, 0)
    best, before = begun, None
    for t, other, value, there, name in ends:
        if other["pass"] == option["pass"] or t > place[0]:
            continue
        step = step_between(there, place, evening)
        if step is None:
            assert place[0] - t < longest + 1e-6
            continue
        here = {"satellite": option["satellite"], "from": place}
        cost = step + change_between({"satellite": other["satellite"], "to": there}, here, evening)
        total = value[0] - cost, value[1]
        if total > best:
            best, before = total, name
    return best, before


def _longest(evening: dict[str, Any], moments: list) -> float:
    """No move between any two of these places takes longer."""
    places = [(0.0, m, e) for m in _ends(moments, 1) for e in _ends(moments, 2)]
    return max((move_s(a, b, evening["mount"]) for a in places for b in places), default=0.0)


def _ends(moments: list, axis: int) -> tuple[float, float]:
    values = [one[4][axis] for one in moments] or [0.0]
    return min(values), max(values)


def _passes(evening: dict[str, Any], end: tuple[int, int] | None, starts: dict, came: dict) -> list[int]:
    names = {id(option): option["pass"] for option in evening["options"]}
    chain = []
    while end is not None:
        chain.append(names[end[0]])
        end = starts[came[end]][1]
    return chain[::-1]
