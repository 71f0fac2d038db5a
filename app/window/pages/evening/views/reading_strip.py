"""The moment pointed at, in large figures: clocks, dials, true direction, range."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import font
from app.window.pages.evening.state import EveningState
from app.window.views.painting import painting
from core.base.times import clock
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.line import wrap_deg
from core.mount.evening.results import contact_at
from core.place.zones import local_clock

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_IDLE = "Point at a stroke, a hill, the list or the sky to read a moment."


_ON_LINE = {
    "contact": "on a pass",
    "move": "moving",
    "wait": "waits at the next start",
    "idle": "idle",
    "stowing": "moving to stow",
    "stowed": "stowed",
    "left": "left standing",
}


@dataclass(frozen=True)
class Figure:
    """One figure of the strip: a small word over a large value."""

    word: str
    value: str
    unit: str = ""


class ReadingStrip(QWidget):
    """Its room is kept, so that nothing is covered or moved by it; it is seen only while it is used."""

    def __init__(self, state: EveningState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.state = state
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Reading at the moment pointed at")
        state.moved.connect(self._on_moved)
        state.rebuilt.connect(self._on_moved)

    def sizeHint(self) -> QSize:
        return QSize(600, 44)

    def _on_moved(self) -> None:
        self.setAccessibleDescription(self.words())
        self.update()

    def figures(self) -> list[Figure]:
        """What is shown, in order; empty while nothing is pointed at."""
        state, moment = self.state, self.state.moment_s
        if moment is None:
            return []
        told = [
            Figure("UTC", clock(moment)),
            Figure("local", local_clock(moment, state.zone)),
        ]
        reading = state.reading()
        if reading is None:
            return [*told, *self._between()]
        wrap = [] if reading.m_deg is None else [self._wrap(reading.m_deg)]
        return [
            *told,
            Figure("dial az", reading.dial_azimuth or "none"),
            Figure("dial el", reading.dial_elevation or "none"),
            *wrap,
            Figure("azimuth", f"{reading.azimuth_deg:.1f}", "deg true"),
            Figure("elevation", f"{reading.elevation_deg:.1f}", "deg"),
            Figure("range", f"{reading.range_km:.0f}", "km"),
        ]

    def _between(self) -> list[Figure]:
        """The dials between passes, where the line has the mount."""
        place, mount = self.state.between(), self.state.mount
        if place is None:
            return []
        return [
            Figure("dial az", azimuth_dial(place.m_deg, mount.azimuth).short),
            Figure("dial el", elevation_dial(place.e_deg, mount.elevation).short),
            self._wrap(place.m_deg),
        ]

    def _wrap(self, m_deg: float) -> Figure:
        """The cable's twist, clockwise from mid travel."""
        return Figure("wrap", f"{wrap_deg(m_deg, self.state.mount):+.0f}", "deg")

    def state_words(self) -> str:
        """Which pass is read and how it is worked then, or what the hand does between passes."""
        state, moment = self.state, self.state.moment_s
        if moment is None:
            return _IDLE
        index, reading = state.read_index, state.reading()
        if index is not None and reading is not None:
            off = f", {reading.off_deg:.1f} deg off" if reading.off_deg >= 0.05 else ""
            return f"{state.check(index).pass_.satellite}: {reading.state}{off}"
        _running, following = contact_at(state.order, moment)
        place = state.between()
        here = "no pass" if place is None else _ON_LINE[place.kind]
        if following is None:
            return here
        words = f"{here}; next {following.check.pass_.satellite} at {clock(following.start_utc_s, False)} UTC"
        move = following.move_before
        return words if move is None else f"{words}, {move.seconds_needed:.0f} s of moving"

    def words(self) -> str:
        """Everything shown, in words."""
        figures = ", ".join(f"{f.word} {f.value} {f.unit}".strip() for f in self.figures())
        return f"{figures}. {self.state_words()}" if figures else self.state_words()

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self.state.moment_s is None:
            return
        scheme = self.state.scheme
        with painting(self) as painter:
            painter.fillRect(self.rect(), scheme.color("card"))
            painter.setPen(QPen(scheme.color("edge"), 1.0))
            painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
            x, figures = 12.0, self.figures()
            small, large = font(8.5), font(15, True)
            measure, minor = QFontMetricsF(large), QFontMetricsF(small)
            for figure in figures:
                width = measure.horizontalAdvance(figure.value) + 2.0
                unit = minor.horizontalAdvance(figure.unit) + 4.0 if figure.unit else 0.0
                painter.setFont(small)
                painter.setPen(scheme.color("faint"))
                painter.drawText(QRectF(x, 2.0, 90.0, 15.0), _LEFT, figure.word)
                painter.drawText(QRectF(x + width + 1.0, 18.0, unit + 4.0, 24.0), _LEFT, figure.unit)
                painter.setFont(large)
                painter.setPen(scheme.color("figure"))
                painter.drawText(QRectF(x, 15.0, width + 4.0, 26.0), _LEFT, figure.value)
                x += max(width + unit, minor.horizontalAdvance(figure.word)) + 16.0
            self._paint_state(painter, x, bool(figures))

    def _paint_state(self, painter: QPainter, left: float, beside: bool) -> None:
        """Words at the end of the row, in two lines where there is little room."""
        face = font(10, beside)
        painter.setFont(face)
        painter.setPen(self.state.scheme.color("ink" if beside else "faint"))
        box = QRectF(left, 4.0, self.width() - left - 10.0, self.height() - 8.0)
        painter.drawText(box, Qt.TextFlag.TextWordWrap | _LEFT, self.state_words())
