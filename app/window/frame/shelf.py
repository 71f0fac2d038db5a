"""The pages of the window: each is built when it is first needed, or while nothing else is to be done."""

from __future__ import annotations

import importlib

from PySide6.QtCore import QTimer, Signal, Slot
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QStackedWidget, QWidget

from app.window.frame.actions import PAGES
from app.window.look.scheme import fit_type, type_as_asked
from app.window.page import Page
from app.window.state.context import Context
from app.window.widgets.kept_layout import layout_of, restore_layout

_CLASSES = {
    "Site": ("app.window.pages.site.page", "SitePage"),
    "Satellites": ("app.window.pages.satellites.page", "SatellitesPage"),
    "Mount": ("app.window.pages.mount.page", "MountPage"),
    "Plate": ("app.window.pages.plate.page", "PlatePage"),
    "Stand": ("app.window.pages.stand.page", "StandPage"),
    "Evening": ("app.window.pages.evening.page", "EveningPage"),
    "Keyway": ("app.window.pages.keyway.page", "KeywayPage"),
    "Setup": ("app.window.pages.setup.page", "SetupPage"),
    "Sheet": ("app.window.pages.sheet.page", "SheetPage"),
    "Run": ("app.window.pages.later", "RunPage"),
}


class Shelf(QStackedWidget):
    """Shows one page at a time.

    Signals:
        counted(str title, int): how many things a page has to be decided.
        failed(str title, str sentence, str details): a page has something to tell.
        go(str): a page asks for another one.
    """

    counted = Signal(str, int)
    failed = Signal(str, str, str)
    go = Signal(str)

    def __init__(
        self,
        context: Context,
        paper: str,
        layout: dict[str, tuple[int, ...]] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._context, self._paper, self._layout = context, paper, layout or {}
        self.pages: dict[str, Page] = {}
        self._idle = QTimer(self)
        self._idle.setInterval(0)
        self._idle.timeout.connect(self._build_next)

    @property
    def title(self) -> str:
        """The page that is open."""
        page = self.currentWidget()
        return page.title if isinstance(page, Page) else "Evening"

    @property
    def paper(self) -> str:
        """The sheet's paper, to be remembered."""
        return str(getattr(self.pages.get("Sheet"), "paper", self._paper))

    @property
    def by_hand(self) -> dict[str, tuple[int, ...]]:
        """How splitters and columns were set by hand, to be remembered."""
        return self._layout | layout_of(self)

    def page(self, title: str) -> Page:
        """One of the pages, built now if it is asked for the first time."""
        if title not in self.pages:
            self.pages[title] = self._built(title)
            self.addWidget(self.pages[title])
        return self.pages[title]

    def _built(self, title: str) -> Page:
        module, name = _CLASSES[title]
        with type_as_asked():
            page: Page = getattr(importlib.import_module(module), name)(self._context)
        fit_type(page, self._context.scheme)
        page.count_changed.connect(lambda count: self.counted.emit(title, count))
        page.failed.connect(self.failed)
        go = getattr(page, "go", None)
        if go is not None:
            go.connect(self.go)
        if hasattr(page, "set_paper"):
            page.set_paper(self._paper)
        restore_layout(page, self._layout)
        for field in (*page.findChildren(QLineEdit), *page.findChildren(QPlainTextEdit)):
            field.setAcceptDrops(False)  # a file dropped on a field is meant for the window
        return page

    def open(self, title: str) -> None:
        """Show a page."""
        page = self.page(title)
        self.setCurrentWidget(page)
        page.refresh()

    def refresh(self) -> None:
        """The context holds something new: the open page shows it, all count."""
        for page in self.pages.values():
            if page is self.currentWidget():
                page.refresh()
            page.count_changed.emit(page.count())

    def build_rest(self) -> None:
        """Build the pages not yet opened, one at a time, while nothing else is to be done."""
        self._idle.start()

    def stop(self) -> None:
        """Build no more."""
        self._idle.stop()

    @Slot()
    def _build_next(self) -> None:
        self._idle.stop()  # so that a page that cannot be built is told once
        left = [title for title in PAGES if title not in self.pages]
        if left:
            page = self.page(left[0])
            page.count_changed.emit(page.count())
            self._idle.start()
