"""In which order the part is made: work, tools in the order of use, how it is held, what is measured."""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.base.words import counted, plain
from core.mount.model.station import Mount
from core.plate.body.features import features_of, pin_engaged_mm, pin_screw, pin_thread
from core.plate.body.fits import step_clearance_mm
from core.plate.body.mass import blank_size_mm
from core.plate.body.shape import bolt_places, faces_at, index_places, on_step
from core.plate.model import Plate, Side
from core.plate.tables.screws import cap_screw
from core.plate.tables.strengths import MATERIALS
from core.plate.tables.threads import Thread, thread_named
from core.plate.words import length_text


@dataclass(frozen=True)
class Operation:
    """A line of the order of work.

    Attributes:
        number: from 1. work: what is done. tool: tools in the order of use. held_by: how the part is held.
        inspect: dimension and gauge afterwards. hazard: what can hurt; the shop's rules go before it.
    """

    number: int
    work: str
    tool: str
    held_by: str
    inspect: str
    hazard: str


def operations_of(plate: Plate, mount: Mount) -> tuple[Operation, ...]:
    """Common practice, no source: holes and step in one clamping, then the outside, then threads."""
    steps = [
        _saw(plate),
        _face(plate),
        *_drill(plate, mount),
        *_counterbore(plate),
        *_step(plate),
        _inspect(plate, mount),
        _outside(plate),
        *_tap(plate, mount),
        _deburr(plate),
        _mark(mount),
        _test_fit(plate),
        *_finish(plate),
    ]
    return tuple(replace(step, number=number) for number, step in enumerate(steps, start=1))


def _one(work: str, tool: str, held_by: str, inspect: str, hazard: str) -> Operation:
    return Operation(0, work, tool, held_by, inspect, hazard)


def _saw(plate: Plate) -> Operation:
    width_mm, thickness_mm = blank_size_mm(plate)
    size = f"{length_text(width_mm, plate.units)} wide, {length_text(thickness_mm, plate.units)} thick"
    form = "square" if plate.stock.form == "plate" else "round"
    return _one(
        f"Rough cut the {form} blank of {plate.material}: {size}.",
        "band saw, coarse blade; file",
        "clamped flat in the saw's vice",
        f"{size}: steel rule",
        "Blade, and sharp edges of the blank: file them before it is carried.",
    )


def _face(plate: Plate) -> Operation:
    _width_mm, blank_mm = blank_size_mm(plate)
    if blank_mm > plate.thickness_mm:
        work = "Face one side flat, turn over, face to the whole thickness."
    else:
        work = "The blank is no thicker than the part: choose its flatter face for below; skim neither."
    return _one(
        work,
        "face mill or facing tool",
        "on parallels with clamps at the corners, outside the part's circle",
        f"thickness {length_text(plate.thickness_mm, plate.units)}: micrometer at four places",
        "Long chips and a moving clamp: look that every clamp clears the cutter.",
    )


def _from_uncut(plate: Plate, places: tuple[tuple[float, float], ...], deep_mm: float, side: Side) -> str:
    """How deep a hole goes from the face as it is before the step is cut; empty where that makes no odds."""
    step = plate.step
    if step is None or step.side != side or all(on_step(plate, *place) for place in places):
        return ""
    uncut = length_text(deep_mm + step.height_mm, plate.units)
    which = "" if not any(on_step(plate, *place) for place in places) else " where the step will be cut away"
    return f"; {uncut} from the face before the step is cut{which}"


def _drill(plate: Plate, mount: Mount) -> list[Operation]:
    """All holes from one setting, so that their places to each other do not depend on the next clamping."""
    tools, sizes = ["edge finder", "centre drill"], []
    if plate.centre_thread is not None:
        centre = thread_named(plate.centre_thread)
        tools.append(f"drill {centre.tap_drill} for the centre, pilot first")
        sizes.append(f"centre {length_text(centre.tap_drill_mm, plate.units)}")
    if plate.bolts is not None:
        through_mm = cap_screw(plate.bolts.thread).clearance_mm(plate.bolts.fit)
        tools.append(
            f"drill {length_text(through_mm, plate.units)} for {len(bolt_places(plate.bolts))} bolts"
        )
        sizes.append(f"bolts {length_text(through_mm, plate.units)}")
    pin = pin_thread(plate)
    count = counted(len(mount.index_holes), "index hole")
    tools.append(f"drill {pin.tap_drill} for {count}, from the tripod's side{_index_depth(plate, mount)}")
    sizes.append(f"index {length_text(pin.tap_drill_mm, plate.units)}")
    return [
        _one(
            "Find the centre and the datum mark, set both to zero; drill every hole by coordinates; "
            f"{count} at h, clockwise from above: iota with its sign reversed.",
            "; ".join(tools),
            "as before on parallels, a gap under every through hole",
            ", ".join(sizes) + ": pin gauges; places: caliper over pins",
            "A drill that breaks through grabs: clamp, never hold by hand; clear chips with a brush.",
        )
    ]


def _index_depth(plate: Plate, mount: Mount) -> str:
    """How deep an index hole is drilled, from the finished face and from the one there is at that moment."""
    drilled = next(one for one in features_of(plate, mount) if one.role == "index")
    assert drilled.cut is not None
    if (drilled.cut.low_mm, drilled.cut.high_mm) == faces_at(plate, drilled.x_mm, drilled.y_mm):
        return ", through"
    deep_mm = drilled.cut.high_mm - drilled.cut.low_mm
    uncut = _from_uncut(plate, index_places(plate, mount), deep_mm, "below")
    return f", {length_text(deep_mm, plate.units)} deep from the finished face{uncut}"


def _counterbore(plate: Plate) -> list[Operation]:
    bolts = plate.bolts
    if bolts is None:
        return []
    screw = cap_screw(bolts.thread)
    depth = length_text(screw.counterbore_depth_mm, plate.units)
    width = length_text(screw.counterbore_mm, plate.units)
    uncut = _from_uncut(plate, bolt_places(bolts), screw.counterbore_depth_mm, bolts.counterbore_side)
    return [
        _one(
            f"Counterbore {len(bolt_places(bolts))} holes from {bolts.counterbore_side}: {width}, {depth} "
            f"deep from the finished face{uncut}.",
            f"piloted counterbore for {bolts.thread}, slow, with oil",
            f"the side from {bolts.counterbore_side} up, not moved since the holes were drilled where "
            "that is this side; else turned over about the datum line and set by two pins in drilled holes",
            f"{width}: caliper; depth {depth}{uncut}: depth micrometer",
            "Chatter throws the tool: low speed, rigid clamping.",
        )
    ]


def _step(plate: Plate) -> list[Operation]:
    """Rough and finish, outside and inside, without moving the part between."""
    step = plate.step
    if step is None:
        return []
    outer, inner = (
        length_text(step.outer_diameter_mm, plate.units),
        length_text(step.inner_diameter_mm, plate.units),
    )
    height = length_text(step.height_mm, plate.units)
    ring = f"ring {outer} outside, {inner} inside" if step.inner_diameter_mm else f"spigot {outer}"
    held = "rotary table or four-jaw chuck, set true to the centre hole by a dial gauge within 0.02 mm"
    surfaces = "outside and inside" if step.inner_diameter_mm else "outside"
    return [
        _one(
            f"Rough the step {surfaces}: {ring}, {height} high, 0.3 mm left on every face.",
            "roughing end mill or turning tool; boring bar" if step.inner_diameter_mm else "roughing tool",
            held,
            f"0.6 mm over {outer}: caliper",
            "Interrupted cut on a square blank: low speed, stand out of the plane of the corners.",
        ),
        _one(
            f"Finish the step {surfaces} and the shoulder in one pass, sharp corner relieved.",
            "finishing tool, new edge; boring bar" if step.inner_diameter_mm else "finishing tool, new edge",
            "not moved since roughing",
            f"{outer}{_into_bore(plate)}: micrometer; height {height}: depth micrometer",
            "Stop the spindle before measuring.",
        ),
    ]


def _into_bore(plate: Plate) -> str:
    """Which bore the step goes into, as far as that is known."""
    step = plate.step
    if step is None or step.clearance_mm is None:
        return " to go into the tripod plate's bore, which is measured first"
    bore = length_text(step.outer_diameter_mm + step.clearance_mm, plate.units)
    return f" to go into {bore}, {plain(step_clearance_mm(plate), 3)} mm of play after the finish"


def _inspect(plate: Plate, mount: Mount) -> Operation:
    holes = ", ".join(f"{hole.name} {plain(hole.drilled_deg)} deg" for hole in mount.index_holes)
    return _one(
        "Inspect all of it before it is let go: after this the outside is turned about the centre hole.",
        "no cutting",
        "still as the step was finished",
        f"index holes clockwise from above: {holes}: angle by sine of caliper over pins; step to centre "
        "hole: dial gauge within 0.02 mm",
        "Tools out of the spindle while hands are near.",
    )


def _outside(plate: Plate) -> Operation:
    thread = plate.centre_thread
    arbor = "a plug in the step" if thread is None else "an arbor through its centre hole, nut and washer"
    return _one(
        "Clamp anew by the centre; turn the outside round.",
        "turning tool or end mill on the rotary table; chamfer tool",
        f"{arbor}, a backing plate behind",
        f"outside {length_text(plate.outside_diameter_mm, plate.units)}: caliper; run-out to the step: "
        "dial gauge",
        "An arbor holds by friction alone: light cuts; the corners of a square blank swing far out.",
    )


def _tap(plate: Plate, mount: Mount) -> list[Operation]:
    """Threads last, when nothing more is clamped over them."""
    wants = MATERIALS[plate.material].tapping
    jobs = [(pin_thread(plate), pin_engaged_mm(plate), counted(len(mount.index_holes), "index hole"))]
    if plate.centre_thread is not None:
        jobs.append((thread_named(plate.centre_thread), plate.thickness_mm, "the centre hole"))
    return [_tap_one(plate, thread, deep_mm, what, wants) for thread, deep_mm, what in jobs]


def _tap_one(plate: Plate, thread: Thread, deep_mm: float, what: str, wants: str) -> Operation:
    through = deep_mm >= plate.thickness_mm
    deep = "through" if through else f"{length_text(deep_mm, plate.units)} of full thread"
    return _one(
        f"Tap {thread.name} in {what}, {deep}.",
        f"countersink; {wants}; bottoming tap last" if not through else f"countersink; {wants}",
        "on the table, tap guided by the spindle or a block so that it stands square",
        f"thread {thread.name}: go and no-go plug gauge; depth by a screw's turns",
        "A broken tap is glass-hard and sharp; compressed air blows chips into eyes.",
    )


def _deburr(plate: Plate) -> Operation:
    return _one(
        "Deburr both sides of every hole, chamfer all edges 0.5 mm, the step's lead-in 1 mm.",
        "countersink, deburring blade, fine file",
        "by hand on a soft cloth, gloves only away from any spindle",
        "edges: fingertip and magnifier; chamfers: caliper",
        "Burrs cut: no edge is handed on sharp.",
    )


def _mark(mount: Mount) -> Operation:
    names = ", ".join(hole.name for hole in mount.index_holes)
    return _one(
        f"Stamp the datum mark on the rim and the names {names} beside the index holes, on the side from "
        "below.",
        "letter punches; scriber and square for the datum line",
        "on a flat anvil, finished faces on card",
        "each name beside its hole by the hole table's view from below: a second person reads it out",
        "Punches jump: eye protection.",
    )


def _test_fit(plate: Plate) -> Operation:
    screw = pin_screw(plate)
    keys = [screw.key_mm] + ([cap_screw(plate.bolts.thread).key_mm] if plate.bolts else [])
    sizes = " and ".join(length_text(key_mm, plate.units) for key_mm in dict.fromkeys(keys))
    return _one(
        "Test fit before any finish: in the tripod plate with the index pin in every hole, then under "
        "the rotator with all its bolts.",
        f"the screws themselves, hex keys {sizes}, torque key",
        "on the tripod, low and level, a second pair of hands for the rotator",
        f"step goes in by hand; head {length_text(screw.head_mm, plate.units)} in keyway "
        f"{length_text(plate.keyway.width_mm, plate.units)}: feeler gauge; every bolt starts by fingers",
        "A rotator is heavy: fingers out of the gap.",
    )


def _finish(plate: Plate) -> list[Operation]:
    if plate.anodise_um == 0.0:
        return []
    return [
        _one(
            f"Anodise {plain(plate.anodise_um)} um, tapped holes plugged.",
            "the finisher's; rubber plugs",
            "racked in a hole that is not seen",
            f"layer {plain(plate.anodise_um)} um: eddy-current gauge; step again by micrometer, threads "
            "by go gauge",
            "Acid baths are the finisher's business.",
        )
    ]
