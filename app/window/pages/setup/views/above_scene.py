"""What lies round the tripod: hands at true bearings, the legs' feet, the stops."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.base.angles import wrap_180, wrap_360
from core.base.words import bearing_text
from core.mount.model.from_above import FromAbove

#: Stops that lie nearer to each other are drawn as one.
_TOGETHER_DEG = 1.0

Look = Literal["keyway", "mark", "planned", "sun", "shadow", "target", "stop", "low"]
ROLES: dict[Look, str] = {
    "keyway": "accent",
    "mark": "ink",
    "planned": "faint",
    "sun": "ink",
    "shadow": "ink",
    "target": "signal",
    "stop": "accent",
    "low": "accent",
}


@dataclass(frozen=True)
class Hand:
    """Something that lies at a true bearing: what it is, its words, and how it is drawn."""

    bearing_deg: float
    words: str
    look: Look


@dataclass(frozen=True)
class Foot:
    """A leg's foot at a true bearing, and what stands beside it."""

    bearing_deg: float
    words: str = ""


def stops(above: FromAbove, turned_deg: float = 0.0) -> list[Hand]:
    """Both stops, or one where they lie together; ``turned_deg``: with the tripod turned so far clockwise."""
    bearings = [above.counter_clockwise_stop_deg, above.clockwise_stop_deg]
    if abs(wrap_180(bearings[1] - bearings[0])) < _TOGETHER_DEG:
        bearings = bearings[:1]
    turned = [wrap_360(bearing + turned_deg) for bearing in bearings]
    return [Hand(bearing, f"stop {bearing_text(bearing)}", "stop") for bearing in turned]
