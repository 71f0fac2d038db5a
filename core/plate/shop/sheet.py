"""What the shop sheet says, ready for its template."""

from __future__ import annotations

from typing import Any

from core.base.words import plain
from core.plate.drawing.frame import identities
from core.plate.drawing.rows import HEADS, hole_rows
from core.plate.drawing.tolerances import GENERAL, datums, short_length, step_text
from core.plate.part import PlatePart
from core.plate.words import CAUTION, DRAWING_CAUTION, SHOP_CAUTION, holding_sentence, length_text


def shop_sheet(part: PlatePart) -> dict[str, Any]:
    """Texts alone, by the names that resources/sheet/plate_shop.typ reads."""
    plate = part.plate
    unit = "inches" if plate.units == "inch" else "mm"
    holds = all(check.holds for check in part.checks)
    return {
        "title": part.title or "adapter plate",
        "identity": part.identity,
        "names": identities(part),
        "footer": f"Lengths in {unit}, angles in deg. General tolerance {GENERAL}.",
        "warnings": [] if holds else [f"Not ready to be cut: {holding_sentence(part.checks)}"],
        "summary": f"{plate.material}, {plain(part.mass_kg)} kg finished from a blank of "
        f"{plain(part.blank_mass_kg)} kg. {CAUTION}",
        "notes": [
            DRAWING_CAUTION,
            "h: clockwise from the datum mark; iota = -h, from the index pin to the datum mark. y is the "
            "same from below. Place: x and y may be off by so much, each.",
            *(f"Datum {sentence}" for sentence in datums(plate)),
        ],
        "heads": list(HEADS),
        "rows": [list(row.cells) for row in hole_rows(part)],
        "body": _body(part),
        "caution": SHOP_CAUTION,
        "operations": [vars(one) for one in part.operations],
    }


def _body(part: PlatePart) -> list[tuple[str, str, str]]:
    """Name, size and remark of what is no hole."""
    plate, step = part.plate, part.plate.step
    rows = [
        (
            "outside",
            f"Ø{short_length(plate.outside_diameter_mm, plate.units)}",
            "turned round about the centre",
        ),
        ("thickness", length_text(plate.thickness_mm, plate.units), "the whole of it, step and all"),
    ]
    if step is not None:
        inner = (
            f", Ø{short_length(step.inner_diameter_mm, plate.units)} inside" if step.inner_diameter_mm else ""
        )
        high = f"{length_text(step.height_mm, plate.units)} high, on the side from {step.side}"
        rows.append(("step", f"{step_text(plate)} outside{inner}", high))
    if plate.anodise_um:
        rows.append(
            ("finish", f"anodised {plain(plate.anodise_um)} um", "sizes are before it; threads plugged")
        )
    return rows
