"""The passes that were wanted, to be ticked where they were missed or are given up."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from app.window.look.scheme import font
from core.base.times import clock
from core.passes.track import Pass
from core.replan import Missed

_NEAR_S = 1.0


class MissedList(QListWidget):
    """A line each, by AOS; Space ticks it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Passes missed: Space ticks one")
        self.setToolTip("Tick what was missed or is given up: it is not planned for any more (Space)")
        self.setFont(font(12))
        self.setUniformItemSizes(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumHeight(132)
        self._passes: tuple[Pass, ...] = ()
        self._first_ticked: tuple[Missed, ...] = ()

    def tick(self, missed: tuple[Missed, ...]) -> None:
        """What is ticked when the passes first show."""
        self._first_ticked = missed

    def show_passes(self, passes: tuple[Pass, ...], now_utc_s: float) -> None:
        """The passes, each with what has become of it by a moment; ticks stay."""
        if passes != self._passes:
            ticked = self.missed if self._passes else self._first_ticked
            self.clear()
            self._passes = passes
            for one in passes:
                self._add(one, ticked)
            begun = sum(one.aos.utc_s <= now_utc_s for one in passes)
            self.setCurrentRow(max(0, begun - 1))
        for row, one in enumerate(passes):
            words = f"{clock(one.aos.utc_s, False)}  {one.satellite}, {_become(one, now_utc_s)}"
            if self.item(row).text() != words:
                self.item(row).setText(words)

    def _add(self, one: Pass, ticked: tuple[Missed, ...]) -> None:
        item = QListWidgetItem(self)
        name = _missed(one)
        known = any(norad == name[0] and abs(near_s - name[1]) < _NEAR_S for norad, near_s in ticked)
        item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
        item.setCheckState(Qt.CheckState.Checked if known else Qt.CheckState.Unchecked)

    @property
    def missed(self) -> tuple[Missed, ...]:
        """What is ticked."""
        ticked = Qt.CheckState.Checked
        return tuple(
            _missed(one) for row, one in enumerate(self._passes) if self.item(row).checkState() == ticked
        )


def _missed(one: Pass) -> Missed:
    return one.norad_id, one.peak.utc_s


def _become(one: Pass, now_utc_s: float) -> str:
    if one.los.utc_s <= now_utc_s:
        return f"over since {clock(one.los.utc_s, False)}"
    return f"under way to {clock(one.los.utc_s, False)}" if one.aos.utc_s <= now_utc_s else "to come"
