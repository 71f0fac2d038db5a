"""How the part sits: play, in how many ways it goes together, what anodising takes away, what it weighs."""

from __future__ import annotations

from core.base.words import plain
from core.mount.model.station import Mount
from core.plate.body.features import pin_thread
from core.plate.body.fits import fits_ways, pin_clearance_mm, play_deg, pushed_deg, step_clearance_mm
from core.plate.checks.check import PRACTICE, TRADE, Check
from core.plate.model import Plate
from core.plate.tables.threads import thread_named

#: Machining does not rule the pointing; half a degree is still a fault (trade practice: readout and lag
#: rule).
MOST_PLAY_DEG = 0.5
#: A spigot goes in and comes out in the cold with this much.
LEAST_STEP_CLEARANCE_MM = 0.02
#: What a person lifts onto a tripod at arm's length without help.
MOST_MASS_KG = 5.0


def fit_checks(plate: Plate, mount: Mount, mass_kg: float) -> list[Check]:
    """Play, ways, anodising, mass."""
    return [*_play(plate), *_ways(plate, mount), *_step(plate), *_coated_threads(plate), _mass(mass_kg)]


def _play(plate: Plate) -> list[Check]:
    pin_mm, step_mm = pin_clearance_mm(plate), max(0.0, step_clearance_mm(plate))
    radius_mm = plate.index_pin.circle_radius_mm
    off_deg, left_deg = pushed_deg(plate)
    return [
        Check(
            "play of the pin in the keyway, free", play_deg(plate), MOST_PLAY_DEG, "deg", "at most",
            "asin((d + ds) / 2r), each way",
            f"({plain(pin_mm)} + {plain(step_mm)}) mm / (2 x {plain(radius_mm)} mm)", TRADE,
            "Turn or measure the head for the keyway, put the pin further out, or push it to one side.",
        ),
        Check(
            "play of the pin in the keyway, pushed to one side", left_deg, MOST_PLAY_DEG, "deg", "at most",
            "asin(ds / 2r), each way, about asin(d / 2r) off the middle",
            f"{plain(step_mm)} mm / (2 x {plain(radius_mm)} mm), about {plain(off_deg)} deg off the "
            "middle", TRADE,
            "Push it to the same side every time before tightening; a closer step leaves less.",
        ),
    ]  # fmt: skip


def _ways(plate: Plate, mount: Mount) -> list[Check]:
    across = "right across" if plate.keyway.right_across else "to one side"
    return [
        Check(
            "ways in which the part goes into the tripod plate", float(fits_ways(plate, mount)), 1.0, "",
            "at most",
            "ends of the keyway, twice where the part can be turned over", f"keyway cut {across}", TRADE,
            "Close one end of the keyway with a screw, or mark the end in use on part and tripod plate; "
            "ask which end it is each time.",
        ),
    ]  # fmt: skip


def _step(plate: Plate) -> list[Check]:
    """What centres the part, once it is anodised."""
    if plate.step is None or plate.step.side != "below":
        return [
            Check(
                "what centres the part in the tripod plate", 0.0, 1.0, "", "at least", "steps on the "
                "tripod's side",
                "no step below", TRADE, "Give the part a step below that goes into the tripod plate's bore.",
            )
        ]  # fmt: skip
    if plate.step.clearance_mm is None:
        return []
    left_mm = step_clearance_mm(plate)
    return [
        Check(
            "step in its bore after anodising", left_mm, LEAST_STEP_CLEARANCE_MM, "mm", "at least",
            "clearance - layer: half of it grows outward, on both sides",
            f"{plain(plate.step.clearance_mm, 3)} mm - {plain(plate.anodise_um)} um",
            f"finishers' rule: half of the layer grows outward; least clearance {PRACTICE}",
            f"Turn the step {plain(max(0.0, LEAST_STEP_CLEARANCE_MM - left_mm), 3)} mm smaller, or mask it.",
        )
    ]  # fmt: skip


def _coated_threads(plate: Plate) -> list[Check]:
    """A layer t grows t/2 outward, and a 60 deg thread's pitch diameter shrinks by four times that."""
    if plate.anodise_um == 0.0:
        return []
    threads = [pin_thread(plate)]
    if plate.centre_thread is not None:
        threads.append(thread_named(plate.centre_thread))
    shrinks_mm = 2.0 * plate.anodise_um / 1000.0
    return [
        Check(
            f"thread {thread.name} after anodising", shrinks_mm, thread.allowance_mm, "mm", "at most",
            "4 x (layer / 2) <= the screw's allowance",
            f"2 x {plain(plate.anodise_um)} um; allowance {plain(thread.allowance_mm, 3)} mm",
            "finishers' rule: a 60 deg thread changes by four times the growth; allowance ISO 965-1, ASME "
            "B1.1",
            "Plug the tapped holes before anodising, or run the tap through again afterwards.",
        )
        for thread in dict.fromkeys(threads)
    ]  # fmt: skip


def _mass(mass_kg: float) -> Check:
    return Check(
        "mass of the part", mass_kg, MOST_MASS_KG, "kg", "at most", "volume x density",
        f"{plain(mass_kg)} kg",
        PRACTICE, "A smaller outside or thinner stock; pockets cost stiffness.",
    )  # fmt: skip
