"""What the Evening page's views share: the prepared paths, the hours shown, what is chosen and pointed at.

Views read it and tell it what the hand does; it paints nothing and edits nothing itself.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent

from app.window.look.scheme import Scheme
from app.window.state.context import Context, PassKey
from core.evaluate import Result
from core.mount.evening.drawn import DrawnPass, drawn_pass
from core.mount.evening.line import Leg, OnLine, evening_line, on_line
from core.mount.evening.moment import PassMoment, moment_of
from core.mount.evening.results import Contact, EveningOrder, EveningReasons, contact_at
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import Mount
from core.place.sun import SkySpan, sky_spans
from core.plan.document import Plan
from core.plan.picks import pick_of_pass

#: More contacts than this and strokes are thin, fills pale, and only the chosen moves are drawn.
CROWDED = 40
#: No less of the evening is shown at once.
_CLOSEST_S = 600.0


class EveningState(QObject):
    """One per page.

    Signals:
        rebuilt(): plan, result or scheme changed: fixed layers are stale.
        hours_changed(): the hours shown changed: fixed layers over those hours are stale.
        explained(): why passes are worked so or left out is known, or known no more.
        moved(): the chosen pass, the pass pointed at or the moment changed: moving layers are stale.
        pick_asked(int): pick or unpick the pass of this index.
        open_asked(): open the chosen pass.
        close_asked(): close it again.
        step_asked(int): choose the pass so many rows on in the list.
    """

    rebuilt = Signal()
    explained = Signal()
    hours_changed = Signal()
    moved = Signal()
    pick_asked = Signal(int)
    open_asked = Signal()
    close_asked = Signal()
    step_asked = Signal(int)

    def __init__(self, context: Context, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.context = context
        self.result: Result | None = None
        self.mount = Mount()
        self.paths: tuple[DrawnPass, ...] = ()
        self.skies: tuple[SkySpan, ...] = ()
        self.legs: tuple[Leg, ...] = ()
        self.contact_of: dict[int, Contact] = {}
        self.why_left: dict[int, str] = {}
        self.why_so: dict[int, str] = {}
        self._reasons: EveningReasons | None = None
        self.pick_of: dict[int, int] = {}
        self.pointed: int | None = None
        self.full_s = (0.0, 1.0)
        self.shown_s = (0.0, 1.0)
        self._index_of: dict[PassKey, int] = {}
        self._drawn_of: dict[PassCheck, DrawnPass] = {}
        self._seen: tuple[object, ...] = ()
        self._place: tuple[object, ...] = ()
        context.pointer.moment_changed.connect(self.moved)
        context.pointer.pass_changed.connect(self.moved)

    # --- data ---------------------------------------------------------------------------------------------

    def take(self) -> bool:
        """Take what the context holds now; False (and no signal) where nothing of it changed."""
        context = self.context
        plan, result, computed = context.plan, context.evening_result, context.evening_plan
        seen = (plan, id(result), computed, context.scheme.name)
        if seen == self._seen:
            if context.evening_reasons is not self._reasons:
                self._take_reasons()
                self.explained.emit()
            return False
        self._seen = seen
        self.result = result
        self.mount = computed.mount
        self._take_hours(computed)
        self._take_passes(result, plan)
        self._take_reasons()
        self.legs = evening_line(
            self.order,
            self.mount,
            computed.evening.end_utc_s,
            None if result is None else result.mount_start,
        )
        self.rebuilt.emit()
        return True

    def _take_hours(self, plan: Plan) -> None:
        hours = (plan.evening.start_utc_s, plan.evening.end_utc_s)
        place = (plan.site.latitude_deg, plan.site.longitude_deg, hours)
        if place != self._place:
            self._place = place
            self.full_s = self.shown_s = hours
            self.skies = sky_spans(plan.site, *hours)

    def _take_passes(self, result: Result | None, plan: Plan) -> None:
        checks = result.checks if result is not None else ()
        worked = {contact.check.pass_: contact.check for contact in self.order.contacts}
        # A way insisted on gives a check of its own, in the order only.
        shown = [worked.get(check.pass_, check) for check in checks]
        known = self._drawn_of
        self._drawn_of = {check: known.get(check) or drawn_pass(check, self.mount) for check in shown}
        self.paths = tuple(self._drawn_of[check].thinned for check in shown)
        place = {check.pass_: index for index, check in enumerate(checks)}
        self.contact_of = {place[contact.check.pass_]: contact for contact in self.order.contacts}
        self.pick_of = pick_of_pass(plan.picks, plan.satellites, result.passes) if result is not None else {}
        self._index_of = {PassKey.of(check.pass_): index for index, check in enumerate(checks)}
        self.pointed = None

    def _take_reasons(self) -> None:
        """Why each pass is left out and each contact worked so, as far as it is known by now."""
        reasons, order = self.context.evening_reasons, self.order
        self._reasons = reasons
        checks = self.result.checks if self.result is not None else ()
        place = {check.pass_: index for index, check in enumerate(checks)}
        whys = [why for _, why in order.left_out] if reasons is None else reasons.why_left
        told = () if reasons is None else reasons.why_so
        self.why_left = {place[c.pass_]: why for (c, _), why in zip(order.left_out, whys, strict=True)}
        self.why_so = {place[c.check.pass_]: why for c, why in zip(order.contacts, told, strict=False)}

    def legs_to(self, index: int) -> list[Leg]:
        """How the line gets to a contact."""
        contact = self.contact_of.get(index)
        place = next((n for n, other in enumerate(self.order.contacts) if other is contact), -1)
        return [leg for leg in self.legs if leg.contact == place >= 0 and leg.kind != "contact"]

    @property
    def order(self) -> EveningOrder:
        """The evening in order; empty before the first evaluation."""
        return self.result.order if self.result is not None else EveningOrder(())

    @property
    def scheme(self) -> Scheme:
        """The present colours."""
        return self.context.scheme

    @property
    def crowded(self) -> bool:
        """So many contacts that drawing has to be sparing."""
        return len(self.contact_of) > CROWDED

    @property
    def zone(self) -> str:
        """Name of the time zone of local times."""
        return self.result.time_zone if self.result is not None else "UTC"

    def check(self, index: int) -> PassCheck:
        """The pass on the mount, as the evening works it."""
        assert self.result is not None
        contact = self.contact_of.get(index)
        return contact.check if contact is not None else self.result.checks[index]

    def reason(self, index: int) -> Reason:
        """Why its verdict is what it is."""
        assert self.result is not None
        contact = self.contact_of.get(index)
        return contact.reason if contact is not None else self.result.reasons[index]

    def absence(self, index: int) -> str:
        """Why a pass is not in the evening, in two words: only what nobody picked is "not picked"."""
        if self._is_missed(index):
            return "missed"
        wanted = index in self.pick_of or index in self.why_left or not self.pick_of
        return "left out" if wanted else "not picked"

    def _is_missed(self, index: int) -> bool:
        """Told to be missed; known by its end, since the rest of the evening cuts off what is over of it."""
        rest, one = self.context.rest, self.check(index).pass_
        missed = () if rest is None else rest.again.missed
        return any(
            gone.norad_id == one.norad_id and abs(gone.los.utc_s - one.los.utc_s) < 1.0 for gone in missed
        )

    # --- what is chosen and pointed at --------------------------------------------------------------------

    @property
    def chosen(self) -> int | None:
        """Index of the chosen pass."""
        key = self.context.pointer.pass_key
        return self._index_of.get(key) if key is not None else None

    @property
    def moment_s(self) -> float | None:
        """The moment pointed at."""
        return self.context.pointer.moment_s

    def choose(self, index: int | None) -> None:
        """Choose a pass, for every page."""
        if index is None or self.result is None:
            self.context.pointer.choose(None)
        else:
            self.context.pointer.choose(PassKey.of(self.result.passes[index]))

    def point(self, utc_s: float | None, index: int | None = None) -> None:
        """Point at a moment, of a pass where the hand is on one; None when the hand has left."""
        changed = index != self.pointed
        self.pointed = index
        before = self.moment_s
        self.context.pointer.mark(utc_s)
        if changed and before == self.moment_s:
            self.moved.emit()

    @property
    def read_index(self) -> int | None:
        """The pass that is read at the moment: pointed at, else chosen, else the one being worked then."""
        moment = self.moment_s
        if moment is None:
            return None
        for index in (self.pointed, self.chosen):
            if index is not None and self.paths[index].covers(moment):
                return index
        contact, _next = contact_at(self.order, moment)
        return None if contact is None else self._index_of[PassKey.of(contact.check.pass_)]

    def reading(self) -> PassMoment | None:
        """What is read at the moment, or None between passes."""
        index, moment = self.read_index, self.moment_s
        if index is None or moment is None:
            return None
        return moment_of(self._drawn_of[self.check(index)], self.mount, moment)

    def between(self) -> OnLine | None:
        """Where the line has the mount at the moment, where no pass is read."""
        moment = self.moment_s
        return on_line(self.legs, moment) if moment is not None and self.read_index is None else None

    # --- the hours shown ----------------------------------------------------------------------------------

    def zoom(self, factor: float, about_s: float) -> None:
        """Show a factor more or less of the hours, the moment staying where it is."""
        first, last = self.shown_s
        share = (about_s - first) / (last - first)
        whole = self.full_s[1] - self.full_s[0]
        width = min(max((last - first) * factor, min(_CLOSEST_S, whole)), whole)
        self._show_from(about_s - share * width, width)

    def pan(self, by_s: float) -> None:
        """Show earlier or later hours."""
        first, last = self.shown_s
        self._show_from(first + by_s, last - first)

    def show_all(self) -> None:
        """Show the whole evening."""
        self._show_from(self.full_s[0], self.full_s[1] - self.full_s[0])

    def _show_from(self, first: float, width: float) -> None:
        first = min(max(first, self.full_s[0]), self.full_s[1] - width)
        if (first, first + width) != self.shown_s:
            self.shown_s = (first, first + width)
            self.hours_changed.emit()

    # --- keys, the same in every view ---------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        """Do what a key asks; False where it asks nothing here."""
        key, modifiers = event.key(), event.modifiers()
        step_s = 60.0 if modifiers & Qt.KeyboardModifier.ShiftModifier else 10.0
        if modifiers & Qt.KeyboardModifier.ControlModifier:
            step_s = 1.0
        done = True
        if key == Qt.Key.Key_Left:
            self._step_moment(-step_s)
        elif key == Qt.Key.Key_Right:
            self._step_moment(step_s)
        elif key in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            self.step_asked.emit(-1 if key == Qt.Key.Key_Up else 1)
        elif key == Qt.Key.Key_Space and self.chosen is not None:
            self.pick_asked.emit(self.chosen)
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.open_asked.emit()
        elif key == Qt.Key.Key_Escape:
            self.close_asked.emit()
        elif key in {Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus}:
            middle = self.moment_s if self.moment_s is not None else sum(self.shown_s) / 2.0
            self.zoom(1.5 if key == Qt.Key.Key_Minus else 1 / 1.5, middle)
        elif key == Qt.Key.Key_Home:
            self.show_all()
        else:
            done = False
        return done

    def _step_moment(self, by_s: float) -> None:
        moment = self.moment_s
        if moment is None:
            index = self.chosen
            moment = self.paths[index].utc_s[0] if index is not None else self.shown_s[0]
            by_s = 0.0
        low, high = self.full_s
        self.point(min(max(float(moment) + by_s, low), high), self.pointed)
