"""Clearance, in a window of its own: lengths on the left, the map and what is nearest on the right."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import font
from app.window.look.style import indicator_style
from app.window.pages.mount.clearance.edits import with_lengths, with_row, without_row
from app.window.pages.mount.clearance.map_view import MapView
from app.window.pages.mount.clearance.state import ClearanceNow
from app.window.pages.mount.clearance.tables import BoomTable, guy_table, leg_table
from app.window.pages.mount.editor import MountEditor
from app.window.state.context import Context
from app.window.widgets.fields import NumberField
from app.window.widgets.labels import heading, label, push_button, second
from app.window.widgets.plain import plain_label
from app.window.widgets.typed.rows import NumberTable
from app.window.widgets.typed.values import Value, ValueGroup
from core.base.edits import changed, reset
from core.base.typed import Quantity
from core.mount.check.cable import cable_words
from core.mount.check.clear_map import map_sentence, nearest_words
from core.mount.clearance.lengths import Cable, Column
from core.plan.document import Plan

_LENGTHS = (
    Value("clearance.axis_height_mm", "Axis &height", "mm", "elevation axis over the ground", ""),
    Value("clearance.axis_forward_mm", "Axis &forward", "mm", "before the azimuth axis", ""),
    Value("clearance.crossboom_left_mm", "Crossboom &left", "mm", "looking along boresight", ""),
    Value("clearance.crossboom_right_mm", "Crossboom &right", "mm", "looking along boresight", ""),
    Value("clearance.gap_mm", "Least &gap", "mm", "nearer is refused; holds thickness and sag", ""),
)
_COLUMN = (
    Value("clearance.column.radius_mm", "Radius", "mm", "of the column under the joint", ""),
    Value("clearance.column.top_height_mm", "Top", "mm", "over the ground", ""),
)
_CABLE = (
    Value("clearance.cable.from_keyway_deg", "Leaves at", "deg", "clockwise from the keyway", ""),
    Value("clearance.cable.radius_mm", "Radius", "mm", "from the azimuth axis", ""),
    Value("clearance.cable.height_mm", "Height", "mm", "over the ground", ""),
    Value("clearance.cable.slack_mm", "Slack", "mm", "to be had for the whole travel", ""),
)
_CAUTIONS = (
    "At the first full turn someone stands by who can stop it and watches tails and cable. "
    "Power off before hands go near. The map is of straight lines: measure, and let the gap hold what sags."
)
_NOT_ASKED = "Nothing is checked for striking: give the lengths of the station first."
_SIZE_PX = (1240, 740)


class ClearanceDialog(QDialog):
    """The lengths are edited through the document; each edit is a step of undo."""

    def __init__(self, context: Context, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Clearance")
        self.setFont(font(11))
        self._context = context
        self.now = ClearanceNow(context, self)
        self.editor = MountEditor(context.document, self)
        self.start_button = push_button(
            "&Check for striking", self._start, tip="Start from a boom for each antenna, and three legs"
        )
        self.end_button = push_button(
            "Stop checking", self._end, tip="Take the lengths out of the plan; undo brings them back"
        )
        self.close_button = push_button("Close", self.close, tip="Close (Esc); the lengths are kept")
        self.lengths = ValueGroup("Station", _LENGTHS)
        self.column, self.cable = ValueGroup("Column", _COLUMN), ValueGroup("Cable", _CABLE)
        self.column_there = QCheckBox("Check the col&umn")
        self.cable_there = QCheckBox("The cable leaves &what turns")
        self.booms, self.legs, self.guys = BoomTable(), leg_table(), guy_table()
        self.view = MapView()
        self.boom = NumberField("Boom from the keyway", "degrees", 0, quantity=_BOOM)
        self.elevation = NumberField("Elevation", "degrees", 0, quantity=_ELEVATION)
        self.nearest = label(12, bold=True, name="what is nearest to what", wraps=True)
        self.told = second("", 10, "what is forbidden")
        self.wound = second("", 10, "the cable's take-up")
        self.cautions = second(_CAUTIONS, 10, "cautions")
        self._build()
        self._connect()
        self.refresh()

    # --- laying out ---------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.form = QWidget()
        self.form.setObjectName("page")
        column = QVBoxLayout(self.form)
        column.setContentsMargins(0, 0, 14, 0)
        column.setSpacing(14)
        for part in (self.lengths, self.booms, self.legs, self.guys):
            column.addWidget(part)
        for box, group in ((self.column_there, self.column), (self.cable_there, self.cable)):
            column.addWidget(box)
            column.addWidget(group)
        column.addWidget(self.end_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        self.area = QScrollArea()
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(self.form)
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setMinimumWidth(664)
        across = QHBoxLayout()
        across.setSpacing(20)
        across.addWidget(self.area, 11)
        across.addWidget(self._map_part(), 10)
        self.nothing = QWidget()
        empty = QVBoxLayout(self.nothing)
        empty.addStretch(1)
        not_asked = label(12, wraps=True)
        not_asked.setText(_NOT_ASKED)
        empty.addWidget(not_asked)
        empty.addWidget(self.start_button, 0, Qt.AlignmentFlag.AlignLeft)
        empty.addStretch(2)
        self.filled = QWidget()
        self.filled.setLayout(across)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(24, 16, 24, 14)
        outer.setSpacing(8)
        outer.addWidget(heading("Clearance: where the mount may go", 17))
        outer.addWidget(
            second("In the tripod's frame. What the antenna can see over is the horizon: another thing.", 10)
        )
        outer.addWidget(self.nothing, 1)
        outer.addWidget(self.filled, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.cautions, 1)
        foot.addWidget(self.close_button)
        outer.addLayout(foot)
        for button in self.findChildren(QPushButton):  # Enter takes what is typed, and presses nothing
            button.setAutoDefault(False)
        self.resize(*_SIZE_PX)

    def _map_part(self) -> QWidget:
        part = QWidget()
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.view, 1)
        row = QGridLayout()
        row.setHorizontalSpacing(8)
        for place, (words, field, unit) in enumerate(
            (("&Boom", self.boom, "deg from the keyway"), ("&Elevation", self.elevation, "deg"))
        ):
            field.setMaximumWidth(64)
            row.addWidget(plain_label(words, buddy=field), 0, 3 * place)
            row.addWidget(field, 0, 3 * place + 1)
            row.addWidget(second(unit, wraps=False), 0, 3 * place + 2)
        row.setColumnStretch(6, 1)
        column.addLayout(row)
        for shown in (self.nearest, self.told, self.wound):
            column.addWidget(shown)
        self.nearest.setMinimumHeight(44)
        return part

    def _connect(self) -> None:
        editor = self.editor
        for group in (self.lengths, self.column, self.cable):
            group.edited.connect(editor.set_number)
            group.reset_wanted.connect(editor.reset)
        editor.asked.connect(self.refresh)
        for table in (self.booms, self.legs, self.guys):
            self._connect_table(table)
        self.booms.renamed.connect(
            lambda row, name, field: editor.do(
                lambda plan: changed(plan, f"clearance.booms.{row}.name", name), f"boom {name}", field
            )
        )
        self.booms.laid.connect(
            lambda row, lie: editor.do(
                lambda plan: changed(plan, f"clearance.booms.{row}.elements", lie), f"elements {lie}"
            )
        )
        self.column_there.clicked.connect(lambda on: self._set("column", Column() if on else None))
        self.cable_there.clicked.connect(lambda on: self._set("cable", Cable() if on else None))
        self.view.place_wanted.connect(self._look)
        self.boom.value_edited.connect(lambda value: self._look(value, self.view.place[1]))
        self.elevation.value_edited.connect(lambda value: self._look(self.view.place[0], value))
        self.now.changed.connect(self.refresh)
        self._context.document.plan_changed.connect(lambda _plan: self.refresh())

    def _connect_table(self, table: NumberTable) -> None:
        editor, name = self.editor, table.name
        one = table.one.split()[-1]
        table.add_wanted.connect(lambda: editor.do(lambda plan: with_row(plan, name), f"add {table.one}"))
        table.remove_wanted.connect(
            lambda row: editor.do(lambda plan: without_row(plan, name, row), f"remove {table.one}")
        )
        table.typed.connect(
            lambda row, key, value, field: editor.set_number(
                f"{table.path}.{row}.{key}", value, field, f"{one} {row + 1}:"
            )
        )

    # --- edits --------------------------------------------------------------------------------------------

    def _start(self) -> None:
        self.editor.do(with_lengths, "check for striking")

    def _end(self) -> None:
        self.editor.do(lambda plan: reset(plan, "clearance"), "stop checking for striking")

    def _set(self, name: str, value: Column | Cable | None) -> None:
        def edit(plan: Plan) -> Plan:
            return changed(plan, f"clearance.{name}", value)

        self.editor.do(edit, f"{name} given" if value is not None else f"no {name}")

    @Slot(float, float)
    def _look(self, boom_deg: float, e_deg: float) -> None:
        """Another place to ask about."""
        self.view.place = (boom_deg, e_deg)
        self._show_place()

    # --- showing ------------------------------------------------------------------------------------------

    @Slot()
    def refresh(self) -> None:
        plan, scheme = self._context.plan, self._context.scheme
        lengths = plan.clearance
        self.nothing.setVisible(lengths is None)
        self.filled.setVisible(lengths is not None)
        if lengths is None:
            return
        self.lengths.refresh(plan, scheme)
        self.booms.show_booms(lengths.booms, scheme)
        self.legs.show_rows(lengths.legs, scheme)
        self.guys.show_rows(lengths.guys, scheme)
        for there, group, given in (
            (self.column_there, self.column, lengths.column is not None),
            (self.cable_there, self.cable, lengths.cable is not None),
        ):
            there.setStyleSheet(indicator_style(scheme))
            there.setChecked(given)
            group.setVisible(given)
            if given:
                group.refresh(plan, scheme)
        travel = plan.mount.azimuth.travel_deg
        self.wound.setText("" if lengths.cable is None else cable_words(lengths.cable, travel))
        if self.isVisible():
            self.now.ask()
        shown = None if self.now.stale else self.now.map
        self.view.show_map(shown, self.now.tracks, scheme)
        self.told.setText("Working out the map..." if shown is None else map_sentence(shown))
        self._show_place()

    def _show_place(self) -> None:
        lengths, (boom_deg, e_deg) = self._context.plan.clearance, self.view.place
        if lengths is None:
            return
        self.boom.show_value(boom_deg)
        self.elevation.show_value(e_deg)
        words = "" if self.now.stale else nearest_words(lengths, boom_deg, e_deg)
        self.nearest.setText(words)
        self.view.show_place(boom_deg, e_deg, words)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.refresh()


#: Where the boom is asked about.
_BOOM = Quantity("boom from the keyway", "deg", -180.0, 180.0)
_ELEVATION = Quantity("elevation", "deg", 0.0, 180.0)
