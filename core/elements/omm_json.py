"""Stub."""

from core.elements.harvest import Harvest


def read_json(text: str, harvest: Harvest) -> None:
    """Stub."""
    raise NotImplementedError
