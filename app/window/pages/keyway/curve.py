"""The curve with its heading, legend, and the choice of the hole and of evening or season."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme, font
from app.window.look.style import checked_style
from app.window.pages.keyway.views.seat_curve import SeatCurve
from app.window.widgets.labels import heading, second
from app.window.widgets.plain import button_words, tip
from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.model.station import Mount
from core.mount.seat.season.study import HoleSeason
from core.mount.seat.season.words import STATISTICS_ONLY
from core.mount.seat.study import SeatStudy
from core.mount.seat.words import loss_words
from core.studies import SeatByEvening

#: From this width on there is room for the legend.
_WIDE = 640
_SEASON = "The share of a season's passes that are not clear in any posture, at each keyway bearing"
_NO_SEASON = f"{_SEASON}; it is worked out first"


class CurvePart(QWidget):
    """Below the station: what passes lose and what the evening is worth at each bearing, or a season.

    Signals:
        season_wanted(): a season is to be shown and none is known for the present plan.
    """

    season_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = SeatCurve()
        self.heading = heading("At each bearing", 10.5)
        self.legend = second("", name="legend of the curve", wraps=False)
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self.buttons: dict[str, QToolButton] = {}
        self.evening = self._choice("evening", "Show what this evening loses", False)
        self.season = self._choice("season", "Show what a season loses", True)
        self._span = QButtonGroup(self)
        self._span.setExclusive(True)
        for button in (self.evening, self.season):
            self._span.addButton(button)
        self.evening.setChecked(True)
        self.evening.setToolTip("Seconds of signal lost at each bearing, for the passes of this evening")
        self.season.setToolTip(_NO_SEASON)
        #: What is chosen, shown as soon as it is known; and the season that is.
        self._wants_season = False
        self._known: tuple[HoleSeason, ...] = ()
        self._study: SeatStudy | None = None
        self._names: tuple[str, ...] = ()
        self._in_use = ""
        self._holes = QHBoxLayout()
        self._holes.setSpacing(2)
        self._caption = second("hole", wraps=False)
        head = QHBoxLayout()
        head.setSpacing(14)
        head.addWidget(self.heading)
        head.addStretch(1)
        spans = QHBoxLayout()
        spans.setSpacing(2)
        for button in (self.evening, self.season):
            spans.addWidget(button)
        head.addLayout(spans)
        head.addWidget(self._caption)
        head.addLayout(self._holes)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(head)
        column.addWidget(self.legend)
        column.addWidget(self.view, 1)

    def _choice(self, words: str, name: str, of_season: bool) -> QToolButton:
        button = QToolButton()
        button.setText(words)
        button.setFont(font(10))
        button.setCheckable(True)
        button.setAccessibleName(name)
        button.clicked.connect(lambda _on=False: self._want(of_season))
        return button

    def _want(self, of_season: bool) -> None:
        """Evening or season; where no season is known it is to be asked for, and shown once it is."""
        self._wants_season = of_season
        self._show_span()
        if of_season and not self._known:
            self.season_wanted.emit()

    def show_season(self, holes: tuple[HoleSeason, ...]) -> None:
        """The season that is known for the present plan, hole by hole; none where none is."""
        if holes is not self._known:
            self._known = holes
            self.season.setToolTip(_SEASON if holes else _NO_SEASON)
            self._show_span()

    def _show_span(self) -> None:
        of_season = self._wants_season and bool(self._known)
        (self.season if of_season else self.evening).setChecked(True)
        self.view.set_season(self._known if of_season else ())
        self._tell(self._study)

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
        self._study = study
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
        hole, season = self.view.shown_hole, self.view.season_hole
        if season is not None:
            self.legend.setText("filled: passes not clear in any posture; bars: as good as the best")
            self.legend.setToolTip(STATISTICS_ONLY)
            return
        if study is None or hole is None:
            self.legend.setText("")
            self.legend.setToolTip("")
            return
        self.legend.setText(f"filled: off the beam; line: worth; bars: best arcs, {loss_words(hole.best)}")
        self.legend.setToolTip(
            "Filled, with the scale on the left: what is off the beam by the passes alone. "
            "The line, with the scale on the right: what the evening is worth, and a ring where it is best. "
            "The band under the curve deepens with the number split, worked in part or out of reach; "
            "the bars mark where it is as good as the best seat with this hole, in those numbers and within "
            f"{NEAR_ENOUGH_S:g} s, diamonds single bearings that are, and the notch that seat."
        )
