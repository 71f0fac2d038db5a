"""Strengths: screws by class or grade, the plate's materials, torque coefficients. Stresses in MPa."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

KSI_MPA = 6.894757

Strength = Literal["8.8", "10.9", "12.9", "A2-70", "SAE 2", "SAE 5", "SAE 8", "A574"]
Material = Literal["6061-T6", "6082-T6", "7075-T6", "S235"]
Surface = Literal["black", "zinc-plated", "lubricated", "cadmium-plated", "anti-seize"]

#: T = K F d. Shigley, 9th ed., table 8-15.
TORQUE_COEFFICIENTS: dict[Surface, float] = {
    "black": 0.30,
    "zinc-plated": 0.20,
    "lubricated": 0.18,
    "cadmium-plated": 0.16,
    "anti-seize": 0.12,
}
TORQUE_SOURCE = "Shigley 9th ed., eq. 8-27 and table 8-15"

#: A screw's shear strength as a share of its tensile strength; common practice.
SHEAR_SHARE = 0.6


@dataclass(frozen=True)
class ScrewStrength:
    """Proof and tensile stress of a class or grade."""

    proof_mpa: float
    tensile_mpa: float
    source: str


_ISO = "ISO 898-1"
_SAE = "SAE J429"

SCREW_STRENGTHS: dict[Strength, ScrewStrength] = {
    "8.8": ScrewStrength(580.0, 800.0, _ISO),
    "10.9": ScrewStrength(830.0, 1040.0, _ISO),
    "12.9": ScrewStrength(970.0, 1220.0, _ISO),
    "A2-70": ScrewStrength(450.0, 700.0, "ISO 3506-1 (0.2 % limit from memory, taken for proof)"),
    "SAE 2": ScrewStrength(55.0 * KSI_MPA, 74.0 * KSI_MPA, _SAE),
    "SAE 5": ScrewStrength(85.0 * KSI_MPA, 120.0 * KSI_MPA, _SAE),
    "SAE 8": ScrewStrength(120.0 * KSI_MPA, 150.0 * KSI_MPA, _SAE),
    "A574": ScrewStrength(135.0 * KSI_MPA, 170.0 * KSI_MPA, "ASTM A574, over 1/2 in (from memory)"),
}


@dataclass(frozen=True)
class MaterialValues:
    """A plate's material.

    Attributes:
        tensile_mpa, yield_mpa, shear_mpa: strengths. modulus_mpa: Young's. density_g_cm3: as it says.
        tapping: what its threads want of tap and oil. source: of the strengths.
    """

    tensile_mpa: float
    yield_mpa: float
    shear_mpa: float
    modulus_mpa: float
    density_g_cm3: float
    tapping: str
    source: str

    @property
    def density_kg_mm3(self) -> float:
        """For masses."""
        return self.density_g_cm3 * 1e-6


_TAP_ALUMINIUM = "bright spiral-flute tap for aluminium, cutting oil, backed out to clear chips"
_TAP_STEEL = "spiral-point tap for steel, tapping oil"

MATERIALS: dict[Material, MaterialValues] = {
    "6061-T6": MaterialValues(
        310.0, 276.0, 207.0, 68_900.0, 2.70, _TAP_ALUMINIUM,
        "Aluminum Association typical values, no design minimum",
    ),
    "6082-T6": MaterialValues(
        295.0, 240.0, 180.0, 70_000.0, 2.70, _TAP_ALUMINIUM, "EN 485-2, thick plate (from memory)"
    ),
    "7075-T6": MaterialValues(
        572.0, 503.0, 331.0, 71_700.0, 2.81, _TAP_ALUMINIUM, "typical values (from memory)"
    ),
    "S235": MaterialValues(
        360.0, 225.0, 208.0, 210_000.0, 7.85, _TAP_STEEL, "EN 10025-2 (from memory; shear by von Mises)"
    ),
}  # fmt: skip
