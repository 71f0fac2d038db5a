"""What the schemes look like on Qt's own widgets: the window's style sheet, and what single widgets add."""

from __future__ import annotations

from PySide6.QtGui import QPalette

from app.window.look.scheme import Scheme

#: A box to choose from, without the platform's own frame round its arrow.
FLAT_ARROW = "QComboBox::drop-down { border: none; width: 20px; }"


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
        QPalette.ColorRole.Highlight: "ink",
        QPalette.ColorRole.HighlightedText: "card",
        QPalette.ColorRole.Link: "signal",
    }
    for role, name in roles.items():
        made.setColor(role, scheme.color(name))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, scheme.color("asleep"))
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
        selection-background-color: {s.ink}; selection-color: {s.card};
    }}
    QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus, QDateTimeEdit:focus {{
        border: 2px solid {s.signal}; padding: 3px 5px;
    }}
    QLineEdit[wrong="true"], QComboBox[wrong="true"] {{ border: 2px solid {s.accent}; padding: 3px 5px; }}
    QLineEdit[wrong="true"]:focus, QComboBox[wrong="true"]:focus {{ border: 3px solid {s.accent}; padding: 2px 4px; }}
    #refusal {{
        background: {s.card}; color: {s.accent}; border: 1px solid {s.accent}; border-radius: 4px; padding: 3px 7px;
    }}
    QPushButton {{
        background: {s.card}; border: 1px solid {s.edge}; border-radius: 4px; padding: 6px 12px;
    }}
    QPushButton:hover {{ border-color: {s.faint}; }}
    QPushButton:focus {{ border: 2px solid {s.signal}; padding: 5px 11px; }}
    QPushButton:disabled, QPushButton[main="true"]:disabled {{
        background: transparent; border: 1px dashed {s.edge}; color: {s.asleep}; font-weight: normal;
    }}
    QPushButton[main="true"]:enabled {{ background: {s.ink}; color: {s.card}; border-color: {s.ink}; font-weight: bold; }}
    QPushButton[main="true"]:focus {{ border: 2px solid {s.accent}; }}
    QToolButton {{ border: 1px solid transparent; border-radius: 4px; padding: 4px 8px; background: transparent; }}
    QToolButton:hover {{ border-color: {s.edge}; }}
    QToolButton:disabled {{ color: {s.asleep}; }}
    QLineEdit:disabled, QComboBox:disabled {{
        background: transparent; border: 1px dashed {s.edge}; color: {s.asleep};
    }}
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
    QHeaderView::up-arrow, QHeaderView::down-arrow {{ subcontrol-position: top center; width: 8px; height: 6px; }}
    QWidget[rank="notice"] {{ background: {s.card}; border-bottom: 1px solid {s.edge}; }}
    QWidget[rank="notice"] QLabel {{ color: {s.accent}; border: none; }}
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
    QMenu::item:disabled {{ color: {s.asleep}; }}
    QToolTip {{ background: {s.card}; color: {s.ink}; border: 1px solid {s.edge}; }}
    QCheckBox:disabled, QRadioButton:disabled {{ color: {s.asleep}; }}
    QCheckBox::indicator:disabled, QRadioButton::indicator:disabled {{ border: 1px dashed {s.edge}; }}
    QCheckBox:focus, QRadioButton:focus {{ outline: 2px solid {s.signal}; }}
    QCheckBox::indicator, QRadioButton::indicator, QListWidget::indicator {{
        width: 10px; height: 10px; border: 2px solid {s.faint}; background: {s.card};
    }}
    QRadioButton::indicator {{ border-radius: 7px; }}
    QCheckBox::indicator, QListWidget::indicator {{ border-radius: 3px; }}
    QCheckBox::indicator:checked, QRadioButton::indicator:checked, QListWidget::indicator:checked {{
        background: {s.signal}; border-color: {s.ink};
    }}
    """


def indicator_style(scheme: Scheme) -> str:
    """Ticks and radio marks in the scheme's colours; the platform's own would outshine the dusk scheme."""
    s = scheme
    return f"""
    QRadioButton::indicator, QCheckBox::indicator {{
        width: 13px; height: 13px; border: 2px solid {s.faint}; background: {s.card};
    }}
    QRadioButton::indicator {{ border-radius: 8px; }}
    QCheckBox::indicator {{ border-radius: 3px; }}
    QRadioButton::indicator:checked, QCheckBox::indicator:checked {{
        background: qradialgradient(cx:0.5, cy:0.5, radius:0.5, fx:0.5, fy:0.5,
            stop:0 {s.ink}, stop:0.55 {s.ink}, stop:0.6 {s.card}, stop:1 {s.card});
    }}
    QRadioButton::indicator:focus, QCheckBox::indicator:focus {{ border-color: {s.signal}; }}
    """


def combo_style(scheme: Scheme, given: bool) -> str:
    """A flat box, faint where its choice is assumed."""
    return f"""
    QComboBox {{ color: {scheme.ink if given else scheme.faint}; }}
    {FLAT_ARROW}
    """


def checked_style(kind: str, scheme: Scheme) -> str:
    """What a checked button looks like: an inked frame on the ground of what is chosen."""
    return f"{kind}:checked:!focus {{ background: {scheme.choice}; border: 2px solid {scheme.ink}; }}" + (
        f"{kind}:checked:focus {{ background: {scheme.choice}; }}"
    )
