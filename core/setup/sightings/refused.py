"""A sighting that cannot be used, and why; the others go on without it."""

from __future__ import annotations

from core.base.errors import NorthkeyError


class SightingRefused(NorthkeyError):
    """A sighting that says nothing.

    Attributes:
        index: its place in the table, from 0.
        target: what was sighted.
        field: the key at fault, e.g. ``"azimuth_dial_deg"``.
        reason: one clause.
        hidden_azimuth_deg: where it stands below the horizon at that time, so that the time may be wrong;
            else None.
    """

    def __init__(
        self, index: int, target: str, field: str, reason: str, hidden_azimuth_deg: float | None = None
    ) -> None:
        self.index, self.target, self.field = index, target, field
        self.reason, self.hidden_azimuth_deg = reason, hidden_azimuth_deg
        super().__init__(f"sighting {index + 1} ({target}), {field}: {reason}")
