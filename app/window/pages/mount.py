"""The Mount page: every number of the rotator, its plate and its antennas, and what follows from them."""

from __future__ import annotations

import itertools
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QMessageBox,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.window.context import Context
from app.window.form import NumberField, heading, second
from app.window.page import Page
from app.window.pages.mount_follows import FollowsPart
from app.window.pages.mount_numbers import AZIMUTH, ELEVATION, SEAT, WORK, caption
from app.window.pages.mount_tables import AntennaTable, HoleTable
from app.window.pages.mount_values import ResetButton, ValueGroup, indicator_style, show_assumed
from app.window.pages.mount_wrap import WrapRow
from app.window.pages.text_field import TextField
from app.window.scheme import Scheme
from app.window.views.plate_picture import PlatePicture
from core.declination import magnetic_from_true
from core.edits import changed, reset
from core.errors import NorthkeyError
from core.mount.stack import Antenna
from core.mount.summary import correction_state, correction_words
from core.mount_edits import is_given, with_new_hole, with_renamed_hole, with_wrap, without_hole
from core.plan import Plan

_KEYWAY = "mount.keyway_bearing_deg"
_STEERINGS = ("led", "chased", "held")
#: From this width on the groups stand in two columns.
_WIDE_PX = 1480
_PICTURE_PX = 440


class MountPage(Page):
    """Numbers on the left, their picture and what follows on the right."""

    title = "Mount"

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.seat = ValueGroup("Seat", SEAT)
        self.azimuth = ValueGroup("Azimuth", AZIMUTH)
        self.elevation = ValueGroup("Elevation", ELEVATION)
        self.work = ValueGroup("Working a pass", WORK)
        self.groups = (self.seat, self.azimuth, self.elevation, self.work)
        self.wrap = WrapRow()
        self.holes, self.antennas = HoleTable(), AntennaTable()
        self.steering = QComboBox()
        self.steering.addItems(_STEERINGS)
        self.steering.setAccessibleName("Steering")
        self.steering.setProperty("part", "steering")
        self.steering_reset = ResetButton("Steering")
        self.correction = second("")
        self.correction.setAccessibleName("Sighting correction")
        self.void = QPushButton("Remove the correction")
        self.void.setAccessibleName("Remove the sighting correction")
        self.void.setProperty("part", "correction")
        self.picture, self.follows = PlatePicture(), FollowsPart()
        self.caption = second(caption(""), 10)
        self.caption.setMinimumHeight(36)
        self.caption.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.caption.setAccessibleName("what the field means")
        self._columns = (QVBoxLayout(), QVBoxLayout())
        self._wide: bool | None = None
        self._parts: list[QWidget] = []
        self._styled: Scheme | None = None
        self._lay_out()
        self._connect()

    # --- laying out ---------------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        row = self.azimuth.grid.rowCount()
        self.azimuth.grid.addWidget(self.wrap, row, 0, 1, 5)
        grid = self.work.grid
        label = QLabel("Steering")
        label.setBuddy(self.steering)
        row = grid.rowCount()
        grid.addWidget(label, row, 0)
        grid.addWidget(self.steering, row, 1)
        grid.addWidget(second("how a pass too fast is followed"), row, 3)
        grid.addWidget(self.steering_reset, row, 4, Qt.AlignmentFlag.AlignRight)
        self.correction_part = self._correction_part()
        inside = QWidget()
        inside.setObjectName("page")
        across = self._across = QHBoxLayout(inside)
        across.setContentsMargins(22, 16, 22, 16)
        across.setSpacing(44)
        for column in self._columns:
            column.setSpacing(22)
            across.addLayout(column, 1)
        area = QScrollArea()
        area.setWidget(inside)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area = area
        right = QVBoxLayout()
        right.setContentsMargins(0, 14, 20, 14)
        right.setSpacing(6)
        right.addWidget(self.picture, 1)
        right.addWidget(self.caption)
        right.addWidget(self.follows)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(10)
        outer.addWidget(area, 1)
        outer.addLayout(right)
        self._arrange(False)

    def _correction_part(self) -> QWidget:
        part = QWidget()
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(heading("Sighting correction", 12))
        column.addWidget(self.correction)
        column.addWidget(self.void, 0, Qt.AlignmentFlag.AlignLeft)
        return part

    def _arrange(self, wide: bool) -> None:
        """One column of groups, or two where there is room."""
        if wide == self._wide:
            return
        self._wide = wide
        first: list[QWidget] = [self.seat, self.holes, self.correction_part, self.antennas]
        second_: list[QWidget] = [self.azimuth, self.elevation, self.work]
        if not wide:
            first, second_ = [*first[:3], *second_[:2], self.antennas, self.work], []
        for column in self._columns:
            while column.count():
                column.takeAt(0)
        for column, parts in zip(self._columns, (first, second_), strict=True):
            for part in parts:
                column.addWidget(part)
            if parts:
                column.addStretch(1)
        self._across.setSpacing(44 if wide else 0)
        self._across.setStretch(1, 1 if wide else 0)
        self._parts = [*first, *second_]
        self._chain_tabs()

    def _chain_tabs(self) -> None:
        """Tab goes down the groups as they stand."""
        if not self.isVisible():
            return
        fields = [
            field for part in self._parts for field in part.findChildren(QWidget) if field.focusPolicy()
        ]
        # Lists that a box pops up are windows of their own.
        here = [field for field in fields if field.window() is self.window()]
        stops = [field for field in here if field.focusPolicy() & Qt.FocusPolicy.TabFocus]
        for one, other in itertools.pairwise(stops):
            QWidget.setTabOrder(one, other)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._chain_tabs()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange(self.width() >= _WIDE_PX)
        self.picture.setFixedWidth(_PICTURE_PX if self.width() < _WIDE_PX else 520)
        self.follows.setFixedWidth(self.picture.width())
        self.caption.setFixedWidth(self.picture.width())
        super().resizeEvent(event)

    def _connect(self) -> None:
        for group in self.groups:
            group.edited.connect(self._set_number)
            group.reset_wanted.connect(self._reset)
        self.wrap.wrap_edited.connect(self._set_wrap)
        self.holes.add_wanted.connect(lambda: self._do(with_new_hole, "add an index hole"))
        self.holes.remove_wanted.connect(
            lambda row: self._do(lambda plan: without_hole(plan, row), "remove a hole")
        )
        self.holes.reset_wanted.connect(self._reset_holes)
        self.holes.renamed.connect(self._rename_hole)
        self.holes.moved.connect(self._move_hole)
        self.holes.used.connect(self._use_hole)
        self.antennas.add_wanted.connect(lambda: self._do(_with_antenna, "add an antenna"))
        self.antennas.remove_wanted.connect(
            lambda row: self._do(lambda plan: _without_antenna(plan, row), "remove an antenna")
        )
        self.antennas.reset_wanted.connect(lambda: self._reset("antennas"))
        self.antennas.renamed.connect(self._rename_antenna)
        self.antennas.typed.connect(self._set_antenna)
        self.steering.activated.connect(self._set_steering)
        self.steering_reset.clicked.connect(lambda: self._reset("steering"))
        self.void.clicked.connect(lambda: self._reset("mount.sighting_correction"))

    # --- the focused field --------------------------------------------------------------------------------

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.FocusIn:
            self._show_part(str(watched.property("part") or ""))
        return super().eventFilter(watched, event)

    def _show_part(self, part: str) -> None:
        if part:
            self.picture.show_part(part)
            self.caption.setText(caption(part))

    def _watch_fields(self) -> None:
        """Rows come and go, so the fields are looked up again."""
        fresh = False
        for field in self.findChildren(QWidget):
            if field.property("part") and not field.property("watched"):
                fresh = True
                field.setProperty("watched", True)
                field.installEventFilter(self)
                if isinstance(field, NumberField | TextField):
                    field.refused.connect(self.caption.setText)
        if fresh:
            self._chain_tabs()

    # --- showing ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        plan, scheme = self.context.plan, self.context.scheme
        if self._styled is not scheme:
            self._styled = scheme
            for part in (self.wrap, self.holes):
                part.setStyleSheet(indicator_style(scheme))
        for group in self.groups:
            group.refresh(plan, scheme)
        self.wrap.refresh(plan.mount.azimuth)
        self.holes.refresh(plan, scheme)
        self.antennas.refresh(plan, scheme)
        self.steering.setCurrentText(plan.steering)
        given = is_given(plan, "steering")
        self.steering_reset.show_state(given, "led", scheme)
        show_assumed(self.steering, given, scheme)
        self._show_keyway(plan)
        state = correction_state(plan.mount)
        self.correction.setText(correction_words(plan.mount))
        self.correction.setProperty("rank", "alarm" if state == "void" else "second")
        self.correction.style().polish(self.correction)
        self.void.setVisible(state != "none")
        self.picture.show_mount(plan.mount, plan.antennas, scheme)
        self.follows.refresh(plan.mount)
        self._watch_fields()

    def _show_keyway(self, plan: Plan) -> None:
        """The compass bearing beside the true one."""
        words = next(value.meaning for value in SEAT if value.path == _KEYWAY)
        result = self.context.result
        if result is not None:
            compass = magnetic_from_true(plan.mount.keyway_bearing_deg, result.seat.declination_deg)
            words = f"true; {compass:.1f} on the compass"
        self.seat.meanings[_KEYWAY].setText(words)

    # --- editing ------------------------------------------------------------------------------------------

    def _do(self, edit: Callable[[Plan], Plan], label: str, field: QWidget | None = None) -> None:
        """Do an edit; ask first where it voids the correction; a refusal marks the field or is told."""
        plan = self.context.plan
        try:
            new = edit(plan)
        except NorthkeyError as error:
            if isinstance(field, NumberField | TextField):
                field.mark_wrong(str(error))
                field.refused.emit(str(error))
            else:
                self.problem.emit("Mount not changed", str(error), "")
            return
        voids = correction_state(plan.mount) == "holds" and correction_state(new.mount) == "void"
        if voids:
            self._ask_before_void(lambda: self.context.document.edit(new, label))
        else:
            self.context.document.edit(new, label)

    def _ask_before_void(self, go_on: Callable[[], None]) -> None:
        box = QMessageBox(self)
        box.setWindowTitle("Sighting correction")
        box.setText("This voids tonight's correction: it was fitted for the seat as it is now.")
        box.setInformativeText("It is kept and marked, and counts again when the seat is the same again.")
        go = box.addButton("Change the seat", QMessageBox.ButtonRole.AcceptRole)
        box.addButton("Leave it", QMessageBox.ButtonRole.RejectRole)
        go.clicked.connect(go_on)
        box.finished.connect(lambda _code: self.refresh())
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.open()

    def _set_number(self, path: str, value: float, field: QWidget) -> None:
        words = next(v.plain for group in self.groups for v in group.values if v.path == path)
        self._do(lambda plan: changed(plan, path, value), f"{words.lower()} {value:g}", field)

    def _reset(self, path: str) -> None:
        words = path.rpartition(".")[2].replace("_", " ").removesuffix(" deg").removesuffix(" s")
        self._do(lambda plan: reset(plan, path), f"{words} left to its default")

    def _reset_holes(self) -> None:
        def edit(plan: Plan) -> Plan:
            kept = {name: getattr(plan.mount, name) for name in plan.mount.model_fields_set}
            kept.pop("index_holes", None)
            kept.pop("index_hole", None)
            return changed(plan, "mount", kept)

        self._do(edit, "holes left to their default")

    def _set_wrap(self, wraps: tuple[float, float] | None, field: QWidget) -> None:
        label = "dial runs on" if wraps is None else f"dial jumps back at {wraps[0]:g} to {wraps[1]:g}"
        self._do(lambda plan: with_wrap(plan, wraps), label, field)

    def _rename_hole(self, row: int, name: str) -> None:
        self._do(lambda plan: with_renamed_hole(plan, row, name), f"hole named {name}", self.holes.names[row])

    def _move_hole(self, row: int, offset_deg: float) -> None:
        path = f"mount.index_holes.{row}.offset_deg"
        label = f"hole {self.context.plan.mount.index_holes[row].name} at {offset_deg:g} deg"
        self._do(lambda plan: changed(plan, path, offset_deg), label, self.holes.offsets[row])

    def _use_hole(self, row: int) -> None:
        name = self.context.plan.mount.index_holes[row].name
        self._do(lambda plan: changed(plan, "mount.index_hole", name), f"hole {name} in use")

    def _rename_antenna(self, row: int, name: str) -> None:
        path = f"antennas.{row}.name"
        self._do(lambda plan: changed(plan, path, name), f"antenna {name}", self.antennas.names[row])

    def _set_antenna(self, row: int, key: str, value: float) -> None:
        number = value * 1e6 if key == "frequency_hz" else value
        field = self.antennas.numbers[row][key]
        self._do(
            lambda plan: changed(plan, f"antennas.{row}.{key}", number),
            f"antenna {row + 1}: {value:g}",
            field,
        )

    def _set_steering(self, index: int) -> None:
        chosen = _STEERINGS[index]
        self._do(lambda plan: changed(plan, "steering", chosen), f"steering {chosen}")


def _with_antenna(plan: Plan) -> Plan:
    fresh = Antenna(name=f"antenna {len(plan.antennas) + 1}", beamwidth_deg=30.0)
    return changed(plan, "antennas", (*plan.antennas, fresh))


def _without_antenna(plan: Plan, row: int) -> Plan:
    return changed(plan, "antennas", (*plan.antennas[:row], *plan.antennas[row + 1 :]))
