"""The Mount page: every number of the rotator, its plate and its antennas, and what follows from them."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import Scheme
from app.window.look.style import combo_style, indicator_style
from app.window.page import Page
from app.window.pages.mount.calibration import CalibrationTable, ReadsTrueRow
from app.window.pages.mount.editor import STEERINGS, MountEditor, with_antenna, without_antenna
from app.window.pages.mount.follows import FollowsPart
from app.window.pages.mount.numbers import (
    AZIMUTH,
    AZIMUTH_MOTION,
    DRIVE,
    ELEVATION,
    ELEVATION_MOTION,
    SEAT,
    WORK,
    caption,
)
from app.window.pages.mount.picture.picture import PlatePicture
from app.window.pages.mount.tables import AntennaTable, HoleTable
from app.window.pages.mount.wrap import WrapRow
from app.window.state.context import Context
from app.window.widgets.labels import heading, push_button, second, show_rank
from app.window.widgets.plain import plain_label
from app.window.widgets.typed.values import ResetButton, ValueGroup
from app.window.widgets.wheel import wheel_wants_focus
from core.base.edits import is_given
from core.mount.dial.summary import correction_words
from core.mount.model.chain import correction_state
from core.place.declination import magnetic_from_true
from core.plan.document import Plan
from core.plan.mount_edits import (
    AXES,
    AxisName,
    with_new_hole,
    with_new_reading,
    without_hole,
    without_reading,
)

if TYPE_CHECKING:
    from app.window.pages.mount.clearance.dialog import ClearanceDialog
    from app.window.pages.mount.what_if.dialog import WhatIfDialog

_KEYWAY = "mount.keyway_bearing_deg"
#: From this width on the groups stand in two columns.
_WIDE_PX = 1480
_PICTURE_PX = 440
#: Below this width the picture gives way to the numbers.
_NARROW_PX, _SMALL_PICTURE_PX = 1060, 336


class MountPage(Page):
    """Numbers on the left, their picture and what follows on the right."""

    title = "Mount"

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.seat = ValueGroup("Seat", SEAT)
        self.azimuth = ValueGroup("Azimuth", AZIMUTH)
        self.elevation = ValueGroup("Elevation", ELEVATION)
        self.work = ValueGroup("Working a pass", WORK)
        self.azimuth_motion = ValueGroup("Azimuth motion as measured", AZIMUTH_MOTION)
        self.elevation_motion = ValueGroup("Elevation motion as measured", ELEVATION_MOTION)
        self.drive = ValueGroup("Both axes", DRIVE)
        self.groups = (
            self.seat,
            self.azimuth,
            self.elevation,
            self.work,
            self.azimuth_motion,
            self.elevation_motion,
            self.drive,
        )
        self.wrap, self.reads_true = WrapRow(), ReadsTrueRow()
        self.calibrations: dict[AxisName, CalibrationTable] = {axis: CalibrationTable(axis) for axis in AXES}
        self.at_once = QCheckBox("&Both axes move at the same time")
        self.at_once.setAccessibleName("Both axes move at the same time")
        self.at_once.setToolTip("Off where the controller drives one axis after the other")
        self.at_once.setProperty("part", "azimuth rate: both")
        self.holes, self.antennas = HoleTable(), AntennaTable()
        self.steering = QComboBox()
        self.steering.addItems(STEERINGS)
        self.steering.setAccessibleName("Steering")
        wheel_wants_focus(self.steering)
        self.steering.setProperty("part", "steering")
        self.steering_reset = ResetButton("Steering")
        self.correction = second("", name="Sighting correction")
        self.void = push_button(
            "Remove the correction",
            lambda: self.editor.reset("mount.sighting_correction"),
            "Remove the sighting correction",
            "The seat counts as it is typed, without what sightings have corrected",
        )
        self.void.setProperty("part", "correction")
        self.picture, self.follows = PlatePicture(), FollowsPart()
        self.what_if = push_button(
            "What if...", self.open_what_if, tip="Other travels, guards, rates and holes side by side"
        )
        self._what_if: WhatIfDialog | None = None
        self.clearance_button = push_button(
            "Cleara&nce...",
            self.open_clearance,
            tip="What tails and booms would strike, and the cable's slack",
        )
        self._clearance: ClearanceDialog | None = None
        self.caption = second(caption(""), 10, "what the field means")
        self.caption.setMinimumHeight(36)
        self.caption.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.editor = MountEditor(context.document, self)
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
        self.azimuth.grid.addWidget(self.reads_true, row + 1, 0, 1, 5)
        self.drive.grid.addWidget(self.at_once, self.drive.grid.rowCount(), 0, 1, 5)
        grid = self.work.grid
        label = plain_label("Steering")
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
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # Tab goes to what is in it
        area.setWidget(inside)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area = area
        beside = QWidget()
        beside.setObjectName("page")
        right = QVBoxLayout(beside)
        right.setContentsMargins(0, 14, 20, 14)
        right.setSpacing(6)
        right.addWidget(self.picture, 1)
        right.addWidget(self.caption)
        right.addLayout(self._buttons())
        right.addWidget(self.follows)
        self.beside = QScrollArea()  # in a low window what follows from the numbers is scrolled to
        self.beside.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.beside.setWidget(beside)
        self.beside.setWidgetResizable(True)
        self.beside.setFrameShape(QFrame.Shape.NoFrame)
        self.beside.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(10)
        outer.addWidget(area, 1)
        outer.addWidget(self.beside)
        self._arrange(False)

    def _buttons(self) -> QHBoxLayout:
        """What opens in windows of their own."""
        row = QHBoxLayout()
        row.addWidget(self.what_if)
        row.addWidget(self.clearance_button)
        row.addStretch(1)
        return row

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
        measured = [
            self.azimuth_motion,
            self.elevation_motion,
            self.drive,
            self.calibrations["azimuth"],
            self.calibrations["elevation"],
        ]
        if wide:
            first, second_ = [*first, *measured[3:]], [*second_, *measured[:3]]
        else:
            first, second_ = [*first[:3], *second_[:2], self.antennas, self.work, *measured], []
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
        narrow = _PICTURE_PX if self.width() >= _NARROW_PX else _SMALL_PICTURE_PX
        self.picture.setFixedWidth(narrow if self.width() < _WIDE_PX else 560)
        self.beside.setFixedWidth(self.picture.width() + 20)
        self.follows.setFixedWidth(self.picture.width())
        self.caption.setFixedWidth(self.picture.width())
        super().resizeEvent(event)

    def _connect(self) -> None:
        self.editor.refused.connect(lambda why: self.failed.emit("Mount not changed", why, ""))
        self.editor.asked.connect(self.refresh)
        for group in self.groups:
            group.edited.connect(self.editor.set_number)
            group.reset_wanted.connect(self.editor.reset)
        self.wrap.wrap_edited.connect(self.editor.set_wrap)
        self.reads_true.true_typed.connect(self.editor.set_true)
        self.at_once.clicked.connect(self.editor.set_both_at_once)
        for axis, table in self.calibrations.items():
            self._connect_calibration(axis, table)
        self.holes.add_wanted.connect(lambda: self.editor.do(with_new_hole, "add an index hole"))
        self.holes.remove_wanted.connect(
            lambda row: self.editor.do(lambda plan: without_hole(plan, row), "remove a hole")
        )
        self.holes.reset_wanted.connect(self.editor.reset_holes)
        self.holes.renamed.connect(self.editor.rename_hole)
        self.holes.moved.connect(self.editor.move_hole)
        self.holes.used.connect(self.editor.use_hole)
        self.antennas.add_wanted.connect(lambda: self.editor.do(with_antenna, "add an antenna"))
        self.antennas.remove_wanted.connect(
            lambda row: self.editor.do(lambda plan: without_antenna(plan, row), "remove an antenna")
        )
        self.antennas.reset_wanted.connect(lambda: self.editor.reset("antennas"))
        self.antennas.renamed.connect(self.editor.rename_antenna)
        self.antennas.typed.connect(self.editor.set_antenna)
        self.steering.activated.connect(self.editor.set_steering)
        self.steering_reset.clicked.connect(lambda: self.editor.reset("steering"))

    def _connect_calibration(self, axis: AxisName, table: CalibrationTable) -> None:
        editor, words = self.editor, f"{axis} dial"
        table.add_wanted.connect(
            lambda: editor.do(lambda plan: with_new_reading(plan, axis), f"add a reading of the {words}")
        )
        table.remove_wanted.connect(
            lambda row: editor.do(
                lambda plan: without_reading(plan, axis, row), f"remove a reading of the {words}"
            )
        )
        table.reset_wanted.connect(lambda: editor.reset(f"mount.{axis}.calibration"))
        table.typed.connect(lambda row, key, value, field: editor.set_reading(axis, row, key, value, field))

    def open_what_if(self) -> None:
        """Changed mounts side by side, in a window of its own."""
        from app.window.pages.mount.what_if.dialog import WhatIfDialog

        if self._what_if is None:
            self._what_if = WhatIfDialog(self.context, self)
        self._what_if.show()
        self._what_if.raise_()

    # --- the focused field --------------------------------------------------------------------------------

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.FocusIn:
            self._show_part(str(watched.property("part") or ""))
        return super().eventFilter(watched, event)

    def _show_part(self, part: str) -> None:
        if part:
            self.picture.show_part(part.partition(":")[0])
            self.caption.setText(caption(part))

    def _watch_fields(self) -> None:
        """Rows come and go, so the fields are looked up again."""
        fresh = False
        for field in self.findChildren(QWidget):
            if field.property("part") and not field.property("watched"):
                fresh = True
                field.setProperty("watched", True)
                field.installEventFilter(self)
        if fresh:
            self._chain_tabs()

    # --- showing ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        plan, scheme = self.context.plan, self.context.scheme
        if self._styled is not scheme:
            self._styled = scheme
            for part in (self.wrap, self.holes, self.drive):
                part.setStyleSheet(indicator_style(scheme))
        for group in self.groups:
            group.refresh(plan, scheme)
        self.wrap.refresh(plan.mount.azimuth)
        for table in self.calibrations.values():
            table.refresh(plan, scheme)
        self.at_once.setChecked(plan.mount.drive.both_axes_at_once)
        self.holes.refresh(plan, scheme)
        self.antennas.refresh(plan, scheme)
        self.steering.setCurrentText(plan.steering)
        given = is_given(plan, "steering")
        self.steering_reset.show_state(given, "led", scheme)
        self.steering.setStyleSheet(combo_style(scheme, given))
        self._show_keyway(plan)
        state = correction_state(plan.mount)
        self.correction.setText(correction_words(plan.mount))
        show_rank(self.correction, "alarm" if state == "void" else "second")
        self.void.setVisible(state != "none")
        self.picture.show_mount(plan.mount, plan.antennas, scheme)
        self.follows.refresh(plan.mount)
        if self._what_if is not None:
            self._what_if.refresh()
        if self._clearance is not None and self._clearance.isVisible():
            self._clearance.refresh()
        self._watch_fields()

    def count(self) -> int:
        """A correction that is void wants to be taken again or removed."""
        return int(correction_state(self.context.plan.mount) == "void")

    def open_clearance(self) -> None:
        """The lengths and the map, in a window of its own."""
        from app.window.pages.mount.clearance.dialog import ClearanceDialog

        if self._clearance is None:
            self._clearance = ClearanceDialog(self.context, self)
        self._clearance.show()
        self._clearance.raise_()

    def _show_keyway(self, plan: Plan) -> None:
        """The compass bearing beside the true one."""
        words = next(value.meaning for value in SEAT if value.path == _KEYWAY)
        result = self.context.result
        if result is not None:
            compass = magnetic_from_true(plan.mount.keyway_bearing_deg, result.seat.declination_deg)
            words = f"true; {compass:.1f} on the compass"
        self.seat.meanings[_KEYWAY].setText(words)
