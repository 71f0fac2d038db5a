"""Stub."""

from core.elements.harvest import Harvest


def read_two_line(text: str, harvest: Harvest) -> None:
    """Stub."""
    raise NotImplementedError
