"""What a plan may say of its plate."""

from __future__ import annotations

import pytest

from core.base.errors import PlanError
from core.plate.assumed import assumed_of_plate
from core.plate.part import part_identity
from tests.core.plate.samples import HOLES, mount_of, plate_of
from tests.plans import plan_of, plate_data, short_plan_data


def refused(**changes) -> str:
    data = plate_data()
    for path, value in changes.items():
        node, *rest = path.split("__")
        (data[node] if rest else data)[rest[0] if rest else node] = value
    with pytest.raises(PlanError) as caught:
        plan_of(short_plan_data(), plate=data)
    return str(caught.value)


@pytest.mark.parametrize("name", ["6061", "6061-T6", "EN AW-6061", "aluminium 6061-T651", "AA 6061-T6"])
def test_a_material_by_any_of_its_names(name):
    assert plate_of(material=name).material == "6061-T6"


@pytest.mark.parametrize("name", ["6061-O", "6061-T4", "6060", "brass", ""])
def test_another_temper_is_another_material(name):
    assert "plate.material" in refused(material=name)


def test_a_thread_with_its_coarse_pitch_is_the_thread():
    assert plate_of(bolts__thread="M8x1.25").bolts.thread == "M8"
    assert plate_of(centre_thread="3/4-10").centre_thread == "3/4-10 UNC"
    assert "plate.bolts.thread" in refused(bolts__thread="M8x1")
    assert "plate.centre_thread" in refused(centre_thread="3/4-16 UNF")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"step__inner_diameter_mm": 62.0}, "below outer_diameter_mm"),
        ({"step__height_mm": 22.0}, "whole thickness"),
        ({"step__outer_diameter_mm": 177.0}, "outside_diameter_mm"),
        ({"bolts__head": "ASME B18.3"}, "ISO 4762"),
        ({"bolts": {"thread": "M8"}}, "is needed"),
        ({"bolts__points_mm": []}, "points_mm"),
        ({"bolts__points_mm": [[0.0, 501.0]]}, "points_mm"),
        ({"thickness_mm": 0.0}, "3 to 150"),
        ({"keyway__side": "below"}, "side"),
    ],
)
def test_what_no_plate_can_be_is_refused(changes, words):
    assert words in refused(**changes)


def test_what_is_left_out_is_told_once():
    told = assumed_of_plate(plate_of(), None)
    assert len(set(told)) == len(told)
    assert "friction 0.15 between plates" in told
    assert "boom tip 1500 mm from the axis" in told
    given = assumed_of_plate(plate_of(loads={"friction": 0.2, "boom_mm": 900.0}), None)
    assert not any(phrase.startswith(("friction", "boom")) for phrase in given)
    assert not any("bolts" in phrase for phrase in assumed_of_plate(plate_of(bolts=None), None))


def test_the_part_is_known_by_plate_and_holes():
    part = part_identity(plate_of(), HOLES)
    assert part == part_identity(plate_of(), mount_of(0.0, -30.0))
    assert part != part_identity(plate_of(), mount_of(0.0, -31.0))
    assert part != part_identity(plate_of(anodise_um=1.0), HOLES)
