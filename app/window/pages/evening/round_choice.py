"""Which time round the azimuth dial shows its figure: asked only where it shows it more than once."""

from __future__ import annotations

from PySide6.QtWidgets import QButtonGroup, QRadioButton, QVBoxLayout, QWidget

from app.window.look.scheme import font
from app.window.widgets.labels import label, show_rank
from core.base.words import ordinal
from core.mount.evening.line import wrap_deg
from core.mount.model.station import Mount


class RoundChoice(QWidget):
    """A line for each time round, counted from the counter-clockwise stop; none chosen at first."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.question = label(11, name="which time round")
        self.group = QButtonGroup(self)
        self._places: tuple[float, ...] = ()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self._column.addWidget(self.question)
        self.setVisible(False)

    def show_places(self, places: tuple[float, ...], mount: Mount) -> None:
        """The places that show the figure; fewer than two ask nothing."""
        if places == self._places:
            return
        self._places = places
        for button in self.group.buttons():
            self.group.removeButton(button)
            button.deleteLater()
        self.setVisible(len(places) > 1)
        if len(places) < 2:
            return
        show_rank(self.question, "")
        self.question.setText(f"The dial shows that {len(places)} times. Which time round?")
        for number, m_deg in enumerate(places, start=1):
            words = (
                f"{ordinal(number)}: {m_deg:.0f} deg from counter-clockwise stop, "
                f"wrap {wrap_deg(m_deg, mount):+.0f}"
            )
            button = QRadioButton(words)
            button.setAccessibleName(words)
            button.setToolTip("The cable's wrap tells them apart (Space)")
            button.setFont(font(12))
            self.group.addButton(button, number)
            self._column.addWidget(button)
            button.show()  # now, since it may have the focus at once

    @property
    def time_round(self) -> int | None:
        """What was chosen; None where nothing is asked or nothing was chosen yet."""
        return self.group.checkedId() if self.group.checkedId() > 0 else None

    @property
    def wanting(self) -> bool:
        """Asked and not answered."""
        return len(self._places) > 1 and self.time_round is None

    def ask(self) -> None:
        """Say that an answer is needed, and go there."""
        show_rank(self.question, "alarm")
        self.group.buttons()[0].setFocus()
