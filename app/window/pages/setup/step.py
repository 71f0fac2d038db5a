"""The base of every step: a question, what is typed and read on the left, the picture and the notes right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme
from app.window.pages.setup.answers import WriteDown
from app.window.pages.setup.state import SetUp
from app.window.state.context import Context
from app.window.widgets.fields import LineField
from app.window.widgets.labels import heading
from core.base.errors import NorthkeyError
from core.base.typed import page_words
from core.plan.document import Plan

#: The first question is read at arm's length.
_QUESTION_PT = 19


@dataclass(frozen=True)
class Desk:
    """What every step works with: the context and what there is to go by."""

    context: Context
    set_up: SetUp

    @property
    def plan(self) -> Plan:
        """The document's present plan."""
        return self.context.plan

    @property
    def scheme(self) -> Scheme:
        """The present colours."""
        return self.context.scheme

    @property
    def waiting_words(self) -> str:
        """What stands where an answer will be."""
        return "Being worked out..." if self.set_up.working else "Not worked out."

    def edit(self, made: Callable[[Plan], Plan], label: str, field: LineField | None = None) -> bool:
        """One edit; a refusal marks the field, and a False tells it."""
        try:
            new = made(self.plan)
        except NorthkeyError as error:
            if field is not None:
                field.refuse(page_words(error))
            return False
        self.context.document.edit(new, label)
        return True


class Step(QWidget):
    """One question.

    Class attributes:
        title: its word on the strip.
        question: as it stands over it.

    Signals:
        answered(): what was found is taken over; on to the next question.
    """

    title = ""
    question = ""
    answered = Signal()

    def __init__(self, desk: Desk, picture: QWidget, parent: QObject | None = None) -> None:
        super().__init__(parent if isinstance(parent, QWidget) else None)
        self.desk, self.picture = desk, picture
        self.setObjectName("page")
        self.write_down = WriteDown()
        self.asked = heading(self.question, _QUESTION_PT)
        self.left = QVBoxLayout()
        self.left.setSpacing(10)
        right = QVBoxLayout()
        right.setSpacing(10)
        right.addWidget(picture, 1)
        right.addWidget(self.write_down)
        row = QHBoxLayout()
        row.setSpacing(26)
        row.addLayout(self.left, 6)
        row.addLayout(right, 4)
        column = QVBoxLayout(self)
        column.setContentsMargins(22, 12, 26, 10)
        column.setSpacing(10)
        column.addWidget(self.asked)
        column.addLayout(row, 1)

    def add(self, *parts: QWidget) -> None:
        """Parts one under the other on the left."""
        for part in parts:
            self.left.addWidget(part)

    def show_now(self) -> None:
        """Show the plan and the answer as they are."""
        raise NotImplementedError

    def tick(self) -> None:
        """A second has gone by, while it is now."""

    def done(self) -> bool:
        """What the step is for is in the plan."""
        return False

    def forget(self) -> None:
        """Another document was begun: what stands in the fields is not of it."""

    def first_field(self) -> QWidget | None:
        """Where typing begins when the step is opened."""
        return None


def scrolled(step: Step) -> QScrollArea:
    """A step that can be scrolled where the window is low."""
    area = QScrollArea()
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # Tab goes to what is in it
    area.setWidget(step)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    return area


def wheres(answers: Sequence[str]) -> str:
    """Sentences in a row, those that are there."""
    return " ".join(answer for answer in answers if answer)
