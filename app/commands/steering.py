"""The steering study of passes over a keyhole, as a table and as a JSON shape."""

from __future__ import annotations

from typing import Any

from app.commands.output import say, say_table, shown_progress
from app.commands.shapes import number
from app.commands.words import moment
from core.base.memo import Memo
from core.base.progress import reported
from core.evaluate import Result
from core.mount.steering.pass_steering import PassSteering, keyhole_sentence
from core.mount.steering.runs import SteeringRun
from core.plan.document import Plan
from core.studies import over_keyhole, study_pass


def keyhole_studies(plan: Plan, result: Result, memo: Memo) -> dict[int, PassSteering]:
    """The study of every pass over a keyhole that is in reach, by its index."""
    asked = over_keyhole(plan, result)
    with shown_progress() as progress:
        studied = {
            index: study_pass(plan, result, result.checks[index], memo)
            for index in reported(asked, "setting steerings side by side", progress, 1)
        }
    return {index: study for index, study in studied.items() if study is not None}


def steering_shape(told: PassSteering, plan: Plan) -> dict[str, Any]:
    """One study."""
    return {
        "posture": told.posture,
        "turn": told.turn,
        "peak_deg": number(told.peak_deg),
        "keyhole_deg": number(told.keyhole_deg),
        "in_use": plan.steering,
        "runs": [_run_shape(row) for row in told.study.runs],
    }


def _run_shape(row: SteeringRun) -> dict[str, Any]:
    return {
        "name": row.name,
        "worst_off_deg": number(row.worst_off_deg),
        "azimuth_travel_deg": number(row.azimuth_travel_deg, 2),
        "elevation_travel_deg": number(row.elevation_travel_deg, 2),
        "antennas": [
            {
                "name": antenna.name,
                "seconds_off": number(antenna.seconds_off, 1),
                "worst_loss_db": number(antenna.worst_loss_db, 2),
            }
            for antenna in row.antennas
        ],
    }


def say_steering(plan: Plan, result: Result, studies: dict[int, PassSteering]) -> None:
    """A table for each pass over a keyhole."""
    say()
    if not studies:
        say("Steering: no pass in reach peaks over the keyhole; azimuth follows them all.")
        return
    for index, told in studies.items():
        pass_ = result.checks[index].pass_
        when = moment(pass_.aos.utc_s, plan)
        say(f"Steering {pass_.satellite} {when}, begun {told.posture}{_round_words(told.turn)}:")
        say(f"  {keyhole_sentence(told, plan.mount)}")
        heads = ["steering", "deg off", "az deg", "el deg"]
        for antenna in plan.antennas:
            heads += [f"{antenna.name} s off", f"{antenna.name} dB"]
        say_table(heads, [_cells(row, plan) for row in told.study.runs], left=(0,))
        say()


def _round_words(turn: int) -> str:
    """Which time round it begins, where that is not the first."""
    return "" if turn <= 0 else f", time round {turn + 1}"


def _cells(row: SteeringRun, plan: Plan) -> list[str]:
    name = f"{row.name}, in use" if row.name == plan.steering else row.name
    cells = [
        name,
        f"{row.worst_off_deg:.1f}",
        f"{row.azimuth_travel_deg:.0f}",
        f"{row.elevation_travel_deg:.0f}",
    ]
    for antenna in row.antennas:
        cells += [f"{antenna.seconds_off:.0f}", f"{antenna.worst_loss_db:.1f}"]
    return cells
