"""The Sheet page."""

from __future__ import annotations

from app.window.page import Page


class SheetPage(Page):
    """To be built."""

    title = "Sheet"
