"""The hole table as CSV."""

from __future__ import annotations

import csv
import io

from core.base.text import text_cell
from core.base.words import plain
from core.plate.part import PlatePart
from core.plate.tables.threads import INCH_MM
from core.plate.words import CAUTION, DRAWING_CAUTION

HEADS = (
    "name", "kind", "side", "thread", "diameter_mm", "depth_mm", "radius_mm", "x_mm", "y_mm", "drilled_deg",
    "offset_deg", "from_below_x_mm", "from_below_y_mm", "from_below_deg", "diameter_in", "x_in", "y_in",
    "source",
)  # fmt: skip


def hole_table_csv(part: PlatePart) -> bytes:
    """CSV (RFC 4180, UTF-8) with comment lines, beginning with #, that carry the part's identity.

    ``drilled_deg`` is h, clockwise from the datum mark seen from above; ``offset_deg`` is iota = -h of an
    index hole, from pin to datum mark; ``from_below_...`` is the same place on the mirrored view from below;
    ``source`` is where diameter and depth come from.
    """
    text = io.StringIO()
    for line in (f"northkey hole table, part {part.identity}", DRAWING_CAUTION, CAUTION):
        text.write(f"# {line}\r\n")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(HEADS)
    for feature in part.features:
        below_x_mm, below_y_mm = feature.below_mm
        figures = (
            feature.diameter_mm, feature.depth_mm, feature.radius_mm, feature.x_mm, feature.y_mm,
            feature.angle_deg,
        )  # fmt: skip
        offset = "" if feature.offset_deg is None else plain(feature.offset_deg, 3)
        below = (below_x_mm, below_y_mm, feature.below_angle_deg)
        inches = (feature.diameter_mm / INCH_MM, feature.x_mm / INCH_MM, feature.y_mm / INCH_MM)
        writer.writerow(
            [
                *(text_cell(word) for word in (feature.name, feature.kind, feature.side, feature.thread)),
                *(plain(value, 3) for value in figures),
                offset,
                *(plain(value, 3) for value in below),
                *(plain(value, 4) for value in inches),
                feature.source,
            ]
        )
    return text.getvalue().encode("utf-8")
