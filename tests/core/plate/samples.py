"""Plates for the tests: one that holds, and drawn ones."""

from __future__ import annotations

import copy
from dataclasses import replace
from importlib.resources import as_file, files
from typing import Any

from hypothesis import strategies as st

from core.mount.model.station import Mount
from core.plan.storage import read_plan
from core.plate.model import Plate
from core.plate.part import PlatePart, plate_part
from tests.plans import plate_data


def plate_of(**changes: Any) -> Plate:
    """The invented plate with values changed; ``step__side`` reaches one level down."""
    data = copy.deepcopy(plate_data())
    for path, value in changes.items():
        node, *rest = path.split("__")
        if rest:
            data.setdefault(node, {})[rest[0]] = value
        else:
            data[node] = value
    return Plate(**data)


def mount_of(*offsets_deg: float) -> Mount:
    """A mount with index holes of these offsets, named A, B, C."""
    holes = [{"name": "ABCDEFGH"[k], "offset_deg": offset} for k, offset in enumerate(offsets_deg)]
    return Mount(index_holes=holes, index_hole="A")


HOLES = mount_of(0.0, -30.0)


def part_of(plate: Plate, mount: Mount = HOLES, title: str = "Field day") -> PlatePart:
    """The part worked out, named as a plan would name it."""
    return replace(plate_part(plate, mount), title=title, plan_identity="0123abcd")


def demo_part() -> PlatePart:
    """The demo plan's part."""
    with as_file(files("resources") / "demo" / "larch_ridge.northkey.json") as path:
        plan = read_plan(str(path))
    assert plan.plate is not None
    return replace(plate_part(plan.plate, plan.mount, plan.clearance), title=plan.title)


def crowded_part() -> PlatePart:
    """As many holes as a plan may have, their names as long as they may be."""
    holes = [{"name": f"{k:02d} {'WMQ@'[k % 4] * 21}", "offset_deg": 14.0 * k} for k in range(24)]
    mount = Mount(index_holes=holes, index_hole=holes[0]["name"])
    plate = plate_of(
        outside_diameter_mm=240.0,
        bolts={"thread": "M5", "count": 48, "circle_diameter_mm": 220.0},
        index_pin={"thread": "M3", "circle_radius_mm": 60.0},
    )
    return part_of(plate, mount, title="W" * 120)


@st.composite
def plates(draw: st.DrawFn) -> Plate:
    """Plates whose holes may well run into each other, the step on either side or none."""
    outer = draw(st.floats(20.0, 150.0))
    step = {
        "inner_diameter_mm": draw(st.sampled_from([0.0, 0.5 * outer])),
        "outer_diameter_mm": outer,
        "height_mm": draw(st.floats(1.0, 9.0)),
        "side": draw(st.sampled_from(["below", "above"])),
    }
    return plate_of(
        thickness_mm=draw(st.floats(12.0, 40.0)),
        outside_diameter_mm=draw(st.floats(155.0, 250.0)),
        step=draw(st.sampled_from([None, step])),
        bolts={
            "thread": draw(st.sampled_from(["M5", "M8", "1/4-20 UNC"])),
            "count": draw(st.integers(1, 8)),
            "circle_diameter_mm": draw(st.floats(20.0, 140.0)),
            "first_angle_deg": draw(st.floats(-400.0, 400.0)),
            "counterbore_side": draw(st.sampled_from(["below", "above"])),
        },
        index_pin={"thread": "M5", "circle_radius_mm": draw(st.floats(15.0, 70.0))},
    )
