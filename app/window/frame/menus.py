"""The menus, built from the table of acts."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar

from app.window.frame.actions import ACTS


def build_menus(bar: QMenuBar, acts: Mapping[str, Callable[[], object]]) -> dict[str, QAction]:
    """Fill a menu bar.

    Args:
        bar: an empty one.
        acts: what each act does, by its id.

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
            action.setShortcuts([QKeySequence(keys) for keys in (act.keys, act.other_keys) if keys])
        if act.id.startswith("scheme_"):
            action.setCheckable(True)
            schemes.addAction(action)
        action.triggered.connect(lambda _checked, do=acts[act.id]: do())
        made[act.id] = action
    return made
