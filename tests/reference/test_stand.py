"""Published values of wind and drag, and the trade notes' worked stand.

Wind pressures q = rho v^2 / 2 with rho 1.25 (EN 1991-1-4, by a help page quoting it), 1.225 and the factor
0.613 (ASCE 7): `values/wind_pressure.csv`, computed there. EN 1991-1-4's peak pressure and ASCE 7's velocity
pressure are worked examples (`values/wind_examples.json`: a worked sheet, a table). Drag: Aeronautical
Engineer's Data Book, p. 95 (`values/drag_coefficients.csv`). A tripod's tipping axis lies R cos 60 = R/2
from the centre: geometry, no published source. A tripod of under 20 lb rated for 65 lb: common practice, no
source.
"""

from __future__ import annotations

import csv
import json
import math

import numpy as np
import pytest

from core.stand.answer import stand_answer, stand_tipping
from core.stand.body import support_of
from core.stand.model import Mass, Stand, WindArea
from core.stand.wind import pressure_pa
from tests.core.stand.stands import ring, worked_stand
from tests.shared_data import shared_file

LB_KG = 0.45359237  # exact, the international pound


def test_wind_pressures_as_published():
    with shared_file("reference/values/wind_pressure.csv").open() as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 8
    for row in rows:
        speed = float(row["v_m_s"])
        assert pressure_pa(speed, 1.25) == pytest.approx(float(row["0.5*1.25*v^2"]), rel=1e-12)
        assert pressure_pa(speed, 1.225) == pytest.approx(float(row["0.5*1.225*v^2"]), rel=1e-12)
        assert pressure_pa(speed, Stand().air_density_kg_m3) == pytest.approx(
            float(row["0.613*v^2"]), rel=1e-3
        )


def test_the_peak_pressure_of_en_1991_1_4s_worked_example():
    # qp = (1 + 7 Iv) rho vm^2 / 2: the same pressure under the mean wind at that height.
    example = json.loads(shared_file("reference/values/wind_examples.json").read_text())["en1991_1_4"]
    given, out = example["in"], example["out"]
    for height, mean, peak in ((given["h"], "vm_h", "qp_h_kN_m2"), (given["b"], "vm_b", "qp_b_kN_m2")):
        turbulence = 1.0 / math.log(height / given["z0"])
        found = (1.0 + 7.0 * turbulence) * pressure_pa(out[mean], given["rho"]) / 1000.0
        assert found == pytest.approx(out[peak], abs=0.0006)


def test_the_velocity_pressure_of_asce_7s_table():
    example = json.loads(shared_file("reference/values/wind_examples.json").read_text())["asce7"]
    speed = example["in"]["V_mph"] * 0.44704
    psf = pressure_pa(speed, 1.225) / 47.880259  # of 1 lbf/ft2
    for row, exposure in (("C15(Kz0.85)", 0.85), ("C30(Kz0.98)", 0.98), ("D30(Kz1.16)", 1.16)):
        assert psf * exposure * example["in"]["Kd"] == pytest.approx(example["qz_psf"][row], rel=2e-3)


def test_the_drag_left_out_is_that_of_a_tube_without_ends():
    with shared_file("reference/values/drag_coefficients.csv").open() as file:
        published = {(row["shape"], row["ratio"]): float(row["CD"]) for row in csv.DictReader(file)}
    area = WindArea(area_m2=0.1, height_mm=1000.0)
    assert area.drag == published["cylinder across flow l/d", "inf"] == 1.2
    for drag in published.values():  # every published shape can be typed
        assert WindArea(area_m2=0.1, height_mm=1000.0, drag=drag).drag == drag


@pytest.mark.parametrize("first_deg", [0.0, 17.0, 60.0])
def test_a_tripods_tipping_axis_is_half_the_radius_from_the_centre(first_deg):
    assert support_of(ring(3, 800.0, first_deg)).offset_m == pytest.approx(np.full(3, 0.4))
    four = support_of(ring(4, 800.0, first_deg)).offset_m
    assert four == pytest.approx(np.full(4, 0.8 * math.sqrt(0.5)))


def test_the_worked_station_tips_at_12_m_s():
    # Trade notes, vector 15 (computed): R 0.75 m, 27.4 kg, drag moment 0.984 m3, 0.05 m off the axis any way.
    off = Mass(mass_kg=27.4, height_mm=900.0, radius_mm=50.0, turns=True)
    found = stand_answer(worked_stand(masses=(off,)), None, 0.0)
    gust = found.tip_mean_m_s(found.weakest_deg) * found.stand.gust_factor
    assert gust == pytest.approx(12.0, abs=0.05)


@pytest.mark.parametrize(("hung_kg", "tips_m_s"), [(0.0, 12.0), (10.0, 14.0), (30.0, 17.0)])
def test_the_worked_station_with_ballast(hung_kg, tips_m_s):
    # Trade notes, B3 (computed, in whole m/s): 12 bare, 14 with 10 kg, 17 with 30 kg. They leave the centre
    # of mass as far off the axis as it was; hung on the axis, 30 kg bring it nearer and hold off 18.
    masses = (Mass(mass_kg=27.4 + hung_kg, height_mm=900.0, radius_mm=50.0, turns=True),)
    found = stand_tipping(worked_stand(masses=masses), None)
    assert float(found.gust_m_s(np.array([found.weakest_deg]))[0]) == pytest.approx(tips_m_s, abs=0.6)


@pytest.mark.parametrize(("sinks_mm", "lean_deg"), [(3.0, 0.15), (10.0, 0.5)])
def test_a_sinking_foot_of_the_trade_notes(sinks_mm, lean_deg):
    # Trade notes, B3 (computed): 3 mm under one foot at 0.75 m is 0.15 deg, 10 mm is 0.5 deg.
    found = stand_answer(worked_stand(settling_mm=sinks_mm), None, 0.0)
    assert [one.lean_deg for one in found.settlings] == pytest.approx([lean_deg] * 3, abs=0.01)


@pytest.mark.parametrize(("load_lb", "holds"), [(64.9, True), (65.1, False)])
def test_a_light_tripod_with_a_heavy_rating(load_lb, holds):
    # Common practice, no source: under 20 lb itself, rated for 65 lb. Its own mass is no load.
    stand = worked_stand(
        tripod_mass_kg=19.5 * LB_KG,
        tripod_rating_kg=65.0 * LB_KG,
        masses=(Mass(mass_kg=load_lb * LB_KG, height_mm=900.0),),
    )
    assert stand_answer(stand, None, 0.0).load.holds is holds
