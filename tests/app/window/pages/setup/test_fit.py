"""What the sightings say: the correction told and taken over, blunders in large words, whose answer it is."""

from __future__ import annotations

import pytest

from core.base.edits import changed
from tests.plans import plan_of, short_plan_data

#: The mount of the plans here: keyway 0, dial 0 on the stop, so that the dial should read the true bearing.
HOLES = [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": 30.0}]

MOUNT = {
    "mount__keyway_bearing_deg": 0.0,
    "mount__index_holes": HOLES,
    "mount__index_hole": "A",
    "mount__datum_to_stop_deg": 0.0,
    "mount__azimuth__travel_deg": 450.0,
    #: All is worked upright, as it is sighted: over the top a boom off its square is off the other way.
    "mount__elevation__maximum_deg": 90.0,
}


#: Half the play that a plan assumes of a gear: so far is the dial ahead when it came from the left.
PLAY_DEG = 0.5


def sightings(off_deg: float, *bearings_deg: float, **last: float) -> list[dict[str, object]]:
    """Known bearings as a mount shows them whose stop lies ``off_deg`` clockwise of where the plan has it."""
    rows: list[dict[str, object]] = [
        {
            "time": "2024-11-01T14:00:00Z",
            "target": f"post {number}",
            "bearing_deg": bearing_deg,
            "azimuth_dial_deg": (bearing_deg - off_deg + (PLAY_DEG if number % 2 else -PLAY_DEG)) % 360.0,
            "came_from": "left" if number % 2 else "right",
        }
        for number, bearing_deg in enumerate(bearings_deg)
    ]
    rows[-1].update(last)
    return rows


def plan_with(rows, **changes):
    return plan_of(short_plan_data(), sightings=rows, **(MOUNT | changes))


@pytest.fixture
def fitted(make):
    hand = make(plan_with(sightings(4.0, 20.0, 140.0, 260.0)))
    hand.open("Fit")
    return hand


def test_the_correction_is_told_and_taken_over_with_its_seat(fitted):
    step, before = fitted.page.fit, fitted.plan.mount
    assert step.answer.figure.text().startswith("+4.00 ")
    assert step.state.text() == "No correction is in force."
    fitted.click(step.take_button)
    correction = fitted.plan.mount.sighting_correction
    assert correction.deg == pytest.approx(4.0, abs=0.01)
    assert (correction.keyway_bearing_deg, correction.index_hole) == (0.0, "A")
    assert fitted.plan.mount.model_copy(update={"sighting_correction": None}) == before
    fitted.wait()
    assert not step.take_button.isEnabled()
    assert step.state.text().startswith("In force: +4 deg")
    assert "Correction +4.00 deg, known to" in fitted.written
    assert "Keyway 0.0 true, hole A" in fitted.written
    fitted.document.undo()
    assert fitted.plan.mount == before


def test_what_is_left_of_each_sighting_stands_in_table_and_picture(fitted):
    residuals = fitted.page.set_up.residuals
    assert sorted(residuals) == [0, 1, 2]
    assert "sighting 3: azimuth" in fitted.page.fit.view.accessibleDescription()
    step = fitted.open("Sightings")
    assert all(row[5] != "" for row in step.table.rows.lines)


def test_a_correction_of_another_seat_is_void_and_says_so(make):
    fitted_for = {"deg": 2.0, "keyway_bearing_deg": 60.0, "index_hole": "A"}
    hand = make(plan_with(sightings(4.0, 20.0, 140.0), mount__sighting_correction=fitted_for))
    hand.open("Fit")
    assert hand.page.fit.state.text().startswith("Void: +2 deg was fitted with the keyway at 60.0")


def test_another_hole_is_named_in_large_words_and_counts_on_the_rail(make):
    hand = make(plan_with(sightings(30.3, 20.0, 140.0, 260.0)))
    counts = []
    hand.page.count_changed.connect(counts.append)
    hand.open("Fit")
    step = hand.page.fit
    assert "hole B" in step.blunders.text()
    assert step.blunders.font().pointSize() >= 18
    assert hand.page.count() == 1
    hand.document.edit(changed(hand.plan, "sightings", ()), "none")
    hand.wait()
    assert hand.page.count() == 0
    assert counts[-1] == 0


def test_a_sighting_that_disagrees_is_told_and_can_be_left_out(make):
    hand = make(plan_with(sightings(4.0, 20.0, 90.0, 140.0, 200.0, 260.0, azimuth_dial_deg=281.0)))
    hand.open("Fit")
    assert "Sighting 5 disagrees with the others and was left out" in hand.page.fit.blunders.text()
    assert hand.page.count() == 1
    step = hand.open("Sightings")
    step.table.selectRow(4)
    hand.click(step.use_button)
    hand.wait()
    assert hand.page.count() == 0


def test_a_fit_of_the_plan_before_cannot_be_taken_over(fitted):
    rows = sightings(7.0, 20.0, 140.0, 260.0)
    fitted.document.edit(changed(fitted.plan, "sightings", rows), "other sightings")
    step = fitted.page.fit
    assert not step.take_button.isEnabled()
    assert step.answer.words.text() == "Being worked out..."
    fitted.wait()
    assert step.answer.figure.text().startswith("+7.00 ")


def test_the_sighting_makes_the_pointing_better(fitted):
    step = fitted.open("How good")
    budget = fitted.page.set_up.budget
    assert budget.after.antennas[0].figures.rss_deg < budget.before.antennas[0].figures.rss_deg
    assert step.gained.text().startswith("The sighting: from ")
    assert all(row[2] for row in step.table.rows.lines)
