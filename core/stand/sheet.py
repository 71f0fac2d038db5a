"""The stand on paper: one page with go or stop, the wind's rose, and what holds it."""

from __future__ import annotations

import json
import math
from typing import Any

import numpy as np

from core.base.typesetting import typeset
from core.base.words import bearing_text
from core.stand.answer import StandAnswer
from core.stand.words import advice_sentence, cautions, stand_lines

#: The table of directions has a line every so many degrees.
EVERY_DEG = 15.0
#: The rose on paper: its radius, and how many rings at most.
_RADIUS_MM, _MOST_RINGS = 38.0, 4
_RINGS_M_S = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 500.0)


def direction_rows(found: StandAnswer) -> list[list[str]]:
    """Blows toward, comes from, tips at a mean and in gusts of so many m/s, and which is weakest."""
    exact = {round(found.weakest_deg, 6): "weakest", round(found.strongest_deg, 6): "strongest"}
    factor = found.stand.gust_factor
    return [
        [bearing_text(at), bearing_text(at + 180.0), f"{mean:.1f}", f"{mean * factor:.1f}", word]
        for at, mean in zip(found.rose.toward_deg.tolist(), found.rose.mean_m_s.tolist(), strict=True)
        if (word := exact.get(round(at, 6), "")) or abs(math.remainder(at, EVERY_DEG)) < 1e-6
    ]


def stand_sheet(found: StandAnswer, title: str, plan_identity: str) -> dict[str, Any]:
    """Texts and the rose, by the names that resources/sheet/stand.typ reads; lengths in mm."""
    most = float(found.rose.mean_m_s.max())
    step = next((step for step in _RINGS_M_S if most <= step * _MOST_RINGS), _RINGS_M_S[-1])
    rings = max(math.ceil(most / step), 1)
    per_m_s = _RADIUS_MM / (rings * step)
    toward = np.radians(found.rose.toward_deg)
    across, up = (per_m_s * found.rose.mean_m_s * side for side in (np.sin(toward), np.cos(toward)))
    return {
        "title": title,
        "plan": f"plan {plan_identity}",
        "keyway": f"keyway {bearing_text(found.keyway_deg)} deg true",
        "advice": advice_sentence(found),
        "lines": [list(line) for line in stand_lines(found)],
        "heads": ["toward", "from", "mean, m/s", "gusts, m/s", ""],
        "rows": direction_rows(found),
        "cautions": list(cautions(found)),
        "radius": _RADIUS_MM,
        "rings": [[number * step * per_m_s, f"{number * step:g}"] for number in range(1, rings + 1)],
        "rose": [[round(x, 3), round(-y, 3)] for x, y in zip(across.tolist(), up.tolist(), strict=True)],
        "forecast": round(per_m_s * found.wind.mean_m_s, 3),
        "keyway_deg": found.keyway_deg,
    }


def stand_pdf(found: StandAnswer, title: str, plan_identity: str) -> bytes:
    """The page as PDF."""
    return typeset("stand.typ", {"stand": _json(found, title, plan_identity)}, format="pdf")[0]


def _json(found: StandAnswer, title: str, plan_identity: str) -> str:
    return json.dumps(stand_sheet(found, title, plan_identity), ensure_ascii=False)
