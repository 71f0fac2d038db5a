"""Which term of the pointing budget rules, as a chart that is read and saved: PNG, SVG or PDF.

Every term has a bar, its share of the antenna's mean square before the sighting. After the sighting a second,
strong bar lies over a pale one, so that what the fit took away is what is left pale. A filled bar is another
error at every reading, step or satellite; a hatched one is the same all evening. The term to improve first
has the accent and says so.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Literal

from app.window.look.scheme import LIGHT, Scheme
from core.base.words import figure as figures
from core.setup.budget.answer import PointingBudget
from core.setup.budget.shares import AntennaShares, Share, shares_of
from resources import bundled

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Form = Literal["png", "svg", "pdf"]
_WIDTH_IN, _BAR_IN, _HEAD_IN, _DOTS_PER_INCH = 9.0, 0.3, 1.3, 160
_BEFORE_HIGH, _AFTER_HIGH = 0.72, 0.42
_HATCH = "////"


def budget_chart(budget: PointingBudget, form: Form = "png", scheme: Scheme = LIGHT) -> bytes:
    """The chart as a file's content; the same budget gives the same bytes.

    Args:
        budget: the answer.
        form: PNG for the screen, the others for paper and slides.
        scheme: the window's for the screen.
    """
    import matplotlib as mpl

    out = io.BytesIO()
    date = {"pdf": {"CreationDate": None}, "svg": {"Date": None}}.get(form, {})
    with mpl.rc_context({"svg.hashsalt": "budget", "pdf.fonttype": 42, "svg.fonttype": "none"}):
        figure = budget_figure(budget, scheme)
        figure.savefig(out, format=form, metadata={"Title": "Pointing budget"} | date)
    return out.getvalue()


def budget_figure(budget: PointingBudget, scheme: Scheme = LIGHT) -> Figure:
    """The chart, one picture for each antenna under each other; an empty one where no pass is worked."""
    import matplotlib as mpl
    from matplotlib.figure import Figure

    antennas = shares_of(budget)
    rows = [max(len(one.shares), 1) for one in antennas]
    height_in = sum(_HEAD_IN + _BAR_IN * count for count in rows) or _HEAD_IN
    # The width of a hatch's strokes is read when its patch is made.
    with mpl.rc_context({"hatch.linewidth": 1.2}):
        figure = Figure(
            figsize=(_WIDTH_IN, height_in),
            dpi=_DOTS_PER_INCH,
            facecolor=scheme.card,
            layout="constrained",
        )
        if not antennas:
            figure.text(0.5, 0.5, "No pass is worked.", ha="center", color=scheme.ink, **_type(11))
            return figure
        grid = figure.subplots(len(antennas), 1, squeeze=False, height_ratios=rows, sharex=True)
        for axes, one in zip(grid[:, 0], antennas, strict=True):
            _draw(axes, one, scheme)
        most = max((_longest(share) for one in antennas for share in one.shares), default=0.0)
        grid[0, 0].set_xlim(0.0, 150.0 * most or 1.0)
    return figure


def _draw(axes: Axes, one: AntennaShares, scheme: Scheme) -> None:
    sighted = one.after_deg is not None
    if sighted:
        _bars(axes, one.shares, [share.before for share in one.shares], _BEFORE_HIGH, scheme, one, pale=True)
        _bars(axes, one.shares, [share.after for share in one.shares], _AFTER_HIGH, scheme, one, pale=False)
    else:
        _bars(axes, one.shares, [share.before for share in one.shares], _BEFORE_HIGH, scheme, one, pale=False)
    for row, share in enumerate(one.shares):
        words = bar_words(share, sighted) + (", improve first" if share.name in one.improve_first else "")
        axes.annotate(
            words,
            (100.0 * _longest(share), row),
            xytext=(6, 0),
            textcoords="offset points",
            va="center",
            color=scheme.ink,
            **_type(9, share.name in one.improve_first),
        )
    axes.set_title(title_words(one), loc="left", color=scheme.ink, **_type(12, True))
    _dress(axes, one.shares, scheme)


def _longest(share: Share) -> float:
    return max(share.before or 0.0, share.after or 0.0)


def title_words(one: AntennaShares) -> str:
    """What an antenna's picture is headed by."""
    if one.after_deg is None:
        return f"{one.antenna}: {figures(one.before_deg)} deg before any sighting"
    return f"{one.antenna}: {figures(one.after_deg)} deg after the sighting, {figures(one.before_deg)} before"


def bar_words(share: Share, sighted: bool) -> str:
    """``2.3 deg``; ``0.4 deg, was 1.7``; ``gone, was 1.7 deg``."""
    before = None if share.before_deg is None else figures(share.before_deg)
    if not sighted:
        return f"{before} deg"
    if share.after_deg is None:
        return f"gone, was {before} deg"
    after = figures(share.after_deg)
    return f"{after} deg" if before in (None, after) else f"{after} deg, was {before}"


def _bars(
    axes: Axes,
    shares: Sequence[Share],
    parts: Sequence[float | None],
    high: float,
    scheme: Scheme,
    one: AntennaShares,
    pale: bool,
) -> None:
    for row, (share, part) in enumerate(zip(shares, parts, strict=True)):
        if not part:
            continue
        rules = share.name in one.improve_first
        strong, soft = (scheme.accent, scheme.accent_soft) if rules else (scheme.signal, scheme.signal_soft)
        color = soft if pale else strong
        axes.barh(
            row,
            100.0 * part,
            height=high,
            facecolor=scheme.card if share.fixed else color,
            edgecolor=color,
            hatch=_HATCH if share.fixed else None,
            linewidth=1.2,
            zorder=2 if pale else 3,
        )


def _dress(axes: Axes, shares: Sequence[Share], scheme: Scheme) -> None:
    axes.set_facecolor(scheme.card)
    axes.set_yticks(range(len(shares)), [share.name for share in shares])
    axes.set_ylim(max(len(shares), 1) - 0.5, -0.5)
    axes.set_xlabel(
        "share of the mean square before the sighting, %; hatched: the same all evening",
        color=scheme.ink,
        **_type(9),
    )
    axes.grid(axis="x", color=scheme.edge, linewidth=0.8)
    axes.set_axisbelow(True)
    for side, spine in axes.spines.items():
        spine.set_visible(side == "left")
        spine.set_color(scheme.ink)
    axes.tick_params(colors=scheme.ink, length=0, labelbottom=True)
    for label in (*axes.get_xticklabels(), *axes.get_yticklabels()):
        label.set_fontproperties(_type(9)["fontproperties"])


def _type(points: float, bold: bool = False) -> dict[str, Any]:
    """The program's own type, from its own file."""
    from matplotlib.font_manager import FontProperties

    name = "Inter-Bold.otf" if bold else "Inter-Regular.otf"
    path = str(bundled("fonts", name))
    return {"fontproperties": FontProperties(fname=path, size=points)}
