"""The Mount page."""

from __future__ import annotations

from app.window.page import Page


class MountPage(Page):
    """To be built."""

    title = "Mount"
