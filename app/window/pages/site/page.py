"""The Site page: where, when, and over which horizon."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFileDialog, QFrame, QGridLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.window.page import Page
from app.window.pages.site.hours import EveningPart
from app.window.pages.site.panorama import KEYS_HELP, Panorama
from app.window.pages.site.panorama_scene import PanoramaScene
from app.window.pages.site.place import PlacePart
from app.window.pages.site.points import PointsPart
from app.window.pages.site.sky import panorama_scene
from app.window.state.context import Context
from app.window.widgets.labels import heading, label, second
from core.base.edits import changed, reset
from core.base.errors import FileProblem, NorthkeyError
from core.base.memo import Memo
from core.base.units import Progress
from core.evaluate import Result
from core.passes.mask_cost import SkyPaths, cost_words, mask_cost, rest_words, sky_paths
from core.place.horizon_file import read_horizon_file
from core.place.site import HorizonPoint
from core.plan.document import Plan
from core.plan.picks import picked_stays

if TYPE_CHECKING:  # studies come after the first picture
    from app.window.pages.site.fields.dialog import FieldsDialog


class _Sky(NamedTuple):
    """One result, the plan it is of, and the paths of its very stays: what is counted belongs together."""

    result: Result
    plan: Plan
    paths: SkyPaths


_FILTER = "Bearings and elevations (*.csv *.txt *.tsv);;All files (*)"


#: From this width on the points stand beside place and hours.
_WIDE_PX = 1040


class SitePage(Page):
    """Position, hours and horizon."""

    title = "Site"

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.panorama = Panorama()
        self.place, self.evening, self.points = PlacePart(context), EveningPart(context), PointsPart()
        self.cost = label(13, bold=True, name="what the mask costs", wraps=True)
        self.rest = second("", 10, "what else the mask costs")
        self.hint = second("", name="under the pointer", wraps=False)
        self._sky: _Sky | None = None
        self._asked: object = None
        self._laid_out: tuple[object, SkyPaths | None] = (None, None)
        self._shown_sky: tuple[object, ...] = ()
        self._shown_cost: tuple[object, ...] = ()
        self._wide: bool | None = None
        self._fields: FieldsDialog | None = None
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(heading("The horizon, unrolled on the dial"))
        top.addStretch(1)
        top.addWidget(self.hint)
        groups = self._groups = QGridLayout()
        groups.setHorizontalSpacing(28)
        groups.setVerticalSpacing(18)
        groups.addWidget(self.place, 0, 0)
        groups.addWidget(self.evening, 0, 1)
        self._arrange(True)
        inside = QWidget()
        inside.setObjectName("page")
        column = QVBoxLayout(inside)
        column.setContentsMargins(22, 16, 22, 16)
        column.setSpacing(8)
        column.addLayout(top)
        column.addWidget(self.panorama, 1)
        column.addWidget(self.cost)
        column.addWidget(self.rest)
        column.addSpacing(10)
        column.addLayout(groups)
        area = QScrollArea()
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # Tab goes to what is in it
        area.setWidget(inside)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(area)

    def _arrange(self, wide: bool) -> None:
        """The points beside the rest, or under it in a narrow window."""
        if wide == self._wide:
            return
        self._wide = wide
        self._groups.removeWidget(self.points)
        self._groups.addWidget(self.points, *((0, 2) if wide else (1, 0, 1, 2)))
        for column, share in enumerate((3, 3, 2 if wide else 0)):
            self._groups.setColumnStretch(column, share)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange(self.width() >= _WIDE_PX)
        super().resizeEvent(event)

    def _connect(self) -> None:
        self.panorama.mask_edited.connect(self._set_mask)
        self.panorama.mask_previewed.connect(self._tell_cost)
        self.panorama.pointed.connect(self._tell_hint)
        self.panorama.point_chosen.connect(self.points.choose)
        self.panorama.point_chosen.connect(lambda _index: self.context.document.end_merge())
        self.panorama.files_dropped.connect(lambda files: self.import_horizon(files[0]))
        self.points.mask_edited.connect(self._set_mask)
        self.points.point_chosen.connect(self.panorama.choose)
        self.points.add_wanted.connect(self.panorama.add_point)
        self.points.remove_wanted.connect(self.panorama.remove_chosen)
        self.points.import_wanted.connect(self.ask_for_horizon)
        self.points.clear_wanted.connect(lambda: self._set_mask((), "clear the horizon", ""))
        self.place.compare_wanted.connect(self.compare_fields)
        self.context.runner.finished.connect(self._on_finished)
        self._tell_hint("")

    # --- showing ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        plan = self.context.plan
        self.place.refresh()
        self.evening.refresh()
        self._ask_for_paths()
        self._keep_sky()
        self._show_sky(plan)
        self.panorama.show_points(plan.site.horizon)
        self.points.show_points(plan.site.horizon, plan.mount)
        self.points.choose(self.panorama.chosen)
        self._tell_cost(self.panorama.points)

    def _show_sky(self, plan: Plan) -> None:
        """The fixed layer, made again where something in it changed."""
        context = self.context
        key = (
            plan.mount,
            plan.evening,
            plan.site.model_copy(update={"horizon": ()}),
            self._sky,
            context.scheme.name,
        )
        if key != self._shown_sky:
            self._shown_sky = key
            scene: PanoramaScene = panorama_scene(plan, *(self._sky or (None, plan, None)))
            self.panorama.show_scene(scene, context.scheme)

    def _ask_for_paths(self) -> None:
        """Sample the stays in the worker, once for every search."""
        result = self.context.result
        if result is None or result.stays is self._asked:
            return
        self._asked = stays = result.stays

        def job(memo: Memo, _progress: Progress) -> object:
            return stays, memo.call("sky paths", sky_paths, stays)

        self.context.runner.request("sky paths", "Laying out the sky", job)

    def _keep_sky(self) -> None:
        """Take the present result as soon as its own stays are laid out; till then what was shown stays."""
        result, plan = self.context.result, self.context.result_plan
        stays, paths = self._laid_out
        if result is None or plan is None:
            self._sky = None
        elif (
            paths is not None
            and result.stays is stays
            and (self._sky is None or self._sky.result is not result or self._sky.paths is not paths)
        ):
            self._sky = _Sky(result, plan, paths)

    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind == "sky paths" and answer[0] is self._asked:
            self._laid_out = answer
        elif kind == "horizon":
            self._take_horizon(answer)
        else:
            return
        if self.isVisible():
            self.refresh()

    def _tell_cost(self, points: Sequence[HorizonPoint]) -> None:
        """What the mask costs, live while it is dragged."""
        sky = self._sky
        if sky is None or not self.context.plan.satellites:
            empty = not self.context.plan.satellites
            self.cost.setText("" if not empty else "Without satellites the horizon costs nothing yet.")
            self.rest.setText(
                "Import elements on the Satellites page to see the evening's passes here." if empty else ""
            )
            self._shown_cost = ()
            return
        level = self.context.plan.site.minimum_elevation_deg
        key = (tuple(points), level, sky)
        if key == self._shown_cost:
            return
        self._shown_cost = key
        result, plan = sky.result, sky.plan
        picked = picked_stays(plan.picks, plan.satellites, result.passes, result.stays)
        cost = mask_cost(sky.paths, points, level, picked if plan.picks else None)
        self.cost.setText(cost_words(cost))
        words = rest_words(cost)
        if plan.picks:
            whole = mask_cost(sky.paths, points, level)
            share = f"{round(whole.hidden_s / 60.0)} of {round(whole.seconds / 60.0)} minutes"
            words = f"{words} These are the picks; of all passes the horizon hides {share}.".strip()
        self.rest.setText(words)

    def _tell_hint(self, words: str) -> None:
        self.hint.setText(words or "double-click adds a point, drag moves it, Delete removes it")
        self.panorama.setToolTip("" if words else KEYS_HELP)

    # --- editing ------------------------------------------------------------------------------------------

    def _set_mask(self, points: tuple[HorizonPoint, ...], label: str, merge: str) -> None:
        document = self.context.document
        plan = document.plan
        try:
            new = changed(plan, "site.horizon", points) if points else reset(plan, "site.horizon")
            document.edit(new, label, merge or None)
        except NorthkeyError as error:
            self.failed.emit("Horizon not changed", str(error), "")

    def ask_for_horizon(self) -> None:
        """Open the dialog for a horizon file."""
        dialog = QFileDialog(self, "Import horizon", str(Path.home()), _FILTER)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda name: self.import_horizon(Path(name)))
        dialog.open()

    def import_horizon(self, path: Path) -> None:
        """Read a file of bearings and elevations in the worker; its points replace the mask."""

        def job(_memo: Memo, progress: Progress) -> object:
            try:
                return path, read_horizon_file(path, progress)
            except FileProblem as error:
                return path, error

        self.context.runner.request("horizon", "Reading the horizon", job)

    def _take_horizon(self, answer: Any) -> None:
        path, read = answer
        if isinstance(read, NorthkeyError):
            self.failed.emit("Horizon not imported", str(read), "")
        else:
            self._set_mask(read, f"horizon from {path.name}", "")

    # --- other fields -------------------------------------------------------------------------------------

    def compare_fields(self) -> None:
        """Show the evening at other fields; while there are none, ask for their plan files."""
        if self._fields is None:
            from app.window.pages.site.fields.dialog import FieldsDialog

            self._fields = FieldsDialog(self.context, self)
        shown = self._fields
        shown.show()
        shown.raise_()
        shown.activateWindow()
        if not shown.fields.others:
            shown.ask_for_files()
