"""Sunlight on the satellite, in words for its card."""

from __future__ import annotations

from core.base.times import clock
from core.passes.light import Light

_LIT, _DARK = "sunlit", "in shadow"


def light_words(light: Light | None) -> str:
    """``sunlit``, ``in the Earth's shadow``, ``sunlit until 17:03:10, then in shadow``; empty if unknown."""
    if light is None:
        return ""
    states = [_LIT if (index % 2 == 0) == light.lit_at_start else _DARK for index in range(_count(light))]
    if len(states) == 1:
        return _LIT if light.lit_at_start else "in the Earth's shadow"
    until = zip(states, light.changes_utc_s, strict=False)
    told = [f"{state} until {clock(change_s)}" for state, change_s in until]
    return f"{', '.join(told)}, then {states[-1]}"


def _count(light: Light) -> int:
    return len(light.changes_utc_s) + 1
