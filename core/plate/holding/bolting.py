"""Torque, preload and what limits it: the rotator's bolts, the centre clamp, the index pin. N, Nm, MPa."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.plate.body.features import pin_engaged_mm
from core.plate.body.shape import bolt_places, faces_at, step_radii
from core.plate.holding.loads import Turning, ring_slip_nm
from core.plate.model import Plate
from core.plate.tables.screws import CapScrew, cap_screw
from core.plate.tables.strengths import (
    MATERIALS,
    SCREW_STRENGTHS,
    TORQUE_COEFFICIENTS,
    ScrewStrength,
    Strength,
    Surface,
)
from core.plate.tables.threads import Thread, thread_named

#: Share of the proof load that a screw is tightened to when it is loosened again: Shigley 9th ed., eq. 8-31.
PRELOAD_SHARE = 0.75
#: A torque key and dry or oiled threads: preload is that much more or less (trade practice, 25 to 30 %).
SCATTER = 0.25
#: What is lost by seating, temperature and time before the joint is looked at again (trade practice).
LOSS = 0.30


@dataclass(frozen=True)
class Screwed:
    """A screw as it is tightened.

    Attributes:
        name: ``"bolts"``, ``"clamp"``, ``"pin"``.
        thread, strength: of it. area_mm2: its stress area.
        engaged_mm: length of thread in the softer part; nut_shear_mpa: that part's shear strength.
        seat_mm2, seat_mpa: what the head presses on and the yield there; 0 where it is not looked at.
        coefficient: K of T = K F d. torque_nm, preload_n: as tightened.
        given: whether the plan says the torque.
    """

    name: str
    thread: Thread
    strength: ScrewStrength
    engaged_mm: float
    nut_shear_mpa: float
    seat_mm2: float
    seat_mpa: float
    coefficient: float
    torque_nm: float
    preload_n: float
    given: bool

    @property
    def proof_n(self) -> float:
        """Proof load: proof stress times stress area (ISO 898-1, SAE J429)."""
        return self.strength.proof_mpa * self.thread.stress_area_mm2

    @property
    def greatest_n(self) -> float:
        """Preload with all the scatter."""
        return self.preload_n * (1.0 + SCATTER)

    @property
    def left_n(self) -> float:
        """Preload after the loss."""
        return self.preload_n * (1.0 - LOSS)


def preload_n(torque_nm: float, coefficient: float, diameter_mm: float) -> float:
    """F = T / (K d): Shigley 9th ed., eq. 8-27."""
    return torque_nm * 1000.0 / (coefficient * diameter_mm)


def torque_nm(preload: float, coefficient: float, diameter_mm: float) -> float:
    """T = K F d: Shigley 9th ed., eq. 8-27."""
    return coefficient * preload * diameter_mm / 1000.0


def screw_breaks_n(thread: Thread, strength: ScrewStrength) -> float:
    """Tensile load of the screw."""
    return strength.tensile_mpa * thread.stress_area_mm2


def engagement_wanted_mm(thread: Thread, strength: ScrewStrength, nut_shear_mpa: float) -> float:
    """So long that the screw breaks before the softer thread strips.

    Machinery's Handbook, length of engagement.
    """
    return screw_breaks_n(thread, strength) / (nut_shear_mpa * thread.internal_strip_mm)


def head_seat_mm2(screw: CapScrew, hole_mm: float) -> float:
    """Ring under a cap screw's head: from its hole to its plain diameter."""
    return math.pi / 4.0 * max(0.0, screw.head_mm**2 - hole_mm**2)


def _screwed(
    name: str, thread: Thread, strength: Strength, surface: Surface, torque: float | None, engaged_mm: float,
    nut_shear_mpa: float, seat_mm2: float = 0.0, seat_mpa: float = 0.0, wanted_n: float = math.inf,
) -> Screwed:  # fmt: skip
    """With the plan's torque, or else for the preload wanted, as far as proof, thread and seat bear it.

    What they bear is told with all the scatter; nothing is left looser than a tenth of it.
    """
    values, coefficient = SCREW_STRENGTHS[strength], TORQUE_COEFFICIENTS[surface]
    given = torque is not None
    if torque is None:
        bears_n = [PRELOAD_SHARE * values.proof_mpa * thread.stress_area_mm2]
        bears_n.append(nut_shear_mpa * thread.internal_strip_mm * engaged_mm / (1.0 + SCATTER))
        if seat_mm2:
            bears_n.append(seat_mpa * seat_mm2 / (1.0 + SCATTER))
        most_n = min(bears_n)
        torque = torque_nm(max(min(most_n, wanted_n), most_n / 10.0), coefficient, thread.diameter_mm)
    preload = preload_n(torque, coefficient, thread.diameter_mm)
    return Screwed(
        name,
        thread,
        values,
        engaged_mm,
        nut_shear_mpa,
        seat_mm2,
        seat_mpa,
        coefficient,
        torque,
        preload,
        given,
    )


def bolts_of(plate: Plate) -> Screwed | None:
    """The rotator's bolts: heads on the plate, threads in the rotator's body."""
    bolts = plate.bolts
    if bolts is None:
        return None
    thread, screw = thread_named(bolts.thread), cap_screw(bolts.thread)
    engaged_mm = 2.0 * thread.diameter_mm if bolts.engaged_mm is None else bolts.engaged_mm
    return _screwed(
        "bolts", thread, bolts.strength, bolts.surface, bolts.torque_nm, engaged_mm, bolts.body_shear_mpa,
        head_seat_mm2(screw, screw.clearance_mm(bolts.fit)), MATERIALS[plate.material].yield_mpa,
    )  # fmt: skip


def clamp_of(plate: Plate, turning: Turning) -> Screwed | None:
    """The centre bolt in the plate's thread; its head lies on the tripod's side and is not looked at.

    Where the plan says no torque it is tightened to hold every load after the loss, as far as it bears that.
    """
    if plate.centre_thread is None:
        return None
    low_mm, high_mm = faces_at(plate, 0.0, 0.0)
    clamp, deep_mm = plate.clamp, high_mm - low_mm
    engaged_mm = deep_mm if clamp.engaged_mm is None else min(deep_mm, clamp.engaged_mm)
    return _screwed(
        "clamp", thread_named(plate.centre_thread), clamp.strength, clamp.surface, clamp.torque_nm,
        engaged_mm, MATERIALS[plate.material].shear_mpa, wanted_n=_holds_all_n(plate, turning),
    )  # fmt: skip


def _holds_all_n(plate: Plate, turning: Turning) -> float:
    """Preload with which the clamped ring holds every load after the loss; none is enough without a ring."""
    inner_mm, outer_mm = contact_radii_mm(plate)
    if outer_mm <= inner_mm:
        return math.inf
    per_n = ring_slip_nm(plate.loads.friction, 1.0, inner_mm, outer_mm)
    return turning.to_hold_nm / per_n / (1.0 - LOSS)


def pin_of(plate: Plate) -> Screwed:
    """The index pin in the plate's thread, its head on the plate's face."""
    pin, thread = plate.index_pin, thread_named(plate.index_pin.thread)
    screw, material = cap_screw(pin.thread), MATERIALS[plate.material]
    return _screwed(
        "pin", thread, pin.strength, pin.surface, pin.torque_nm,
        min(pin_engaged_mm(plate), plate.thickness_mm),
        material.shear_mpa, head_seat_mm2(screw, thread.diameter_mm), material.yield_mpa,
    )  # fmt: skip


def bolt_radii_mm(plate: Plate) -> tuple[float, ...]:
    """How far from the centre each bolt is."""
    return () if plate.bolts is None else tuple(math.hypot(*place) for place in bolt_places(plate.bolts))


def contact_radii_mm(plate: Plate) -> tuple[float, float]:
    """The ring on which the plate lies on the tripod's: outside the step, or else outside the centre thread.

    It may be no ring at all: the outer radius is then not over the inner one.
    """
    outer_mm = plate.outside_diameter_mm / 2.0
    if plate.clamp.contact_diameter_mm is not None:
        outer_mm = min(outer_mm, plate.clamp.contact_diameter_mm / 2.0)
    if plate.step is not None and plate.step.side == "below":
        return step_radii(plate)[1], outer_mm
    thread = plate.centre_thread
    return (0.0 if thread is None else thread_named(thread).diameter_mm / 2.0), outer_mm
