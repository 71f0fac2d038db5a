"""A monkey at the window: it clicks, drags, types and turns pages at random, as fast as it can.

It waits for nothing, so pages are asked about results of other plans; what it does comes from a seed.
"""

from __future__ import annotations

import random
from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QDialog,
    QLineEdit,
    QMessageBox,
    QPlainTextEdit,
    QWidget,
)

from app.window.frame.actions import PAGES
from app.window.frame.main_window import MainWindow
from app.window.look.scheme import SCHEMES

#: What is typed: sound, at the ends of ranges, beyond them, and no numbers at all.
TEXTS = (
    *("0", "1", "-1", "45", "90", "180", "359.95", "360", "450", "-180", "-90", "0.05", "1e-9", "1e9"),
    *("12,5", "nan", "inf", "", " ", "abc", "<b>x</b>", "47°15'", "9.1W", "47.2, 9.1", "-89.99"),
    *("18:00", "24:00", "02:30 2nd", "2024-11-02 22:00", "2024-02-29", "2024-11-01", "9999-12-31"),
    *("JN47ne", "Europe/Zurich", "Pacific/Kiritimati", "A", "B", "x" * 300, "100,20", "1000", "-3600"),
    *("1,300", "\u202eabc", "0.0001"),
)
KEYS = (
    *(Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Backtab, Qt.Key.Key_Escape, Qt.Key.Key_Space),
    *(Qt.Key.Key_Delete, Qt.Key.Key_Insert, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up),
    *(Qt.Key.Key_Home, Qt.Key.Key_End, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_Down),
    *(Qt.Key.Key_Plus, Qt.Key.Key_Minus),
)
CHORDS = (
    (Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier),
    (Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier),
    (Qt.Key.Key_F5, Qt.KeyboardModifier.NoModifier),
    (Qt.Key.Key_Period, Qt.KeyboardModifier.ControlModifier),
    (Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier),
)
MODIFIERS = (Qt.KeyboardModifier.NoModifier,) * 3 + (
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
)


class Monkey:
    """Acts on a window by a seed, and remembers what it did."""

    def __init__(self, window: MainWindow, seed: int) -> None:
        self.window, self.chance = window, random.Random(seed)
        self.did: list[str] = []
        #: A menu waits in a loop of its own until it is closed.
        self._closer = QTimer(window)
        self._closer.timeout.connect(self._close_menu)
        self._closer.start(20)
        self._acts: list[tuple[float, Callable[[], None]]] = [
            (6.0, self._type),
            (4.0, self._press_button),
            (5.0, self._click),
            (3.0, self._drag),
            (4.0, self._key),
            (1.5, self._chord),
            (1.0, self._wheel),
            (2.0, self._cell),
            (0.7, self._choose),
            (1.5, self._turn_page),
            (0.2, self._scheme),
            (0.3, self._resize),
            (0.5, self._settle),
        ]

    def stop(self) -> None:
        """It goes away."""
        self._closer.stop()

    def _close_menu(self) -> None:
        menu = QApplication.activePopupWidget()
        if menu is not None:
            self._note(f"leave {type(menu).__name__}")
            menu.close()

    def act(self) -> None:
        """One thing, and what follows from it at once."""
        weights = [weight for weight, _ in self._acts]
        act = self.chance.choices([act for _, act in self._acts], weights)[0]
        self._answer_boxes()
        act()
        QApplication.processEvents()

    def _note(self, what: str) -> None:
        self.did.append(what)

    def _ground(self) -> QWidget:
        """The dialog that is open, else the window."""
        dialogs = [one for one in self.window.findChildren(QDialog) if one.isVisible()]
        return dialogs[-1] if dialogs else self.window

    def _one_of(self, kind: type[QWidget]) -> QWidget | None:
        ground = self._ground()
        page = ground if ground is not self.window else self.window.page(self.window.open_title)
        found = [w for w in page.findChildren(kind) if w.isVisible() and w.isEnabled() and w.width() > 0]
        return self.chance.choice(found) if found else None

    def _is_there(self, widget: QWidget) -> bool:
        """Whether a widget still is: the binding is not told when Qt deletes one that Qt made itself."""
        return any(one is widget for one in self.window.findChildren(QWidget))

    def _answer_boxes(self) -> None:
        for box in self.window.findChildren(QMessageBox):
            if box.isVisible() and self.chance.random() < 0.7:
                button = self.chance.choice(box.buttons())
                self._note(f"box: {button.text()}")
                button.click()
                QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)

    def _type(self) -> None:
        field = self._one_of(QLineEdit) if self.chance.random() < 0.95 else self._one_of(QPlainTextEdit)
        if field is None:
            return
        text = self.chance.choice(TEXTS)
        self._note(f"type {text!r} into {field.accessibleName() or type(field).__name__}")
        field.setFocus()
        if isinstance(field, QPlainTextEdit):
            field.setPlainText(text)
        else:
            field.selectAll()
            for mark in text:
                if not self._is_there(field):
                    return
                # Not by the test library, which aborts on what is on no keyboard.
                press = QKeyEvent(QEvent.Type.KeyPress, 0, Qt.KeyboardModifier.NoModifier, mark)
                QApplication.sendEvent(field, press)
        key = self.chance.choice((Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Escape))
        if self._is_there(field):
            QTest.keyClick(field, key)

    def _press_button(self) -> None:
        button = self._one_of(QAbstractButton)
        if isinstance(button, QAbstractButton):
            self._note(f"press {button.accessibleName() or button.text()}")
            button.click()

    def _point(self, widget: QWidget) -> QPoint:
        return QPoint(self.chance.randrange(widget.width()), self.chance.randrange(max(widget.height(), 1)))

    def _click(self) -> None:
        widget = self._one_of(QWidget)
        if widget is not None:
            at, modifier = self._point(widget), self.chance.choice(MODIFIERS)
            self._note(f"click {type(widget).__name__} at {at.x()}, {at.y()}")
            button = Qt.MouseButton.LeftButton
            for step in range(2 if self.chance.random() < 0.2 else 1):
                for act in (QTest.mouseDClick if step else QTest.mousePress, QTest.mouseRelease):
                    if self._is_there(widget):
                        act(widget, button, modifier, at)

    def _drag(self) -> None:
        widget = self._one_of(QWidget)
        if widget is None:
            return
        first = self._point(widget)
        self._note(f"drag {type(widget).__name__} from {first.x()}, {first.y()}")
        points, none = [self._point(widget) for _ in range(4)], MODIFIERS[0]
        QTest.mousePress(widget, Qt.MouseButton.LeftButton, none, first)
        for point in points[:3]:
            if not self._is_there(widget):
                return
            QTest.mouseMove(widget, point)
            QApplication.processEvents()
        if self._is_there(widget):
            QTest.mouseRelease(widget, Qt.MouseButton.LeftButton, none, points[3])

    def _key(self) -> None:
        key, modifier = self.chance.choice(KEYS), self.chance.choice(MODIFIERS)
        target = QApplication.focusWidget() or self._ground()
        self._note(f"key {key.name} on {type(target).__name__}")
        QTest.keyClick(target, key, modifier)

    def _chord(self) -> None:
        key, modifier = self.chance.choice(CHORDS)
        self._note(f"chord {key.name}")
        QTest.keyClick(self._ground(), key, modifier)

    def _wheel(self) -> None:
        widget = self._one_of(QWidget)
        if widget is None:
            return
        at = QPointF(self._point(widget))
        steps = QPoint(0, self.chance.choice((-240, -120, 120, 240)))
        self._note(f"wheel on {type(widget).__name__}")
        event = QWheelEvent(
            at,
            QPointF(widget.mapToGlobal(at.toPoint())),
            QPoint(),
            steps,
            Qt.MouseButton.NoButton,
            self.chance.choice(MODIFIERS),
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(widget, event)

    def _cell(self) -> None:
        view = self._one_of(QAbstractItemView)
        model = view.model() if isinstance(view, QAbstractItemView) else None
        if model is None or view is None or not model.rowCount():
            return
        index = model.index(self.chance.randrange(model.rowCount()), 0)
        self._note(f"cell {index.row()} of {view.accessibleName() or type(view).__name__}")
        view.setCurrentIndex(index)
        QTest.keyClick(view, self.chance.choice((Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_F2)))

    def _choose(self) -> None:
        box = self._one_of(QComboBox)
        if isinstance(box, QComboBox) and box.count():
            place = self.chance.randrange(box.count())
            self._note(f"choose {place} of {box.accessibleName()}")
            box.setCurrentIndex(place)
            box.activated.emit(place)

    def _turn_page(self) -> None:
        title = self.chance.choice(PAGES)
        self._note(f"page {title}")
        self.window.open_page(title)

    def _scheme(self) -> None:
        name = self.chance.choice(list(SCHEMES))
        self._note(f"scheme {name}")
        self.window.set_scheme(name)

    def _resize(self) -> None:
        size = self.chance.choice(((1060, 750), (1280, 800), (1920, 1080), (600, 400)))
        self._note(f"size {size}")
        self.window.resize(*size)

    def _settle(self) -> None:
        """Let a result come in now and then, so that there is something to disturb."""
        self._note("settle")
        for _ in range(20):
            QTest.qWait(5)
