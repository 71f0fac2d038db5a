"""The Plate page: the adapter to scale, every number beside it, its checks, and the files for the shop."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.page import FormPage
from app.window.pages.plate.form import PlateForm
from app.window.pages.plate.saving import FilesPart
from app.window.pages.plate.told import ChecksPart, HolesPart, WorkPart
from app.window.pages.plate.views.picture import PlatePicture
from app.window.state.context import Context
from app.window.widgets.labels import heading, label, push_button, second, show_rank
from app.window.widgets.rooms import Leaves, Scrolled
from app.window.widgets.typed.editing import PlanEditor
from core.base.edits import reset
from core.mount.clearance.lengths import Clearance
from core.mount.model.station import Mount
from core.plan.part_edits import with_usual_plate
from core.plate.assumed import assumed_of_plate
from core.plate.model import Plate
from core.plate.part import PlatePart, plate_part
from core.plate.words import (
    CAUTION,
    holding_sentence,
    length_text,
    play_words,
    rotator_sentence,
    torque_sentence,
    unresolved_sentences,
    ways_sentence,
)

_NOTHING = (
    "No plate yet. Start from a usual one, which holds: then type what yours has. Its index holes are those "
    "of the Mount page."
)


class PlatePage(FormPage):
    """Numbers on the left; the part, and what is told of it, on the right.

    Signals:
        go(str): open another page of the window.
    """

    title = "Plate"
    go = Signal(str)

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.editor = PlanEditor(context.document, self)
        self.form = PlateForm(self.editor)
        self.sentence = label(13, bold=True, name="whether the part holds", wraps=True)
        self.told = second("", 10, "size, mass and what is in doubt")
        self.caution = second(CAUTION, 9, "caution")
        self.picture = PlatePicture()
        self.checks, self.holes, self.work = ChecksPart(), HolesPart(), WorkPart()
        self.torques = label(11, name="play, and how the screws are tightened", wraps=True)
        self.assumed = second("", 10, "what is assumed")
        self.files = FilesPart(context)
        self.leaves = Leaves("what is told of the part")
        self.start_button = push_button(
            "Start from a &usual plate", self._start, tip="Undo takes it back; every number can be typed over"
        )
        self.end_button = push_button(
            "Remove the plate", self._end, tip="Take it out of the plan; undo brings it back"
        )
        self.part: PlatePart | None = None
        self._of: tuple[Plate | None, Mount | None, Clearance | None] = (None, None, None)
        self._lay_out()
        self.editor.refused.connect(lambda why: self.failed.emit("Plate not changed", why, ""))
        self.editor.refused.connect(lambda _why: self.refresh())
        self.form.holes_wanted.connect(lambda: self.go.emit("Mount"))

    def _lay_out(self) -> None:
        files = QWidget()
        column = QVBoxLayout(files)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.files)
        column.addStretch(1)
        column.addWidget(self.end_button, 0, Qt.AlignmentFlag.AlignLeft)
        torques = Scrolled("how the screws are tightened, and what is assumed")
        torques.column.setSpacing(10)
        for part in (self.torques, heading("Assumed", 11), self.assumed):
            torques.column.addWidget(part)
        torques.column.addStretch(1)
        self.leaves.add("C&hecks", self.checks, "Whether walls, threads, bolts and pin hold")
        self.leaves.add("Hole ta&ble", self.holes, "Every hole from above and from below")
        self.leaves.add("Order of &work", self.work, "How it is made")
        self.leaves.add("Pla&y, torques", torques, "Play of the pin, torques, what is assumed")
        self.leaves.add("&Files", files, "What goes to the shop")
        right = QVBoxLayout()
        right.setSpacing(6)
        right.setContentsMargins(0, 14, 20, 12)
        for shown in (self.sentence, self.told):
            right.addWidget(shown)
        right.addWidget(self.picture, 4)
        right.addWidget(self.leaves, 3)
        right.addWidget(self.caution)
        self.lay_side_by_side(self.form, right, _NOTHING, self.start_button)

    def _start(self) -> None:
        self.editor.do(with_usual_plate, "start a usual plate")

    def _end(self) -> None:
        self.editor.do(lambda plan: reset(plan, "plate"), "remove the plate")

    def _take(self) -> None:
        """The part of the present plan, worked out once for each."""
        plan = self.context.plan
        of = (plan.plate, plan.mount, plan.clearance)
        if of != self._of:
            self._of = of
            self.part = None if plan.plate is None else plate_part(plan.plate, plan.mount, plan.clearance)

    def count(self) -> int:
        self._take()
        return 0 if self.part is None else sum(not check.holds for check in self.part.checks)

    def refresh(self) -> None:
        self._take()
        plan, part, scheme = self.context.plan, self.part, self.context.scheme
        self.show_filled(part is not None)
        if part is None:
            return
        self.form.refresh(plan, scheme)
        self.leaves.set_scheme(scheme)
        self.sentence.setText(holding_sentence(part.checks))
        show_rank(self.sentence, "" if all(check.holds for check in part.checks) else "alarm")
        self.told.setText(_told(part))
        in_use = plan.mount.index_hole
        self.picture.show_part(part, in_use, scheme)
        self.checks.show_checks(part.checks)
        self.holes.show_holes(part)
        self.work.show_work(part)
        self.files.show_part(part)
        torques = [f"Tighten {torque_sentence(screw)}." for screw in part.screws]
        self.torques.setText("\n".join([play_words(part.play_deg, part.pushed_deg), *torques]))
        self.assumed.setText(f"{', '.join(assumed_of_plate(part.plate, plan.clearance))}.")


def _told(part: PlatePart) -> str:
    """What is read first: size, ways, doubts."""
    plate = part.plate
    size = (
        f"{plate.material}, {length_text(plate.outside_diameter_mm, plate.units)} outside, "
        f"{length_text(plate.thickness_mm, plate.units)} thick, {part.mass_kg:.2f} kg."
    )
    doubts = (
        ways_sentence(plate, part.fits_ways),
        rotator_sentence(part.rotator_ways),
        *unresolved_sentences(plate),
    )
    return " ".join([size, *filter(None, doubts)])
