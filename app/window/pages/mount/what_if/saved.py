"""The chart for paper and slides, in the lines that the window has."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from app.window.look.scheme import LIGHT
from app.window.pages.mount.what_if.lines import ChartLine, lines_of, scale_of
from app.window.views.saved_chart import PAPER, chart_over_keyway
from core.what_if.evening import WhatIfEvening
from core.what_if.season import WhatIfSeason
from core.what_if.words import sentences_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def what_if_chart(
    told: WhatIfEvening | WhatIfSeason, title: str, identity: str, made_utc_s: float, form: str
) -> bytes:
    """Each row's curve against the keyway's bearing.

    Args:
        told: what is drawn.
        title, identity: the plan's.
        made_utc_s: POSIX seconds; the same input gives the same bytes.
        form: one of `app.window.views.saved_chart.FORMS`.

    Returns:
        The file's content.
    """
    of_season = isinstance(told, WhatIfSeason)
    lines = lines_of(told)
    quantity = "passes not clear, %" if of_season else f"lost, {scale_of(lines, of_season).unit}"
    what = f"{told.evenings} evenings" if isinstance(told, WhatIfSeason) else f"{told.studied} passes"
    return chart_over_keyway(
        lambda axes: _draw(axes, lines, of_season),
        title,
        f"{title}: what if, {what}",
        sentences_of(told),
        quantity,
        identity,
        made_utc_s,
        form,
        note="Statistics, no times. " if of_season else "",
    )


def _draw(axes: Axes, lines: Sequence[ChartLine], of_season: bool) -> None:
    per = scale_of(lines, of_season).per
    for line in lines:
        bearings, values = line.line
        color = getattr(LIGHT, line.stroke.role)
        style = (0.0, line.stroke.dashes) if line.stroke.dashes else "solid"
        axes.plot(
            bearings,
            [value / per for value in values],
            label=line.name,
            color=color,
            linewidth=0.7 * line.stroke.width,
            linestyle=style,
            dash_capstyle="butt",
        )
        ring = {"color": color, "markerfacecolor": PAPER, "linestyle": "none", "clip_on": False, "zorder": 3}
        axes.plot([line.best_deg % 360.0], [line.best_value / per], "o", markersize=6, **ring)
