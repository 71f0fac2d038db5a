"""What the numbers of a plan may be when somebody types them: the page's words, unit and range of each.

The ranges are those of rotators, antennas and sites that there are. They are never wider than what a plan
file may say, and mostly narrower: a file is taken as it is, a slip of the finger is asked back.
"""

from __future__ import annotations

from core.base.typed import Quantity
from core.plan.part_quantities import PART_QUANTITIES

_RATE = (0.05, 90.0)
_SMALL = (0.0, 45.0)
_LENGTH = (0.0, 20_000.0)
_DIAL = (-3600.0, 3600.0)


def _axis(axis: str, rate: str, back: str) -> dict[str, Quantity]:
    path = f"mount.{axis}"
    return {
        f"{path}.rate_deg_s": Quantity(rate, "deg/s", *_RATE),
        f"{path}.rate_back_deg_s": Quantity(back, "deg/s", *_RATE),
        f"{path}.acceleration_deg_s2": Quantity("acceleration", "deg/s2", 0.01, 1000.0),
        f"{path}.deadband_deg": Quantity("deadband", "deg", *_SMALL),
        f"{path}.least_nudge_deg": Quantity("least nudge", "deg", *_SMALL),
        f"{path}.readout_step_deg": Quantity("readout step", "deg", *_SMALL),
        f"{path}.dial_division_deg": Quantity("dial division", "deg", 0.01, 90.0),
        f"{path}.calibration.axis_deg": Quantity("axis angle", "deg", -90.0, 1440.0),
        f"{path}.calibration.dial_deg": Quantity("dial reading", "deg", *_DIAL),
    }


#: By key path; the places of lists are left out of it.
QUANTITIES: dict[str, Quantity] = {
    "site.height_m": Quantity("height", "m", -500.0, 9000.0),
    "site.minimum_elevation_deg": Quantity("least elevation", "deg", -10.0, 89.0),
    "site.horizon.azimuth_deg": Quantity("bearing", "deg", bearing=True, closed=True),
    "site.horizon.elevation_deg": Quantity("height", "deg", -10.0, 90.0),
    "mount.keyway_bearing_deg": Quantity("keyway bearing", "deg", bearing=True),
    "mount.datum_to_stop_deg": Quantity("datum to stop", "deg", -360.0, 360.0),
    "mount.elevation_unit_offset_deg": Quantity("elevation unit", "deg", -360.0, 360.0),
    "mount.tilt.angle_deg": Quantity("tilt", "deg", 0.0, 30.0),
    "mount.tilt.toward_deg": Quantity("tilt toward", "deg", bearing=True),
    "mount.index_holes.offset_deg": Quantity("offset", "deg", -360.0, 360.0),
    "mount.azimuth.travel_deg": Quantity("travel", "deg", 90.0, 1440.0),
    "mount.azimuth.guard_deg": Quantity("guard", "deg", 0.0, 90.0),
    "mount.azimuth.dial_at_stop_deg": Quantity("dial at stop", "deg", *_DIAL),
    "mount.azimuth.dial_scale": Quantity("dial scale", "", -10.0, 10.0),
    "mount.azimuth.dial_wraps_at_deg": Quantity("figure the dial jumps at", "deg", *_DIAL),
    "mount.azimuth.dial_wraps_to_deg": Quantity("figure the dial jumps to", "deg", *_DIAL),
    **_axis("azimuth", "azimuth rate", "rate back"),
    "mount.elevation.minimum_deg": Quantity("lowest elevation", "deg", -90.0, 90.0),
    "mount.elevation.maximum_deg": Quantity("highest elevation", "deg", 1.0, 180.0),
    "mount.elevation.dial_offset_deg": Quantity("dial offset", "deg", -360.0, 360.0),
    **_axis("elevation", "elevation rate", "rate down"),
    "mount.drive.settle_s": Quantity("settling", "s", 0.0, 120.0),
    "mount.drive.duty": Quantity("duty", "", 0.01, 1.0),
    "mount.drive.duty_window_s": Quantity("duty window", "s", 1.0, 7200.0),
    "antennas.frequency_hz": Quantity("frequency", "MHz", 0.0, 1e6),
    "antennas.beamwidth_deg": Quantity("beamwidth", "deg", 0.1, 180.0),
    "antennas.skew_deg": Quantity("skew", "deg", -90.0, 90.0),
    "clearance.axis_height_mm": Quantity("axis height", "mm", 100.0, 20_000.0),
    "clearance.axis_forward_mm": Quantity("axis forward", "mm", -2000.0, 2000.0),
    "clearance.crossboom_left_mm": Quantity("crossboom left", "mm", *_LENGTH),
    "clearance.crossboom_right_mm": Quantity("crossboom right", "mm", *_LENGTH),
    "clearance.gap_mm": Quantity("least gap", "mm", 1.0, 2000.0),
    "clearance.column.radius_mm": Quantity("column's radius", "mm", 0.0, 1000.0),
    "clearance.column.top_height_mm": Quantity("column's top", "mm", 1.0, 20_000.0),
    "clearance.cable.from_keyway_deg": Quantity("cable from keyway", "deg", -360.0, 360.0),
    "clearance.cable.radius_mm": Quantity("cable's radius", "mm", 0.0, 5000.0),
    "clearance.cable.height_mm": Quantity("cable's height", "mm", *_LENGTH),
    "clearance.cable.slack_mm": Quantity("cable's slack", "mm", *_LENGTH),
    "clearance.booms.side_mm": Quantity("side", "mm", -20_000.0, 20_000.0),
    "clearance.booms.front_mm": Quantity("front", "mm", *_LENGTH),
    "clearance.booms.tail_mm": Quantity("tail", "mm", *_LENGTH),
    "clearance.booms.front_half_element_mm": Quantity("half element at the front", "mm", *_LENGTH),
    "clearance.booms.tail_half_element_mm": Quantity("half element at the tail", "mm", *_LENGTH),
    "clearance.legs.from_keyway_deg": Quantity("leg from keyway", "deg", -360.0, 360.0),
    "clearance.legs.radius_mm": Quantity("foot's radius", "mm", *_LENGTH),
    "clearance.legs.top_radius_mm": Quantity("top's radius", "mm", *_LENGTH),
    "clearance.legs.top_height_mm": Quantity("top's height", "mm", 1.0, 20_000.0),
    "clearance.guys.from_keyway_deg": Quantity("guy from keyway", "deg", -360.0, 360.0),
    "clearance.guys.height_mm": Quantity("guy's height", "mm", 1.0, 20_000.0),
    "clearance.guys.peg_radius_mm": Quantity("peg's radius", "mm", 1.0, 20_000.0),
    "maximum_element_age_days": Quantity("age of elements", "days", 0.1, 100_000.0),
    "shortest_contact_s": Quantity("shortest contact", "s", 0.0, 7200.0),
    "picks.worth": Quantity("worth", "", 0.0, 1000.0),
    "seat_limits.from_deg": Quantity("arc's beginning", "deg", bearing=True, closed=True),
    "seat_limits.to_deg": Quantity("arc's end", "deg", bearing=True, closed=True),
    **PART_QUANTITIES,
}
#: Evenings of a season.
SEASON_DAYS = Quantity("evenings", "", 2.0, 1100.0)
#: What is typed to set something else: the bearing sighted while the dial is set.
SIGHTED = Quantity("bearing", "deg", bearing=True)
#: What is typed on site, by the key path of its noun.
ON_SITE: dict[str, Quantity] = {
    "level_readings.bearing_deg": Quantity("bearing", "deg", bearing=True),
    "level_readings.rise_deg": Quantity("rise", "deg", -30.0, 30.0),
    "landmarks.height_m": Quantity("height", "m", -500.0, 9000.0),
    "landmarks.sigma_m": Quantity("known to", "m", 0.0, 10_000.0),
    "compass.reading_deg": Quantity("compass reading", "deg", bearing=True),
    "compass.sigma_deg": Quantity("read to", "deg", 0.05, 45.0),
    "sightings.bearing_deg": Quantity("true bearing", "deg", bearing=True),
}
#: Minutes that a stage of setting up takes.
STAGE_MINUTES = Quantity("minutes", "", 0.0, 240.0)
#: What the dials are read to show.
AZIMUTH_READ = Quantity("azimuth dial", "deg", *_DIAL)
ELEVATION_READ = Quantity("elevation dial", "deg", *_DIAL)
