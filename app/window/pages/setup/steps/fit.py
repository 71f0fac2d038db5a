"""What do the sightings say? The correction, what is wrong, and where one more sighting tells most."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QGridLayout, QLabel

from app.window.pages.setup.answers import Answer
from app.window.pages.setup.big import big_button, in_a_row, told
from app.window.pages.setup.step import Desk, Step
from app.window.pages.setup.views.residuals import Left, ResidualView
from app.window.widgets.labels import label, second, show_rank
from core.base.words import bearing_text, counted, figure, first_few, listed, signed
from core.mount.model.chain import correction_state
from core.plan.document import Plan
from core.plan.on_site_edits import with_correction
from core.setup.write_down import of_correction, of_fit

if TYPE_CHECKING:  # studies come after the first picture
    from core.setup.sightings.answer import SightingFit

#: The correction is told and kept to a hundredth of a degree.
_DECIMALS = 2
#: So many sightings and refusals are told one by one.
_MOST_NUMBERS, _MOST_REFUSED = 6, 3
_NONE_YET = "No sightings yet: take one at step 4. Three, spread round the horizon, tell most."
_TAKE_TIP = "It holds for this keyway and hole; undo takes it back"


class FitStep(Step):
    """The fit of the sightings."""

    title = "Fit"
    question = "What do the sightings say?"

    def __init__(self, desk: Desk) -> None:
        view = ResidualView("what the fit leaves of each sighting")
        super().__init__(desk, view)
        self.view = view
        self.blunders = label(20, bold=True, name="what is wrong", rank="alarm", wraps=True)
        self.answer = Answer("the correction")
        self.figures: dict[str, tuple[QLabel, QLabel]] = {}
        self.next_sighting = label(14, bold=True, name="one more sighting", wraps=True)
        self.details = told(name="what else the sightings say")
        self.take_button = big_button(
            "Take the correction over",
            self.take_over,
            main=True,
            tip=_TAKE_TIP,
        )
        self.state = told(name="the correction in force", points=13)
        self.add(self.blunders, self.answer)
        grid = QGridLayout()
        grid.setHorizontalSpacing(30)
        for place, words in enumerate(("elevation zero", "lean")):
            shown, under = label(20, bold=True, name=words), second("", 11, f"{words}, how well known")
            grid.addWidget(shown, 0, place)
            grid.addWidget(under, 1, place)
            grid.setColumnStretch(place, 1)
            self.figures[words] = (shown, under)
        self.left.addLayout(grid)
        self.add(self.next_sighting, self.details)
        self.left.addStretch(1)
        self.left.addLayout(in_a_row(self.take_button))
        self.add(self.state)

    # --- what is known ------------------------------------------------------------------------------------

    @property
    def _fit(self) -> SightingFit | None:
        """Of the present plan; None while it is worked out, or without sightings."""
        return self.desk.set_up.fit

    def to_decide(self) -> int:
        """1 where a blunder is named or a sighting disagrees."""
        fit = self._fit
        return int(fit is not None and bool(fit.explanations or fit.outliers or fit.doubtful))

    def take_over(self) -> None:
        """The correction holds for the seat as it is; the mount's own constants stay."""
        fit = self._fit
        if fit is None or fit.correction_deg is None:
            return
        deg, posture = round(fit.correction_deg, _DECIMALS), fit.posture
        words = f"correction {signed(deg)} deg from the sightings"
        self.desk.edit(lambda plan: with_correction(plan, deg, posture), words)
        self.answered.emit()

    def _taken(self, plan: Plan) -> bool:
        """The plan's correction is what the sightings say."""
        fit, held = self._fit, plan.mount.sighting_correction
        if (
            fit is None
            or fit.correction_deg is None
            or held is None
            or correction_state(plan.mount) != "holds"
        ):
            return False
        return held.deg == round(fit.correction_deg, _DECIMALS) and held.posture == fit.posture

    # --- showing ------------------------------------------------------------------------------------------

    def done(self) -> bool:
        return correction_state(self.desk.plan.mount) == "holds"

    def show_now(self) -> None:
        plan, fit = self.desk.plan, self._fit
        self._show_state(plan)
        lines = of_correction(plan.mount) if fit is None else of_fit(fit, plan.mount)
        self.write_down.tell(lines, self.desk.scheme)
        if fit is None:
            waiting = bool(plan.sightings) and not self.desk.set_up.holds
            self.answer.tell("", self.desk.waiting_words if waiting else _NONE_YET)
            for shown in (self.blunders, self.next_sighting, self.details):
                shown.setText("")
                shown.hide()
            for pair in self.figures.values():
                for shown in pair:
                    shown.setText("")
            self.view.show_left((), self.desk.scheme)
            return
        self._show_fit(fit, plan)

    def _show_state(self, plan: Plan) -> None:
        fit = self._fit
        known = fit is not None and fit.correction_deg is not None
        self.take_button.setEnabled(known and not self._taken(plan))
        state, held = correction_state(plan.mount), plan.mount.sighting_correction
        named = fit is not None and bool(fit.explanations)
        words = "Mend what is named above first, then sight again." if named else "No correction is in force."
        if held is not None and state == "holds":
            words = f"In force: {signed(held.deg)} deg, with the keyway and hole as they are."
        elif held is not None:
            words = (
                f"Void: {signed(held.deg)} deg was fitted with the keyway at "
                f"{bearing_text(held.keyway_bearing_deg)} in hole {held.index_hole}."
            )
        self.state.setText(words)
        show_rank(self.state, "alarm" if held is not None and state != "holds" else "")

    def _show_fit(self, fit: SightingFit, plan: Plan) -> None:
        wrong = [one.sentence for one in fit.explanations]
        if fit.outliers:
            one = len(fit.outliers) == 1
            which = first_few([str(index + 1) for index in fit.outliers], _MOST_NUMBERS)
            told_of = "disagrees with the others and was" if one else "disagree with the others and were"
            wrong.append(f"Sighting{'' if one else 's'} {which} {told_of} left out")
        self.blunders.setText("\n".join(f"{one}." for one in wrong))
        self.blunders.setVisible(bool(wrong))
        if fit.correction_deg is None:
            self.answer.tell("", "No correction: no azimuth was sighted.")
        else:
            posture = "" if fit.posture is None else f", {fit.posture} only"
            self.answer.tell(
                f"{fit.correction_deg:+.2f} \N{PLUS-MINUS SIGN} {figure(fit.correction_sigma_deg, 2)} deg",
                f"is tonight's correction (one sigma){posture}, from {counted(len(fit.kept), 'sighting')}.",
            )
        self._show_figures(fit)
        self.next_sighting.setText("" if fit.next_sighting is None else fit.next_sighting.why)
        self.next_sighting.setVisible(bool(self.next_sighting.text()))
        self.details.setText(_details(fit))
        self.details.setVisible(bool(self.details.text()))
        out = {*fit.outliers, *fit.doubtful}
        self.view.show_left(
            [
                Left(one.index + 1, one.azimuth_deg, one.elevation_deg, one.index in out)
                for one in fit.residuals
            ],
            self.desk.scheme,
        )

    def _show_figures(self, fit: SightingFit) -> None:
        zero, lean = ("", "no elevation was sighted"), ("", "not determined")
        if fit.elevation_zero_deg is not None:
            known = figure(fit.elevation_zero_sigma_deg, 2)
            zero = (
                f"{fit.elevation_zero_deg:+.2f} deg",
                f"elevation zero, \N{PLUS-MINUS SIGN} {known} deg",
            )
        if fit.lean is not None:
            known = figure(fit.lean.sigma_deg, 2)
            toward = bearing_text(fit.lean.toward_deg)
            lean = (
                f"{figure(fit.lean.angle_deg, 2)} deg",
                f"lean toward {toward}, \N{PLUS-MINUS SIGN} {known} deg",
            )
        for words, (value, under) in (("elevation zero", zero), ("lean", lean)):
            self.figures[words][0].setText(value or "not known")
            self.figures[words][1].setText(under if value else f"{words}: {under}")


def _details(fit: SightingFit) -> str:
    """Doubts and refusals, and what the sightings do not determine."""
    lines = []
    if fit.doubtful:
        which = first_few([str(index + 1) for index in fit.doubtful], _MOST_NUMBERS)
        lines.append(f"Sightings {which} do not agree, and it cannot be told which is wrong: take one more.")
    lines += [f"{str(one)[:1].upper()}{str(one)[1:]}." for one in fit.refused[:_MOST_REFUSED]]
    if len(fit.refused) > _MOST_REFUSED:
        lines.append(f"{counted(len(fit.refused) - _MOST_REFUSED, 'other sighting')} could not be used.")
    if fit.undetermined:
        lines.append(f"Not determined: {listed(fit.undetermined)}.")
    return "\n".join(lines)
