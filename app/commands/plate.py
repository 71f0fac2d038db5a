"""`northkey plate`: the adapter plate, its holes, its checks, how it is made."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from app.commands.output import say, say_json, say_table, tell
from app.commands.plate_shapes import plate_shape
from core.base.errors import FileProblem, PlanError
from core.base.whole_files import refuse_source, write_bytes
from core.base.words import plain
from core.evaluate import identity
from core.plan.document import Plan
from core.plan.storage import read_plan
from core.plate.assumed import assumed_of_plate
from core.plate.body.features import Feature
from core.plate.checks.check import Check
from core.plate.lines import CHECK_HEADS, check_cells, check_lines, hole_cells, hole_heads, operation_lines
from core.plate.model import Plate
from core.plate.part import PlatePart, plate_part
from core.plate.shop.files import NO_SOLID, shop_files, writers
from core.plate.shop.solid import solids_can_be_made
from core.plate.words import (
    CAUTION,
    DRAWING_CAUTION,
    SHOP_CAUTION,
    holding_sentence,
    length_text,
    play_words,
    rotator_sentence,
    torque_sentence,
    unresolved_sentences,
    ways_sentence,
)


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "plate",
        help="the adapter plate: hole table, checks, order of work",
        description="The adapter between tripod and rotator: every hole seen from above and from below, "
        "whether walls, threads, bolts and the index pin hold, and in which order it is made.",
    )
    parser.add_argument("plan", metavar="PLAN", help="plan file (*.northkey.json) with a plate")
    parser.add_argument(
        "-o",
        "--output",
        metavar="DIR",
        help="write the shop's files into this folder: drawing, shop sheet, template in true size, hole "
        "table, DXF, and a solid (STEP) where the extra is installed",
    )
    parser.add_argument("--force", action="store_true", help="replace files that are there already")
    parser.add_argument("--json", action="store_true", help="JSON instead of a table")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if the plan has a plate.

    Raises:
        PlanError: it has none. FileProblem: a file cannot be written.
    """
    plan = read_plan(options.plan)
    if plan.plate is None:
        raise PlanError(options.plan, "plate", "is not there; give the plan a plate to have it worked out")
    part = replace(
        plate_part(plan.plate, plan.mount, plan.clearance), title=plan.title, plan_identity=identity(plan)
    )
    for sentence in (
        ways_sentence(plan.plate, part.fits_ways),
        rotator_sentence(part.rotator_ways),
        *unresolved_sentences(plan.plate),
    ):
        if sentence:
            tell(sentence)
    files = [] if options.output is None else _written(part, Path(options.output), options)
    assumed = assumed_of_plate(plan.plate, plan.clearance)
    if options.json:
        say_json({"identity": identity(plan), "assumed": list(assumed)} | plate_shape(part, files))
    else:
        _say(part, plan, assumed, files)
    return 0


def _written(part: PlatePart, folder: Path, options: argparse.Namespace) -> list[str]:
    """Every file of the shop's; none is written where one of them may not be."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        reason = error.strerror if isinstance(error, OSError) else str(error)
        raise FileProblem(str(folder), "", f"cannot be made a folder: {reason}") from None
    for name, _content_of in writers():
        refuse_source(folder / name, [options.plan])
        if (folder / name).exists() and not options.force:
            raise FileProblem(str(folder / name), "", "is there already; use --force to replace it")
    if not solids_can_be_made():
        tell(NO_SOLID)
    for name, content in shop_files(part):
        write_bytes(folder / name, content, force=options.force)
    return [str(folder / name) for name, _content_of in writers()]


def _say(part: PlatePart, plan: Plan, assumed: tuple[str, ...], files: list[str]) -> None:
    plate = part.plate
    say(f"{plan.title}  (plan {identity(plan)}, part {part.identity})")
    say(
        f"{plate.material}, outside {length_text(plate.outside_diameter_mm, plate.units)}, thickness "
        f"{length_text(plate.thickness_mm, plate.units)}; {plain(part.mass_kg)} kg, "
        f"blank {plain(part.blank_mass_kg)} kg"
    )
    say("assumed: " + ", ".join(assumed))
    say()
    _say_features(part.features, plate)
    say(DRAWING_CAUTION)
    say()
    say(play_words(part.play_deg, part.pushed_deg))
    for screw in part.screws:
        say("Tighten " + torque_sentence(screw))
    say()
    say(holding_sentence(part.checks))
    _say_checks(part.checks)
    say()
    _say_operations(part)
    say(SHOP_CAUTION)
    say(CAUTION)
    for name in files:
        say(f"{name}: part {part.identity}")


def _say_features(features: tuple[Feature, ...], plate: Plate) -> None:
    rows = [list(hole_cells(one, plate.units)) for one in features]
    say_table(list(hole_heads(plate.units)), rows, left=(0, 1))


def _say_checks(checks: tuple[Check, ...]) -> None:
    say_table(list(CHECK_HEADS), [list(check_cells(check)) for check in checks], left=(0, 1))
    for check in checks:
        say()
        first, *rest = check_lines(check)
        say(f"{check.name}: {first}")
        for line in rest:
            say(f"   {line}")


def _say_operations(part: PlatePart) -> None:
    for one in part.operations:
        for line in operation_lines(one):
            say(line)
