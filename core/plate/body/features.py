"""The hole table: every feature of the plate, with its place from above and from below."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from core.mount.model.station import Mount
from core.plate.body.shape import (
    Hole,
    angle_of,
    bolt_places,
    faces_at,
    index_places,
    mirrored,
    mirrored_angle,
)
from core.plate.model import Plate, Side
from core.plate.tables.screws import CapScrew, cap_screw
from core.plate.tables.threads import TAP_DRILL_SOURCE, Thread, thread_named

Kind = Literal["through hole", "counterbore", "tapped hole", "step", "outside"]
#: Pitches that the drill goes beyond the full thread, for the tap's lead; common practice, no source.
TAP_LEAD_PITCHES = 3.0
_HEAD = " head"
#: What a feature is for; the checks and the shop go by it.
Role = Literal["body", "step", "centre", "bolt", "index"]


@dataclass(frozen=True)
class Feature:
    """A line of the hole table.

    Attributes:
        name: ``"bolt 1"``, ``"index A"``, ``"centre"``, ``"step"``, ``"outside"``.
        kind, role: what is cut, and what for.
        x_mm, y_mm, angle_deg, radius_mm: its place seen from above, clockwise from the datum mark.
        diameter_mm: of the hole; of a tapped one of its drill; of the step the outer one.
        depth_mm: from its side's face, of a tapped hole its full thread; of the step its height, of the
            outside the thickness there.
        thread: name, or empty. side: from which it is cut or on which it stands; of a through hole, of the
            head.
        offset_deg: of an index hole iota, from pin to datum mark; None elsewhere.
        inner_diameter_mm: of the step; 0 elsewhere.
        source: where its dimensions come from.
        cut: what is taken out of the body, in the plate's z; None for step and outside.
    """

    name: str
    kind: Kind
    role: Role
    x_mm: float
    y_mm: float
    angle_deg: float
    radius_mm: float
    diameter_mm: float
    depth_mm: float
    thread: str
    side: Side
    offset_deg: float | None = None
    inner_diameter_mm: float = 0.0
    source: str = "the plan"
    cut: Hole | None = None

    @property
    def hole_name(self) -> str:
        """Of the hole it belongs to: a bolt's counterbore is the bolt's."""
        return self.name.removesuffix(_HEAD) if self.kind == "counterbore" else self.name

    @property
    def below_mm(self) -> tuple[float, float]:
        """X and y on the paper of the view from below."""
        x_mm, y_mm = mirrored((self.x_mm, self.y_mm))
        return float(x_mm), float(y_mm)

    @property
    def below_angle_deg(self) -> float:
        """Its angle clockwise from the datum mark as the view from below shows it."""
        return mirrored_angle(self.angle_deg)


def pin_thread(plate: Plate) -> Thread:
    """The index pin's thread."""
    return thread_named(plate.index_pin.thread)


def pin_screw(plate: Plate) -> CapScrew:
    """The index pin's screw, with its measured head where there is one."""
    screw, measured_mm = cap_screw(plate.index_pin.thread), plate.index_pin.head_diameter_mm
    return screw if measured_mm is None else replace(screw, head_mm=measured_mm, knurled_mm=measured_mm)


def pin_engaged_mm(plate: Plate) -> float:
    """Tapped depth of an index hole that may go through."""
    wanted_mm = plate.index_pin.engaged_mm
    return 2.0 * pin_thread(plate).diameter_mm if wanted_mm is None else wanted_mm


def features_of(plate: Plate, mount: Mount) -> tuple[Feature, ...]:
    """Outside, step, centre, bolts each with its counterbore, index holes in the mount's order."""
    return (*_body(plate), *_centre(plate), *_bolts(plate), *_index_holes(plate, mount))


def _body(plate: Plate) -> list[Feature]:
    step = plate.step
    rest_mm = plate.thickness_mm - (0.0 if step is None else step.height_mm)
    outside = Feature(
        "outside", "outside", "body", 0.0, 0.0, 0.0, 0.0, plate.outside_diameter_mm, rest_mm, "", "above"
    )
    if step is None:
        return [outside]
    ring = Feature(
        "step", "step", "step", 0.0, 0.0, 0.0, 0.0, step.outer_diameter_mm, step.height_mm, "", step.side,
        inner_diameter_mm=step.inner_diameter_mm,
    )  # fmt: skip
    return [outside, ring]


def _hole(
    plate: Plate, name: str, kind: Kind, role: Role, place: tuple[float, float], diameter_mm: float,
    side: Side, source: str, depth_mm: float = math.inf,
) -> Feature:  # fmt: skip
    """A hole from a side's face, so deep or through; the depth is no more than the body is thick there."""
    x_mm, y_mm = place
    low_mm, high_mm = faces_at(plate, x_mm, y_mm)
    deep_mm = min(depth_mm, high_mm - low_mm)
    ends = (low_mm, low_mm + deep_mm) if side == "below" else (high_mm - deep_mm, high_mm)
    return Feature(
        name, kind, role, x_mm, y_mm, angle_of(x_mm, y_mm), math.hypot(x_mm, y_mm), diameter_mm, deep_mm, "",
        side, source=source, cut=Hole(x_mm, y_mm, diameter_mm / 2.0, *ends),
    )  # fmt: skip


def _tapped(
    plate: Plate, name: str, role: Role, place: tuple[float, float], thread: Thread, engaged_mm: float
) -> Feature:
    """A tapped hole from below: drilled deeper than its full thread, which is the depth that is told."""
    drilled_mm = engaged_mm + TAP_LEAD_PITCHES * thread.pitch_mm
    source = f"{thread.source}; {TAP_DRILL_SOURCE}"
    drilled = _hole(plate, name, "tapped hole", role, place, thread.tap_drill_mm, "below", source, drilled_mm)
    return replace(drilled, thread=thread.name, depth_mm=min(engaged_mm, drilled.depth_mm))


def _centre(plate: Plate) -> list[Feature]:
    if plate.centre_thread is None:
        return []
    thread = thread_named(plate.centre_thread)
    return [_tapped(plate, "centre", "centre", (0.0, 0.0), thread, plate.thickness_mm)]


def _bolts(plate: Plate) -> list[Feature]:
    bolts = plate.bolts
    if bolts is None:
        return []
    screw, side = cap_screw(bolts.thread), bolts.counterbore_side
    through_mm, bore_mm = screw.clearance_mm(bolts.fit), screw.counterbore_mm
    found: list[Feature] = []
    for number, place in enumerate(bolt_places(bolts), start=1):
        name, source = f"bolt {number}", screw.source
        head = f"{name}{_HEAD}"
        found.append(_hole(plate, name, "through hole", "bolt", place, through_mm, side, source))
        deep_mm = screw.counterbore_depth_mm
        found.append(_hole(plate, head, "counterbore", "bolt", place, bore_mm, side, source, deep_mm))
    return found


def _index_holes(plate: Plate, mount: Mount) -> list[Feature]:
    thread, engaged_mm = pin_thread(plate), pin_engaged_mm(plate)
    found = []
    for hole, place in zip(mount.index_holes, index_places(plate, mount), strict=True):
        tapped = _tapped(plate, f"index {hole.name}", "index", place, thread, engaged_mm)
        found.append(replace(tapped, angle_deg=hole.drilled_deg, offset_deg=hole.offset_deg))
    return found
