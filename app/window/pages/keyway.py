"""The Keyway page."""

from __future__ import annotations

from app.window.page import Page


class KeywayPage(Page):
    """To be built."""

    title = "Keyway"
