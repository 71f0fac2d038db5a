"""The window as one who starts with an empty plan handles it, every action counted."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent

from app.window.frame.main_window import MainWindow


class FirstScreen:
    """An action is one click, one drop, one typed field or one menu choice."""

    def __init__(self, qtbot, window: MainWindow) -> None:
        self.qtbot, self.window = qtbot, window
        self.actions: list[str] = []

    # --- actions ------------------------------------------------------------------------------------------

    def choose_menu(self, act_id: str) -> None:
        """One entry of a menu."""
        self.actions.append(f"menu {act_id}")
        self.window.actions_by_id[act_id].trigger()

    def click_page(self, title: str) -> None:
        """A page on the rail."""
        self.actions.append(f"click {title}")
        self.qtbot.mouseClick(self.window.rail.items[title], Qt.MouseButton.LeftButton)
        assert self.window.open_title == title

    def type_locator(self, locator: str) -> None:
        """The site, as a grid locator."""
        self.actions.append("type locator")
        field = self.window.page("Site").place.locator
        assert field.isVisible()
        field.selectAll()
        self.qtbot.keyClicks(field, locator)
        self.qtbot.keyClick(field, Qt.Key.Key_Return)

    def click_sunset_to_midnight(self) -> None:
        """The evening's hours."""
        self.actions.append("click sunset to midnight")
        button = self.window.page("Site").evening.sunset
        assert button.isVisible()
        self.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)

    def drop(self, path: Path) -> None:
        """A file onto the window."""
        self.actions.append("drop elements")
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(path))])
        event = QDropEvent(
            QPointF(300.0, 300.0),
            Qt.DropAction.CopyAction,
            data,
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
        self.window.dropEvent(event)

    # --- looking ------------------------------------------------------------------------------------------

    def wait_satellites(self) -> None:
        """Until the dropped file is in the plan; no action."""
        self.qtbot.waitUntil(lambda: bool(self.window.document.plan.satellites), timeout=20_000)

    def wait_studied(self) -> None:
        """Until the seat of the present plan is studied; no action."""
        context = self.window.context

        def studied() -> bool:
            head = self.window.page("Evening").seat_head
            return (
                context.result_plan == context.plan
                and head.now.study is not None
                and not self.window.runner.waited_for
            )

        self.qtbot.waitUntil(studied, timeout=60_000)

    @property
    def sentence(self) -> str:
        """The first sentence of the Evening page, as it is to be read."""
        label = self.window.page("Evening").seat_head.sentence
        assert label.isVisible()
        return str(label.text())
