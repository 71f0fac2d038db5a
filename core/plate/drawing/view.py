"""The part in plan: the shapes of the view from above and of the mirrored one from below."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from core.base.drawing import Dash, Disc, Item, Label, Stroke, arrow, line_of, on_paper
from core.base.words import plain
from core.plate.body.features import Feature
from core.plate.body.shape import mirrored
from core.plate.drawing.dimension import ARROW_MM, THICK_MM, THIN_MM, across, arc
from core.plate.drawing.labels import Pointed
from core.plate.drawing.lettering import TEXT_PT
from core.plate.drawing.rows import WholeHole, goes_through, whole_holes
from core.plate.drawing.tolerances import length, short_length
from core.plate.model import Plate, Side
from core.plate.part import PlatePart
from core.plate.tables.threads import thread_named

_ROW_MM = 6.0
#: How far the arrow that tells the sense of h stands off the rim, and how far it goes.
_SENSE_MM, _SENSE_DEG = 5.0, 38.0
_DATUM_MM = 3.0


@dataclass(frozen=True)
class View:
    """A view on the paper: from which side, where its centre lies, paper for one of the part."""

    side: Side
    x_mm: float
    y_mm: float
    scale: float

    @property
    def sense(self) -> float:
        """+1 where h runs clockwise on the paper, -1 on the mirrored view."""
        return 1.0 if self.side == "above" else -1.0

    def place(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Where a place of the part, given as seen from above, lies on the paper."""
        if self.side == "below":
            x_mm, y_mm = (float(value) for value in mirrored((x_mm, y_mm)))
        return self.x_mm + self.scale * x_mm, self.y_mm - self.scale * y_mm


def shapes(part: PlatePart, view: View) -> list[Item]:
    """Outlines, edges behind dashed, centre lines, the datum mark and the sense of h."""
    plate = part.plate
    radius_mm = view.scale * plate.outside_diameter_mm / 2.0
    items: list[Item] = [Disc(view.x_mm, view.y_mm, radius_mm, THICK_MM)]
    items += _centre_lines(part, view, radius_mm)
    if plate.step is not None:
        dash: Dash = "solid" if plate.step.side == view.side else "dashed"
        for diameter_mm in (plate.step.outer_diameter_mm, plate.step.inner_diameter_mm):
            if diameter_mm > 0.0:
                items.append(_circle(view, (0.0, 0.0), diameter_mm, dash))
    for hole in whole_holes(part):
        items += hole_shapes(plate, hole, view)
    return [*items, *_datum(view, radius_mm), *_sense(view, radius_mm)]


def hole_shapes(plate: Plate, hole: WholeHole, view: View) -> list[Item]:
    """A hole's circles; a thread as three quarters of its own (ISO 6410-1) where it is seen."""
    main = hole.main
    seen = goes_through(plate, main) or main.side == view.side
    items: list[Item] = [
        _circle(view, (main.x_mm, main.y_mm), main.diameter_mm, "solid" if seen else "dashed")
    ]
    if hole.counterbore is not None:
        dash: Dash = "solid" if hole.counterbore.side == view.side else "dashed"
        items.append(_circle(view, (main.x_mm, main.y_mm), hole.counterbore.diameter_mm, dash))
    if main.thread and seen:
        half_mm = view.scale * thread_named(main.thread).diameter_mm / 2.0
        items.append(arc(view.place(main.x_mm, main.y_mm), half_mm, -80.0, 190.0))
    return items


def _circle(view: View, place: tuple[float, float], diameter_mm: float, dash: Dash) -> Disc:
    x_mm, y_mm = view.place(*place)
    width_mm = 0.35 if dash == "solid" else THIN_MM
    return Disc(round(x_mm, 4), round(y_mm, 4), view.scale * diameter_mm / 2.0, width_mm, dash=dash)


def _centre_lines(part: PlatePart, view: View, radius_mm: float) -> list[Item]:
    reach_mm, x, y = radius_mm + 2.0, view.x_mm, view.y_mm
    items: list[Item] = [
        Stroke(on_paper([(x - reach_mm, y), (x + reach_mm, y)]), THIN_MM, "chain"),
        Stroke(on_paper([(x, y - reach_mm), (x, y + reach_mm)]), THIN_MM, "chain"),
    ]
    circles = (view.scale * diameter_mm / 2.0 for diameter_mm in _circles_mm(part.plate))
    items.extend(Disc(x, y, half_mm, THIN_MM, dash="chain") for half_mm in circles)
    for feature in part.features:
        if feature.role == "index":
            rim = _outward(feature, radius_mm / view.scale)
            items.append(Stroke(on_paper([(x, y), view.place(*rim)]), THIN_MM, "chain"))
        elif feature.role == "bolt":
            items += _cross(view, feature)
    return items


def _cross(view: View, feature: Feature) -> list[Item]:
    x_mm, y_mm = view.place(feature.x_mm, feature.y_mm)
    reach_mm = view.scale * feature.diameter_mm / 2.0 + 1.0
    return [
        line_of([(x_mm - reach_mm, y_mm), (x_mm + reach_mm, y_mm)], 0.1),
        line_of([(x_mm, y_mm - reach_mm), (x_mm, y_mm + reach_mm)], 0.1),
    ]


def _outward(feature: Feature, radius_mm: float) -> tuple[float, float]:
    share = radius_mm / max(feature.radius_mm, 1e-9)
    return feature.x_mm * share, feature.y_mm * share


def _circles_mm(plate: Plate) -> list[float]:
    """Diameters of the circles that holes lie on."""
    index_mm = 2.0 * plate.index_pin.circle_radius_mm
    bolts_mm = _bolt_circle_mm(plate)
    return [index_mm] if bolts_mm is None else [index_mm, bolts_mm]


def _bolt_circle_mm(plate: Plate) -> float | None:
    bolts = plate.bolts
    if bolts is None or bolts.points_mm is not None or bolts.rectangle_mm is not None:
        return None
    return bolts.circle_diameter_mm


def _datum(view: View, radius_mm: float) -> list[Item]:
    """The mark's triangle outside the rim, and its word."""
    x, y = view.x_mm, view.y_mm - radius_mm
    wings = [(x, y), (x - 0.6 * _DATUM_MM, y - _DATUM_MM), (x + 0.6 * _DATUM_MM, y - _DATUM_MM)]
    mark = Stroke(on_paper(wings), THIN_MM, closed=True, fill="black")
    return [mark, Label(x, y - _DATUM_MM - 2.2, "datum mark, C", size_pt=TEXT_PT, bold=True)]


def _sense(view: View, radius_mm: float) -> list[Item]:
    """Which way h runs on this view."""
    centre, at_mm = (view.x_mm, view.y_mm), radius_mm + _SENSE_MM
    start_deg = 14.0
    line = arc(centre, at_mm, view.sense * start_deg, view.sense * _SENSE_DEG)
    tip, before = line.points_mm[-1], line.points_mm[-2]
    angle = math.atan2(tip[1] - before[1], tip[0] - before[0])
    end = arc(centre, at_mm + 2.5, 0.0, view.sense * (_SENSE_DEG - 4.0)).points_mm[-1]
    return [line, arrow(tip, angle, ARROW_MM), Label(end[0], end[1], "h", size_pt=TEXT_PT, bold=True)]


def sizes(part: PlatePart, view: View) -> list[Item]:
    """Outside, bolt circle and index circle, dimensioned under the view."""
    plate, units = part.plate, part.plate.units
    radius_mm = view.scale * plate.outside_diameter_mm / 2.0
    rows = [(f"Ø{short_length(plate.outside_diameter_mm, units)}", plate.outside_diameter_mm)]
    bolts_mm = _bolt_circle_mm(plate)
    if bolts_mm is not None:
        rows.append((f"Ø{short_length(bolts_mm, units)} bolts", bolts_mm))
    index_mm = plate.index_pin.circle_radius_mm
    rows.append(
        (f"Ø{short_length(2.0 * index_mm, units)} (R{short_length(index_mm, units)}) index", 2.0 * index_mm)
    )
    items: list[Item] = []
    for number, (text, diameter_mm) in enumerate(sorted(rows, key=lambda row: row[1]), start=1):
        half_mm = view.scale * diameter_mm / 2.0
        at_mm = view.y_mm + radius_mm + number * _ROW_MM
        items += across(view.x_mm - half_mm, view.x_mm + half_mm, view.y_mm, at_mm, text)
    return items


def pointed_holes(part: PlatePart, view: View) -> list[Pointed]:
    """What each hole's label says on this view: x and y as they are there, of an index hole h and iota."""
    found = []
    for hole in whole_holes(part):
        main = hole.main
        x_mm, y_mm = view.place(main.x_mm, main.y_mm)
        wide_mm = (hole.counterbore or main).diameter_mm
        found.append(
            Pointed(
                x_mm,
                y_mm,
                view.scale * wide_mm / 2.0,
                f"{hole.number}  {main.name}",
                _figures(main, part, view),
                y_mm,
            )
        )
    return [_clear_of(one, found) if one.x_mm == view.x_mm else one for one in found]


def _clear_of(one: Pointed, others: list[Pointed]) -> Pointed:
    """A hole on the middle line: its leader goes right, as far from all other holes as it can."""
    far_mm = 60.0

    def clearance_mm(rise: float) -> float:
        norm = math.hypot(far_mm, rise)
        gaps = [
            abs((o.x_mm - one.x_mm) * rise - (o.y_mm - one.y_mm) * far_mm) / norm - o.radius_mm
            for o in others
            if o.x_mm > one.x_mm
        ]
        return min(gaps, default=far_mm)

    rises = [share * far_mm for share in (0.0, 0.2, -0.2, 0.4, -0.4, 0.6, -0.6)]
    best = max(rises, key=lambda rise: min(clearance_mm(rise), 3.0))
    return replace(one, wanted_mm=one.y_mm + best)


def _figures(feature: Feature, part: PlatePart, view: View) -> str:
    if feature.offset_deg is not None:
        h = plain(feature.angle_deg)
        here = "" if view.side == "above" else f" ({plain(feature.below_angle_deg)} here)"
        return f"h {h}{here}, iota {plain(feature.offset_deg)} deg"
    x_mm = feature.x_mm if view.side == "above" else feature.below_mm[0]
    units = part.plate.units
    return f"x {length(x_mm, units)}  y {length(feature.y_mm, units)}"
