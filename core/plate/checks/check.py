"""One check of the plate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Sense = Literal["at most", "at least"]

PRACTICE = "common practice, no source"
TRADE = "trade practice"


@dataclass(frozen=True)
class Check:
    """What was looked at, and how it stands.

    Attributes:
        name: what of the part.
        value, limit, unit: the figure and what it is held against.
        sense: whether the value must be ``"at most"`` or ``"at least"`` the limit.
        formula, numbers: by which it was found, and the same in figures.
        source: of the formula or the limit.
        advice: what to change, whether it holds or not.
    """

    name: str
    value: float
    limit: float
    unit: str
    sense: Sense
    formula: str
    numbers: str
    source: str
    advice: str

    @property
    def margin(self) -> float:
        """How far on the good side of the limit, in its unit; below 0 it does not hold."""
        return self.limit - self.value if self.sense == "at most" else self.value - self.limit

    @property
    def holds(self) -> bool:
        """An exact touch holds."""
        return self.margin >= -1e-9
