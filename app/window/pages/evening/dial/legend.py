"""The legend under the dial: each mark painted by what paints it on the dial, with its word."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import Scheme, font
from app.window.pages.evening.dial.line_paint import behind_pen, leg_pen, paint_cross
from app.window.pages.evening.state import EveningState
from app.window.pages.evening.views.stroke_paint import STROKE_PX, paint_rest, paint_sample, tone
from app.window.views.painting import painting
from app.window.views.time_axis import LEFT_PX
from app.window.widgets.plain import tip
from core.mount.evening.drawn import Kind
from core.mount.evening.line import LegKind
from core.mount.evening.moment import KIND_WORDS
from core.mount.model.results import Verdict
from core.mount.model.station import POSTURES

_HEIGHT_PX = 22
_MARK_PX, _BESIDE_PX = 22.0, 5.0
#: Room between two entries, at most and at least.
_GAP_PX, _LEAST_GAP_PX = 20.0, 9.0
_POINTS = 9.0


@dataclass(frozen=True)
class Entry:
    """A mark and its word; ``paint`` draws the mark along a line."""

    words: str
    paint: Callable[[QPainter, QLineF, Scheme], None]


def _worked(kind: Kind, verdict: Verdict = Verdict.UPRIGHT, words: str = "") -> Entry:
    def paint(painter: QPainter, line: QLineF, scheme: Scheme) -> None:
        paint_sample(painter, kind, line, tone(scheme, verdict), scheme, STROKE_PX)

    return Entry(words or KIND_WORDS[kind], paint)


def _leg(kind: LegKind, words: str) -> Entry:
    def paint(painter: QPainter, line: QLineF, scheme: Scheme) -> None:
        painter.setPen(leg_pen(scheme, kind))
        painter.drawLine(line)
        if kind == "misfit":
            paint_cross(painter, scheme, line.center())

    return Entry(words, paint)


def _rest(painter: QPainter, line: QLineF, scheme: Scheme) -> None:
    paint_rest(painter, scheme, line.x1(), line.x2(), line.y1())


def _behind(painter: QPainter, line: QLineF, scheme: Scheme) -> None:
    painter.setPen(behind_pen(scheme))
    painter.drawLine(line)


_UPRIGHT, _OVER = _worked(Kind.UPRIGHT), _worked(Kind.OVER_THE_TOP)
_LOSES = _worked(Kind.UPRIGHT, Verdict.PART, "split or part")
_TURNS, _HIDDEN = _worked(Kind.MOVING, Verdict.SPLIT), _worked(Kind.HIDDEN)
#: A pass that loses nothing by itself is let go for another one: in the tone of its verdict.
_LET_GO = {lost: _worked(Kind.LET_GO, Verdict.PART if lost else Verdict.UPRIGHT) for lost in (True, False)}
_RESTS, _BEHIND = Entry("rests at a guard", _rest), Entry("not worked", _behind)
_MOVE, _MISFIT = _leg("move", "moves, waits"), _leg("misfit", "does not fit")


def entries(state: EveningState) -> tuple[Entry, ...]:
    """The marks that are on the dial now, those that are asked for first."""
    paths = [state.paths[index] for index in state.contact_of]
    kinds = set().union(*(path.kind.tolist() for path in paths))
    losing = [state.check(i).verdict not in POSTURES for i in state.contact_of]
    let_go = [lost for lost, path in zip(losing, paths, strict=True) if (path.kind == Kind.LET_GO).any()]
    there = (
        (_UPRIGHT, Kind.UPRIGHT in kinds),
        (_OVER, Kind.OVER_THE_TOP in kinds),
        (_LOSES, any(losing)),
        (_LET_GO[any(let_go)], bool(let_go)),
        (_TURNS, Kind.MOVING in kinds),
        (_RESTS, any(path.resting.any() for path in paths)),
        (_MOVE, any(leg.kind in {"move", "wait"} for leg in state.legs)),
        (_MISFIT, any(leg.kind == "misfit" for leg in state.legs)),
        (_BEHIND, len(paths) < len(state.paths)),
        (_HIDDEN, Kind.HIDDEN in kinds),
    )
    return tuple(entry for entry, shown in there if shown)


class DialLegend(QWidget):
    """One line of marks; what does not fit on it is left to its tool tip."""

    def __init__(self, state: EveningState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._state = state
        self.entries: tuple[Entry, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Legend of the evening on the dial")
        state.rebuilt.connect(self._renew)

    def sizeHint(self) -> QSize:
        return QSize(600, _HEIGHT_PX)

    def _renew(self) -> None:
        self.entries = entries(self._state)
        words = ", ".join(entry.words for entry in self.entries)
        self.setToolTip(tip(words))
        self.setAccessibleDescription(words)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        scheme = self._state.scheme
        face = font(_POINTS)
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            metrics, room = QFontMetricsF(face), self.width() - 4.0
            lengths = [
                _MARK_PX + _BESIDE_PX + metrics.horizontalAdvance(entry.words) for entry in self.entries
            ]
            spare = room - sum(lengths)
            gap = min(max(spare / max(len(lengths) - 1, 1), _LEAST_GAP_PX), _GAP_PX)
            needed = sum(lengths) + gap * (len(lengths) - 1)
            # Under the dial's own edge where there is room, else from the very left.
            x, y = min(LEFT_PX, max(room - needed, 2.0)), self.height() / 2.0
            painter.setFont(face)
            for entry, length in zip(self.entries, lengths, strict=True):
                if x + length > self.width():
                    return
                painter.setBrush(Qt.BrushStyle.NoBrush)
                entry.paint(painter, QLineF(x, y, x + _MARK_PX, y), scheme)
                painter.setPen(scheme.color("faint"))
                painter.drawText(
                    QPointF(x + _MARK_PX + _BESIDE_PX, y + metrics.ascent() / 2.0 - 1.5), entry.words
                )
                x += length + gap
