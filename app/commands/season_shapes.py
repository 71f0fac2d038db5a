"""A season as JSON shapes. Field names are fixed: they are what scripts read."""

from __future__ import annotations

from typing import Any

import numpy as np

from app.commands.shapes import number, refused_shape
from core.mount.model.station import IndexHole
from core.mount.seat.season.placed import Placed
from core.mount.seat.season.study import DrilledSet, HoleSeason, SeasonStudy
from core.mount.seat.season.words import STATISTICS_ONLY
from core.season import Season

_EVERY_DEG = np.arange(360.0)


def season_shape(season: Season) -> dict[str, Any]:
    """The study of a season."""
    study = season.study
    return {
        "statistics_only": STATISTICS_ONLY,
        "days": season.days,
        "evenings": study.evenings,
        "passes": study.passes,
        "time_zone": season.zone,
        "holes": {hole.hole.name: _hole_shape(hole) for hole in study.holes},
        "curve": _curve_shape(_hole_a(study)),
        "drill": {str(len(one.holes)): _holes_shape(one.holes) for one in study.sets},
        "drill_judged": {str(len(one.holes)): _judged_shape(one) for one in study.sets},
        "held_out": _held_out_shape(study),
        "halves": {"seed": study.question.seed, "apart_at_most": number(study.halves_differ, 6)},
        "refused": refused_shape(season.refused),
    }


def _hole_a(study: SeasonStudy) -> HoleSeason:
    """Hole A, or the first where none is called so."""
    return next((hole for hole in study.holes if hole.hole.name == "A"), study.holes[0])


def _hole_shape(hole: HoleSeason) -> dict[str, Any]:
    return _place_shape(hole.hole) | {
        "best": {
            "keyway_bearing_deg": number(hole.best_deg),
            "not_clear_share_10": number(hole.share_at(10.0), 6),
            "not_clear_share_50": number(hole.share_at(50.0), 6),
            "not_clear_share_90": number(hole.share_at(90.0), 6),
            "not_clear_share_mean": number(float(hole.shares.mean()), 6),
            "as_good_over_deg": number(hole.best_width_deg),
            "halves_apart": number(hole.halves_differ, 6),
            "forbidden": hole.forbidden,
        },
        "curve": _curve_shape(hole),
    }


def _curve_shape(hole: HoleSeason) -> list[list[float]]:
    """The exact curve, told at every degree."""
    shares = hole.curve.at(_EVERY_DEG)
    return [[bearing, number(share, 6)] for bearing, share in zip(_EVERY_DEG.tolist(), shares, strict=True)]


def _place_shape(hole: IndexHole) -> dict[str, Any]:
    return {"offset_deg": number(hole.offset_deg), "drilled_deg": number(hole.drilled_deg)}


def _holes_shape(holes: tuple[IndexHole, ...]) -> list[dict[str, Any]]:
    return [_place_shape(hole) for hole in holes]


def _placed_shape(placed: Placed) -> dict[str, Any]:
    return {
        "not_clear_share": number(placed.mean_share, 6),
        "evenings_without_loss": number(placed.free_evenings, 2),
    }


def _judged_shape(one: DrilledSet) -> dict[str, Any]:
    evenly = _placed_shape(one.evenly_judged) | {"holes": _holes_shape(one.evenly)}
    return _placed_shape(one.judged) | {"evenly_spaced": evenly}


def _held_out_shape(study: SeasonStudy) -> dict[str, Any]:
    single, most = study.sets[0].judged, study.sets[-1].judged
    return {
        "evenings": study.held_out,
        "not_clear_share": number(most.mean_share, 6),
        "best_single_share": number(single.mean_share, 6),
        "present_share": number(study.present.mean_share, 6),
        "evenings_without_loss": number(most.free_evenings, 2),
        "best_single_evenings_without_loss": number(single.free_evenings, 2),
    }
