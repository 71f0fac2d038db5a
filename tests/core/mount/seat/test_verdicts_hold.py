"""The evening's verdicts with the keyway off, against checking its passes there."""

from __future__ import annotations

from dataclasses import replace

from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.seat.verdicts_hold import verdicts_hold
from tests.seat_evening import seat_evening


def test_the_verdicts_hold_up_to_what_is_told_and_no_further():
    """Checked pass by pass with the keyway so far off, to either side."""
    plan, result, study = seat_evening()
    minus, plus = verdicts_hold(study, result.order, plan.mount)
    passes = tuple(contact.check.pass_ for contact in result.order.contacts)
    tracks = mount_tracks(passes, plan.mount.tilt)

    def verdicts(off_deg: float) -> list[str]:
        turned = plan.mount.keyway_bearing_deg + off_deg
        mount = plan.mount.model_copy(update={"keyway_bearing_deg": turned})
        return [one.verdict for one in check_passes(passes, tracks, replace(plan.station, mount=mount))]

    here = verdicts(0.0)
    assert minus < 0.0 < plus or minus == 0.0 or plus == 0.0
    for inside in (0.5 * minus, 0.95 * minus, 0.5 * plus, 0.95 * plus):
        assert verdicts(inside) == here, inside
    for beyond in (minus - 0.2, plus + 0.2):
        assert verdicts(beyond) != here, beyond
