"""What is said of the seat before it is studied; what is told of a study has modules that come later."""

from __future__ import annotations

from app.window.state.context import Context


def unstudied_sentence(context: Context) -> str:
    """Why it is not known where to turn the keyway."""
    if not context.plan.satellites:
        return "No satellites yet: their passes tell where to turn the keyway."
    if context.runner.busy_words:
        return "Studying the seat: where to turn the keyway is told in a moment."
    return 'The seat is not studied: "Work it out" in the foot strip does that.'
