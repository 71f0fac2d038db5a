"""Stub."""

from core.elements.harvest import Harvest


def read_xml(text: str, harvest: Harvest) -> None:
    """Stub."""
    raise NotImplementedError
