"""Thinned passes: the ends and seconds stay, lines between samples stay near, and each is as if alone."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.drive.motion import steer
from core.mount.drive.thinned import off_deg, picked_out, telling_samples, thinned
from core.mount.model.station import AzimuthAxis, Mount
from tests.core.mount.drive.test_motion import overhead


def test_thinning_keeps_the_seconds_and_the_ends() -> None:
    track = overhead(70.0)
    kept = telling_samples(
        track, np.stack([track.azimuth_deg, track.elevation_deg]), np.zeros((0, track.utc_s.size))
    )
    assert (kept[0], kept[-1]) == (0, track.utc_s.size - 1)
    coarse = picked_out(track, kept)
    assert coarse.seconds_in_all == pytest.approx(track.seconds_in_all)
    assert coarse.utc_s[0] == track.utc_s[0]
    assert coarse.utc_s[-1] == track.utc_s[-1]
    assert np.diff(coarse.utc_s).max() <= 3.5 + 1e-9
    assert coarse.utc_s.size < track.utc_s.size / 2
    for whole, some in ((track.azimuth_deg, coarse.azimuth_deg), (track.elevation_deg, coarse.elevation_deg)):
        out = np.abs(np.interp(track.utc_s, coarse.utc_s, some) - whole)
        assert (out * np.cos(np.radians(track.elevation_deg))).max() < 0.05


@pytest.mark.parametrize("rate_deg_s", [1.0, 30.0])
def test_passes_thinned_together_are_as_each_alone(rate_deg_s: float) -> None:
    """Short ones too, of which every sample is an end; more of them than are looked at together."""
    mount = Mount(azimuth=AzimuthAxis(rate_deg_s=rate_deg_s))
    whole = [overhead(40.0 + 2.0 * k) for k in range(20)]
    short = [picked_out(whole[0], np.arange(size)) for size in (1, 2, 3)]
    tracks = (*short, *whole, *short)
    steered = tuple(steer(track, mount) for track in tracks)
    together = thinned(tracks, steered)
    for track, one, found, followed in zip(tracks, steered, *together, strict=True):
        kept = telling_samples(track, one.curves, off_deg(one, track))
        alone, followed_alone = picked_out(track, kept), one.at(kept)
        assert found.utc_s.tolist() == alone.utc_s.tolist()
        assert found.interval_s.tolist() == alone.interval_s.tolist()
        assert followed.azimuth_deg.tolist() == followed_alone.azimuth_deg.tolist()
