"""Which term of the pointing budget rules: a bar a term, before the sighting pale, after it strong.

The marks are those of the saved chart: filled is another error at every reading, step or satellite, hatched
is the same all evening; the term to improve first has the accent and says so.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.marks import hatch
from app.window.look.scheme import LIGHT, Scheme, font
from app.window.pages.setup.budget_chart import bar_words
from app.window.views.painting import painting
from core.setup.budget.shares import AntennaShares, Share

_MOST_ROW_PX, _LEAST_ROW_PX, _LEGEND_PX = 46.0, 30.0, 22.0
_NAME_PT, _WORDS_PT = 11.0, 10.5


class BudgetBars(QWidget):
    """One antenna's terms."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._scheme = LIGHT
        self._shares: AntennaShares | None = None

    def sizeHint(self) -> QSize:
        return QSize(360, 300)

    def minimumSizeHint(self) -> QSize:
        count = 0 if self._shares is None else len(self._shares.shares)
        return QSize(260, round(max(count * _LEAST_ROW_PX, 60.0) + _LEGEND_PX))

    def show_shares(self, shares: AntennaShares | None, scheme: Scheme) -> None:
        """Another antenna, or another answer."""
        if (shares, scheme) == (self._shares, self._scheme):
            return
        self._shares, self._scheme = shares, scheme
        told = () if shares is None else shares.shares
        self.setAccessibleDescription("; ".join(f"{one.name}: {self._words(one)}" for one in told))
        self.updateGeometry()
        self.update()

    def _words(self, one: Share) -> str:
        if self._shares is None:
            return ""
        first = ", improve first" if one.name in self._shares.improve_first else ""
        return bar_words(one, self._shares.after_deg is not None) + first

    def paintEvent(self, _event: QPaintEvent) -> None:
        shares = self._shares
        if shares is None or not shares.shares:
            return
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            row_px = min((self.height() - _LEGEND_PX) / len(shares.shares), _MOST_ROW_PX)
            most = max(max(one.before or 0.0, one.after or 0.0) for one in shares.shares) or 1.0
            for place, one in enumerate(shares.shares):
                self._paint_row(painter, one, QRectF(0.0, place * row_px, self.width(), row_px), most)
            self._paint_legend(painter, len(shares.shares) * row_px)

    def _paint_row(self, painter: QPainter, one: Share, row: QRectF, most: float) -> None:
        """The name and the words over the bars."""
        assert self._shares is not None
        scheme, first = self._scheme, one.name in self._shares.improve_first
        painter.setFont(font(_NAME_PT, first))
        painter.setPen(scheme.color("ink"))
        line = QFontMetricsF(font(_NAME_PT)).ascent()
        painter.drawText(QPointF(row.left() + 1.0, row.top() + line), one.name)
        painter.setFont(font(_WORDS_PT, first))
        place = QRectF(row.left(), row.top(), row.width() - 2.0, line + 4.0)
        painter.drawText(
            place, int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter), self._words(one)
        )
        sighted = self._shares.after_deg is not None
        strong, soft = ("accent", "accent_soft") if first else ("signal", "signal_soft")
        under = row.top() + line + 4.0
        room = row.bottom() - under - 3.0
        for share, high, role in ((one.before, 1.0, soft if sighted else strong), (one.after, 0.6, strong)):
            if share:
                box = QRectF(
                    row.left(), under, max(share / most * (row.width() - 2.0), 1.5), max(room * high, 3.0)
                )
                self._paint_bar(painter, box, one.fixed, role)

    def _paint_bar(self, painter: QPainter, box: QRectF, fixed: bool, role: str) -> None:
        path = QPainterPath()
        path.addRect(box)
        if not fixed:
            painter.fillPath(path, self._scheme.color(role))
            return
        painter.fillPath(path, self._scheme.color("card"))
        hatch(painter, path, self._scheme.color(role))

    def _paint_legend(self, painter: QPainter, top: float) -> None:
        painter.setFont(font(9.5))
        painter.setPen(self._scheme.color("faint"))
        assert self._shares is not None
        pale = "" if self._shares.after_deg is None else "; pale: before the sighting"
        words = f"hatched: the same all evening{pale}"
        painter.drawText(QRectF(0.0, top + 2.0, self.width(), _LEGEND_PX), Qt.AlignmentFlag.AlignLeft, words)
