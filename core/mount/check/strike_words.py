"""What a way would strike, in words."""

from __future__ import annotations

from core.base.angles import wrap_180
from core.base.times import clock
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.model.results import Strike
from core.mount.model.station import OVER_THE_TOP, Mount


def boom_words(boom_from_keyway_deg: float) -> str:
    """``"boom 34 deg right of the keyway"``, as one sees it standing behind the plate."""
    off = round(float(wrap_180(boom_from_keyway_deg)))
    if off == 0:
        return "boom along the keyway"
    return f"boom {abs(off)} deg {'right' if off > 0 else 'left'} of the keyway"


def gap_words(gap_mm: float, wanted_mm: float) -> str:
    """``"gap 12 mm of 50 wanted"``; "they touch"; or what is nearer than can be told."""
    if gap_mm < 0.5:
        return f"they touch, {wanted_mm:g} mm wanted"
    if gap_mm >= wanted_mm:
        return f"gap {gap_mm:.0f} mm, too near to the {wanted_mm:g} wanted to be sure"
    return f"gap {gap_mm:.0f} mm of {wanted_mm:g} wanted"


def strike_words(strike: Strike, mount: Mount) -> str:
    """When, what against what, where the boom and the dials are then, and the gap."""
    verb = "Over the top it strikes" if strike.posture == OVER_THE_TOP else "Strikes"
    level = elevation_dial(strike.e_deg, mount.elevation)
    return (
        f"{verb} {strike.standing} at {clock(strike.utc_s)}: {strike.turning}, "
        f"{boom_words(strike.boom_from_keyway_deg)}, elevation {strike.e_deg:.0f} "
        f"(dial {azimuth_dial(strike.m_deg, mount.azimuth).text}, elevation dial {level.text}); "
        f"{gap_words(strike.gap_mm, strike.wanted_mm)}."
    )
