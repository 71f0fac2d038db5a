"""The clearance map of the open plan, worked out beside the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal, Slot

from app.window.state.context import Context
from core.base.memo import Memo
from core.base.units import Progress
from core.mount.clearance.lengths import Clearance

if TYPE_CHECKING:
    from core.mount.check.clear_map import BoomTrack, ClearMap

CLEARANCE = "clearance"


class ClearanceNow(QObject):
    """The map of the plan's lengths; asked again whenever they change.

    Signals:
        changed(): another map, other lengths, or other tracks.
    """

    changed = Signal()

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self.map: ClearMap | None = None
        context.runner.finished.connect(self._on_finished)

    @property
    def lengths(self) -> Clearance | None:
        """The plan's."""
        return self._context.plan.clearance

    @property
    def stale(self) -> bool:
        """The map is of other lengths than the plan's, or not there yet."""
        return self.lengths is not None and (self.map is None or self.map.lengths != self.lengths)

    @property
    def tracks(self) -> tuple[BoomTrack, ...]:
        """Where the boom goes along tonight's passes."""
        from core.mount.check.clear_map import boom_tracks

        result = self._context.result
        return () if result is None else boom_tracks(result.checks, self._context.plan.mount)

    def ask(self) -> None:
        """Work the map out where it is not there."""
        lengths = self.lengths
        if lengths is None or not self.stale or self._context.runner.under_way(CLEARANCE):
            return

        def job(_memo: Memo, _progress: Progress) -> ClearMap:
            from core.mount.check.clear_map import clear_map

            return clear_map(lengths)

        self._context.runner.request(CLEARANCE, "Working out the clearance map", job)

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: object) -> None:
        if kind == CLEARANCE:
            self.map = answer  # type: ignore[assignment]
            self.changed.emit()
            self.ask()
