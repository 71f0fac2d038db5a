"""The Evening page."""

from __future__ import annotations

from app.window.page import Page


class EveningPage(Page):
    """To be built."""

    title = "Evening"
