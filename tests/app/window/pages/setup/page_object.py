"""The Setup page as an operator handles it: one step at a time, typing, pressing, reading."""

from __future__ import annotations

from app.window.pages.setup.page import SetupPage
from app.window.pages.setup.step import Step
from app.window.state.context import Context
from app.window.state.document import Document
from app.window.state.runner import Runner
from core.base.times import parse_iso
from core.plan.document import Plan
from tests.app.window.page_object_base import Hand

#: An autumn afternoon, before the evening of tests.plans.
AT = "2024-11-01T14:00:20Z"
#: The page's size in a window of 1280 by 800.
SIZE = (1146, 697)


class SetupHand(Hand):
    """Drives one page on a context of its own, wired to its document as the main window does it."""

    def __init__(self, qtbot, runner: Runner, plan: Plan, at: str = AT) -> None:
        super().__init__(qtbot)
        self.document = Document(plan)
        self.context = Context(self.document, runner, now_utc_s=parse_iso(at))
        self.page = SetupPage(self.context)
        self.document.plan_changed.connect(lambda _plan: self.page.refresh())
        self.page.resize(*SIZE)
        self.page.show()

    @property
    def plan(self) -> Plan:
        """The document's present value."""
        return self.document.plan

    def wait(self) -> None:
        """Until what is shown is of the plan and the moment as they are."""
        self.qtbot.waitUntil(lambda: self.page.set_up.fresh, timeout=30_000)

    def open(self, title: str) -> Step:
        """Press a step's name on the strip."""
        place = [step.title for step in self.page.steps].index(title)
        self.click(self.page.strip.buttons[place])
        return self.page.step

    def add_level(self, bearing: str, rise: str, after: str = "") -> None:
        """Type a level reading and press Add."""
        level = self.page.level
        for field, text in ((level.bearing, bearing), (level.rise, rise), (level.after, after)):
            self.type_into(field, text, end=None)
        self.click(level.add_button)

    def note_sighting(self, azimuth: str, elevation: str = "") -> None:
        """Press Now, type the dials, note it down."""
        form = self.page.sightings.form
        self.click(form.now_button)
        self.type_into(form.azimuth, azimuth, end=None)
        self.type_into(form.elevation, elevation, end=None)
        self.click(form.note_button)

    @property
    def written(self) -> str:
        """What the open step says to write down."""
        return self.page.step.write_down.lines.text()
