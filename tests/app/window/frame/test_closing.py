"""The window does not close over work: edits in no file, and what is still being written, are asked about."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QMessageBox, QWidget

from app.window.frame.closing import Closing
from app.window.frame.plan_files import PlanFiles
from app.window.state.document import Document
from app.window.state.runner import Runner
from core.base.errors import Cancelled
from tests.plans import plan_of, short_plan_data


class _Window(QWidget):
    """Closes only when it may."""

    def __init__(self) -> None:
        super().__init__()
        self.document = Document(plan_of(short_plan_data()), None, self)
        self.runner = Runner(self)
        self.closing = Closing(self.document, PlanFiles(self.document, self), self.runner, self)
        self.writes = True
        self.written: list[str] = []

    def closeEvent(self, event):  # noqa: N802
        if not self.closing.may_close():
            event.ignore()
            return
        self.runner.close()

    def write(self) -> None:
        """A file that takes until `writes` is off."""

        def job(_memo, progress):
            while self.writes:
                if not progress(0, 0, "writing"):
                    raise Cancelled
            self.written.append("sheet")

        self.runner.request("save sheet", "Writing sheet.pdf", job, writes=True)

    def answer(self, words: str) -> None:
        box = self.findChildren(QMessageBox)[-1]
        next(one for one in box.buttons() if one.text().replace("&", "") == words).click()


@pytest.fixture
def window(qtbot):
    made = _Window()

    def end(_window: QWidget) -> None:
        made.writes = False
        made.runner.close()

    qtbot.addWidget(made, before_close_func=end)
    made.show()
    return made


def test_a_window_with_nothing_to_lose_closes(window):
    assert window.close()


def test_it_closes_when_it_is_written(window, qtbot):
    window.write()
    assert not window.close()
    window.answer("Close when it is written")
    assert window.isVisible()
    window.writes = False
    qtbot.waitUntil(lambda: not window.isVisible())
    assert window.written == ["sheet"]


def test_it_stops_it_when_told(window, qtbot):
    window.write()
    window.close()
    window.answer("Stop it and close")
    assert not window.isVisible()
    assert window.written == []


def test_it_stays_when_told_and_asks_again(window, qtbot):
    window.write()
    window.close()
    window.answer("Stay here")
    qtbot.waitUntil(lambda: not [box for box in window.findChildren(QMessageBox) if box.isVisible()])
    assert window.isVisible()
    assert not window.close()
    window.answer("Stop it and close")
    assert not window.isVisible()


def test_the_question_goes_when_it_is_written_meanwhile(window, qtbot):
    window.write()
    window.close()
    window.writes = False
    qtbot.waitUntil(lambda: not [box for box in window.findChildren(QMessageBox) if box.isVisible()])
    assert window.isVisible()
    assert window.close()


def test_edits_are_asked_about_first(window, qtbot):
    window.document.edit(plan_of(short_plan_data(), title="other"), "title")
    window.write()
    assert not window.close()
    window.answer("Lose them")
    window.answer("Stop it and close")
    assert not window.isVisible()
