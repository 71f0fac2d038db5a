"""How does the plate lie? Readings of a level, the lean, and what to put under which leg."""

from __future__ import annotations

from app.window.pages.setup.answers import Answer, after_figure
from app.window.pages.setup.big import Typed, big_button, in_a_row, labelled, told
from app.window.pages.setup.big_table import BigTable, words_model
from app.window.pages.setup.step import Desk, Step
from app.window.pages.setup.views.above import AboveView
from app.window.pages.setup.views.above_scene import Foot, Hand
from core.base.edits import changed
from core.base.words import bearing_text, figure, plain, signed
from core.mount.model.from_above import station_from_above
from core.plan.on_site_edits import level_rows, with_level_rows, without_rows
from core.plan.quantities import ON_SITE
from core.setup.level import Level, Shim
from core.setup.words import level_sentence, shim_sentence
from core.setup.write_down import of_level

_HOW = (
    "Lay the level on the plate along a bearing; type how much the plate rises toward it. "
    "Once more across it. Turned half round on the spot, the level's own error goes out."
)
_TAKE_TIP = "The mount's tilt is then this lean, and every pass is reckoned with it"


class LevelStep(Step):
    """Level readings and the lean."""

    title = "Level"
    question = "How does the plate lie?"

    def __init__(self, desk: Desk) -> None:
        view = AboveView("the plate from above, with its low edge")
        super().__init__(desk, view)
        self.view = view
        rise = ON_SITE["level_readings.rise_deg"]
        self.bearing = Typed(
            "bearing the level lies along", "degrees true", ON_SITE["level_readings.bearing_deg"]
        )
        self.rise = Typed("rise toward it", "degrees", rise)
        self.after = Typed("rise read after half a turn", "degrees", rise)
        self.add_button = big_button("Add", self.add_reading, "add the level reading", main=True)
        self.table = BigTable(
            "level readings",
            words_model("reading", "along, deg true", "rises, deg", right=(1, 2)),
            even=True,
        )
        self.remove_button = big_button("Remove", self.remove_reading, "remove the chosen level reading")
        self.clear_button = big_button("Remove all", self.remove_all, "remove all level readings")
        self.answer = Answer("the lean")
        self.shims = told(name="what to put under the legs")
        self.take_button = big_button(
            "Take the lean over to the mount",
            self.take_over,
            main=True,
            tip=_TAKE_TIP,
        )
        self.taken = told(name="the mount's tilt", points=11)
        self._lay_out()
        self.after.returnPressed.connect(self.add_reading)
        self.table.selectionModel().selectionChanged.connect(lambda _now, _before: self._enable())

    def _lay_out(self) -> None:
        self.add(self.answer, self.shims, told(_HOW, points=11))
        self.left.addLayout(
            in_a_row(
                labelled("Along, true", self.bearing, "deg"),
                labelled("Rises", self.rise, "deg"),
                labelled("After half a turn", self.after, "deg"),
                self.add_button,
            )
        )
        self.left.addWidget(self.table, 1)
        self.left.addLayout(in_a_row(self.remove_button, self.clear_button, self.take_button))
        self.add(self.taken)

    # --- doing --------------------------------------------------------------------------------------------

    def add_reading(self) -> None:
        """What stands in the fields, in one edit; then they are empty for the next."""
        sound = [
            self.bearing.settled("Type the bearing first"),
            self.rise.settled("Type the rise"),
            self.after.settled(),
        ]
        if not all(sound) or self.bearing.number is None or self.rise.number is None:
            return
        rows = level_rows(self.bearing.number, self.rise.number, self.after.number)
        words = f"level reading along {plain(self.bearing.number)} deg"
        if self.desk.edit(lambda plan: with_level_rows(plan, rows), words, self.bearing):
            for field in (self.bearing, self.rise, self.after):
                field.put(None)
            self.bearing.setFocus()

    def remove_reading(self) -> None:
        """Without the chosen reading; undo brings it back."""
        row = self.table.chosen
        if row >= 0:
            self.desk.edit(lambda plan: without_rows(plan, "level_readings", [row]), "remove a level reading")

    def remove_all(self) -> None:
        """Without any reading, as after the legs were moved."""
        self.desk.edit(lambda plan: changed(plan, "level_readings", ()), "remove all level readings")

    def take_over(self) -> None:
        """The lean becomes the mount's tilt, and is reckoned with from then on."""
        level = self._level
        if level is not None:
            words = f"tilt {figure(level.lean_deg, 2)} deg toward {bearing_text(level.toward_deg)}"
            self.desk.edit(lambda plan: changed(plan, "mount.tilt", level.tilt), words)
            self.answered.emit()

    def forget(self) -> None:
        for field in (self.bearing, self.rise, self.after):
            field.put(None)

    # --- showing ------------------------------------------------------------------------------------------

    @property
    def _level(self) -> Level | None:
        """Of the present plan; None while that is being worked out."""
        held = self.desk.set_up
        return held.answer.level if held.answer is not None and held.holds else None

    def first_field(self) -> Typed:
        return self.bearing

    def done(self) -> bool:
        return len(self.desk.plan.level_readings) > 1

    def show_now(self) -> None:
        plan, held = self.desk.plan, self.desk.set_up
        readings = plan.level_readings
        self.table.show_lines(
            [
                (str(place + 1), bearing_text(one.bearing_deg), signed(one.rise_deg))
                for place, one in enumerate(readings)
            ]
        )
        answer = held.answer
        level = None if answer is None else answer.level
        shims = () if answer is None else answer.shims
        if not held.holds and level is None and len(readings) > 1:
            self.answer.tell("", self.desk.waiting_words)
        else:
            shown = "" if level is None else f"{figure(level.lean_deg, 2)} deg"
            words = level_sentence(level, len(readings))
            self.answer.tell(shown, after_figure(words) if shown else words, asleep=not held.holds)
        self.shims.setText("" if level is None else shim_sentence(shims))
        self.shims.setVisible(level is not None)
        tilt = plan.mount.tilt
        self.taken.setText(
            f"The mount has {plain(tilt.angle_deg)} deg toward {bearing_text(tilt.toward_deg)} true."
            if tilt.angle_deg
            else "The mount is reckoned upright."
        )
        self._show_picture(level, shims)
        self.write_down.tell(of_level(level, shims), self.desk.scheme)
        self._enable()

    def _show_picture(self, level: Level | None, shims: tuple[Shim, ...]) -> None:
        plan = self.desk.plan
        keyway = plan.mount.keyway_bearing_deg
        hands = [Hand(keyway, "keyway", "mark")]
        if level is not None:
            hands.insert(0, Hand(level.toward_deg, f"low, {figure(level.lean_deg, 2)} deg", "low"))
        if shims:
            feet = [Foot(keyway + one.from_keyway_deg, f"+{one.mm:.0f} mm") for one in shims]
        elif plan.clearance is not None:
            feet = [Foot(keyway + leg.from_keyway_deg) for leg in plan.clearance.legs]
        else:
            feet = [Foot(bearing) for bearing in station_from_above(plan.mount).legs_deg]
        self.view.show_hands(hands, self.desk.scheme, keyway, feet)

    def _enable(self) -> None:
        level = self._level
        self.remove_button.setEnabled(self.table.chosen >= 0)
        self.clear_button.setEnabled(bool(self.desk.plan.level_readings))
        self.take_button.setEnabled(level is not None and level.tilt != self.desk.plan.mount.tilt)
