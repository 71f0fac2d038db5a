"""What went into the figures: steering, rates, corrections, beams, and how old the elements are."""

from __future__ import annotations

from core.base.words import bearing_text, counted, duration, listed, plain, signed
from core.elements.age import describe_age, grade_age, is_far
from core.evaluate import Result
from core.mount.model.chain import corrected_postures
from core.plan.document import Plan
from core.sheet.words import clean


def steering_words(plan: Plan) -> tuple[str, ...]:
    """Sentences on what else the dials follow from."""
    mount = plan.mount
    words = {
        "led": "Passes too fast for the rotator are led: it starts ahead of the satellite, ends behind it.",
        "chased": "Passes too fast for the rotator are chased: it follows as fast as it can.",
        "held": "Passes too fast for the rotator are held: azimuth stands, elevation alone goes over.",
    }
    found = [
        f"{words[plan.steering]} Rates: {plain(mount.azimuth.rate_deg_s)} deg/s in azimuth, "
        f"{plain(mount.elevation.rate_deg_s)} in elevation (90 deg take "
        f"{duration(90.0 / mount.azimuth.rate_deg_s)} and {duration(90.0 / mount.elevation.rate_deg_s)})."
    ]
    fitted = mount.sighting_correction
    if fitted is not None:
        used = corrected_postures(mount)
        state = f"in the dials here ({listed(used)})" if used else "void: keyway or hole has changed"
        found.append(f"Sighting correction {signed(fitted.deg)} deg, {state}.")
    if mount.tilt.angle_deg:
        found.append(
            f"The axis' top leans {plain(mount.tilt.angle_deg)} deg toward "
            f"{bearing_text(mount.tilt.toward_deg)} true; "
            "the dials here allow for it."
        )
    if mount.datum_to_stop_deg or mount.elevation_unit_offset_deg:
        found.append(
            f"Datum mark to boresight on the stop {signed(mount.datum_to_stop_deg)} deg, "
            f"elevation unit {signed(mount.elevation_unit_offset_deg)} deg."
        )
    antennas = [f"{clean(a.name, 30)} {plain(a.beamwidth_deg)} deg" for a in plan.antennas]
    found.append(f"Beamwidths: {listed(antennas)}.")
    return tuple(found)


def element_ages(result: Result) -> tuple[tuple[str, str, bool], ...]:
    """The fresh ones together, which say nothing each; all others by their names, the oldest first."""
    sets = sorted(((days, clean(name, 40)) for name, _, days in result.element_ages), reverse=True)
    fresh = [days for days, _ in sets if grade_age(days) == "fresh"]
    alike: dict[str, list[tuple[float, str]]] = {}
    for days, name in sets:
        if grade_age(days) != "fresh":
            alike.setdefault(describe_age(days), []).append((days, name))
    told = [
        (", ".join(name for _, name in some), age, any(is_far(days) for days, _ in some))
        for age, some in alike.items()
    ]
    if fresh:
        ends = list(dict.fromkeys(describe_age(days) for days in (fresh[0], fresh[-1])))
        told.append((counted(len(fresh), "satellite"), " to ".join(ends), False))
    return tuple(told)
