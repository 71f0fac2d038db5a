"""The menus, built from the table of acts."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar

from app.window.frame.actions import ACTS


def build_menus(bar: QMenuBar, doer: Callable[[str], Callable[[], None]]) -> dict[str, QAction]:
    """Fill a menu bar.

    Args:
        bar: an empty one.
        doer: from an act's id to what it does.

    Returns:
        The actions by the ids of their acts.
    """
    made: dict[str, QAction] = {}
    menus: dict[str, QMenu] = {}
    schemes = QActionGroup(bar)
    for act in ACTS:
        if act.menu not in menus:
            menus[act.menu] = bar.addMenu(act.menu)
        action = menus[act.menu].addAction(act.words)
        if act.keys:
            action.setShortcut(QKeySequence(act.keys))
        if act.id.startswith("scheme_"):
            action.setCheckable(True)
            schemes.addAction(action)
        action.triggered.connect(doer(act.id))
        made[act.id] = action
    return made
