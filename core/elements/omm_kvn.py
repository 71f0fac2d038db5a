"""Stub."""

from core.elements.harvest import Harvest


def read_kvn(text: str, harvest: Harvest) -> None:
    """Stub."""
    raise NotImplementedError
