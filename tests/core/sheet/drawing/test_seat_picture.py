"""The station from above on paper: both stops and the keyway are named apart."""

import numpy as np
import pytest

from core.mount.model.station import AzimuthAxis, Mount
from core.sheet.drawing.seat_picture import seat_picture
from tests.core.sheet.drawing.boxes import inside_its_box
from tests.core.sheet.samples import MOUNT


@pytest.mark.parametrize("travel", [180.0, 360.0, 450.0, 540.0, 900.0])
@pytest.mark.parametrize("keyway", [0.0, 95.0, 181.0, 271.0])
def test_the_seat_picture_names_both_stops_apart(travel, keyway):
    mount = Mount(
        keyway_bearing_deg=keyway,
        azimuth=AzimuthAxis(travel_deg=travel),
        index_holes=MOUNT.index_holes,
        index_hole="B",
    )
    drawing = seat_picture(mount)
    inside_its_box(drawing)
    spots = {i.text: np.array([i.x_mm, i.y_mm]) for i in drawing.items if i.kind == "label"}
    names = [spots[name] for name in ("keyway", "ccw stop", "cw stop")]
    assert min(np.linalg.norm(a - b) for k, a in enumerate(names) for b in names[k + 1 :]) > 8.0
    figures = [i.text for i in drawing.items if i.kind == "label"]
    assert f"{(keyway - 30.0) % 360:.1f}" in figures
    assert f"{(keyway - 30.0 + travel) % 360:.1f}" in figures
