"""Which way is true north? The best way at the moment, and the others with why not."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget

from app.window.look.scheme import font
from app.window.pages.setup.answers import Answer
from app.window.pages.setup.big import Choice, in_a_row
from app.window.pages.setup.big_table import BigTable, words_model
from app.window.pages.setup.step import Desk, Step
from app.window.pages.setup.steps.compass import CompassPart
from app.window.pages.setup.steps.landmarks import LandmarksPart
from app.window.pages.setup.steps.minutes import MinutesPart
from app.window.pages.setup.steps.moment import MomentRow
from app.window.pages.setup.views.above import AboveView
from app.window.pages.setup.views.above_scene import Foot, Hand, stops
from app.window.widgets.labels import label
from core.base.words import bearing_text, figure
from core.mount.model.from_above import station_from_above
from core.setup.methods import Method
from core.setup.words import SUN_CAUTION, best_sentence, method_name, terms_words
from core.setup.write_down import of_north

_PARTS = (
    ("minutes", "Minutes"),
    ("ways", "All ways"),
    ("landmarks", "Landmarks"),
    ("compass", "Compass"),
)


class NorthStep(Step):
    """Ways to true north at a moment."""

    title = "North"
    question = "Which way is true north?"

    def __init__(self, desk: Desk) -> None:
        view = AboveView("north, Sun, shadow, keyway and landmarks from above")
        super().__init__(desk, view)
        self.view = view
        self.moment = MomentRow(desk)
        self.answer = Answer("the best way to north", 26)
        self.caution = label(12, bold=True, name="caution", rank="alarm", wraps=True)
        self.caution.setText(SUN_CAUTION)
        self.parts = Choice("shown of north", _PARTS)
        self.parts.choose("minutes")
        self.minutes, self.landmarks, self.compass = MinutesPart(), LandmarksPart(desk), CompassPart(desk)
        heads = ("way", "good to", "true", "up", "dial", "made of, or why not")
        self.ways = BigTable("ways to true north", words_model(*heads, right=(1, 2, 3, 4)))
        self.ways.setFont(font(11))
        self.ways.setWordWrap(True)
        self.ways.horizontalHeader().setMaximumSectionSize(170)
        self.stack = QStackedWidget()
        for part in (self.minutes, self.ways, self.landmarks, self.compass):
            self.stack.addWidget(part)
        self.add(self.moment, self.answer, self.caution)
        self.left.addLayout(in_a_row(self.parts, self.minutes.body))
        self.left.addWidget(self.stack, 1)
        self.parts.chosen.connect(self._open)

    def _open(self, part: str) -> None:
        self.stack.setCurrentIndex([name for name, _words in _PARTS].index(part))
        self.minutes.body.setVisible(part == "minutes")

    def forget(self) -> None:
        self.landmarks.forget()

    # --- showing ------------------------------------------------------------------------------------------

    def done(self) -> bool:
        answer = self.desk.set_up.answer
        return answer is not None and answer.best is not None

    def tick(self) -> None:
        self.moment.show_now()

    def show_now(self) -> None:
        held, scheme = self.desk.set_up, self.desk.scheme
        answer = held.answer
        self.moment.show_now()
        self.landmarks.show_now()
        self.compass.show_now(scheme)
        self.parts.set_scheme(scheme)
        if answer is None:
            self.answer.tell("", self.desk.waiting_words)
            self.minutes.show_minutes((), held.at_utc_s, scheme)
            self.ways.show_lines([])
            self.view.show_hands((), scheme)
            self.write_down.tell((), scheme)
            return
        best = answer.best
        good = "" if best is None else _capital(f"{method_name(best)}: {figure(best.sigma_deg or 0.0)} deg")
        words = best_sentence(best)
        if best is not None:
            words = "The best way to true north now (one sigma)."
        self.answer.tell(good, words, asleep=not held.fresh)
        self.minutes.show_minutes(answer.minutes, answer.at_utc_s, scheme)
        self.ways.show_lines([_row(one) for one in answer.methods])
        self._show_picture(answer.methods)
        self.write_down.tell(of_north(best, answer.at_utc_s), scheme)

    def _show_picture(self, methods: tuple[Method, ...]) -> None:
        above = station_from_above(self.desk.plan.mount)
        hands = [Hand(above.keyway_deg, f"keyway {bearing_text(above.keyway_deg)}", "keyway")]
        for one in methods:
            if (
                one.bearing_deg is None
                or one.method == "compass"
                or not (one.possible or one.method == "landmark")
            ):
                continue
            look = "sun" if one.method == "sun" else "target"
            hands.append(Hand(one.bearing_deg, f"{one.target} {bearing_text(one.bearing_deg)}", look))  # type: ignore[arg-type]
            if one.method == "sun":
                hands.append(Hand(one.bearing_deg + 180.0, "shadow", "shadow"))
        hands += stops(above)
        feet = [Foot(bearing) for bearing in above.legs_deg]
        self.view.show_hands(hands, self.desk.scheme, above.keyway_deg, feet)


def _row(one: Method) -> tuple[str, ...]:
    named = one.method in {"landmark", "satellite"} and bool(one.target)
    return (
        one.target if named else _capital(method_name(one)),
        "" if one.sigma_deg is None else figure(one.sigma_deg, 2),
        "" if one.bearing_deg is None else bearing_text(one.bearing_deg),
        "" if one.elevation_deg is None else figure(one.elevation_deg),
        "" if one.azimuth_dial is None else one.azimuth_dial.short,
        " ".join(filter(None, [terms_words(one.terms), one.reason])),
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
