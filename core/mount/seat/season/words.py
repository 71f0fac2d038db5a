"""A season in sentences: number first, and what chance alone makes of it."""

from __future__ import annotations

import numpy as np

from core.base.words import bearing_text, counted, figure, listed, plain
from core.mount.seat.season.study import DrilledSet, HoleSeason, SeasonStudy

#: Of every season: what its elements can say, and what not.
STATISTICS_ONLY = (
    "Statistics only, no times: no element set foretells single passes months ahead, so drag is left out "
    "and what is told is how passes are spread. What would strike is counted where the plan has lengths for "
    "clearance, with the axes right on the satellite."
)


def percent(share: float) -> str:
    """``12.3 %``."""
    return f"{figure(100.0 * share)} %"


def points(share: float) -> str:
    """``1.2 points``."""
    return f"{figure(100.0 * share)} points"


def curve_sentence(hole: HoleSeason) -> str:
    """A hole's curve in one sentence."""
    curve = hole.curve
    middle = curve.start_deg + curve.width_deg / 2.0
    most = int(np.argmax(curve.value))
    if curve.value[most] == 0.0:
        return f"Hole {hole.hole.name}: every pass is clear at every bearing."
    return (
        f"Hole {hole.hole.name}: {percent(curve.mean())} not clear in the mean round the circle, "
        f"{percent(float(hole.shares.mean()))} at {bearing_text(hole.best_deg)} deg true, "
        f"{percent(float(curve.value[most]))} at {bearing_text(float(middle[most]))}, the worst."
    )


def share_reading(hole: HoleSeason, keyway_bearing_deg: float) -> str:
    """What a hole's curve says at a bearing: ``"143.5 deg: 6.2 % of a season's passes not clear"``."""
    share = float(hole.curve.at(np.array([keyway_bearing_deg]))[0])
    return f"{bearing_text(keyway_bearing_deg)} deg: {percent(share)} of a season's passes not clear"


def hole_cells(hole: HoleSeason) -> list[str]:
    """A hole at its best: name, offset, drilled, bearing, how wide, shares of 10, 50, 90 % of evenings."""
    return [
        hole.hole.name,
        plain(hole.hole.offset_deg),
        plain(hole.hole.drilled_deg),
        "any" if hole.best_width_deg == 360.0 else bearing_text(hole.best_deg),
        f"{figure(hole.best_width_deg)} deg",
        *(percent(hole.share_at(part)) for part in (10.0, 50.0, 90.0)),
    ]


def drilled_cells(drilled: DrilledSet, study: SeasonStudy) -> list[str]:
    """A set of holes: how many, drilled, offsets, not clear, evenings without loss, evenly spaced ones."""
    return [
        str(len(drilled.holes)),
        ", ".join(plain(hole.drilled_deg) for hole in drilled.holes),
        ", ".join(plain(hole.offset_deg) for hole in drilled.holes),
        percent(drilled.judged.mean_share),
        f"{figure(drilled.judged.free_evenings)} of {study.held_out}",
        percent(drilled.evenly_judged.mean_share),
    ]


def halves_sentence(study: SeasonStudy) -> str:
    """How far chance alone goes."""
    at_best = max(hole.halves_differ for hole in study.holes)
    return (
        f"{points(at_best)} apart at the best bearing, {points(study.halves_differ)} at most anywhere: "
        f"the means of two halves of the evenings, drawn by lot (seed {study.question.seed})."
    )


def placing_sentence(study: SeasonStudy) -> str:
    """How the holes were looked for."""
    keyways = study.question.keyways_deg
    alike = f"at {listed([plain(one) for one in keyways])} deg true" if keyways else "at any bearing alike"
    return (
        f"Keyway {alike}, holes {plain(study.question.apart_deg)} deg apart or more, the best hole each "
        f"evening. Chosen on the first {study.evenings - study.held_out} evenings, judged on the other "
        f"{study.held_out}."
    )


def saved_sentence(study: SeasonStudy) -> str:
    """What the largest set of holes gains on the best single one."""
    single, best = study.sets[0], study.sets[-1]
    alone = f"{percent(single.judged.mean_share)} of the passes are not clear through the best single hole"
    if single.judged.mean_share == 0.0:
        return "0.0 % of the passes are not clear through one hole: more holes gain nothing."
    if len(study.sets) == 1:
        return alone + "."
    holes = counted(len(best.holes), "hole")
    return f"{alone}, {percent(best.judged.mean_share)} through {holes}. {_saved(study, best, single)}"


def _saved(study: SeasonStudy, best: DrilledSet, single: DrilledSet) -> str:
    an_evening = study.passes / study.evenings
    passes = (single.judged.mean_share - best.judged.mean_share) * an_evening
    lossless, before = best.judged.free_evenings, single.judged.free_evenings
    return (
        f"{figure(passes)} of an evening's {figure(an_evening)} passes saved. "
        f"{figure(lossless)} of {study.held_out} evenings lose no pass, instead of {figure(before)}: "
        f"{figure(lossless - before)} saved."
    )


def present_sentence(study: SeasonStudy) -> str:
    """What the holes that there are make of the same evenings."""
    names = [hole.hole.name for hole in study.holes]
    holes = f"hole {names[0]}" if len(names) == 1 else f"holes {listed(names)}"
    return f"{percent(study.present.mean_share)} through {holes}, as the mount is."
