"""What does the dial read on something known? A form for one sighting and the table of those taken."""

from __future__ import annotations

from app.window.pages.setup.big import big_button, in_a_row
from app.window.pages.setup.big_table import BigTable, words_model
from app.window.pages.setup.step import Desk, Step
from app.window.pages.setup.steps.sighting_form import SightingForm
from app.window.pages.setup.views.above import AboveView
from app.window.pages.setup.views.above_scene import Foot, Hand, stops
from core.base.edits import changed
from core.base.words import bearing_text, plain, signed
from core.mount.model.from_above import station_from_above
from core.plan.on_site_edits import without_rows
from core.setup.model import Sighting
from core.setup.write_down import of_sighting

_ASKED = ("Time, UTC", "What was sighted", "Azimuth dial", "Elevation dial", "From which side the dial came")


class SightingsStep(Step):
    """Sightings, one at a time."""

    title = "Sightings"
    question = "What does the dial read on something known?"

    def __init__(self, desk: Desk) -> None:
        view = AboveView("the target, the keyway and the stops from above")
        super().__init__(desk, view)
        self.view = view
        self.form = SightingForm(desk)
        self.table = BigTable(
            "sightings",
            words_model(
                "",
                "used",
                "UTC",
                "target",
                "azimuth",
                "off",
                "elevation",
                "off",
                "from",
                right=(0, 4, 5, 6, 7),
            ),
            32,
        )
        self.table.setMinimumHeight(100)
        self.use_button = big_button(
            "Leave out", self.toggle_used, "leave the chosen sighting out, or use it again"
        )
        self.remove_button = big_button("Remove", self.remove, "remove the chosen sighting")
        self.add(self.form)
        self.left.addWidget(self.table, 1)
        self.left.addLayout(in_a_row(self.use_button, self.remove_button))
        self.form.changed.connect(self._show_picture)
        self.table.selectionModel().selectionChanged.connect(lambda _now, _before: self._on_chosen())

    # --- doing --------------------------------------------------------------------------------------------

    def toggle_used(self) -> None:
        """The chosen sighting counts no more, or counts again."""
        row = self.table.chosen
        if row >= 0:
            used = not self.desk.plan.sightings[row].used
            words = f"sighting {row + 1} {'used' if used else 'left out'}"
            self.desk.edit(lambda plan: changed(plan, f"sightings.{row}.used", used), words)

    def remove(self) -> None:
        """Without the chosen sighting; undo brings it back."""
        row = self.table.chosen
        if row >= 0:
            self.desk.edit(lambda plan: without_rows(plan, "sightings", [row]), f"remove sighting {row + 1}")

    def forget(self) -> None:
        self.form.forget()

    # --- showing ------------------------------------------------------------------------------------------

    def done(self) -> bool:
        return any(one.used for one in self.desk.plan.sightings)

    def show_now(self) -> None:
        self.form.show_now()
        off = self.desk.set_up.residuals
        self.table.show_lines(
            [
                (str(row + 1), *_cells(one, *off.get(row, (None, None))))
                for row, one in enumerate(self.desk.plan.sightings)
            ]
        )
        self._show_picture()
        self._on_chosen()

    def _on_chosen(self) -> None:
        sightings, row = self.desk.plan.sightings, self.table.chosen
        chosen = 0 <= row < len(sightings)
        self.use_button.setEnabled(chosen)
        self.remove_button.setEnabled(chosen)
        self.use_button.setText("Use again" if chosen and not sightings[row].used else "Leave out")
        told_of = sightings[row] if chosen else sightings[-1] if sightings else None
        self.write_down.tell(_ASKED if told_of is None else of_sighting(told_of), self.desk.scheme)

    def _show_picture(self) -> None:
        above = station_from_above(self.desk.plan.mount)
        hands = []
        one, typed = self.form.target.method(), self.form.target.bearing_deg
        bearing = typed if one is None else one.bearing_deg
        if bearing is not None:
            sun = one is not None and one.method == "sun"
            name = one.target if one is not None else "target"
            hands.append(Hand(bearing, f"{name} {bearing_text(bearing)}", "sun" if sun else "target"))
            if sun:
                hands.append(Hand(bearing + 180.0, "shadow", "shadow"))
        hands.append(Hand(above.keyway_deg, f"keyway {bearing_text(above.keyway_deg)}", "keyway"))
        hands += stops(above)
        feet = [Foot(leg) for leg in above.legs_deg]
        self.view.show_hands(hands, self.desk.scheme, above.keyway_deg, feet)


def _cells(one: Sighting, azimuth_off: float | None, elevation_off: float | None) -> tuple[str, ...]:
    half = one.half_power_dials_deg
    azimuth = "" if one.azimuth_dial_deg is None else plain(one.azimuth_dial_deg)
    return (
        "\N{CHECK MARK}" if one.used else "",
        one.time[11:19],
        one.target,
        azimuth if half is None else f"{plain(half[0])} / {plain(half[1])}",
        "" if azimuth_off is None else signed(azimuth_off),
        "" if one.elevation_dial_deg is None else plain(one.elevation_dial_deg),
        "" if elevation_off is None else signed(elevation_off),
        one.came_from or "",
    )
