"""Colours and type, in one place: light for the desk, dark for the evening, dusk for the field.

Dusk is dim by a brightest value, not by a hue: nothing on the screen is brighter than `DUSK_BRIGHTEST`, only
the figures of dials and the accent come near it, and small type is larger instead. Every text is told from
its ground by 4.5 to 1 at least, figures of dials by 7 to 1, the tones of the verdicts from each other by 1.6
to 1, as WCAG 2.2 counts it; tests hold every pair that is used to that.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase
from PySide6.QtWidgets import QWidget

from resources import bundled

#: No channel of the dusk scheme is above this (of 255).
DUSK_BRIGHTEST = 164


@dataclass(frozen=True)
class Scheme:
    """One set of colours, as #rrggbb.

    Attributes:
        name: light, dark or dusk.
        paper: the page's ground. card: what lies on it (plots, fields). edge: thin lines and frames.
        ink: text and the main strokes of figures. figure: what a dial reads. faint: second-rank text.
        asleep: words of what cannot be used now.
        signal: the satellite at work: strokes, fills, arcs. signal_soft: the beam, soft fills.
        accent: the one colour that asks for attention: stops, guards, what is lost, the keyway.
        accent_soft: guards' ground.
        overlap: bearings that two mechanical azimuths point to.
        day, dusk_sky, night: the sky behind the hills.
        choice: the ground of what is chosen.
        least_points: no type is smaller.
    """

    name: str
    paper: str
    card: str
    edge: str
    ink: str
    figure: str
    faint: str
    asleep: str
    signal: str
    signal_soft: str
    accent: str
    accent_soft: str
    overlap: str
    day: str
    dusk_sky: str
    night: str
    choice: str
    least_points: float = 0.0

    def color(self, role: str, alpha: int = 255) -> QColor:
        """A role's colour, e.g. ``color("accent", 80)``."""
        return QColor(_coloured(getattr(self, role), alpha))


@lru_cache(maxsize=256)
def _coloured(hexadecimal: str, alpha: int) -> QColor:
    """Read once: a picture asks for its few colours hundreds of times."""
    color = QColor(hexadecimal)
    color.setAlpha(alpha)
    return color


LIGHT = Scheme(
    name="light",
    paper="#f5f2ea",
    card="#fcfbf7",
    edge="#d9d4c5",
    ink="#1d2a31",
    figure="#1d2a31",
    faint="#566061",
    asleep="#9b9f9b",
    signal="#204a5d",
    signal_soft="#bccdd0",
    accent="#ae410e",
    accent_soft="#f0d5c5",
    overlap="#e7eaea",
    day="#f0ead6",
    dusk_sky="#e2e0d8",
    night="#d4d8da",
    choice="#e8e2d0",
)

DARK = Scheme(
    name="dark",
    paper="#14191c",
    card="#1b2226",
    edge="#39444a",
    ink="#ece8dc",
    figure="#ece8dc",
    faint="#9fa9aa",
    asleep="#667073",
    signal="#a5d0e2",
    signal_soft="#31505c",
    accent="#e6844c",
    accent_soft="#4b2f22",
    overlap="#243035",
    day="#3a3729",
    dusk_sky="#2a2f31",
    night="#10161b",
    choice="#2c3538",
)

DUSK = Scheme(
    name="dusk",
    paper="#020202",
    card="#050505",
    edge="#292825",
    ink="#938e80",
    figure="#a09c90",
    faint="#817f76",
    asleep="#45433d",
    signal="#46616a",
    signal_soft="#141c20",
    accent="#a4743b",
    accent_soft="#1c110a",
    overlap="#0c0f0f",
    day="#151410",
    dusk_sky="#0e0e0c",
    night="#040505",
    choice="#151411",
    least_points=9.5,
)

SCHEMES = {scheme.name: scheme for scheme in (LIGHT, DARK, DUSK)}

FAMILY = "Inter"
#: Where a widget keeps the size of type it asked for.
_POINTS = "asked_points"
#: Set on a widget whose type never grows, since it would be cut short.
KEEPS_TYPE = "keeps_type"


def load_fonts() -> None:
    """Make the bundled fonts known to Qt; they have tabular figures and look the same everywhere."""
    for name in ("Inter-Regular.otf", "Inter-Bold.otf"):
        QFontDatabase.addApplicationFontFromData(bundled("fonts", name).read_bytes())


class _Type:
    """How small type may be at present."""

    least_points = 0.0


def font(points: float, bold: bool = False) -> QFont:
    """The bundled font with tabular figures, no smaller than the scheme in use has it."""
    return QFont(_made(max(points, _Type.least_points), bold))


@lru_cache(maxsize=64)
def _made(points: float, bold: bool) -> QFont:
    made = QFont(FAMILY)
    made.setPointSizeF(points)
    made.setBold(bold)
    made.setFeature(QFont.Tag("tnum"), 1)
    return made


@contextmanager
def type_as_asked() -> Iterator[None]:
    """Fonts of the sizes asked for, whatever the scheme: for building widgets that are fitted afterwards."""
    kept, _Type.least_points = _Type.least_points, 0.0
    try:
        yield
    finally:
        _Type.least_points = kept


def use_type(scheme: Scheme) -> None:
    """From now on no type is smaller than the scheme has it."""
    _Type.least_points = scheme.least_points


def fit_type(root: QWidget, scheme: Scheme) -> None:
    """Give a widget and all within it fonts no smaller than the scheme has them, and their own size again."""
    for widget in (root, *root.findChildren(QWidget)):
        if not widget.testAttribute(Qt.WidgetAttribute.WA_SetFont) or widget.property(KEEPS_TYPE):
            continue
        known = widget.property(_POINTS)
        asked = widget.font().pointSizeF() if known is None else float(known)
        fitting = max(asked, scheme.least_points)
        if asked <= 0.0 or fitting == widget.font().pointSizeF():
            continue
        widget.setProperty(_POINTS, asked)
        made = QFont(widget.font())
        made.setPointSizeF(fitting)
        widget.setFont(made)
