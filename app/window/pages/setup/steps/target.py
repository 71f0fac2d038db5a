"""What is sighted: the Sun, the Moon, Polaris, a landmark, a satellite, or a bearing that is known."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.pages.setup.big import Choice, Typed, big_combo, big_text, in_a_row, put_choices, told
from app.window.pages.setup.step import Desk
from app.window.widgets.labels import label
from core.base.words import bearing_text, figure
from core.plan.document import Plan
from core.plan.quantities import ON_SITE
from core.setup.methods import Method
from core.setup.words import SUN_CAUTION

_KINDS = (
    ("Sun", "Sun"),
    ("Moon", "Moon"),
    ("Polaris", "Polaris"),
    ("landmark", "Landmark"),
    ("satellite", "Satellite"),
    ("bearing", "A bearing"),
)
#: So many satellites can be chosen from.
_MOST_NAMES = 300
_A_BEARING = "known bearing"


class TargetPart(QWidget):
    """The kind, and what belongs to it.

    Signals:
        changed(): another target.
    """

    changed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.kind = Choice("what is sighted", _KINDS)
        self.kind.choose("Sun")
        self.which = big_combo("which one is sighted", 240)
        self.bearing = Typed("true bearing of what is sighted", "degrees", ON_SITE["sightings.bearing_deg"])
        self.name = big_text("what lies at the bearing", 200)
        self.name.setPlaceholderText(_A_BEARING)
        self.words = told(name="where it stands, and what the dial should read", points=13)
        self.caution = label(12, bold=True, name="caution", rank="alarm", wraps=True)
        self.caution.setText(SUN_CAUTION)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(in_a_row(self.kind))
        column.addLayout(in_a_row(self.which, self.bearing, self.name))
        column.addWidget(self.words)
        column.addWidget(self.caution)
        self.kind.chosen.connect(lambda _kind: self._other())
        self.which.currentIndexChanged.connect(lambda _index: self._other())
        self.bearing.typed.connect(self._other)
        self.name.text_edited.connect(self.name.show_text)

    def _other(self) -> None:
        self.show_now()
        self.changed.emit()

    # --- reading ------------------------------------------------------------------------------------------

    @property
    def bearing_deg(self) -> float | None:
        """True bearing that was typed; None for anything that is worked out."""
        return self.bearing.number if self.kind.value == "bearing" else None

    def target(self) -> str:
        """The target as a sighting names it; empty where there is none, which is told."""
        kind = self.kind.value
        if kind == "bearing":
            sound = self.bearing.settled("Type its true bearing")
            return (self.name.text().strip() or _A_BEARING) if sound else ""
        if kind not in {"landmark", "satellite"}:
            return kind
        return self._names(self._desk.plan).get(self.which.currentText(), "")

    def method(self) -> Method | None:
        """Where it stands at the moment that north is looked for at, where that is known."""
        answer, kind = self._desk.set_up.answer, self.kind.value
        if answer is None or kind == "bearing":
            return None
        name = kind if kind not in {"landmark", "satellite"} else self._plain_name()
        found = (one for one in answer.methods if one.target == name and one.method != "compass")
        return next(found, None)

    def _plain_name(self) -> str:
        return self.which.currentText().partition("  #")[0]

    def _names(self, plan: Plan) -> dict[str, str]:
        """What can be chosen, and how a sighting names it: by number where a name is not alone."""
        if self.kind.value == "landmark":
            return {one.name: one.name for one in plan.landmarks}
        shown = plan.satellites[:_MOST_NAMES]
        names = Counter(one.name for one in shown)
        alone = {name for name, count in names.items() if count == 1}
        return {
            (one.name if one.name in alone else f"{one.name}  #{one.elements.norad_id}"): (
                one.name if one.name in alone else str(one.elements.norad_id)
            )
            for one in shown
        }

    # --- showing ------------------------------------------------------------------------------------------

    def show_now(self) -> None:
        """What belongs to the kind, and where the target stands."""
        kind, plan = self.kind.value, self._desk.plan
        self.kind.set_scheme(self._desk.scheme)
        listed = kind in {"landmark", "satellite"}
        if listed:
            put_choices(self.which, list(self._names(plan)), self.which.currentText())
        self.which.setVisible(listed)
        for field in (self.bearing, self.name):
            field.setVisible(kind == "bearing")
        self.caution.setVisible(kind == "Sun")
        self.words.setText(self._where_words())

    def _where_words(self) -> str:
        kind = self.kind.value
        if kind == "landmark" and not self._desk.plan.landmarks:
            return "No landmarks yet: type one at step 2."
        if kind == "satellite" and not self._desk.plan.satellites:
            return "No satellites yet: bring element sets in on the Satellites page."
        return _stands(self.method())


def _stands(one: Method | None) -> str:
    if one is None or one.bearing_deg is None:
        return ""
    up = "" if one.elevation_deg is None else f", {figure(one.elevation_deg)} deg up"
    where = f"Now at {bearing_text(one.bearing_deg)} true{up}."
    if one.reason and not one.possible:
        return f"{where} {one.reason}"
    return where if one.dials is None else f"{where} The dial should read {one.dials.azimuth.short}."
