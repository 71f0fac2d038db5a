"""What is written down at each step."""

from __future__ import annotations

from core.mount.model.station import Mount
from core.setup.bearings import ThreeBearings
from core.setup.level import Level, Shim
from core.setup.model import Sighting
from core.setup.write_down import of_correction, of_keyway, of_level, of_north, of_sighting


def test_level():
    assert of_level(None, ()) == ("Each reading: bearing, rise",)
    lines = of_level(Level(0.42, 210.04, 0.1, 0.1, 0.0), (Shim(120.0, 3.2), Shim(0.0, 0.2)))
    assert lines == (
        "Lean 0.42 deg toward 210.0 true",
        "The level reads +0.1 deg when level",
        "3 mm under the leg at 120",
    )


def test_north_without_any_way():
    assert of_north(None, 0.0) == ("00:00:00 UTC: no way to north",)


def test_keyway_leaves_out_what_there_is_not():
    assert of_keyway(ThreeBearings(359.97, 3.2, None), "A", "") == (
        "Keyway 0.0 true",
        "3.2 by the compass",
        "Hole A",
    )
    assert of_keyway(ThreeBearings(1.0, 3.2, 0.5), "A", "the Moon")[-1] == "Read by the Moon"


def test_sighting_in_the_order_in_which_it_is_read():
    one = Sighting(
        time="2024-11-01T17:42:08Z",
        target="Sun",
        half_power_dials_deg=(100.0, 131.5),
        elevation_dial_deg=12.0,
        came_from="left",
        posture="over the top",
    )
    assert of_sighting(one) == (
        "17:42:08 UTC, Sun",
        "Fell alike at 100 and 131.5",
        "Elevation dial 12",
        "Came from the left",
        "Over the top",
    )


def test_correction_with_its_seat():
    assert of_correction(Mount()) == ("No correction taken over",)
    fitted = {"deg": -1.25, "keyway_bearing_deg": 60.0, "index_hole": "A", "posture": "upright"}
    assert of_correction(Mount.model_validate({"sighting_correction": fitted})) == (
        "Correction -1.25 deg",
        "Keyway 60.0 true, hole A",
        "Upright only",
    )
