"""Every page in every scheme: what can be reached or is painted has a name; Alt's letters are unique."""

from __future__ import annotations

import re

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QComboBox,
    QDialog,
    QHeaderView,
    QLabel,
    QLineEdit,
    QMenu,
    QMenuBar,
    QScrollBar,
    QSplitterHandle,
    QStackedWidget,
    QWidget,
)

from app.opening import demo_plan
from app.window.frame.actions import PAGES
from app.window.look.scheme import SCHEMES
from app.window.pages.satellites.chooser import Chooser
from app.window.pages.satellites.traffic import MANY
from tests.plans import elements_data, plan_of, short_plan_data, write_elements_file

#: Parts of Qt's own widgets, which take their words from the widget they are part of.
_PARTS = (QHeaderView, QMenuBar, QMenu, QScrollBar, QSplitterHandle, QStackedWidget)


def is_part(widget: QWidget) -> bool:
    """Belongs to another widget that has the name: viewports, corners, a box's own line, list popups."""
    parent = widget.parent()
    if isinstance(widget, _PARTS) or widget.objectName().startswith("qt_"):
        return True
    if isinstance(parent, QAbstractScrollArea) and widget in {parent.viewport(), parent.cornerWidget()}:
        return not paints_itself(widget)
    own = isinstance(parent, (QComboBox, QLineEdit)) or type(parent).__name__ == "QAbstractSpinBox"
    plain = type(widget).__module__.startswith("PySide6") and type(widget).__name__ == "QWidget"
    return own or plain


def paints_itself(widget: QWidget) -> bool:
    """Its class, one of ours, has a paintEvent."""
    return any(
        "paintEvent" in kind.__dict__ and kind.__module__.startswith("app.") for kind in type(widget).__mro__
    )


def spoken_name(widget: QWidget) -> str:
    """What a screen reader would say."""
    interface = QAccessible.queryAccessibleInterface(widget)
    return interface.text(QAccessible.Text.Name).strip() if interface else widget.accessibleName()


def nameless(root: QWidget) -> list[str]:
    """Widgets that can have the focus or paint themselves and say nothing."""
    found = []
    for widget in root.findChildren(QWidget):
        if not widget.isVisibleTo(root) or (is_part(widget) and not paints_itself(widget)):
            continue
        reachable = widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        if (reachable or paints_itself(widget)) and not spoken_name(widget):
            found.append(
                f"{type(widget).__module__}.{type(widget).__name__} in {type(widget.parent()).__name__}"
            )
    return found


def letters(root: QWidget) -> dict[str, list[str]]:
    """The letters that Alt reaches among what is to be seen, with the texts that claim each."""
    claimed: dict[str, list[str]] = {}
    for widget in root.findChildren(QWidget):
        if not widget.isVisibleTo(root):
            continue
        texts = [widget.text()] if isinstance(widget, (QAbstractButton, QLabel)) else []
        if isinstance(widget, QLabel) and widget.buddy() is None:
            texts = []
        if isinstance(widget, QMenuBar):
            texts = [action.text() for action in widget.actions()]
        for text in texts:
            for letter in re.findall(r"(?<!&)&([^&\s])", text.replace("&&", "")):
                claimed.setdefault(letter.casefold(), []).append(text)
    return claimed


@pytest.fixture(params=list(SCHEMES))
def window(request, window_of):
    made = window_of(demo_plan(), scheme=request.param)
    made.resize(1280, 800)
    return made


def test_everything_reachable_or_painted_has_a_name(window, qtbot):
    told = {}
    for title in PAGES:
        window.open_page(title)
        qtbot.waitUntil(lambda: not window.runner.busy_words, timeout=30_000)
        told[title] = nameless(window)
    assert {title: found for title, found in told.items() if found} == {}


def test_letters_are_unique_among_what_is_seen(window, qtbot):
    told = {}
    for title in PAGES:
        window.open_page(title)
        doubled = {letter: texts for letter, texts in letters(window).items() if len(texts) > 1}
        if doubled:
            told[title] = doubled
    assert told == {}


def test_everything_has_a_name_on_an_empty_plan_and_with_news(window_of, qtbot, tmp_path):
    window = window_of(plan_of(short_plan_data(), satellites=[]))
    for title in PAGES:
        window.open_page(title)
        assert nameless(window) == [], title
    window.take_files([tmp_path / "absent.csv"])
    qtbot.waitUntil(window.page("Satellites").refusals.isVisible)
    assert nameless(window) == []


def test_dialogs_have_names(window_of, qtbot, tmp_path):
    window = window_of(plan_of(short_plan_data()))
    window.tell_error("Title", "sentence", "details")
    window.take_files([write_elements_file(tmp_path, *(elements_data(71000 + n) for n in range(MANY + 1)))])
    qtbot.waitUntil(lambda: window.findChild(Chooser) is not None)
    window.open_page("Site")
    window.page("Site").compare_fields()
    for dialog in window.findChildren(QDialog):
        assert nameless(dialog) == []
        assert {k: v for k, v in letters(dialog).items() if len(v) > 1} == {}


def test_the_tab_key_reaches_everything_and_comes_back(window, qtbot):
    for title in PAGES:
        window.open_page(title)
        start = window.rail.items["Site"]
        start.setFocus()
        seen: list[QWidget] = []
        for _ in range(300):
            window.focusNextChild()
            now = window.focusWidget()
            if now is start:
                break
            seen.append(now)
        assert window.focusWidget() is start, title
        page = window.page(title)
        tabbed = Qt.FocusPolicy.TabFocus
        for widget in page.findChildren(QWidget):
            wants = widget.focusPolicy() & tabbed and widget.isVisibleTo(window) and widget.isEnabled()
            if wants and not is_part(widget) and widget.focusProxy() is None:
                assert widget in seen or in_a_group(widget, seen), (title, widget, spoken_name(widget))


def in_a_group(widget: QWidget, seen: list[QWidget]) -> bool:
    """Of exclusive buttons Tab reaches one, arrows the others."""
    group = widget.group() if isinstance(widget, QAbstractButton) else None
    auto = isinstance(widget, QAbstractButton) and widget.autoExclusive()
    siblings = group.buttons() if group else widget.parent().findChildren(type(widget)) if auto else []
    return any(sibling in seen for sibling in siblings)
