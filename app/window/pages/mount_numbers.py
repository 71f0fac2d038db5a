"""Every number of the mount with its words, and the longer words that stand under the picture."""

from __future__ import annotations

from app.window.pages.mount_values import Value

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
