"""Checklist and kit from what they are told; the names are those that a plan may tick."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import PlanError, ValueRangeError
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, IndexHole, Mount
from core.plan.on_site_edits import with_tick, without_ticks
from core.setup.checklist import checklist, progress_words
from core.setup.facts import Holding, NearBy, StationFacts, Tightened
from core.setup.kit import kit
from core.setup.model import STEP_NAMES
from tests.plans import plan_of, short_plan_data

MOUNT = Mount(
    keyway_bearing_deg=86.5,
    index_holes=(IndexHole(name="A"), IndexHole(name="B", offset_deg=-30.0)),
    index_hole="B",
    azimuth=AzimuthAxis(travel_deg=400.0, dial_division_deg=5.0),
)
BARE = StationFacts(MOUNT, (Antenna(name="yagi", frequency_hz=145.9e6),), 82.7)
FULL = StationFacts(
    MOUNT,
    (Antenna(name="long", frequency_hz=145.9e6), Antenna(name="short", frequency_hz=435.1e6)),
    82.7,
    highest_m=4.12,
    near=(NearBy("feeder line", 9.0, 7.5, True), NearBy("path", 3.0, 0.0, False)),
    screws=(Tightened("rotator's bolts", 6, "M6", 9.21, False), Tightened("index screw", 1, "M6", 9.5, True)),
    holding=Holding(3, 41.2, 12.0, 0.0, ("battery",), "gusts of 7.5 m/s"),
    first="azimuth 170, elevation 160, for 16:00:47 UTC",
    north="sun",
    landmarks=("Chapel",),
    compass=True,
    level=True,
)


def words(facts: StationFacts) -> dict[str, str]:
    return {one.name: one.words for one in checklist(facts, ())}


def test_every_step_has_its_words_and_they_carry_the_plans_figures():
    told = words(FULL)
    assert tuple(told) == STEP_NAMES
    assert told["keyway"].startswith("Keyway to 86.5 deg true (82.7 on the compass)")
    assert "hole B (offset -30 deg), no other" in told["index"]
    assert "rotator's bolts M6 9.2 Nm and index screw M6 9.5 Nm (reckoned" in told["torque"]
    assert "azimuth dial 200" in told["cables"]
    assert "long 145.9 MHz and short 435.1 MHz" in told["feeders"]
    assert "3 guys, 12 kg of ballast on the axis and battery hung for gusts of 7.5 m/s" in told["tripod"]
    assert "by the Sun's shadow (never look at the Sun)" in told["sighting"]
    assert told["first dials"] == "First start set: azimuth 170, elevation 160, for 16:00:47 UTC."


def test_without_plate_stand_and_contact_no_figure_is_made_up():
    told = words(BARE)
    assert "papers" in told["torque"]
    assert told["tripod"].startswith("Tripod open, stakes or ballast on")
    assert told["first dials"] == "First start set on the dials."
    assert told["look up"].startswith("Look up and around")
    assert checklist(BARE, ())[0].holds is None


def test_the_reach_stands_first_and_every_line_has_its_answer():
    look_up = checklist(FULL, ())[0]
    assert look_up.words.startswith(
        "4.1 m: so high the boom's end reaches; 'feeder line' is 9 m away, 7.5 m up"
    )
    assert look_up.words.endswith("holds. Local codes and the line's owner come first.")
    assert "path" not in look_up.words
    assert look_up.holds
    many = [NearBy(f"line {k}", 20.0 - k, 7.0, k < 3) for k in range(8)]
    told = checklist(StationFacts(MOUNT, FULL.antennas, 0.0, 4.0, tuple(many)), ())[0].words
    assert "'line 7' is 13 m away, 7 m up: does NOT hold, 'line 6'" in told
    assert "2 more do NOT hold and 3 others hold." in told
    low = StationFacts(MOUNT, FULL.antennas, 0.0, 4.12, (NearBy("line", 3.0, 7.5, False),))
    look_up = checklist(low, ())[0]
    assert "does NOT hold" in look_up.words
    assert look_up.holds is False


@pytest.mark.parametrize(("most_deg", "told"), [(180.0, "over the top"), (90.0, "elevation end to end")])
def test_the_ends_to_try_are_those_the_mount_has(most_deg, told):
    axis = ElevationAxis(maximum_deg=most_deg)
    facts = StationFacts(MOUNT.model_copy(update={"elevation": axis}), BARE.antennas, 0.0)
    assert told in words(facts)["travel test"]


@given(st.sets(st.sampled_from(STEP_NAMES)))
def test_what_is_done_is_ticked_and_nothing_else(done):
    steps = checklist(BARE, tuple(done))
    assert {one.name for one in steps if one.done} == done
    assert progress_words(len(done)) == f"{len(done)} of 16 done"


def test_ticking_is_undone_by_ticking_off_and_begun_anew():
    plan = plan_of(short_plan_data())
    ticked = with_tick(with_tick(plan, "level", True), "look up", True)
    assert ticked.checklist.done == ("level", "look up")
    assert with_tick(ticked, "level", True).checklist.done == ("look up", "level")
    assert with_tick(ticked, "level", False).checklist.done == ("look up",)
    assert without_ticks(ticked).checklist.done == ()


@pytest.mark.parametrize(
    ("done", "told"), [(["look under"], "checklist.done[1]"), (["level", "level"], "'level' is there twice")]
)
def test_a_step_that_there_is_not_is_refused_by_name(done, told):
    with pytest.raises(PlanError, match="done") as refused:
        plan_of(short_plan_data(), checklist={"done": done})
    assert told in str(refused.value)


def test_an_edit_with_an_unknown_step_names_it():
    with pytest.raises(ValueRangeError, match="look under"):
        with_tick(plan_of(short_plan_data()), "look under", True)  # type: ignore[arg-type]


def test_the_kit_is_what_the_plan_gives_reason_for():
    taken = {one.what: one.why for one in kit(FULL)}
    assert taken["long (145.9 MHz)"] == "beam 30 deg"
    assert taken["2 feeders, labelled"] == "one each for 145.9 MHz and 435.1 MHz"
    assert taken["adapter with its index screw"] == "hole B is in use; not A"
    assert taken["6 x M6"] == "rotator's bolts"
    assert taken["torque key, hex bits"] == "9.2 to 9.5 Nm"
    assert taken["3 guys and pegs"] == "up to 41 N, gusts of 7.5 m/s"
    assert taken["12 kg of ballast"] == "gusts of 7.5 m/s"
    assert taken["battery"] == "hangs from the tripod"
    assert taken["plumb line and pin"] == "north by the Sun's shadow"
    assert taken["list of landmarks"] == "Chapel"
    assert "inclinometer, shims" in taken


def test_a_bare_plan_has_the_standing_list_and_says_what_it_does_not_know():
    taken = {one.what: one.why for one in kit(BARE)}
    assert taken["stakes, ballast bag"] == "the plan has no stand to say how much"
    assert taken["plate bolts and their keys"] == "the plan has no plate to say which"
    assert "list of landmarks" not in taken
    assert "plumb line and pin" not in taken
    for what in ("a spotter", "red light", "this sheet, pencil", "watch set to UTC"):
        assert what in taken
    assert "red light" not in {one.what for one in kit(StationFacts(MOUNT, (), 0.0, after_dark=False))}
