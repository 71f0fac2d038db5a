"""Charts for paper and slides, drawn by matplotlib in the program's own type: PNG, SVG or PDF."""

from __future__ import annotations

import io
import textwrap
from collections.abc import Callable, Sequence
from pathlib import PurePath
from typing import TYPE_CHECKING, Any

import numpy as np

from app.window.look.scheme import LIGHT
from core.base.errors import ValueRangeError
from core.base.times import format_iso
from resources import bundled

if TYPE_CHECKING:
    from matplotlib.axes import Axes

#: By the ending of the file's name, and as a dialog for files offers them.
FORMS = ("png", "svg", "pdf")
FILTER = "PNG (*.png);;SVG (*.svg);;PDF (*.pdf)"
PAPER, INK, FAINT, EDGE = LIGHT.card, LIGHT.ink, LIGHT.faint, LIGHT.edge
_SIZE_IN, _DOTS_PER_INCH = (9.0, 4.6), 160
#: Letters in a line under the chart, and its height in parts of the chart's.
_LETTERS, _LINE = 125, 0.042


def chart_form(path: str | PurePath) -> str:
    """The form that a file's name asks for.

    Raises:
        ValueRangeError: its ending is none of them.
    """
    form = PurePath(path).suffix.lower().lstrip(".")
    if form not in FORMS:
        raise ValueRangeError("chart", repr(PurePath(path).name), f"a name ending in .{', .'.join(FORMS)}")
    return form


def chart_over_keyway(
    draw: Callable[[Axes], None],
    title: str,
    heading: str,
    sentences: Sequence[str],
    quantity: str,
    identity: str,
    made_utc_s: float,
    form: str,
    note: str = "",
) -> bytes:
    """A chart over the keyway's bearing.

    Args:
        draw: puts the lines in, each with the name that the legend has.
        title: the plan's, for the file's own data.
        heading: over the chart.
        sentences: under it.
        quantity: what goes up, with its unit.
        identity: the plan's.
        made_utc_s: POSIX seconds; the same input gives the same bytes.
        form: one of `FORMS`.
        note: what else is to be known, before the identity.

    Returns:
        The file's content.
    """
    import matplotlib as mpl
    from matplotlib.figure import Figure

    made = format_iso(made_utc_s)
    # What a plan says is shown as it stands: a dollar begins no formula.
    plain: dict[Any, Any] = {
        "svg.hashsalt": identity,
        "pdf.fonttype": 42,
        "svg.fonttype": "none",
        "text.parse_math": False,
    }
    with mpl.rc_context(plain):
        figure = Figure(figsize=_SIZE_IN, dpi=_DOTS_PER_INCH, facecolor=PAPER, layout="constrained")
        axes = figure.add_subplot()
        draw(axes)
        _dress(axes, quantity)
        axes.set_title(heading, loc="left", color=INK, **_type(13, True))
        lines = [line for part in sentences for line in textwrap.wrap(part, _LETTERS)]
        figure.text(0.01, -0.02, "\n".join(lines), color=INK, va="top", linespacing=1.4, **_type(9))
        under = f"{note}Plan {identity}, made {made[:16].replace('T', ' ')} UTC."
        figure.text(0.01, -0.03 - _LINE * len(lines), under, color=FAINT, va="top", **_type(8))
        out = io.BytesIO()
        figure.savefig(out, format=form, bbox_inches="tight", metadata=_metadata(form, title))
    return out.getvalue()


def _metadata(form: str, title: str) -> dict[str, Any]:
    """The plan's title; no making time, which the text has."""
    date = {"pdf": {"CreationDate": None}, "svg": {"Date": None}}.get(form, {})
    return {"Title": title} | date


def _dress(axes: Axes, quantity: str) -> None:
    axes.set_facecolor(PAPER)
    axes.set_xlim(0.0, 360.0)
    axes.set_ylim(bottom=0.0)
    axes.set_xticks(np.arange(0.0, 361.0, 45.0))
    axes.set_xlabel("keyway, deg true", color=INK, **_type(10))
    axes.set_ylabel(quantity, color=INK, **_type(10))
    axes.grid(axis="y", color=EDGE, linewidth=0.8)
    axes.set_axisbelow(True)
    for side, spine in axes.spines.items():
        spine.set_visible(side == "bottom")
        spine.set_color(INK)
    axes.tick_params(colors=INK, length=3)
    for label in (*axes.get_xticklabels(), *axes.get_yticklabels()):
        label.set_fontproperties(_type(9)["fontproperties"])
    axes.legend(
        frameon=False,
        loc="upper left",
        bbox_to_anchor=(1.0, 1.0),
        handlelength=4.0,
        prop=_type(9)["fontproperties"],
        labelcolor=INK,
    )


def _type(points: float, bold: bool = False) -> dict[str, Any]:
    """The program's own type, from its own file."""
    from matplotlib.font_manager import FontProperties

    name = "Inter-Bold.otf" if bold else "Inter-Regular.otf"
    path = str(bundled("fonts", name))
    return {"fontproperties": FontProperties(fname=path, size=points)}
