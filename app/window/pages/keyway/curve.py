"""The curve with its heading, legend and the choice of the hole it is drawn for."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme, font
from app.window.look.style import checked_style
from app.window.pages.keyway.views.seat_curve import SeatCurve
from app.window.widgets.labels import heading, second
from app.window.widgets.plain import button_words, tip
from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.model.station import Mount
from core.mount.seat.study import SeatStudy
from core.mount.seat.words import loss_words
from core.studies import SeatByEvening

#: From this width on there is room for the legend.
_WIDE = 600


class CurvePart(QWidget):
    """Below the station: what the passes alone lose and what the evening is worth at each bearing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = SeatCurve()
        self.heading = heading("At each keyway bearing", 10.5)
        self.legend = second("", name="legend of the curve", wraps=False)
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self.buttons: dict[str, QToolButton] = {}
        self._names: tuple[str, ...] = ()
        self._in_use = ""
        self._holes = QHBoxLayout()
        self._holes.setSpacing(2)
        self._caption = second("hole", wraps=False)
        head = QHBoxLayout()
        head.setSpacing(14)
        head.addWidget(self.heading)
        head.addWidget(self.legend)
        head.addStretch(1)
        head.addWidget(self._caption)
        head.addLayout(self._holes)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(head)
        column.addWidget(self.view, 1)

    def minimumSizeHint(self) -> QSize:
        return QSize(360, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        # The legend gives way first; its tool tip and the curve's description say the same.
        self.legend.setVisible(self.width() >= _WIDE)
        super().resizeEvent(event)

    def set_scheme(self, scheme: Scheme) -> None:
        """Other colours."""
        self.view.set_scheme(scheme)
        style = checked_style("QToolButton", scheme)
        if style != self.styleSheet():
            self.setStyleSheet(style)

    def show_study(
        self, study: SeatStudy | None, mount: Mount, waiting: str, evenings: SeatByEvening | None = None
    ) -> None:
        """The curves of a study, or words in their place; the evenings' over them once they are there."""
        names = tuple(hole.name for hole in mount.index_holes)
        if names != self._names:
            self._build(names)
        self.view.set_study(study if study is not None and study.passes else None, waiting)
        self.view.set_evenings(evenings, mount)
        self._tell(study)

    def show_seat(self, hole: str, bearing_deg: float) -> None:
        """The bearing; another hole in use also shows its curve."""
        if hole != self._in_use:
            self._in_use = hole
            self._choose(hole)
        self.view.set_bearing(bearing_deg)

    def _build(self, names: tuple[str, ...]) -> None:
        self._names, self._in_use = names, ""
        for button in self.buttons.values():
            self._holes.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = {}
        for name in names:
            button = QToolButton()
            button.setText(button_words(name))
            button.setFont(font(10, True))
            button.setCheckable(True)
            button.setAccessibleName(f"Show the curve of hole {name}")
            button.setToolTip(tip(f"What each bearing loses through hole {name}; the pin stays where it is"))
            button.clicked.connect(lambda _on=False, name=name: self._choose(name))
            self._group.addButton(button)
            self._holes.addWidget(button)
            self.buttons[name] = button
        for widget in (self._caption, *self.buttons.values()):
            widget.setVisible(len(names) > 1)

    def _choose(self, name: str) -> None:
        self.buttons[name].setChecked(True)
        self.view.set_hole(name)
        self._tell(self.view.study)

    def _tell(self, study: SeatStudy | None) -> None:
        hole = self.view.shown_hole
        if study is None or hole is None:
            self.legend.setText("")
            return
        self.legend.setText(f"filled: off the beam; line: worth; bars: best arcs, {loss_words(hole.best)}")
        self.legend.setToolTip(
            "Filled, with the scale on the left: what is off the beam by the passes alone. "
            "The line, with the scale on the right: what the evening is worth, and a ring where it is best. "
            "The band under the curve deepens with the number split, worked in part or out of reach; "
            "the bars mark where it is as good as the best seat with this hole, in those numbers and within "
            f"{NEAR_ENOUGH_S:g} s, diamonds single bearings that are, and the notch that seat."
        )
