"""Labels and buttons of the ranks that every page uses."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QLabel, QPushButton, QWidget

from app.window.look.scheme import font
from app.window.widgets.plain import plain_label
from app.window.widgets.plain import tip as plain_tip


def label(points: float, bold: bool = False, name: str = "", rank: str = "", wraps: bool = False) -> QLabel:
    """An empty label to be filled later; ``name`` is its accessible name, ``rank`` as in `show_rank`."""
    made = plain_label()
    made.setFont(font(points, bold))
    made.setAccessibleName(name)
    made.setWordWrap(wraps)
    if rank:
        made.setProperty("rank", rank)
    return made


def second(text: str, points: float = 9, name: str = "", wraps: bool = True) -> QLabel:
    """A label of second rank."""
    made = label(points, name=name, rank="second", wraps=wraps)
    made.setText(text)
    return made


def heading(text: str, points: float = 13, name: str = "") -> QLabel:
    """A heading."""
    made = label(points, bold=True, name=name)
    made.setText(text)
    return made


def show_rank(shown: QLabel, rank: str) -> None:
    """Another rank: "second" is faint, "alarm" asks for attention, "" is plain text."""
    if shown.property("rank") != rank:
        shown.setProperty("rank", rank)
        shown.style().unpolish(shown)
        shown.style().polish(shown)


def keep_room(shown: QWidget) -> None:
    """Its place stays kept while it is hidden, so that nothing moves under the pointer when it comes."""
    policy = shown.sizePolicy()
    policy.setRetainSizeWhenHidden(True)
    shown.setSizePolicy(policy)


def push_button(words: str, do: Callable[[], Any], name: str = "", tip: str = "") -> QPushButton:
    """A button with & before the letter of its key; named by its words unless told otherwise."""
    button = QPushButton(words)
    button.setAccessibleName(name or words.replace("&", "").rstrip("."))
    button.setToolTip(plain_tip(tip))
    button.clicked.connect(lambda _checked: do())
    return button
