"""What the part's pictures show: the view from above, the mirrored one from below, and a section, in mm.

In a view x is to the right and y up on the paper. The section is cut along two radii, bent at the centre
where they are not opposite, and laid flat: as much of each hole is cut as lies on a radius.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from core.base.angles import wrap_180, wrap_360
from core.plate.body.features import Feature, Role
from core.plate.body.shape import TOUCH_MM, at_angle, faces_at, mirrored, mirrored_angle, step_radii
from core.plate.model import Plate, Side
from core.plate.tables.threads import thread_named

#: The thinnest piece of a section that is told, mm.
_THIN_MM = 1e-6


@dataclass(frozen=True)
class Round:
    """A circle of a view.

    Attributes:
        name, role: of the feature it is of.
        x_mm, y_mm, radius_mm: on the paper.
        hidden: it begins on the other side and does not come through.
        thread_mm: radius of the thread round a tapped hole; 0 elsewhere.
    """

    name: str
    role: Role
    x_mm: float
    y_mm: float
    radius_mm: float
    hidden: bool
    thread_mm: float = 0.0


@dataclass(frozen=True)
class IndexLabel:
    """An index hole's words on a view, both of its offsets side by side.

    Attributes:
        name: of the hole. in_use: the pin goes through it.
        angle_deg: clockwise on the paper, from the datum mark on top.
        radius_mm: of its middle.
        drilled_deg, offset_deg: h clockwise from the datum mark from above, and iota = -h.
    """

    name: str
    in_use: bool
    angle_deg: float
    radius_mm: float
    drilled_deg: float
    offset_deg: float


@dataclass(frozen=True)
class PlateView:
    """The part seen from one side; the datum mark is on top in both.

    Attributes:
        side: from which it is seen; from below it is mirrored.
        rounds: its circles, the outside first.
        labels: of the index holes.
        section_deg: the two radii of the section, clockwise on the paper.
    """

    side: Side
    rounds: tuple[Round, ...]
    labels: tuple[IndexLabel, ...]
    section_deg: tuple[float, float]


@dataclass(frozen=True)
class Piece:
    """An upright rectangle of the section, from left to right, z from ``low_mm`` to ``high_mm``.

    ``name`` and ``role`` are of the feature that is cut out there, ``body`` of what is left solid.
    """

    name: str
    role: Role
    left_mm: float
    right_mm: float
    low_mm: float
    high_mm: float


@dataclass(frozen=True)
class Section:
    """The part cut through.

    Attributes:
        left_deg, right_deg: the two radii, clockwise from the datum mark seen from above.
        solid: the body's pieces, left to right; z from the lowest plane up.
        cuts: what is taken out of them.
    """

    left_deg: float
    right_deg: float
    solid: tuple[Piece, ...]
    cuts: tuple[Piece, ...]


def view_of(plate: Plate, features: tuple[Feature, ...], side: Side, hole_in_use: str) -> PlateView:
    """The part from above or from below."""
    rounds = [round_ for feature in features for round_ in _rounds(plate, feature, side)]
    left, right = section_radii(features, hole_in_use)
    turned = [right, left] if side == "above" else [mirrored_angle(right), mirrored_angle(left)]
    labels = tuple(_label(one, side, hole_in_use) for one in features if one.offset_deg is not None)
    return PlateView(side, tuple(rounds), labels, (turned[0], turned[1]))


def _rounds(plate: Plate, feature: Feature, side: Side) -> list[Round]:
    place = (feature.x_mm, feature.y_mm)
    x_mm, y_mm = place if side == "above" else (float(k) for k in mirrored(place))
    role, name, radius_mm = feature.role, feature.name, feature.diameter_mm / 2.0
    if role == "body":
        return [Round(name, role, 0.0, 0.0, radius_mm, False)]
    if role == "step":
        hidden = feature.side != side
        found = [Round(name, role, 0.0, 0.0, radius_mm, hidden)]
        inner_mm = feature.inner_diameter_mm / 2.0
        return found + ([Round(name, role, 0.0, 0.0, inner_mm, hidden)] if inner_mm else [])
    thread_mm = thread_named(feature.thread).diameter_mm / 2.0 if feature.thread else 0.0
    return [Round(name, role, x_mm, y_mm, radius_mm, not _opens(plate, feature, side), thread_mm)]


def _opens(plate: Plate, feature: Feature, side: Side) -> bool:
    """Whether a hole comes out on a side."""
    cut = feature.cut
    if cut is None:
        return True
    low_mm, high_mm = faces_at(plate, cut.x_mm, cut.y_mm)
    return cut.low_mm <= low_mm + TOUCH_MM if side == "below" else cut.high_mm >= high_mm - TOUCH_MM


def _label(feature: Feature, side: Side, hole_in_use: str) -> IndexLabel:
    name = feature.name.removeprefix("index ")
    angle_deg = feature.angle_deg if side == "above" else feature.below_angle_deg
    offset_deg = 0.0 if feature.offset_deg is None else feature.offset_deg
    return IndexLabel(
        name, name == hole_in_use, angle_deg, feature.radius_mm, wrap_360(feature.angle_deg), offset_deg
    )


def section_radii(features: tuple[Feature, ...], hole_in_use: str) -> tuple[float, float]:
    """Left and right radius: through the bolt most opposite the index hole in use, and through that hole."""
    right = next((one.angle_deg for one in features if one.name == f"index {hole_in_use}"), 0.0)
    opposite = wrap_360(right + 180.0)
    bolts = [one.angle_deg for one in features if one.role == "bolt"]
    near = min(bolts, key=lambda angle: (round(abs(wrap_180(angle - opposite)), 6), angle), default=opposite)
    return (near if abs(wrap_180(near - opposite)) < 90.0 else opposite), right


def section_of(plate: Plate, features: tuple[Feature, ...], hole_in_use: str) -> Section:
    """The section through the index hole in use on the right and the bolt most opposite it on the left."""
    left_deg, right_deg = section_radii(features, hole_in_use)
    solid = [piece for sign in (-1.0, 1.0) for piece in _solid(plate, sign)]
    cuts = [
        piece
        for sign, angle in ((-1.0, left_deg), (1.0, right_deg))
        for feature in features
        for piece in _cut(feature, angle, sign)
    ]
    return Section(left_deg, right_deg, tuple(sorted(solid, key=lambda one: one.left_mm)), tuple(cuts))


def _solid(plate: Plate, sign: float) -> list[Piece]:
    """The body on one radius: it is round, so its faces change at the step's edges alone."""
    outside_mm = plate.outside_diameter_mm / 2.0
    edges = sorted({0.0, *(min(radius, outside_mm) for radius in step_radii(plate)), outside_mm})
    found = []
    for inner_mm, outer_mm in pairwise(edges):
        low_mm, high_mm = faces_at(plate, (inner_mm + outer_mm) / 2.0, 0.0)
        ends = sorted((sign * inner_mm, sign * outer_mm))
        found.append(Piece("outside", "body", ends[0], ends[1], low_mm, high_mm))
    return found


def _cut(feature: Feature, angle_deg: float, sign: float) -> list[Piece]:
    """What a radius cuts of a hole: a chord, the whole diameter where it goes through the middle."""
    hole = feature.cut
    if hole is None:
        return []
    along_x, along_y = at_angle(1.0, angle_deg)
    middle_mm = hole.x_mm * along_x + hole.y_mm * along_y
    beside_mm = abs(hole.x_mm * along_y - hole.y_mm * along_x)
    if beside_mm >= hole.radius_mm:
        return []
    half_mm = math.sqrt(hole.radius_mm**2 - beside_mm**2)
    near_mm, far_mm = max(0.0, middle_mm - half_mm), middle_mm + half_mm
    if far_mm - near_mm < _THIN_MM:
        return []
    ends = sorted((sign * near_mm, sign * far_mm))
    return [Piece(feature.name, feature.role, ends[0], ends[1], hole.low_mm, hole.high_mm)]
