"""Screw threads of the plate: limits of size, stress areas, stripping areas, tap drills.

Lengths in mm, areas in mm2. Metric threads are ISO coarse with 6H/6g limits, inch threads UNC with 2B/2A. The
limits are ISO 965-1's and ASME B1.1's from memory; for M5 to M10 and the four inch threads the stripping
areas they give are the published ones to their last digit (tests/reference/test_plate.py). M3, M4 and M12
have no such published area here: their limits are from memory alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

INCH_MM = 25.4

LIMITS_SOURCE = {
    "metric": "ISO 965-1 limits 6H/6g (from memory); areas by FED-STD-H28/2",
    "inch": "ASME B1.1 limits 2B/2A (from memory); areas by FED-STD-H28/2",
}
TAP_DRILL_SOURCE = "usual tap drills for soft material, about 75 % thread; M3, M4 and M12 from memory"
_TAN_30 = 0.57735


@dataclass(frozen=True)
class Thread:
    """A thread and what follows from it.

    Attributes:
        name: ``"M8"`` or ``"3/4-10 UNC"``.
        system: ``"metric"`` or ``"inch"``.
        diameter_mm, pitch_mm: nominal.
        minor_internal_mm: greatest minor diameter of the nut's thread (D1 max, Kn max).
        pitch_external_mm: least pitch diameter of the screw (d2 min, Es min).
        major_external_mm: least major diameter of the screw (d min, Ds min).
        pitch_internal_mm: greatest pitch diameter of the nut's thread (D2 max, En max).
        tap_drill_mm, tap_drill: the drill before tapping, and what it is called.
    """

    name: str
    system: str
    diameter_mm: float
    pitch_mm: float
    minor_internal_mm: float
    pitch_external_mm: float
    major_external_mm: float
    pitch_internal_mm: float
    tap_drill_mm: float
    tap_drill: str

    @property
    def stress_area_mm2(self) -> float:
        """Tensile stress area.

        ISO 898-1: pi/4 (d - 0.938194 P)^2. ASME B1.1: pi/4 (d - 0.9743 / n)^2 (Bickford 4th ed., Shigley
        table 8-2).
        """
        share = 0.938194 if self.system == "metric" else 0.9743
        return math.pi / 4.0 * (self.diameter_mm - share * self.pitch_mm) ** 2

    @property
    def root_diameter_mm(self) -> float:
        """Minor diameter of the screw: d - 1.226869 P metric, d - 1.299038 P unified (Shigley ch. 8)."""
        share = 1.226869 if self.system == "metric" else 1.299038
        return self.diameter_mm - share * self.pitch_mm

    @property
    def internal_strip_mm(self) -> float:
        """Area per mm of engagement at which the thread in the plate strips, mm2/mm.

        pi n Ds_min [1/(2n) + 0.57735 (Ds_min - En_max)], n = 1/pitch: FED-STD-H28/2, in Machinery's Handbook
        as the shear area of the internal thread.
        """
        per_mm = 1.0 / self.pitch_mm
        tooth = 0.5 / per_mm + _TAN_30 * (self.major_external_mm - self.pitch_internal_mm)
        return math.pi * per_mm * self.major_external_mm * tooth

    @property
    def external_strip_mm(self) -> float:
        """Area per mm of engagement at which the screw's thread strips, mm2/mm.

        pi n Kn_max [1/(2n) + 0.57735 (Es_min - Kn_max)]: FED-STD-H28/2, in Machinery's Handbook as the shear
        area of the external thread.
        """
        per_mm = 1.0 / self.pitch_mm
        tooth = 0.5 / per_mm + _TAN_30 * (self.pitch_external_mm - self.minor_internal_mm)
        return math.pi * per_mm * self.minor_internal_mm * tooth

    @property
    def allowance_mm(self) -> float:
        """By how much the largest screw stays under the nominal pitch diameter.

        6g: (15 + 11 P) um rounded (ISO 965-1, from memory). 2A: 0.3 of its pitch diameter's tolerance, 0.0015
        D^(1/3) + 0.0015 D^(1/2) + 0.015 P^(2/3) in inches (ASME B1.1, from memory).
        """
        if self.system == "metric":
            return round(15.0 + 11.0 * self.pitch_mm) / 1000.0
        diameter, pitch = self.diameter_mm / INCH_MM, self.pitch_mm / INCH_MM
        tolerance = 0.0015 * math.cbrt(diameter) + 0.0015 * math.sqrt(diameter) + 0.015 * math.cbrt(pitch**2)
        return 0.3 * tolerance * INCH_MM

    @property
    def source(self) -> str:
        """Of its limits and areas."""
        return LIMITS_SOURCE[self.system]


def _inch(
    name: str, diameter: float, per_inch: int, limits: tuple[float, ...], drill: float, called: str
) -> Thread:
    minor, pitch_external, major, pitch_internal = (value * INCH_MM for value in limits)
    return Thread(
        name, "inch", diameter * INCH_MM, INCH_MM / per_inch,
        minor, pitch_external, major, pitch_internal, drill * INCH_MM, called,
    )  # fmt: skip


#: D1 max, d2 min, d min, D2 max.
THREADS: tuple[Thread, ...] = (
    Thread("M3", "metric", 3.0, 0.5, 2.599, 2.580, 2.874, 2.775, 2.5, "2.5 mm"),
    Thread("M4", "metric", 4.0, 0.7, 3.422, 3.433, 3.838, 3.663, 3.3, "3.3 mm"),
    Thread("M5", "metric", 5.0, 0.8, 4.334, 4.361, 4.826, 4.605, 4.2, "4.2 mm"),
    Thread("M6", "metric", 6.0, 1.0, 5.153, 5.212, 5.794, 5.500, 5.0, "5 mm"),
    Thread("M8", "metric", 8.0, 1.25, 6.912, 7.042, 7.760, 7.348, 6.8, "6.8 mm"),
    Thread("M10", "metric", 10.0, 1.5, 8.676, 8.862, 9.732, 9.206, 8.5, "8.5 mm"),
    Thread("M12", "metric", 12.0, 1.75, 10.441, 10.679, 11.701, 11.063, 10.2, "10.2 mm"),
    _inch("1/4-20 UNC", 0.25, 20, (0.207, 0.2127, 0.2408, 0.2224), 0.201, "No. 7"),
    _inch("3/8-16 UNC", 0.375, 16, (0.321, 0.3287, 0.3643, 0.3401), 0.3125, "5/16 in"),
    _inch("1/2-13 UNC", 0.5, 13, (0.434, 0.4435, 0.4876, 0.4565), 0.421875, "27/64 in"),
    _inch("3/4-10 UNC", 0.75, 10, (0.663, 0.6773, 0.7353, 0.6927), 0.65625, "21/32 in"),
)

_BY_NAME = {thread.name: thread for thread in THREADS}


def thread_named(name: str) -> Thread:
    """The thread of a name in the table."""
    return _BY_NAME[name]
