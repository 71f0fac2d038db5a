"""What follows from the numbers: bearings of the stops, overlap or gap, and the dial to check against."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from app.window.widgets.labels import heading, label, second
from core.mount.dial.summary import (
    dial_checks,
    elevation_range_words,
    overlap_words,
    stop_words,
    turn_seconds,
    zeta_sum_words,
)
from core.mount.model.chain import zeta_deg
from core.mount.model.station import Mount


class FollowsPart(QWidget):
    """Words and a table, made again from every mount."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: Mount | None = None
        self.zeta, self.sum = heading("", 15, "boresight on the counter-clockwise stop"), second("")
        self.clockwise = heading("", 15, "boresight on the clockwise stop")
        self.words = label(10, name="what follows", wraps=True)
        stops = QGridLayout()
        stops.setHorizontalSpacing(18)
        stops.setVerticalSpacing(1)
        stops.addWidget(second("counter-clockwise stop"), 0, 0)
        stops.addWidget(second("clockwise stop"), 0, 1)
        stops.addWidget(self.zeta, 1, 0)
        stops.addWidget(self.clockwise, 1, 1)
        stops.setColumnStretch(2, 1)
        self.table = QGridLayout()
        self.table.setHorizontalSpacing(16)
        self.table.setVerticalSpacing(2)
        self.table.setColumnMinimumWidth(2, 28)
        self.table.setColumnStretch(5, 1)
        self.rows = (self._rows(0), self._rows(3))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(5)
        column.addLayout(stops)
        column.addWidget(self.sum)
        column.addWidget(self.words)
        column.addSpacing(6)
        column.addWidget(heading("The dial must show", 11))
        column.addLayout(self.table)

    def refresh(self, mount: Mount) -> None:
        """Show what follows from a mount."""
        if mount == self._shown:
            return
        self._shown = mount
        counter_clockwise, clockwise = stop_words(mount)
        self.zeta.setText(counter_clockwise)
        self.clockwise.setText(clockwise)
        self.sum.setText(f"zeta {zeta_deg(mount):.1f} = {zeta_sum_words(mount)}")
        lines = (
            overlap_words(mount),
            elevation_range_words(mount),
            f"a full circle takes {turn_seconds(mount):.0f} s",
        )
        self.words.setText(". ".join(line[0].upper() + line[1:] for line in lines) + ".")
        self._fill(mount)

    def _fill(self, mount: Mount) -> None:
        """Azimuth on the left, elevation on the right."""
        checks = dial_checks(mount)
        sides = [[check for check in checks if check.axis == axis] for axis in ("azimuth", "elevation")]
        for side, rows in zip(sides, self.rows, strict=True):
            for index, (place, reading) in enumerate(rows):
                shown = index < len(side)
                place.setText(side[index].place if shown else "")
                reading.setText(side[index].short if shown else "")
                reading.setAccessibleName(
                    f"{side[index].axis} dial at {side[index].place}: {side[index].reading}" if shown else ""
                )

    def _rows(self, column: int) -> list[tuple[QLabel, QLabel]]:
        rows = []
        for row in range(3):
            place, reading = second("", 9.5, wraps=False), heading("", 12)
            reading.setAlignment(Qt.AlignmentFlag.AlignRight)
            self.table.addWidget(place, row, column)
            self.table.addWidget(reading, row, column + 1)
            rows.append((place, reading))
        return rows
