"""The Satellites page."""

from __future__ import annotations

from app.window.page import Page


class SatellitesPage(Page):
    """To be built."""

    title = "Satellites"
