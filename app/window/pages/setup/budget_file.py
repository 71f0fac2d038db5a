"""The budget's chart as a file, in the form that the file's name asks for."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import cast

from app.window.pages.setup.budget_chart import Form, budget_chart
from app.window.views.saved_chart import chart_form
from core.base.whole_files import refuse_source, write_bytes
from core.setup.budget.answer import PointingBudget


def write_budget_chart(path: Path, budget: PointingBudget, sources: Sequence[Path]) -> None:
    """Write the chart whole or not at all.

    Raises:
        ValueRangeError: the name asks for another form.
        FileProblem: the file is one that the answer is made from, or it cannot be written.
    """
    form = cast(Form, chart_form(path))
    refuse_source(path, sources)
    write_bytes(path, budget_chart(budget, form), force=True)
