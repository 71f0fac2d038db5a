"""The part's geometry as DXF (AC1024): circles in mm, one layer an operation.

A layer's name says what is done: ``DRILL_D5_DEEP15_BELOW``, ``TAP_M6_FULL12_BELOW``,
``COUNTERBORE_D11_DEEP6.4_BELOW``. A hole's name stands at its centre on the layer NAMES. x is to the right, y
to the datum mark; the file from below is mirrored, and says so on the layer NOTES.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from core.base.words import plain
from core.plate.body.features import Feature
from core.plate.body.shape import mirrored
from core.plate.drawing.frame import FROM_ABOVE, FROM_BELOW
from core.plate.drawing.rows import goes_through, whole_holes
from core.plate.model import Plate, Side
from core.plate.part import PlatePart
from core.plate.tables.threads import thread_named

if TYPE_CHECKING:
    from ezdxf.layouts import Modelspace

_TEXT_MM = 2.5
_MILLIMETRES = 4


def dxf_from_above(part: PlatePart) -> bytes:
    """Seen from above."""
    return _dxf(part, "above")


def dxf_from_below(part: PlatePart) -> bytes:
    """Seen from below, mirrored."""
    return _dxf(part, "below")


def circles_of(plate: Plate, feature: Feature) -> tuple[tuple[str, float], ...]:
    """Layer and diameter of every circle of a feature, the drill's first."""
    size = plain(feature.diameter_mm, 3)
    side = feature.side.upper()
    if feature.kind == "outside":
        return ((f"OUTSIDE_D{size}", feature.diameter_mm),)
    if feature.kind == "step":
        high = plain(feature.depth_mm, 3)
        ring = [(f"STEP_OUTER_D{size}_HIGH{high}_{side}", feature.diameter_mm)]
        if feature.inner_diameter_mm > 0.0:
            inner = plain(feature.inner_diameter_mm, 3)
            ring.append((f"STEP_INNER_D{inner}_HIGH{high}_{side}", feature.inner_diameter_mm))
        return tuple(ring)
    if feature.kind == "counterbore":
        return ((f"COUNTERBORE_D{size}_DEEP{plain(feature.depth_mm, 3)}_{side}", feature.diameter_mm),)
    return _hole_circles(plate, feature, size, side)


def _hole_circles(plate: Plate, feature: Feature, size: str, side: str) -> tuple[tuple[str, float], ...]:
    assert feature.cut is not None
    deep_mm = feature.cut.high_mm - feature.cut.low_mm
    deep = "THROUGH" if goes_through(plate, feature) else f"DEEP{plain(deep_mm, 3)}_{side}"
    drill = (f"DRILL_D{size}_{deep}", feature.diameter_mm)
    if not feature.thread:
        return (drill,)
    thread = re.sub(r"[^A-Za-z0-9]+", "-", feature.thread)
    full = f"TAP_{thread}_FULL{plain(feature.depth_mm, 3)}_{side}"
    return drill, (full, thread_named(feature.thread).diameter_mm)


def _dxf(part: PlatePart, side: Side) -> bytes:
    import ezdxf

    stream = io.StringIO()
    with _without_times():
        document = ezdxf.new("R2010", units=_MILLIMETRES)
        space = document.modelspace()
        for feature in part.features:
            place = _place(feature.x_mm, feature.y_mm, side)
            for layer, diameter_mm in circles_of(part.plate, feature):
                if not document.layers.has_entry(layer):
                    document.layers.add(layer)
                space.add_circle(place, diameter_mm / 2.0, dxfattribs={"layer": layer})
        for layer in ("DATUM", "NAMES", "NOTES"):
            document.layers.add(layer)
        _words(part, side, space)
        document.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def _without_times() -> Iterator[None]:
    """Otherwise times and random numbers are written: the same part shall give the same bytes."""
    from ezdxf import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _place(x_mm: float, y_mm: float, side: Side) -> tuple[float, float]:
    if side == "above":
        return x_mm, y_mm
    below_x_mm, below_y_mm = mirrored((x_mm, y_mm))
    return float(below_x_mm), float(below_y_mm)


def _words(part: PlatePart, side: Side, space: Modelspace) -> None:
    """Names at their holes, the datum mark on the rim, and which view it is."""
    for hole in whole_holes(part):
        place = _place(hole.main.x_mm, hole.main.y_mm, side)
        space.add_text(
            _plain_text(hole.main.name), height=_TEXT_MM, dxfattribs={"layer": "NAMES", "insert": place}
        )
    rim_mm = part.plate.outside_diameter_mm / 2.0
    space.add_line((0.0, rim_mm - 5.0), (0.0, rim_mm + 5.0), dxfattribs={"layer": "DATUM"})
    view = FROM_ABOVE if side == "above" else FROM_BELOW
    note = f"{view}, part {part.identity}, mm, layer = operation"
    place = (-rim_mm, -rim_mm - 8.0)
    space.add_text(note, height=_TEXT_MM, dxfattribs={"layer": "NOTES", "insert": place})


def _plain_text(text: str) -> str:
    """A text that a reader takes letter by letter: ``%%`` and ``^`` begin codes there."""
    return text.replace("%%", "% %").replace("^", "'").replace("\\", "/")
