"""The Satellites page."""

from __future__ import annotations

from pathlib import Path

from app.window.page import Page


class SatellitesPage(Page):
    """To be built."""

    title = "Satellites"

    def ask_for_files(self) -> None:
        """Open the dialog for element files."""

    def take_files(self, files: list[Path]) -> None:
        """Read element files into the plan."""
