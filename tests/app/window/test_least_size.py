"""The least window that can be pulled to: nothing lies over anything else, and no words are cut."""

from __future__ import annotations

from PySide6.QtWidgets import QApplication

from app.opening import demo_plan
from app.window.frame.actions import PAGES
from app.window.frame.main_window import LEAST_SIZE
from tests.app.window.overlaps import overlaps


def test_in_the_least_window_no_part_lies_over_another(window_of):
    window = window_of(demo_plan())
    window.resize(200, 200)
    assert (window.width(), window.height()) == LEAST_SIZE
    told = {}
    for title in PAGES:
        window.open_page(title)
        for _ in range(3):  # layouts that wrap words settle in a few rounds
            QApplication.processEvents()
        page = window.page(title)
        least = page.minimumSizeHint()
        if least.width() > page.width() or least.height() > page.height():
            told[title] = [
                f"wants {least.width()} by {least.height()}, has {page.width()} by {page.height()}"
            ]
        told[title] = [*told.get(title, []), *overlaps(page)]
    assert {title: faults for title, faults in told.items() if faults} == {}
