"""What the window opens with, made before the window itself."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from app.ahead import Ahead
from app.binding import import_binding
from core.base.errors import NorthkeyError
from core.plan.document import Plan
from core.plan.storage import plan_from_text, read_plan
from resources import bundled

if TYPE_CHECKING:
    from app.settings import Remembered

DEMO = "larch_ridge.northkey.json"


@dataclass(frozen=True, eq=False)
class Opening:
    """What the window opens with.

    Attributes:
        plan: the first plan.
        path: its file; None where it is in no file.
        told: why it is not the plan of last time, or empty.
        kept: what was remembered of last time.
        ahead: who works the plan out meanwhile; None where nobody does.
    """

    plan: Plan
    path: Path | None
    told: str
    kept: Remembered
    ahead: Ahead | None = None


def demo_plan() -> Plan:
    """The bundled demo."""
    return plan_from_text(bundled("demo", DEMO).read_text("utf-8"), DEMO)


def first_plan(last: Path | None) -> tuple[Plan, Path | None, str]:
    """The plan of last time if its file still reads, else the demo; and why it is the demo, or empty."""
    if last is not None:
        try:
            return read_plan(last), last, ""
        except NorthkeyError as error:
            return demo_plan(), None, f"The plan of last time was not opened, this is the demo. {error}"
    return demo_plan(), None, ""


def opening(path: Path | None, ahead: Ahead | None = None) -> Opening:
    """A plan file, the plan of last time, or the demo.

    Args:
        path: the file that was asked for, if any.
        ahead: who is to work it out at once.

    Raises:
        PlanError: the file asked for cannot be read.
    """
    import_binding()
    from app.settings import recall

    kept = recall()
    plan, source, told = (read_plan(path), path, "") if path is not None else first_plan(kept.last_plan)
    if ahead is not None:
        ahead.begin(plan)
    return Opening(plan, source, told, kept, ahead)
