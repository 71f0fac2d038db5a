"""Compared fields as JSON. Field names are fixed: they are what scripts read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from app.commands.shapes import best_evening_shape, best_shape, number, refused_shape
from core.compare import Comparison


def compare_shape(compared: Comparison, files: Sequence[str]) -> dict[str, Any]:
    """The plans side by side, each with its file."""
    return {
        "same_evening": compared.same_evening,
        "sentences": list(compared.sentences),
        "plans": [_plan_shape(compared, place) | {"file": file} for place, file in enumerate(files)],
    }


def _plan_shape(compared: Comparison, place: int) -> dict[str, Any]:
    plan, lost = compared.plans[place], compared.lost[place]
    best_evening = compared.best_evening[place]
    return {
        "title": plan.title,
        "name": compared.names[place],
        "identity": compared.identities[place],
        "assumed": list(compared.assumed[place]),
        "motion": compared.motions[place],
        "site": {
            "name": plan.site.name,
            "latitude_deg": plan.site.latitude_deg,
            "longitude_deg": plan.site.longitude_deg,
            "height_m": plan.site.height_m,
        },
        "evening": {"start": plan.evening.start, "end": plan.evening.end},
        "minutes": number(compared.usable_s[place] / 60.0, 2),
        "minutes_lost_to_mask": number(compared.hidden_s[place] / 60.0, 2),
        "contacts": int(compared.contacts[place]),
        "worth_s": number(compared.worth_s[place], 1),
        "off_beam_s": number(lost.off_beam_s, 1),
        "let_go_s": number(lost.let_go_s, 1),
        "before_joining_s": number(lost.before_joining_s, 1),
        "passes_studied": int(compared.studied[place]),
        "best": best_shape(compared.best[place]),
        "best_evening": None if best_evening is None else best_evening_shape(best_evening),
        "unmatched": list(compared.unmatched[place]),
        "refused": refused_shape(compared.refused[place]),
        "differs": list(compared.differs[place]),
    }
