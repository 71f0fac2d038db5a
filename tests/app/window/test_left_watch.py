"""The watch that fails tests which leave something behind finds it and names who started it."""

from __future__ import annotations

from PySide6.QtCore import QThread, QTimer
from PySide6.QtWidgets import QApplication, QLabel

from tests.app.window.conftest import Watch, key_of, unowned


def test_a_running_timer_is_named_by_its_line(qapp, monkeypatch):
    watch = Watch(monkeypatch)
    timer = QTimer()
    timer.setInterval(1000)
    timer.start()  # this line
    assert len(watch.left_running()) == 1
    assert "test_left_watch.py" in watch.left_running()[0]
    assert "timer.start()  # this line" in watch.left_running()[0]
    timer.stop()
    assert watch.left_running() == []


def test_a_running_thread_is_named_by_its_line(qapp, monkeypatch):
    watch = Watch(monkeypatch)

    class Sleeper(QThread):
        def run(self):
            self.exec()

    thread = Sleeper()
    thread.start()  # the thread
    assert "thread.start()  # the thread" in watch.left_running()[0]
    thread.quit()
    thread.wait()
    assert watch.left_running() == []


def test_a_widget_without_an_owner_is_named(qapp):
    before = {key_of(widget) for widget in QApplication.topLevelWidgets()}
    stray = QLabel("stray")
    stray.setObjectName("stray label")
    assert unowned(before) == ["QLabel 'stray label'"]
    del stray
    assert unowned(before) == []
