"""Socket head cap screws: heads, clearance holes, counterbores. Lengths in mm.

Two values are not resolved: the clearance of M12 (the table read says 13, 14, 15, ISO 273 from memory 13,
13.5, 14.5) and the counterbore of M3 (6 read, DIN 974-1 from memory 6.5). They carry a note.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.plate.tables.threads import INCH_MM

Fit = Literal["close", "normal", "loose"]

_ISO_4762 = "ISO 4762 (heads), ISO 273 (clearance), DIN 974-1 (counterbore; that it is DIN's is from memory)"
_B18_3 = "ASME B18.3 (heads); clearance as in shop charts, counterbore Machinery's Handbook from memory"


@dataclass(frozen=True)
class CapScrew:
    """A socket head cap screw and the holes it wants.

    Attributes:
        thread: its name.
        head_mm, knurled_mm: greatest diameter of a plain head, and of a knurled one.
        height_mm: of the head, greatest. key_mm: the hexagon. socket_mm: its depth, least (0: not in the
            table).
        close_mm, normal_mm, loose_mm: clearance holes.
        counterbore_mm, counterbore_depth_mm: for its head to lie under the face.
        standard: of the head. source: of all of it. unresolved: which value is in doubt, or empty.
    """

    thread: str
    head_mm: float
    knurled_mm: float
    height_mm: float
    key_mm: float
    socket_mm: float
    close_mm: float
    normal_mm: float
    loose_mm: float
    counterbore_mm: float
    counterbore_depth_mm: float
    standard: str = "ISO 4762"
    source: str = _ISO_4762
    unresolved: str = ""

    def clearance_mm(self, fit: Fit) -> float:
        """Diameter of the clearance hole: ISO 273 fine, medium, coarse as close, normal, loose."""
        return {"close": self.close_mm, "normal": self.normal_mm, "loose": self.loose_mm}[fit]


def _inch(thread: str, values: tuple[float, ...]) -> CapScrew:
    """Head, height, key, close and normal clearance, counterbore in inches.

    The table of inch clearances has two columns: loose is taken as the greater one. The counterbore is as
    deep as the head is high and 1/64 in more. No knurl is told: the plain maximum stands for both.
    """
    head, height, key, close, normal, bore = (value * INCH_MM for value in values)
    return CapScrew(
        thread, head, head, height, key, 0.0, close, normal, normal, bore, height + INCH_MM / 64.0,
        "ASME B18.3", _B18_3,
    )  # fmt: skip


CAP_SCREWS: tuple[CapScrew, ...] = (
    CapScrew(
        "M3", 5.5, 5.68, 3.0, 2.5, 1.3, 3.2, 3.4, 3.6, 6.0, 3.4,
        unresolved="counterbore 6.0 as read; DIN 974-1 from memory has 6.5: ask the standard",
    ),
    CapScrew("M4", 7.0, 7.22, 4.0, 3.0, 2.0, 4.3, 4.5, 4.8, 8.0, 4.4),
    CapScrew("M5", 8.5, 8.72, 5.0, 4.0, 2.5, 5.3, 5.5, 5.8, 10.0, 5.4),
    CapScrew("M6", 10.0, 10.22, 6.0, 5.0, 3.0, 6.4, 6.6, 7.0, 11.0, 6.4),
    CapScrew("M8", 13.0, 13.27, 8.0, 6.0, 4.0, 8.4, 9.0, 10.0, 15.0, 8.6),
    CapScrew("M10", 16.0, 16.27, 10.0, 8.0, 5.0, 10.5, 11.0, 12.0, 18.0, 10.6),
    CapScrew(
        "M12", 18.0, 18.27, 12.0, 10.0, 6.0, 13.0, 14.0, 15.0, 20.0, 12.6,
        unresolved="clearance 13, 14, 15 as read; ISO 273 from memory has 13, 13.5, 14.5: ask the standard",
    ),
    _inch("1/4-20 UNC", (0.375, 0.250, 3 / 16, 17 / 64, 9 / 32, 7 / 16)),
    _inch("3/8-16 UNC", (0.562, 0.375, 5 / 16, 25 / 64, 13 / 32, 5 / 8)),
    _inch("1/2-13 UNC", (0.750, 0.500, 3 / 8, 33 / 64, 17 / 32, 13 / 16)),
    _inch("3/4-10 UNC", (1.125, 0.750, 5 / 8, 49 / 64, 25 / 32, 1 + 3 / 16)),
)  # fmt: skip

_BY_THREAD = {screw.thread: screw for screw in CAP_SCREWS}


def cap_screw(thread: str) -> CapScrew:
    """The cap screw of a thread in the table."""
    return _BY_THREAD[thread]
