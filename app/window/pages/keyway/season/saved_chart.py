"""The season as a chart for paper and slides: PNG, SVG or PDF, as the window draws it."""

from __future__ import annotations

import importlib.resources
import io
from pathlib import PurePath
from typing import TYPE_CHECKING, Any

import numpy as np

from app.window.look.scheme import LIGHT
from core.base.errors import ValueRangeError
from core.base.times import format_iso
from core.mount.seat.season.words import curve_sentence
from core.season import Season

if TYPE_CHECKING:
    from matplotlib.axes import Axes

#: By the ending of the file's name.
FORMS = ("png", "svg", "pdf")
_PAPER, _INK, _FAINT, _EDGE = LIGHT.card, LIGHT.ink, LIGHT.faint, LIGHT.edge
_SIZE_IN, _DOTS_PER_INCH = (9.0, 4.6), 160


def chart_form(path: str | PurePath) -> str:
    """The form that a file's name asks for.

    Raises:
        ValueRangeError: its ending is none of them.
    """
    form = PurePath(path).suffix.lower().lstrip(".")
    if form not in FORMS:
        raise ValueRangeError("chart", repr(PurePath(path).name), f"a name ending in .{', .'.join(FORMS)}")
    return form


def season_chart(season: Season, title: str, hole: str, identity: str, made_utc_s: float, form: str) -> bytes:
    """The share of passes that are not clear over the keyway's bearing, a line for each hole.

    Args:
        season: what is drawn.
        title, identity: the plan's.
        hole: the hole in use, drawn strong, with a ring at its best bearing.
        made_utc_s: POSIX seconds; the same input gives the same bytes.
        form: one of `FORMS`.

    Returns:
        The file's content.
    """
    import matplotlib as mpl
    from matplotlib.figure import Figure

    made = format_iso(made_utc_s)
    with mpl.rc_context({"svg.hashsalt": identity, "pdf.fonttype": 42, "svg.fonttype": "none"}):
        figure = Figure(figsize=_SIZE_IN, dpi=_DOTS_PER_INCH, facecolor=_PAPER, layout="constrained")
        axes = figure.add_subplot()
        _draw_curves(axes, season, hole)
        _dress(axes)
        study = season.study
        axes.set_title(
            f"{title}: {study.evenings} evenings, {study.passes:,} passes",
            loc="left",
            color=_INK,
            **_type(13, True),
        )
        figure.text(0.01, -0.02, curve_sentence(_strong(season, hole)), color=_INK, **_type(9))
        figure.text(
            0.01,
            -0.07,
            f"Statistics, no times. Plan {identity}, made {made[:16].replace('T', ' ')} UTC.",
            color=_FAINT,
            **_type(8),
        )
        out = io.BytesIO()
        figure.savefig(out, format=form, bbox_inches="tight", metadata=_metadata(form, title))
    return out.getvalue()


def _metadata(form: str, title: str) -> dict[str, Any]:
    """The plan's title; no making time, which the text has."""
    date = {"pdf": {"CreationDate": None}, "svg": {"Date": None}}.get(form, {})
    return {"Title": title} | date


def _strong(season: Season, hole: str) -> Any:
    return next((one for one in season.study.holes if one.hole.name == hole), season.study.holes[0])


def _draw_curves(axes: Axes, season: Season, hole: str) -> None:
    strong = _strong(season, hole)
    for one in sorted(season.study.holes, key=lambda each: each is strong):
        edges = np.append(one.curve.start_deg, 360.0)
        name = f"hole {one.hole.name}, {one.hole.offset_deg:g} deg"
        color, width = (_INK, 1.8) if one is strong else (_FAINT, 0.8)
        axes.stairs(100.0 * one.curve.value, edges, baseline=None, label=name, color=color, linewidth=width)
    best = 100.0 * float(strong.curve.at(np.array([strong.best_deg]))[0])
    axes.plot([strong.best_deg], [best], "o", markersize=8, color=_INK, markerfacecolor=_PAPER)


def _dress(axes: Axes) -> None:
    axes.set_facecolor(_PAPER)
    axes.set_xlim(0.0, 360.0)
    axes.set_ylim(bottom=0.0)
    axes.set_xticks(np.arange(0.0, 361.0, 45.0))
    axes.set_xlabel("keyway, deg true", color=_INK, **_type(10))
    axes.set_ylabel("passes not clear, %", color=_INK, **_type(10))
    axes.grid(axis="y", color=_EDGE, linewidth=0.8)
    axes.set_axisbelow(True)
    for side, spine in axes.spines.items():
        spine.set_visible(side == "bottom")
        spine.set_color(_INK)
    axes.tick_params(colors=_INK, length=3)
    for label in (*axes.get_xticklabels(), *axes.get_yticklabels()):
        label.set_fontproperties(_type(9)["fontproperties"])
    axes.legend(frameon=False, loc="upper right", prop=_type(9)["fontproperties"], labelcolor=_INK)


def _type(points: float, bold: bool = False) -> dict[str, Any]:
    """The program's own type, from its own file."""
    from matplotlib.font_manager import FontProperties

    name = "Inter-Bold.otf" if bold else "Inter-Regular.otf"
    path = str(importlib.resources.files("resources").joinpath("fonts", name))
    return {"fontproperties": FontProperties(fname=path, size=points)}
