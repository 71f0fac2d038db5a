"""The Stand page: the station from the side, the wind's rose, what it could fall on; go or take down."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.window.page import FormPage
from app.window.pages.stand.form import StandForm
from app.window.pages.stand.views.ground import GroundPicture
from app.window.pages.stand.views.rose import RosePicture
from app.window.pages.stand.views.side import SideViewPicture
from app.window.pages.stand.wishes import WishesPart
from app.window.state.context import Context
from app.window.widgets.chart_file import ask_where_to_save_chart
from app.window.widgets.labels import label, push_button, second, show_rank
from app.window.widgets.rooms import Leaves, Lines, Scrolled
from app.window.widgets.typed.editing import PlanEditor
from core.base.edits import reset
from core.base.errors import NorthkeyError
from core.base.memo import Memo
from core.base.typed import page_words, without_keys
from core.base.units import Progress
from core.base.whole_files import refuse_source, write_bytes
from core.evaluate import identity
from core.mount.clearance.lengths import Clearance
from core.plan.part_edits import with_usual_stand
from core.stand.answer import StandAnswer, stand_answer
from core.stand.model import Stand
from core.stand.pictures import ground_view, side_view
from core.stand.words import advice_sentence, cautions, stand_lines

_NOTHING = (
    "Nothing is said of the wind yet. Start from a usual station, then type what yours weighs, what catches "
    "wind, and what is near by."
)
_WISHES = "All wishes together"
SAVE = "save stand"


class StandPage(FormPage):
    """Numbers on the left; pictures and what is told on the right."""

    title = "Stand"

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.editor = PlanEditor(context.document, self)
        self.form = StandForm(self.editor)
        self.advice = label(14, bold=True, name="go, watch or take down", wraps=True)
        self.side, self.rose, self.ground = SideViewPicture(), RosePicture(), GroundPicture()
        self.told = Lines("what is told of the stand")
        self.cautions = second("", 9.5, "cautions")
        self.wishes = WishesPart(context)
        self.leaves = Leaves("what is told of the stand, and the wishes")
        self.start_button = push_button(
            "Start from a usual &station",
            self._start,
            tip="Undo takes it back; every number can be typed over",
        )
        self.end_button = push_button(
            "Remove the stand", self._end, tip="Take it out of the plan; undo brings it back"
        )
        self.save_button = push_button(
            "Save as a page...", self.ask_where_to_save, tip="One page of paper for the clipboard, as PDF"
        )
        self.saved = second("", 9.5, "what was saved")
        context.runner.finished.connect(self._on_finished)
        self.answer: StandAnswer | None = None
        #: Why nothing can be said of the stand there is; empty where it can.
        self.missing = ""
        self._of: tuple[Stand | None, Clearance | None, float] | None = None
        self._lay_out()
        self.leaves.turned.connect(self._turn_leaf)
        self.editor.refused.connect(lambda why: self.failed.emit("Stand not changed", why, ""))
        self.editor.refused.connect(lambda _why: self.refresh())

    def _lay_out(self) -> None:
        told = Scrolled("what is told of the stand")
        told.column.setSpacing(10)
        told.column.addWidget(self.told)
        told.column.addWidget(self.cautions)
        told.column.addStretch(1)
        last = QHBoxLayout()
        for one in (self.save_button, self.end_button, self.saved):
            last.addWidget(one)
        last.addStretch(1)
        told.column.addLayout(last)
        self.leaves.add("T&old", told, "Load, ballast, guys, the ground, the fall, the cautions")
        self.leaves.add("&Masses, areas", self.form.weights, "What weighs, and what catches wind")
        self.leaves.add("Legs, g&uys", self.form.ground, "Where the feet stand, and where guys are pegged")
        self.leaves.add(
            "All w&ishes together", self.wishes, "Seats by what passes, ground, wind and cable wish"
        )
        self.pictures = QWidget()
        self.pictures.setMinimumHeight(210)
        across = QHBoxLayout(self.pictures)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(10)
        for picture in (self.side, self.rose, self.ground):
            across.addWidget(picture, 1)
        right = QVBoxLayout()
        right.setSpacing(8)
        right.setContentsMargins(0, 14, 20, 12)
        right.addWidget(self.advice)
        right.addWidget(self.pictures, 5)
        right.addWidget(self.leaves, 5)
        self.lay_side_by_side(self.form, right, _NOTHING, self.start_button)

    def _turn_leaf(self, word: str) -> None:
        if word == _WISHES:
            self.form.verticalScrollBar().setValue(self.form.wishes.y())
        self.refresh()

    def _start(self) -> None:
        self.editor.do(with_usual_stand, "start a usual station")

    def _end(self) -> None:
        self.editor.do(lambda plan: reset(plan, "stand"), "remove the stand")

    def ask_where_to_save(self) -> None:
        """Open the dialog for the page's file."""
        beside = self.context.document.path
        ask_where_to_save_chart(self, beside, "stand.pdf", "PDF (*.pdf)", self.save_page, "Save page")

    def save_page(self, path: Path) -> None:
        """Write the stand on a page of paper; what goes wrong the window tells."""
        answer, plan, sources = self.answer, self.context.plan, self.context.document.sources
        if answer is None:
            return

        def job(_memo: Memo, _progress: Progress) -> str:
            from core.stand.sheet import stand_pdf

            refuse_source(path, sources)
            write_bytes(path, stand_pdf(answer, plan.title, identity(plan)), force=True)
            return f"Saved as {path.name}."

        self.context.runner.request(SAVE, f"Writing {path.name}", job, writes=True)

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: object) -> None:
        if kind == SAVE:
            self.saved.setText(str(answer))

    def _take(self) -> None:
        """The answer of the present plan, worked out once for each; or what is missing for one."""
        plan = self.context.plan
        of = (plan.stand, plan.clearance, plan.mount.keyway_bearing_deg)
        if of == self._of:
            return
        self._of, self.answer, self.missing = of, None, ""
        if plan.stand is not None:
            try:
                self.answer = stand_answer(plan.stand, plan.clearance, plan.mount.keyway_bearing_deg)
            except NorthkeyError as error:
                self.missing = page_words(error)

    def count(self) -> int:
        self._take()
        found = self.answer
        if found is None:
            return 0
        return int(found.advice == "take down") + int(found.load.holds is False) + len(found.fall.reached)

    def refresh(self) -> None:
        self._take()
        plan, scheme, found = self.context.plan, self.context.scheme, self.answer
        self.show_filled(plan.stand is not None)
        if plan.stand is None:
            return
        self.form.refresh(plan, scheme)
        self.leaves.set_scheme(scheme)
        shown = self.isVisible() and self.leaves.shown == _WISHES
        self.wishes.refresh(shown)
        self.pictures.setVisible(found is not None)
        if found is None:
            self.advice.setText(
                f"Nothing can be said of the wind: {self.missing[:1].lower()}{self.missing[1:]}."
            )
            show_rank(self.advice, "alarm")
            self.told.show_lines(())
            self.cautions.setText("")
            return
        self.advice.setText(advice_sentence(found))
        show_rank(self.advice, "" if found.advice == "go" else "alarm")
        self.side.show_view(side_view(found, found.weakest_deg), scheme)
        self.rose.show_answer(found, scheme)
        self.ground.show_view(ground_view(found), scheme)
        self.told.show_lines(stand_lines(found))
        self.cautions.setText(without_keys("\n".join(cautions(found))))
