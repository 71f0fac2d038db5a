"""The order of setting up says what this mount can do."""

from core.sheet.set_up.advice import setting_up


def test_the_ends_to_try_are_those_the_mount_has():
    plain, flips = (" ".join(setting_up("180", "A", over_the_top)) for over_the_top in (False, True))
    assert "over the top" not in plain
    assert "stop to stop, elevation end to end" in plain
    assert "stop to stop and over the top" in flips
