"""Colours and type, in one place: light for the desk, dark for the evening, dusk for the field.

Dusk is dim by a brightest value, not by a hue: nothing on the screen is brighter than `DUSK_BRIGHTEST`.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette

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


def palette(scheme: Scheme) -> QPalette:
    """Qt's own palette in the scheme's colours."""
    made = QPalette()
    roles = {
        QPalette.ColorRole.Window: "paper",
        QPalette.ColorRole.Base: "card",
        QPalette.ColorRole.AlternateBase: "paper",
        QPalette.ColorRole.Button: "card",
        QPalette.ColorRole.WindowText: "ink",
        QPalette.ColorRole.Text: "ink",
        QPalette.ColorRole.ButtonText: "ink",
        QPalette.ColorRole.ToolTipBase: "card",
        QPalette.ColorRole.ToolTipText: "ink",
        QPalette.ColorRole.PlaceholderText: "faint",
        QPalette.ColorRole.Highlight: "signal",
        QPalette.ColorRole.HighlightedText: "card",
        QPalette.ColorRole.Link: "signal",
    }
    for role, name in roles.items():
        made.setColor(role, scheme.color(name))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, scheme.color("faint"))
    return made


def style_sheet(scheme: Scheme) -> str:
    """What the palette cannot say: flat fields and buttons, a focus ring that can be seen."""
    s = scheme
    return f"""
    QWidget {{ color: {s.ink}; }}
    QMainWindow, QDialog, #page {{ background: {s.paper}; }}
    #head, #rail, #foot {{ background: {s.card}; }}
    #head {{ border-bottom: 1px solid {s.edge}; }}
    #rail {{ border-right: 1px solid {s.edge}; }}
    #foot {{ border-top: 1px solid {s.edge}; }}
    QLineEdit, QComboBox, QPlainTextEdit, QDateTimeEdit {{
        background: {s.card}; border: 1px solid {s.edge}; border-radius: 4px; padding: 4px 6px;
        selection-background-color: {s.signal}; selection-color: {s.card};
    }}
    QLineEdit[wrong="true"] {{ border: 2px solid {s.accent}; }}
    QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus, QDateTimeEdit:focus {{
        border: 2px solid {s.signal}; padding: 3px 5px;
    }}
    QPushButton {{
        background: {s.card}; border: 1px solid {s.edge}; border-radius: 4px; padding: 6px 12px;
    }}
    QPushButton:hover {{ border-color: {s.faint}; }}
    QPushButton:focus {{ border: 2px solid {s.signal}; padding: 5px 11px; }}
    QPushButton:disabled {{ color: {s.faint}; }}
    QPushButton[main="true"] {{ background: {s.ink}; color: {s.card}; border-color: {s.ink}; font-weight: bold; }}
    QPushButton[main="true"]:focus {{ border: 2px solid {s.accent}; }}
    QToolButton {{ border: 1px solid transparent; border-radius: 4px; padding: 4px 8px; background: transparent; }}
    QToolButton:hover {{ border-color: {s.edge}; }}
    QToolButton:focus {{ border: 2px solid {s.signal}; padding: 3px 7px; }}
    QTableView, QListView {{
        background: {s.card}; border: 1px solid {s.edge}; gridline-color: {s.edge};
        selection-background-color: {s.choice}; selection-color: {s.ink}; outline: none;
    }}
    QTableView:focus, QListView:focus {{ border: 2px solid {s.signal}; }}
    QHeaderView {{ background: {s.card}; }}
    QHeaderView::section {{
        background: {s.card}; color: {s.faint}; border: none; border-bottom: 1px solid {s.edge}; padding: 4px 6px;
    }}
    QLabel[rank="second"] {{ color: {s.faint}; }}
    QLabel[rank="alarm"] {{ color: {s.accent}; font-weight: bold; }}
    QScrollArea {{ border: none; background: {s.paper}; }}
    QScrollBar:vertical {{ background: {s.paper}; width: 10px; margin: 0; }}
    QScrollBar:horizontal {{ background: {s.paper}; height: 10px; margin: 0; }}
    QScrollBar::handle {{ background: {s.edge}; border-radius: 5px; min-height: 24px; min-width: 24px; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QMenuBar {{ background: {s.card}; color: {s.ink}; border-bottom: 1px solid {s.edge}; }}
    QMenuBar::item {{ background: transparent; padding: 4px 10px; }}
    QMenuBar::item:selected {{ background: {s.choice}; }}
    QSplitter::handle {{ background: {s.paper}; }}
    QListWidget {{ background: {s.card}; border: 1px solid {s.edge}; outline: none; }}
    QListWidget:focus {{ border: 2px solid {s.signal}; }}
    QListWidget::item:selected {{ background: {s.choice}; color: {s.ink}; }}
    QScrollArea:focus {{ border: 2px solid {s.signal}; }}
    QMenu {{ background: {s.card}; border: 1px solid {s.edge}; }}
    QMenu::item:selected {{ background: {s.choice}; color: {s.ink}; }}
    QMenu::item:disabled {{ color: {s.faint}; }}
    QToolTip {{ background: {s.card}; color: {s.ink}; border: 1px solid {s.edge}; }}
    QCheckBox:focus, QRadioButton:focus {{ outline: 2px solid {s.signal}; }}
    QCheckBox::indicator, QRadioButton::indicator {{
        width: 10px; height: 10px; border: 2px solid {s.faint}; background: {s.card};
    }}
    QRadioButton::indicator {{ border-radius: 7px; }}
    QCheckBox::indicator {{ border-radius: 3px; }}
    QCheckBox::indicator:checked, QRadioButton::indicator:checked {{ background: {s.signal}; border-color: {s.ink}; }}
    """
