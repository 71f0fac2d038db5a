"""The lines of the chart: told apart by pattern and width, so that black and white lose nothing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.mount.seat.season.not_clear import StepCurve
from core.what_if.evening import WhatIfEvening
from core.what_if.season import WhatIfSeason


@dataclass(frozen=True)
class Stroke:
    """How a line is drawn.

    Attributes:
        role: its colour in a scheme.
        width: of the line.
        dashes: strokes and gaps in parts of the width; none for a solid line.
    """

    role: str
    width: float
    dashes: tuple[float, ...] = ()


#: The plan as it is first, then the changes in their order.
STROKES = (
    Stroke("ink", 3.0),
    Stroke("accent", 1.8, (6.0, 2.5)),
    Stroke("signal", 1.8, (1.2, 1.8)),
    Stroke("ink", 1.6, (9.0, 2.5, 1.5, 2.5)),
    Stroke("accent", 1.4),
    Stroke("signal", 1.8, (3.0, 2.0)),
    Stroke("faint", 1.8, (12.0, 4.0)),
    Stroke("ink", 1.4, (7.0, 2.5, 1.5, 2.5, 1.5, 2.5)),
)


@dataclass(frozen=True, eq=False)
class ChartLine:
    """One row's curve.

    Attributes:
        name: as in the legend.
        curve: seconds lost, or the share that is not clear, against the keyway's bearing.
        best_deg: where a ring is.
        stroke: how it is drawn.
    """

    name: str
    curve: StepCurve
    best_deg: float
    stroke: Stroke

    @property
    def best_value(self) -> float:
        """The curve's at the ring; beside it where that is a single better bearing."""
        at = np.array([self.best_deg - 1e-6, self.best_deg, self.best_deg + 1e-6])
        return float(self.curve.at(at).min())

    @property
    def line(self) -> tuple[list[float], list[float]]:
        """Bearings and values of the steps' corners, from 0 to 360, no finer than can be seen."""
        drawn = self.curve.for_picture()
        edges = np.append(drawn.start_deg, 360.0)
        return np.repeat(edges, 2)[1:-1].tolist(), np.repeat(drawn.value, 2).tolist()


@dataclass(frozen=True)
class Scale:
    """What goes up: from 0 to ``top`` in steps, as it is written.

    Attributes:
        unit: behind the greatest figure.
        per: how much of the curve's is one of the unit.
        step: between two lines across, in the unit.
        steps: how many.
    """

    unit: str
    per: float
    step: float
    steps: int

    @property
    def top(self) -> float:
        """At the upper edge, as the curve counts."""
        return self.step * self.steps * self.per

    def words(self, place: int) -> str:
        """What stands at a line across."""
        return f"{self.step * place:g}" + (f" {self.unit}" if place == self.steps else "")


def lines_of(told: WhatIfEvening | WhatIfSeason | None) -> tuple[ChartLine, ...]:
    """A line for each row."""
    if told is None:
        return ()
    if isinstance(told, WhatIfEvening):
        drawn = [(row.name, row.curve, row.best_in_use_deg) for row in told.rows]
    else:
        drawn = [(row.name, row.through.curve, row.through.best_deg) for row in told.rows]
    return tuple(ChartLine(*one, stroke) for one, stroke in zip(drawn, STROKES, strict=False))


def scale_of(lines: Sequence[ChartLine], of_season: bool) -> Scale:
    """A round scale that holds all lines, in at most five steps."""
    most = max((float(line.curve.value.max()) for line in lines), default=0.0)
    if of_season:
        return _scale("%", 0.01, most, (2.0, 5.0, 10.0, 20.0))
    if most < 120.0:
        return _scale("s", 1.0, most, (10.0, 20.0, 30.0))
    return _scale("min", 60.0, most, (1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1500.0))


def _scale(unit: str, per: float, most: float, widths: tuple[float, ...]) -> Scale:
    for step in widths:
        steps = max(math.ceil(most / per / step - 1e-9), 1)
        if steps <= 5:
            return Scale(unit, per, step, steps)
    return Scale(unit, per, widths[-1], steps)
