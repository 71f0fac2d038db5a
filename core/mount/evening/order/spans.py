"""A contact as a stretch of an option."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from core.mount.evening.joining import AxisAngles
from core.mount.evening.order.options import Option


@dataclass(frozen=True, eq=False)
class ContactSpan:
    """A contact as a stretch of an option, from its first sample to its last."""

    option: Option
    first: int
    last: int

    @cached_property
    def start_utc_s(self) -> float:
        """When it starts."""
        return float(self.option.utc_s[self.first])

    @cached_property
    def end_utc_s(self) -> float:
        """When it ends."""
        return float(self.option.utc_s[self.last])

    @property
    def signal_s(self) -> float:
        """Seconds on the beam over the mask, not weighted."""
        return float(self.option.signal_s[self.last] - self.option.signal_s[self.first])

    @property
    def flips(self) -> int:
        """Changes of posture inside it."""
        over = self.option.over[self.first : self.last + 1]
        return int((over[1:] != over[:-1]).sum())

    @property
    def start(self) -> AxisAngles:
        """Where the mount is when it starts."""
        return self._axes(self.first)

    @property
    def end(self) -> AxisAngles:
        """Where the mount is when it ends."""
        return self._axes(self.last)

    def _axes(self, sample: int) -> AxisAngles:
        return AxisAngles(float(self.option.m_deg[sample]), float(self.option.e_deg[sample]))
