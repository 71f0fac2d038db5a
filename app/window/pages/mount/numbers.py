"""Every number of the mount with its words, and the longer words that stand under the picture."""

from __future__ import annotations

from app.window.widgets.typed.values import Value

SEAT = (
    Value(
        "mount.keyway_bearing_deg", "&Keyway bearing", "deg", "true, from the plate's centre out", "keyway"
    ),
    Value("mount.datum_to_stop_deg", "Datum to &stop", "deg", "datum mark to boresight on the stop", "stop"),
    Value("mount.elevation_unit_offset_deg", "Elevation &unit", "deg", "clocked beyond that", "unit"),
    Value("mount.tilt.angle_deg", "T&ilt", "deg", "how far the axis leans", "tilt"),
    Value("mount.tilt.toward_deg", "Tilt to&ward", "deg", "true bearing of the low edge", "tilt"),
)
AZIMUTH = (
    Value("mount.azimuth.travel_deg", "&Travel", "deg", "from stop to stop", "travel"),
    Value("mount.azimuth.guard_deg", "Gu&ard", "deg", "kept clear of each stop", "guard"),
    Value("mount.azimuth.rate_deg_s", "Azimuth &rate", "deg/s", "how fast it turns", "azimuth rate"),
    Value("mount.azimuth.dial_at_stop_deg", "&Dial at stop", "deg", "on the ccw stop", "dial at stop"),
    Value("mount.azimuth.dial_scale", "Dial s&cale", "", "dial degrees per degree turned", "dial scale"),
    Value("mount.azimuth.dial_division_deg", "Dial di&vision", "deg", "between two marks", "dial division"),
)
ELEVATION = (
    Value("mount.elevation.minimum_deg", "Lowest", "deg", "axis angle", "elevation minimum"),
    Value("mount.elevation.maximum_deg", "&Highest", "deg", "above 90: over the top", "elevation maximum"),
    Value("mount.elevation.rate_deg_s", "Elevation rate", "deg/s", "how fast it rises", "elevation rate"),
    Value("mount.elevation.dial_offset_deg", "Dial &offset", "deg", "dial less axis angle", "elevation dial"),
    Value("mount.elevation.dial_division_deg", "Dial division", "deg", "between two marks", "elevation dial"),
)
AZIMUTH_MOTION = (
    Value(
        "mount.azimuth.rate_back_deg_s",
        "Rate back",
        "deg/s",
        "counter-clockwise",
        "azimuth rate: back",
        "as clockwise",
    ),
    Value(
        "mount.azimuth.acceleration_deg_s2",
        "Acceleration",
        "deg/s2",
        "up to its rate",
        "azimuth rate: acceleration",
        "at once",
    ),
    Value(
        "mount.azimuth.deadband_deg", "Deadband", "deg", "less does not start it", "azimuth rate: deadband"
    ),
    Value(
        "mount.azimuth.least_nudge_deg", "Least nudge", "deg", "moves at least this", "azimuth rate: nudge"
    ),
    Value("mount.azimuth.readout_step_deg", "Readout step", "deg", "known to this", "azimuth rate: readout"),
)
ELEVATION_MOTION = (
    Value(
        "mount.elevation.rate_back_deg_s",
        "Rate down",
        "deg/s",
        "downward",
        "elevation rate: back",
        "as upward",
    ),
    Value(
        "mount.elevation.acceleration_deg_s2",
        "Acceleration",
        "deg/s2",
        "up to its rate",
        "elevation rate: acceleration",
        "at once",
    ),
    Value(
        "mount.elevation.deadband_deg",
        "Deadband",
        "deg",
        "less does not start it",
        "elevation rate: deadband",
    ),
    Value(
        "mount.elevation.least_nudge_deg",
        "Least nudge",
        "deg",
        "moves at least this",
        "elevation rate: nudge",
    ),
    Value(
        "mount.elevation.readout_step_deg", "Readout step", "deg", "known to this", "elevation rate: readout"
    ),
)
DRIVE = (
    Value("mount.drive.settle_s", "Settling", "s", "after every move", "azimuth rate: settling"),
    Value("mount.drive.duty", "Duty", "", "share of the time a motor may run", "azimuth rate: duty"),
    Value("mount.drive.duty_window_s", "Duty window", "s", "counted over this long", "azimuth rate: duty"),
)
WORK = (Value("shortest_contact_s", "Shortest contact", "s", "less is not worth a move", "contact"),)

CAPTIONS = {
    "": "Go to a field: what it changes stands out here.",
    "keyway": "Where the keyway points on the ground, true. The index pin seats in it, so all else follows.",
    "hole": "Offset: from the pin to the datum mark, clockwise from above. Drilled: from the mark.",
    "stop": "From the datum mark to where the antennas look on the counter-clockwise stop.",
    "unit": "How the elevation unit is clocked beyond that about the azimuth axis, in both postures.",
    "correction": "Tonight's correction from sightings, good for the keyway and the hole it was fitted for.",
    "tilt": "The top of the azimuth axis leans this far toward this bearing, where the plate's edge is low.",
    "travel": "How far the azimuth turns from the counter-clockwise to the clockwise stop.",
    "guard": "Degrees that the pointing keeps clear of each stop.",
    "azimuth rate": "How fast the azimuth turns.",
    "dial at stop": "What the dial shows on the counter-clockwise stop.",
    "dial scale": "Dial degrees for each degree turned: 1 for a true dial, below 0 where it counts down.",
    "dial wraps": "Where the dial jumps back, and to which figure. A dial that runs on has no jump.",
    "dial division": "From mark to mark. Readings are given to half of it.",
    "azimuth rate: back": "How fast it turns counter-clockwise, where that is another rate.",
    "azimuth rate: acceleration": "How fast the azimuth gains and loses speed; left out, at once.",
    "azimuth rate: deadband": "The controller does not start the motor for an error smaller than this.",
    "azimuth rate: nudge": "The shortest step the motor can make.",
    "azimuth rate: readout": "The controller knows the place of the axis only to steps of this.",
    "azimuth rate: settling": "Seconds after a move before the pointing counts: the boom swings.",
    "azimuth rate: duty": "What share of this many seconds a motor may run; 1 for no limit.",
    "azimuth rate: both": "Whether the controller drives both axes at the same time, or one after the other.",
    "elevation rate: back": "How fast it moves down, where that is another rate.",
    "elevation rate: acceleration": "How fast the elevation gains and loses speed; left out, at once.",
    "elevation rate: deadband": "The controller does not start the motor for an error smaller than this.",
    "elevation rate: nudge": "The shortest step the motor can make.",
    "elevation rate: readout": "The controller knows the place of the axis only to steps of this.",
    "dial at stop: table": "What the dial really reads at measured places; running on, 370 after 360.",
    "dial at stop: true": "Type the true bearing the antennas look at now; the dial is set to read it there.",
    "elevation dial: table": "What the elevation dial really reads at measured axis angles.",
    "elevation minimum": "The lowest the elevation axis goes.",
    "elevation maximum": "The highest it goes: 90 is straight up, 180 level again over the top.",
    "elevation rate": "How fast the elevation moves.",
    "elevation dial": "What the elevation dial shows: the axis angle and its offset, to half a division.",
    "band": "The antenna's frequency, for Doppler shift on the sheet.",
    "beam": "Full width between the half-power points; beyond half of it the signal counts as lost.",
    "skew": "How far the antenna looks aside of the boom, clockwise from above when upright.",
    "steering": "Led: ahead of the fastest moment by half. Chased: always behind. Held: waits, then turns.",
    "contact": "Without picks, the evening takes no contact shorter than this.",
}


def caption(part: str) -> str:
    """The words for a part; "beam 1" is explained as "beam"."""
    return CAPTIONS.get(part) or CAPTIONS.get(part.rstrip("0123456789 "), "")
