"""The mass against a numeric integration of the body's thickness."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings

from core.plate.body.features import features_of
from core.plate.body.mass import blank_mass_kg, plate_mass_kg
from core.plate.body.shape import gap_mm
from core.plate.tables.strengths import MATERIALS
from tests.core.plate.samples import HOLES, plate_of, plates

CELLS = 450


def integrated_kg(plate, features) -> float:
    """Metal over a grid of the plane: thickness there less what the holes take, overlaps counted once."""
    half_mm = plate.outside_diameter_mm / 2.0
    ticks = (np.arange(CELLS) + 0.5) / CELLS * 2.0 * half_mm - half_mm
    x, y = np.meshgrid(ticks, ticks)
    away = np.hypot(x, y)
    height = 0.0 if plate.step is None else plate.step.height_mm
    thick = np.full_like(x, plate.thickness_mm - height)
    if plate.step is not None:
        inside = away >= plate.step.inner_diameter_mm / 2.0
        thick += np.where(inside & (away <= plate.step.outer_diameter_mm / 2.0), height, 0.0)
    for one in features:
        if one.cut is None:
            continue
        there = np.hypot(x - one.x_mm, y - one.y_mm) < one.diameter_mm / 2.0
        if one.kind == "through hole" or one.role == "centre":
            thick[there] = 0.0
        elif one.kind == "counterbore":
            thick[there] = np.maximum(0.0, thick[there] - one.depth_mm)
        else:
            thick[there] -= one.cut.high_mm - one.cut.low_mm
    metal = np.where(away <= half_mm, thick, 0.0)
    cell_mm2 = (2.0 * half_mm / CELLS) ** 2
    return float(metal.sum()) * cell_mm2 * MATERIALS[plate.material].density_g_cm3 * 1e-6


def clear_of_each_other(features, plate) -> bool:
    cuts = [one for one in features if one.cut is not None]
    if any(one.radius_mm + one.diameter_mm / 2.0 > plate.outside_diameter_mm / 2.0 for one in cuts):
        return False
    bores = [one for one in cuts if one.kind == "counterbore"]
    if plate.step is not None:
        edges = (plate.step.inner_diameter_mm / 2.0, plate.step.outer_diameter_mm / 2.0)
        others = [one for one in cuts if one.kind == "counterbore" or one.role == "index"]
        if any(abs(one.radius_mm - edge) < one.diameter_mm / 2.0 for one in others for edge in edges if edge):
            return False
    for one in cuts:
        for other in cuts:
            same = one.name.removesuffix(" head") == other.name.removesuffix(" head")
            if not same and gap_mm(one.cut, other.cut) <= 0.0:
                return False
    return bool(bores)


@settings(max_examples=8)
@given(plates())
def test_the_mass_is_that_of_its_metal(plate):
    features = features_of(plate, HOLES)
    assume(clear_of_each_other(features, plate))
    assert plate_mass_kg(plate, features) == pytest.approx(integrated_kg(plate, features), rel=4e-3)


def test_the_sample_plate_by_numbers():
    """22 mm of 176, 5 mm of it only under the ring of 62 less 40, holes by hand."""
    plate = plate_of()
    area = np.pi / 4.0
    volume = area * 176.0**2 * 17.0 + area * (62.0**2 - 40.0**2) * 5.0
    volume -= area * (27 / 64 * 25.4) ** 2 * 17.0
    volume -= 4 * area * (9.0**2 * 17.0 + (15.0**2 - 9.0**2) * 8.6)
    volume -= 2 * area * 5.0**2 * (12.0 + 3.0)
    assert plate_mass_kg(plate, features_of(plate, HOLES)) == pytest.approx(volume * 2.70e-6, rel=1e-12)


def test_the_blank_is_square_or_round():
    square, round_bar = plate_of(), plate_of(stock={"form": "round bar", "thickness_mm": 25.0})
    assert blank_mass_kg(square) == pytest.approx(186.0**2 * 24.0 * 2.70e-6)
    assert blank_mass_kg(round_bar) == pytest.approx(np.pi / 4.0 * 186.0**2 * 25.0 * 2.70e-6)
