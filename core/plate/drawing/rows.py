"""The hole table in words, one row a hole: what drawing and shop sheet print."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.words import plain
from core.plate.body.features import Feature
from core.plate.body.shape import faces_at
from core.plate.drawing.tolerances import (
    COUNTERBORE_DEEPER_MM,
    drilled_text,
    full_thread_text,
    length,
    place_mm,
    short_length,
    thread_text,
)
from core.plate.model import Plate
from core.plate.part import PlatePart
from core.plate.tables.threads import thread_named

HEADS = ("no.", "hole", "drill", "then", "x", "y", "h deg", "iota deg", "below: x", "deg", "place")


@dataclass(frozen=True)
class HoleRow:
    """A hole in words.

    Attributes:
        number, name: in the table; the same on the drawings.
        drill, then: the first cut with depth and tolerance; thread or counterbore, empty for none.
        x, y, h, iota: from the centre, seen from above, h clockwise from the datum mark; iota of an
            index hole.
        below_x, below_deg: on the mirrored view; y is the same there.
        place: by how much x and y may be off.
    """

    number: str
    name: str
    drill: str
    then: str
    x: str
    y: str
    h: str
    iota: str
    below_x: str
    below_deg: str
    place: str

    @property
    def cells(self) -> tuple[str, ...]:
        """In the order of `HEADS`."""
        return (
            self.number, self.name, self.drill, self.then, self.x, self.y, self.h, self.iota, self.below_x,
            self.below_deg, self.place,
        )  # fmt: skip


@dataclass(frozen=True)
class WholeHole:
    """A hole with the counterbore that belongs to it."""

    number: int
    main: Feature
    counterbore: Feature | None = None


def whole_holes(part: PlatePart) -> tuple[WholeHole, ...]:
    """Every hole once, in the hole table's order, numbered from 1."""
    bored = {one.hole_name: one for one in part.features if one.kind == "counterbore"}
    mains = [one for one in part.features if one.cut is not None and one.kind != "counterbore"]
    return tuple(WholeHole(number, main, bored.get(main.name)) for number, main in enumerate(mains, start=1))


def goes_through(plate: Plate, feature: Feature) -> bool:
    """Whether a hole is drilled from face to face."""
    cut = feature.cut
    return cut is not None and (cut.low_mm, cut.high_mm) == faces_at(plate, feature.x_mm, feature.y_mm)


def drilled_deep(plate: Plate, feature: Feature) -> str:
    """``through`` or ``15 deep``: as the drill goes."""
    assert feature.cut is not None
    if goes_through(plate, feature):
        return "through"
    return f"{short_length(feature.cut.high_mm - feature.cut.low_mm, plate.units)} deep"


def hole_row(plate: Plate, hole: WholeHole) -> HoleRow:
    """A hole in words."""
    main = hole.main
    drill, then = _cuts(plate, hole)
    return HoleRow(
        str(hole.number),
        main.name,
        drill,
        then,
        length(main.x_mm, plate.units),
        length(main.y_mm, plate.units),
        plain(main.angle_deg),
        "" if main.offset_deg is None else plain(main.offset_deg),
        length(main.below_mm[0], plate.units),
        plain(main.below_angle_deg),
        f"±{short_length(place_mm(plate, main), plate.units)}",
    )


def hole_rows(part: PlatePart) -> tuple[HoleRow, ...]:
    """Every hole in words."""
    return tuple(hole_row(part.plate, hole) for hole in whole_holes(part))


def _cuts(plate: Plate, hole: WholeHole) -> tuple[str, str]:
    main, units = hole.main, plate.units
    deep = drilled_deep(plate, main)
    if main.thread:
        drill = thread_named(main.thread).tap_drill
        size = short_length(main.diameter_mm, units)
        called = f"Ø{size}" if drill == f"{size} mm" else f"Ø{size} ({drill})"
        full = "through" if main.depth_mm >= _thick_mm(plate, main) else full_thread_text(main, units)
        return f"{called}, {deep}", f"tap {thread_text(main.thread)}, {full}, from {main.side}"
    then = ""
    if hole.counterbore is not None:
        bore = hole.counterbore
        deeper = short_length(COUNTERBORE_DEEPER_MM, units)
        depth = f"{short_length(bore.depth_mm, units)} +{deeper}/0 deep"
        then = f"counterbore {drilled_text(bore.diameter_mm, units)}, {depth}, from {bore.side}"
    return f"{drilled_text(main.diameter_mm, units)}, {deep}", then


def _thick_mm(plate: Plate, feature: Feature) -> float:
    low_mm, high_mm = faces_at(plate, feature.x_mm, feature.y_mm)
    return high_mm - low_mm
