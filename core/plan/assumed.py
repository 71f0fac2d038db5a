"""What a plan leaves out, and the value taken for it, in words that every output can repeat."""

from __future__ import annotations

from core.base.edits import is_given, value_at
from core.plan.document import Plan

_WORDS: tuple[tuple[str, str], ...] = (
    ("site.minimum_elevation_deg", "minimum elevation {:g} deg"),
    ("site.height_m", "height {:g} m"),
    ("site.horizon", "no horizon mask"),
    ("site.time_zone", "time zone of the place"),
    ("mount.keyway_bearing_deg", "keyway at {:g} deg true"),
    ("mount.index_holes", "one index hole A at 0 deg"),
    ("mount.index_hole", "index hole {} in use"),
    ("mount.datum_to_stop_deg", "datum to stop {:g} deg"),
    ("mount.elevation_unit_offset_deg", "elevation unit offset {:g} deg"),
    ("mount.tilt.angle_deg", "no tilt"),
    ("mount.azimuth.travel_deg", "azimuth travel {:g} deg"),
    ("mount.azimuth.guard_deg", "guard {:g} deg"),
    ("mount.azimuth.rate_deg_s", "azimuth rate {:g} deg/s"),
    ("mount.azimuth.dial_at_stop_deg", "azimuth dial {:g} at the counter-clockwise stop"),
    ("mount.azimuth.dial_scale", "azimuth dial scale {:g}"),
    ("mount.azimuth.dial_wraps_at_deg", "azimuth dial running on"),
    ("mount.azimuth.dial_division_deg", "azimuth dial division {:g} deg"),
    ("mount.elevation.minimum_deg", "elevation from {:g} deg"),
    ("mount.elevation.maximum_deg", "elevation to {:g} deg"),
    ("mount.elevation.rate_deg_s", "elevation rate {:g} deg/s"),
    ("mount.elevation.dial_offset_deg", "elevation dial offset {:g} deg"),
    ("mount.elevation.dial_division_deg", "elevation dial division {:g} deg"),
    ("antennas", "one antenna of 30 deg beamwidth"),
    ("clearance", "no lengths for clearance, so that nothing is checked for striking"),
    ("steering", "steering {}"),
    ("shortest_contact_s", "least contact {:g} s"),
)

_DIAL_AT_STOP = ("azimuth dial 0 at the counter-clockwise stop",)
_ELEVATION_OFFSET = ("elevation dial offset 0 deg",)


def assumed(plan: Plan) -> tuple[str, ...]:
    """One phrase for each value the plan leaves to its default."""
    alone = [words.format(value_at(plan, path)) for path, words in _WORDS if not is_given(plan, path)]
    if "one index hole A at 0 deg" in alone and "index hole A in use" in alone:
        alone.remove("index hole A in use")
    for axis, words in ((plan.mount.azimuth, _DIAL_AT_STOP), (plan.mount.elevation, _ELEVATION_OFFSET)):
        if axis.calibration:  # the table says what the dial reads
            alone = [phrase for phrase in alone if phrase not in words]
    return (*alone, *_of_items(plan))


def _of_items(plan: Plan) -> list[str]:
    """The same for what items of lists leave out."""
    mount = plan.mount
    given = "index_holes" in mount.model_fields_set and "mount" in plan.model_fields_set
    holes = [hole.name for hole in mount.index_holes if given and "offset_deg" not in hole.model_fields_set]
    antennas = plan.antennas if "antennas" in plan.model_fields_set else ()
    beams = [antenna.name for antenna in antennas if "beamwidth_deg" not in antenna.model_fields_set]
    worths = [pick for pick in plan.picks if "worth" not in pick.model_fields_set]
    phrases = [f"hole {name} at offset 0 deg" for name in holes]
    phrases += [f"{name} of 30 deg beamwidth" for name in beams]
    return phrases + ([f"worth 1 for {len(worths)} of {len(plan.picks)} picks"] if worths else [])
