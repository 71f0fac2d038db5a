"""A memo that lasts as long as the tests' process: a plan that many tests ask about is worked out once.

That is no weaker than working it out again: a warm evaluation equals a cold one to the bit
(`tests.core.test_evaluate`, whose own memos are fresh), and what is run in a process of its own begins cold.
Use it from the tests' own thread.
"""

from __future__ import annotations

from core.base.memo import Memo
from core.evaluate import Result, evaluate
from core.plan.document import Plan

#: Kept for one file's plans and no more: a result of 150 passes takes megabytes.
MEMO = Memo(kept=32)


def result_of(plan: Plan) -> Result:
    """The plan's result, worked out now if no test of this process has asked for it before."""
    return evaluate(plan, MEMO)
