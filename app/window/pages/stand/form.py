"""The left side of the Stand page: every number of what stands, of the wind, and of what is near."""

from __future__ import annotations

from functools import partial
from typing import cast

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme
from app.window.pages.stand import numbers
from app.window.pages.stand.tables import (
    NamedTable,
    area_table,
    foot_table,
    guy_table,
    hung_table,
    mass_table,
    near_table,
)
from app.window.widgets.fields import NumberField
from app.window.widgets.labels import second
from app.window.widgets.plain import plain_label
from app.window.widgets.rooms import Scrolled
from app.window.widgets.typed.editing import PlanEditor
from app.window.widgets.typed.rows import NumberTable
from app.window.widgets.typed.values import ValueGroup
from core.base.edits import changed
from core.plan.document import Plan
from core.plan.part_edits import StandList, with_forecast, with_stand_row, without_stand_row
from core.plan.quantities import QUANTITIES

_THEIRS = "Those of the clearance on the Mount page count, until one is typed here."


class StandForm(Scrolled):
    """Groups under each other, and the longer lists, which the page puts where there is room.

    Attributes:
        weights, ground: masses and areas; legs and guys.
    """

    def __init__(self, editor: PlanEditor) -> None:
        super().__init__("numbers of the stand", (22, 14, 12, 16))
        self.editor = editor
        self.mean = self._forecast_field("Forecast mean", "mean_m_s")
        self.gust = self._forecast_field("Forecast gusts", "gust_m_s")
        self.wind = ValueGroup("Wind", numbers.WIND, compact=True)
        self.tripod = ValueGroup("Tripod and ground", numbers.TRIPOD, compact=True)
        self.wishes = ValueGroup("Wishes of the seat", numbers.WISHES, compact=True)
        self.groups = (self.wind, self.tripod, self.wishes)
        self.masses, self.areas, self.hung = mass_table(), area_table(), hung_table()
        self.legs, self.guys, self.near = foot_table(), guy_table(), near_table()
        self.tables: tuple[NumberTable, ...] = (
            self.near, self.masses, self.areas, self.hung, self.legs, self.guys,
        )  # fmt: skip
        self.theirs = {"legs": second(_THEIRS), "guys": second(_THEIRS)}
        for row, (words, field) in enumerate(
            (("&Forecast mean", self.mean), ("Forec&ast gusts", self.gust)), self.wind.grid.rowCount()
        ):
            self.wind.grid.addWidget(plain_label(words, field), row, 0)
            self.wind.grid.addWidget(field, row, 1)
            self.wind.grid.addWidget(second("m/s"), row, 2)
        parts: tuple[QWidget, ...] = (
            self.wind,
            *(self.near, self.wishes, self.tripod),
        )
        for part in parts:
            self.column.addWidget(part)
        self.column.addStretch(1)
        self.weights = _side_by_side("masses and areas", (self.masses, self.hung), (self.areas,))
        self.ground = _side_by_side(
            "legs and guys", (self.legs, self.theirs["legs"]), (self.guys, self.theirs["guys"])
        )
        self._connect()

    def _forecast_field(self, words: str, key: str) -> NumberField:
        field = NumberField(words, "m/s", 2, quantity=QUANTITIES[f"stand.forecast.{key}"])
        field.may_be_empty = True
        field.setMaximumWidth(96)
        field.setPlaceholderText("not told")
        return field

    def _connect(self) -> None:
        for group in self.groups:
            group.edited.connect(self.editor.set_number)
            group.reset_wanted.connect(self.editor.reset)
        for field, key in ((self.mean, "mean_m_s"), (self.gust, "gust_m_s")):
            field.value_edited.connect(partial(self._set_forecast, key, field))
            field.cleared.connect(partial(self._set_forecast, key, field, None))
        for table in self.tables:
            self._connect_table(table)

    def _connect_table(self, table: NumberTable) -> None:
        editor, name = self.editor, cast(StandList, table.name)
        word = table.one.split()[-1]
        table.add_wanted.connect(
            lambda: editor.do(lambda plan: with_stand_row(plan, name), f"add {table.one}")
        )
        table.remove_wanted.connect(
            lambda row: editor.do(lambda plan: without_stand_row(plan, name, row), f"remove {word} {row + 1}")
        )
        table.typed.connect(
            lambda row, key, value, field: editor.set_number(
                f"{table.path}.{row}.{key}", value, field, f"{word} {row + 1}:"
            )
        )
        if isinstance(table, NamedTable):
            table.renamed.connect(
                lambda row, text, field: editor.set_text(f"{table.path}.{row}.name", text, field, word)
            )
            table.ticked.connect(
                lambda row, key, on: editor.do(
                    lambda plan: changed(plan, f"{table.path}.{row}.{key}", on),
                    f"{word} {row + 1}: {'' if on else 'not '}{key}",
                )
            )

    def _set_forecast(self, key: str, field: NumberField, value: float | None) -> None:
        def edit(plan: Plan) -> Plan:
            assert plan.stand is not None
            told = plan.stand.forecast
            mean = None if told is None else told.mean_m_s
            gust = None if told is None else told.gust_m_s
            return with_forecast(plan, *((value, gust) if key == "mean_m_s" else (mean, value)))

        words = f"{field.accessibleName().partition(',')[0].lower()}"
        self.editor.do(edit, f"{words} {'left out' if value is None else f'{value:g} m/s'}", field)

    def refresh(self, plan: Plan, scheme: Scheme) -> None:
        """Show the plan's stand, which must be there."""
        stand, lengths = plan.stand, plan.clearance
        assert stand is not None
        for group in self.groups:
            group.refresh(plan, scheme)
        forecast = stand.forecast
        self.mean.show_value(None if forecast is None else forecast.mean_m_s)
        self.gust.show_value(None if forecast is None else forecast.gust_m_s)
        self.masses.show_named(stand.masses, scheme)
        self.areas.show_named(stand.areas, scheme)
        self.hung.show_named(stand.hung, scheme)
        self.near.show_named(stand.near, scheme)
        self.legs.show_rows(stand.legs, scheme)
        self.guys.show_rows(stand.guys, scheme)
        self.theirs["legs"].setVisible(not stand.legs and lengths is not None and bool(lengths.legs))
        self.theirs["guys"].setVisible(not stand.guys and lengths is not None and bool(lengths.guys))


def _side_by_side(name: str, *columns: tuple[QWidget, ...]) -> Scrolled:
    """Lists in columns that are scrolled together."""
    area = Scrolled(name)
    across = QHBoxLayout()
    across.setSpacing(24)
    for parts in columns:
        column = QVBoxLayout()
        column.setSpacing(14)
        for part in parts:
            column.addWidget(part)
        column.addStretch(1)
        across.addLayout(column)
    across.addStretch(1)
    area.column.addLayout(across)
    area.column.addStretch(1)
    return area
