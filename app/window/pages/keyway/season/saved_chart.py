"""The season as a chart for paper and slides: PNG, SVG or PDF, as the window draws it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from app.window.views.saved_chart import FAINT, INK, PAPER, chart_over_keyway
from core.mount.seat.season.study import HoleSeason
from core.mount.seat.season.words import curve_sentence
from core.season import Season

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def season_chart(season: Season, title: str, hole: str, identity: str, made_utc_s: float, form: str) -> bytes:
    """The share of passes that are not clear over the keyway's bearing, a line for each hole.

    Args:
        season: what is drawn.
        title, identity: the plan's.
        hole: the hole in use, drawn strong, with a ring at its best bearing.
        made_utc_s: POSIX seconds; the same input gives the same bytes.
        form: one of `app.window.views.saved_chart.FORMS`.

    Returns:
        The file's content.
    """
    study = season.study
    return chart_over_keyway(
        lambda axes: _draw_curves(axes, season, hole),
        title,
        f"{title}: {study.evenings} evenings, {study.passes:,} passes",
        [curve_sentence(_strong(season, hole))],
        "passes not clear, %",
        identity,
        made_utc_s,
        form,
        note="Statistics, no times. ",
    )


def _strong(season: Season, hole: str) -> HoleSeason:
    return next((one for one in season.study.holes if one.hole.name == hole), season.study.holes[0])


def _draw_curves(axes: Axes, season: Season, hole: str) -> None:
    strong = _strong(season, hole)
    for one in sorted(season.study.holes, key=lambda each: each is strong):
        edges = np.append(one.curve.start_deg, 360.0)
        name = f"hole {one.hole.name}, {one.hole.offset_deg:g} deg"
        color, width = (INK, 1.8) if one is strong else (FAINT, 0.8)
        axes.stairs(100.0 * one.curve.value, edges, baseline=None, label=name, color=color, linewidth=width)
    best = 100.0 * float(strong.curve.at(np.array([strong.best_deg]))[0])
    axes.plot([strong.best_deg], [best], "o", markersize=8, color=INK, markerfacecolor=PAPER)
