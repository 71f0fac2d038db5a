"""The season in two tables: the mount's holes at their best, and where holes would serve best."""

from __future__ import annotations

from PySide6.QtWidgets import QHeaderView, QTableView

from app.window.widgets.tables import WordsModel, dress_table


def table_of(
    name: str, headings: tuple[str, ...], tips: tuple[str, ...], rows: int
) -> tuple[QTableView, WordsModel]:
    """A table with room for so many rows."""
    table = QTableView()
    model = WordsModel(table)
    model.headings, model.tips, model.right = headings, tips, frozenset(range(1, len(headings)))
    table.setModel(model)
    dress_table(table, name, 23)
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
    table.setFixedHeight(34 + 23 * rows)
    return table, model


HOLE_HEADS = (
    "Hole",
    "Offset",
    "Drilled",
    "Best keyway",
    "As good",
    "10 %",
    "Half",
    "90 %",
)
HOLE_TIPS = (
    "The mount's own index holes",
    "From the pin to the datum mark, clockwise from above",
    "From the datum mark, clockwise from above",
    "True keyway bearing at which the fewest passes are not clear in any posture",
    "How wide the stretch is that is as good",
    *("So many evenings have no larger share of passes that are not clear",) * 3,
)
DRILL_HEADS = ("Holes", "Drilled", "Offsets", "Not clear", "Without loss", "Evenly")
DRILL_TIPS = (
    "How many index holes",
    "Where, clockwise from the datum mark as seen from above",
    "From the pin to the datum mark, clockwise from above",
    "Share of passes through the best hole each evening, on the evenings not looked at when choosing",
    "How many of those evenings lose no pass",
    "The same with as many holes evenly spaced",
)
