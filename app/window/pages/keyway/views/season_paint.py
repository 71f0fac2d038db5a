"""A season over the keyway's bearing, in the place of the evening's curve: shares that are not clear."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np
from PySide6.QtGui import QPainter

from app.window.look.scheme import Scheme
from app.window.pages.keyway.views.seat_curve_paint import CurveFrame, paint_axes, paint_best, paint_steps
from core.mount.seat.best_arcs import BestArcs
from core.mount.seat.curve import CurveSteps
from core.mount.seat.season.study import HoleSeason


def season_frame(frame: CurveFrame, holes: Iterable[HoleSeason]) -> CurveFrame:
    """The same plot for shares: up to the tenth that holds every hole's curve."""
    most = max((float(hole.curve.value.max()) for hole in holes), default=0.0)
    return replace(frame, top_s=max(math.ceil(10.0 * most - 1e-9), 1) / 10.0)


def season_steps(hole: HoleSeason) -> CurveSteps:
    """A hole's shares as the steps that are drawn."""
    curve = hole.curve.for_picture()
    none = np.zeros(curve.value.size)
    return CurveSteps(curve.start_deg, np.append(curve.start_deg[1:], 360.0), curve.value, none, none, none)


def paint_season(
    painter: QPainter,
    frame: CurveFrame,
    steps: Mapping[str, CurveSteps],
    strong: HoleSeason | None,
    scheme: Scheme,
) -> None:
    """Axes in percent, the curve of each hole, and where that of the strong one is as good as its best."""
    paint_axes(painter, frame, scheme, "not clear", lambda share, _top: f"{100.0 * share:g} %")
    name = None if strong is None else strong.hole.name
    for other in steps:
        if other != name:
            paint_steps(painter, frame, steps[other], scheme, strong=False)
    if strong is not None:
        paint_steps(painter, frame, steps[strong.hole.name], scheme, strong=True)
        paint_best(painter, frame, BestArcs(strong.best_spans, ()), strong.best_deg, scheme)
