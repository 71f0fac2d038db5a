"""The Site page."""

from __future__ import annotations

from app.window.page import Page


class SitePage(Page):
    """To be built."""

    title = "Site"
