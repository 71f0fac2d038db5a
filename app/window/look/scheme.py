"""Colours and type, in one place: light for the desk, dark for the evening, dusk for the field.

Dusk is dim by a brightest value, not by a hue: nothing on the screen is brighter than `DUSK_BRIGHTEST`.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QFont, QFontDatabase

#: No channel of the dusk scheme is above this (of 255).
DUSK_BRIGHTEST = 120


@dataclass(frozen=True)
class Scheme:
    """One set of colours, as #rrggbb.

    Attributes:
        name: light, dark or dusk.
        paper: the page's ground. card: what lies on it (plots, fields). edge: thin lines and frames.
        ink: text and the main strokes of figures. faint: second-rank text.
        signal: the satellite at work: strokes, fills, arcs. signal_soft: the beam, soft fills.
        accent: the one colour that asks for attention: stops, guards, what is lost, the keyway.
        accent_soft: guards' ground.
        overlap: bearings that two mechanical azimuths point to.
        day, dusk_sky, night: the sky behind the hills.
        choice: the ground of what is chosen.
    """

    name: str
    paper: str
    card: str
    edge: str
    ink: str
    faint: str
    signal: str
    signal_soft: str
    accent: str
    accent_soft: str
    overlap: str
    day: str
    dusk_sky: str
    night: str
    choice: str

    def color(self, role: str, alpha: int = 255) -> QColor:
        """A role's colour, e.g. ``color("accent", 80)``."""
        color = QColor(getattr(self, role))
        color.setAlpha(alpha)
        return color


LIGHT = Scheme(
    name="light",
    paper="#f5f2ea",
    card="#fcfbf7",
    edge="#d9d4c5",
    ink="#1d2a31",
    faint="#5f6a6b",
    signal="#2a5d73",
    signal_soft="#bccdd0",
    accent="#b8450f",
    accent_soft="#f0d5c5",
    overlap="#e7eaea",
    day="#f0ead6",
    dusk_sky="#e2e0d8",
    night="#cfd4d6",
    choice="#e8e2d0",
)

DARK = Scheme(
    name="dark",
    paper="#14191c",
    card="#1b2226",
    edge="#39444a",
    ink="#ece8dc",
    faint="#9aa5a6",
    signal="#7fb6cc",
    signal_soft="#31505c",
    accent="#f08a4f",
    accent_soft="#4b2f22",
    overlap="#243035",
    day="#4a4636",
    dusk_sky="#2f3436",
    night="#10161b",
    choice="#2c3538",
)

DUSK = Scheme(
    name="dusk",
    paper="#050505",
    card="#0b0b0a",
    edge="#2c2a26",
    ink="#787468",
    faint="#5c594f",
    signal="#4d6b75",
    signal_soft="#1a2429",
    accent="#78441f",
    accent_soft="#22150d",
    overlap="#131615",
    day="#26231a",
    dusk_sky="#181815",
    night="#080a0b",
    choice="#1c1b17",
)

SCHEMES = {scheme.name: scheme for scheme in (LIGHT, DARK, DUSK)}

FAMILY = "Inter"


def load_fonts() -> None:
    """Make the bundled fonts known to Qt; they have tabular figures and look the same everywhere."""
    import importlib.resources

    folder = importlib.resources.files("resources").joinpath("fonts")
    for name in ("Inter-Regular.otf", "Inter-Bold.otf"):
        QFontDatabase.addApplicationFontFromData(folder.joinpath(name).read_bytes())


def font(points: float, bold: bool = False) -> QFont:
    """The bundled font with tabular figures."""
    made = QFont(FAMILY)
    made.setPointSizeF(points)
    made.setBold(bold)
    made.setFeature(QFont.Tag("tnum"), 1)
    return made
