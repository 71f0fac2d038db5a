"""The checks: what holds and what does not, against figures worked by hand here."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from core.mount.clearance.lengths import Boom, Clearance
from core.mount.model.station import Mount
from core.plate.checks.check import Check
from core.plate.holding.loads import Turning, turning
from core.plate.model import Loads
from core.plate.part import plate_part
from tests.core.plate.samples import HOLES, mount_of, plate_of, plates


def checks_of(plate, mount=HOLES) -> dict[str, Check]:
    found = plate_part(plate, mount).checks
    assert len({check.name for check in found}) == len(found)
    return {check.name: check for check in found}


def failing(plate, mount=HOLES) -> set[str]:
    return {name for name, check in checks_of(plate, mount).items() if not check.holds}


def calm(**changes):
    """The sample plate with a short boom, so that every joint holds."""
    return plate_of(loads={"boom_mm": 700.0, **changes.pop("loads", {})}, **changes)


def test_a_good_plate_holds():
    assert failing(calm()) == set()


@settings(max_examples=30)
@given(plates())
def test_every_check_says_all_there_is_to_say(plate):
    part = plate_part(plate, HOLES)
    for check in part.checks:
        assert all((check.name, check.formula, check.numbers, check.source, check.advice)), check
        assert math.isfinite(check.value)
        assert math.isfinite(check.limit)
        worse = check.value > check.limit if check.sense == "at most" else check.value < check.limit
        assert check.holds is (not worse or abs(check.margin) <= 1e-9)
        assert (check.margin >= -1e-9) is check.holds


# --- the pin ------------------------------------------------------------------------------------------------


def test_the_pin_is_a_cantilever_worked_by_hand():
    """30 Nm on an M5 at 50 mm with the clamp loose: 600 N, 2.5 mm from the first thread.

    Root 5 - 1.226869 x 0.8 = 4.0185 mm, section modulus pi 4.0185^3 / 32 = 6.371 mm3: 1500 / 6.371 =
    235.5 MPa. Shear 600 / 14.183 = 42.30. Thread 10 mm long: 600 / 50 x (4 + 6 x 2.5 / 10) = 66 MPa. Head:
    600 / (8.5 x 5).
    """
    plate = plate_of(
        index_pin={"thread": "M5", "circle_radius_mm": 50.0},
        keyway={"width_mm": 9.0, "depth_mm": 6.0},
        loads={"wind_m_s": 0.0, "inertia_kg_m2": 1.0, "stop_s": math.radians(6.0) / 30.0, "hand_n": 0.0},
    )
    checks = checks_of(plate)
    assert checks["index pin, bending at the first thread"].value == pytest.approx(235.5, abs=0.1)
    assert checks["index pin, shear"].value == pytest.approx(42.30, abs=0.01)
    assert checks["index pin, shear"].limit == pytest.approx(0.6 * 800.0)
    assert checks["index pin, bearing of the thread in the plate"].value == pytest.approx(66.0)
    assert checks["index pin, bearing on the keyway's flank"].value == pytest.approx(600.0 / 42.5)
    contact = math.pi / 4.0 * math.sqrt(600.0 / 5.0 / (math.pi * 4.25 * 0.91 * (1 / 205e3 + 1 / 68.9e3)))
    assert checks["index pin, print in the keyway's flank"].value == pytest.approx(contact)


def test_thread_bearing_is_force_and_moment_in_balance():
    """Its two parts integrated over the engaged length give back the force, and the moment about the head."""
    import numpy as np

    from core.plate.checks.pin import thread_bearing_mpa

    force_n, arm_mm, diameter_mm, deep_mm = 730.0, 3.1, 6.0, 11.0
    z = (np.arange(100_000) + 0.5) / 100_000 * deep_mm
    even = force_n / (diameter_mm * deep_mm)
    line = 6.0 * force_n * (arm_mm + deep_mm / 2.0) / (diameter_mm * deep_mm**2)
    pressure = even + line * (1.0 - 2.0 * z / deep_mm)
    width = diameter_mm * deep_mm / 100_000
    assert float(pressure.sum()) * width == pytest.approx(force_n)
    assert float((pressure * (z + arm_mm)).sum()) * width == pytest.approx(0.0, abs=1e-3)
    assert thread_bearing_mpa(force_n, arm_mm, diameter_mm, deep_mm) == pytest.approx(even + line)


def test_a_hand_beyond_what_the_clamp_holds_falls_on_the_pin():
    loose = plate_of(clamp={"torque_nm": 10.0}, loads={"boom_mm": 2000.0})
    assert "index pin, bending at the first thread" in failing(loose)
    assert "beyond the clamp" in checks_of(loose)["index pin, shear"].numbers
    assert "clamp loose" in checks_of(calm())["index pin, shear"].numbers


@pytest.mark.parametrize(
    ("keyway", "name"),
    [
        ({"width_mm": 10.1, "depth_mm": 7.0}, "pin's head in the keyway's width"),
        ({"width_mm": 10.5, "depth_mm": 5.5}, "pin's head in the keyway's depth"),
    ],
)
def test_a_head_that_does_not_go_in_is_told(keyway, name):
    """A knurled M6 head has 10.22 mm and is 6 mm high."""
    assert name in failing(calm(keyway=keyway))


def test_a_turned_head_goes_in():
    assert failing(calm(keyway={"width_mm": 9.9, "depth_mm": 7.0}, index_pin__head_diameter_mm=9.8)) == set()


# --- walls --------------------------------------------------------------------------------------------------


def test_an_index_hole_in_a_bolt_is_told_by_both_names():
    plate = calm(index_pin={"thread": "M6", "circle_radius_mm": 61.0})
    assert "wall between bolt 1 head and index B" in failing(plate, mount_of(0.0, -45.0))


def test_an_index_hole_by_any_name_is_a_hole_of_its_own():
    """Counterbores are called after their bolts; an index hole may be called so, too."""
    holes = [{"name": name, "offset_deg": offset} for name, offset in (("A", 0.0), ("A head", -4.0))]
    assert "wall between index A and index A head" in failing(
        calm(), Mount(index_holes=holes, index_hole="A")
    )


def test_two_index_holes_in_one_place_are_told():
    assert any(
        name.startswith("wall between index A and index B") for name in failing(calm(), mount_of(0.0, -4.0))
    )


def test_a_step_under_the_pins_head_is_told():
    plate = calm(index_pin={"thread": "M6", "circle_radius_mm": 34.0})
    assert "pin's head at index A to the step" in failing(plate)


def test_a_hole_over_the_step_s_edge_is_told():
    plate = calm(bolts={"thread": "M8", "count": 3, "circle_diameter_mm": 62.0})
    assert any(name.endswith("to the step's edge") for name in failing(plate))


def test_a_counterbore_from_above_leaves_the_step_alone():
    """Its through hole is beside the ring; only what reaches the ring's side meets its root."""
    below = calm(bolts={"thread": "M8", "count": 3, "circle_diameter_mm": 76.0, "first_angle_deg": 90.0})
    above = calm(
        bolts={
            "thread": "M8", "count": 3, "circle_diameter_mm": 76.0, "first_angle_deg": 90.0,
            "counterbore_side": "above",
        }
    )  # fmt: skip
    edge = {name for name in failing(below) if name.endswith("to the step's edge")}
    assert edge == {f"wall from bolt {number} head to the step's edge" for number in (1, 2, 3)}
    assert not any(name.endswith("to the step's edge") for name in failing(above))


def test_a_hole_near_the_rim_is_told_with_what_to_change():
    plate = calm(bolts={"thread": "M8", "count": 4, "circle_diameter_mm": 160.0, "first_angle_deg": 45.0})
    check = checks_of(plate)["wall from bolt 1 head to the outside"]
    assert (check.value, check.limit) == pytest.approx((0.5, 7.5))
    assert "14 mm larger" in check.advice


# --- screws and joints --------------------------------------------------------------------------------------


def test_too_much_torque_is_told_with_the_most_that_goes():
    check = checks_of(calm(bolts__torque_nm=40.0))["preload of the rotator's bolts"]
    assert check.value == pytest.approx(1.25 * 40_000.0 / (0.18 * 8.0))
    assert check.limit == pytest.approx(580.0 * 36.609, rel=1e-4)
    assert not check.holds
    most = float(check.advice.split("Tighten to ")[1].split(" ")[0])
    assert checks_of(calm(bolts__torque_nm=most))["preload of the rotator's bolts"].holds


def test_a_worked_out_torque_is_borne_by_screw_thread_and_seat():
    for strength in ("8.8", "12.9", "A2-70"):
        checks = checks_of(calm(bolts__strength=strength, index_pin__strength=strength))
        for what in ("rotator's bolts", "index pin", "centre clamp"):
            assert checks[f"preload of the {what}"].holds
        assert checks["pressure under the head of the rotator's bolts"].holds
        assert checks["stripping of the centre clamp's thread"].holds


def test_a_short_thread_strips_before_its_screw_breaks():
    assert "thread engagement of the index pin" in failing(calm(index_pin__engaged_mm=5.0))
    assert "thread engagement of the rotator's bolts" in failing(calm(bolts__engaged_mm=8.0))


def test_a_thin_floor_under_the_heads_is_told():
    plate = calm(thickness_mm=16.0)
    check = checks_of(plate)["floor under the counterbores"]
    assert check.value == pytest.approx(16.0 - 5.0 - 8.6)
    assert not check.holds


def test_loads_are_the_trades():
    """0.613 V^2 Cd A a; I w / t: 4.7 kg m2 at 6 deg/s halted in 0.1 s is 5 Nm, in 0.02 s 25."""
    loads = turning(Loads(wind_m_s=10.0, area_m2=1.0, drag=1.0, lever_mm=1000.0, stop_s=0.1), 6.0, None)
    assert loads.wind_nm == pytest.approx(61.0, abs=0.5)
    assert loads.stop_nm == pytest.approx(5.0, abs=0.1)
    assert turning(Loads(), 6.0, None).stop_nm == pytest.approx(25.0, abs=0.5)
    assert loads.hand_nm == pytest.approx(300.0)


def test_the_boom_is_as_long_as_the_plan_has_it():
    booms = (Boom(name="a", side_mm=300.0, front_mm=400.0), Boom(name="b", front_mm=100.0, tail_mm=900.0))
    lengths = Clearance(booms=booms, axis_forward_mm=50.0)
    assert turning(Loads(), 6.0, lengths).boom_mm == pytest.approx(850.0)
    assert turning(Loads(boom_mm=700.0), 6.0, lengths).boom_mm == 700.0


@pytest.mark.parametrize("forward_mm", [300.0, -300.0])
def test_a_boom_before_or_behind_the_axis_is_longer_at_that_end(forward_mm):
    lengths = Clearance(booms=(Boom(front_mm=600.0, tail_mm=600.0),), axis_forward_mm=forward_mm)
    assert turning(Loads(), 6.0, lengths).boom_mm == pytest.approx(900.0)


def test_the_wind_is_held_half_as_much_again():
    """The gust is a guess; stop and hand are not."""
    plate = calm()
    checks = checks_of(plate)
    found = plate_part(plate, HOLES).turning
    limits = [checks[f"slip of the rotator's bolts against {name}"].limit for name, _torque in found.by_name]
    assert limits == pytest.approx([1.5 * found.wind_nm, found.stop_nm, found.hand_nm])
    windy = plate_of(loads={"boom_mm": 60.0, "wind_m_s": 40.0})
    wind_nm = plate_part(windy, HOLES).turning.wind_nm
    assert checks_of(windy)["slip of the centre clamp against wind"].value == pytest.approx(1.5 * wind_nm)


def test_a_head_that_just_clears_the_step_wants_half_a_millimetre():
    """Step to 31 mm, knurled head 10.22: at 36.5 mm 0.39 mm are left, at 36.7 mm 0.59."""
    for radius_mm, told in ((36.5, True), (36.7, False)):
        plate = calm(index_pin={"thread": "M6", "circle_radius_mm": radius_mm})
        assert ("pin's head at index A to the step" in failing(plate)) is told


def test_figures_beside_a_slip_are_those_it_was_worked_out_from():
    check = checks_of(calm(bolts__torque_nm=0.18 * 8.0 * 10.0))["slip of the rotator's bolts against wind"]
    assert "7000 N after 30 % loss x 4 bolts, mean radius 62 mm" in check.numbers
    assert f"as tightened {check.value / 0.7:.0f} Nm" in check.numbers


def test_a_step_that_nothing_is_known_of_leaves_the_pins_play():
    from core.plate.body.fits import play_deg

    plate = calm(step__clearance_mm=None)
    assert play_deg(plate) == pytest.approx(math.degrees(math.asin(0.5 / 94.0)))
    assert "step in its bore after anodising" not in checks_of(plate)


def test_the_wind_pulls_the_rotator_over_by_hand():
    """245.2 Pa x 0.3 m3 x 1.5 = 110.3 Nm on four bolts at 62 mm: 2 M / (n r) = 890 N on the worst."""
    checks = checks_of(calm(bolts__torque_nm=0.18 * 8.0 * 10.0))
    closed = checks["rotator's joint stays closed in the wind"]
    pull_n = 2.0 * 1.5 * 0.613 * 400.0 * 0.3 / (4 * 0.062)
    grip_mm = 17.0 - 8.6 + 4.0
    bolt = 36.609 * 205_000.0 / grip_mm
    members = 68_900.0 * 8.0 * 0.7967 * math.exp(0.63816 * 8.0 / grip_mm)
    assert closed.value == pytest.approx(7000.0)
    assert closed.limit == pytest.approx(pull_n * members / (bolt + members), rel=1e-4)
    pulled = checks["rotator's bolts pulled by the wind"]
    assert pulled.value == pytest.approx((pull_n * bolt / (bolt + members) + 12_500.0) / 36.609, rel=1e-4)
    loose = checks_of(calm(bolts__torque_nm=0.5, loads={"wind_m_s": 40.0}))
    assert not loose["rotator's joint stays closed in the wind"].holds


def test_the_worst_bolt_is_the_worst_from_any_side():
    """Three bolts, off their own middle: equilibrium of forces and moments, by trying directions."""
    import numpy as np

    from core.plate.holding.sharing import greatest_pull_n

    places = np.array([(10.0, 5.0), (70.0, 0.0), (30.0, 60.0)])
    from_middle = places - places.mean(axis=0)
    worst = 0.0
    for angle in np.radians(np.arange(0.0, 360.0, 0.25)):
        away = from_middle @ np.array([math.cos(angle), math.sin(angle)])
        pulls = 50_000.0 * away / float(away @ away)
        assert float(pulls.sum()) == pytest.approx(0.0, abs=1e-6)
        assert float(pulls @ away) == pytest.approx(50_000.0)
        worst = max(worst, float(pulls.max()))
    assert greatest_pull_n(tuple(map(tuple, places.tolist())), 50.0) == pytest.approx(worst, rel=1e-3)


@pytest.mark.parametrize("count", [1, 2])
def test_bolts_in_a_line_hold_no_wind_across_it(count):
    plate = calm(bolts={"thread": "M8", "count": count, "circle_diameter_mm": 124.0})
    assert "spread of the rotator's bolts" in failing(plate)


def test_slip_of_both_joints_by_hand():
    """Bolts: 4 x 10 kN x 0.15 x 62 mm; clamp: 20 kN on a ring from 31 to 88 mm, by summing thin rings."""
    plate = calm(bolts__torque_nm=0.18 * 8.0 * 10.0, clamp={"torque_nm": 0.18 * 12.7 * 20.0})
    checks = checks_of(plate)
    slip = checks["slip of the rotator's bolts against a stop hit"]
    assert slip.value == pytest.approx(0.7 * 4 * 10_000.0 * 0.15 * 0.062)
    radii = [31.0 + 57.0 * (k + 0.5) / 20_000 for k in range(20_000)]
    torque = sum(0.15 * r * r for r in radii) / sum(radii) * 20_000.0 / 1000.0
    assert checks["slip of the centre clamp against wind"].value == pytest.approx(0.7 * torque, rel=1e-6)


def test_a_clamp_without_a_torque_is_tightened_to_hold_a_hand():
    check = checks_of(calm())["slip of the centre clamp against a hand on the boom tip"]
    assert check.value == pytest.approx(check.limit) == pytest.approx(140.0)


def test_what_gives_first_is_told_of_the_one_that_is_meant_to():
    """Clamp: 140 / 0.7 x 1.25 = 250 Nm at most. Bolts as a fuse would have to slip below the clamp's 140."""
    clamped = checks_of(calm())["what gives first: the clamp"]
    assert clamped.value == pytest.approx(250.0)
    assert clamped.holds
    bolts = checks_of(calm(loads={"gives_first": "bolts"}))["what gives first: the bolts"]
    assert bolts.limit == pytest.approx(140.0)
    assert bolts.value == pytest.approx(clamped.limit / 0.7 * 1.25)
    assert not bolts.holds


def test_a_pin_gives_beyond_the_clamps_friction_at_its_weakest():
    """An M6 8.8 at 47 mm, 3 mm arm, root 6 - 1.226869: 580 MPa in bending is the least of its strengths."""
    pinned = checks_of(calm(loads={"gives_first": "pin"}))["what gives first: the pin"]
    bends_n = 580.0 * math.pi * (6.0 - 1.226869) ** 3 / 32.0 / 3.0
    assert pinned.value == pytest.approx(250.0 + bends_n * 0.047)


def test_nothing_that_centres_or_clamps_is_told():
    assert "what centres the part in the tripod plate" in failing(calm(step__side="above"))
    assert "what clamps the part onto the tripod plate" in failing(calm(centre_thread=None))
    assert "ring on which the part lies on the tripod plate" in failing(
        calm(clamp={"contact_diameter_mm": 60.0})
    )


def test_anodising_is_allowed_for():
    """25 um makes a 60 deg thread 50 um tighter: more than an M6 6g screw's 26; 10 um do not."""
    assert "thread M6 after anodising" in failing(calm(anodise_um=25.0))
    assert not any("anodising" in name for name in failing(calm(anodise_um=10.0)))
    assert "step in its bore after anodising" in failing(calm(anodise_um=100.0))


def test_a_keyway_right_across_is_warned_of():
    assert failing(calm(keyway__right_across=True)) == {"ways in which the part goes into the tripod plate"}


def test_no_load_at_all_breaks_nothing():
    quiet = {"wind_m_s": 0.0, "inertia_kg_m2": 0.0, "hand_n": 0.0}
    assert failing(calm(loads=quiet)) == set()


def test_turning_names_its_loads():
    assert dict(Turning(1.0, 2.0, 3.0, 4.0, 5.0).by_name) == {
        "wind": 1.0,
        "a stop hit": 2.0,
        "a hand on the boom tip": 3.0,
    }
