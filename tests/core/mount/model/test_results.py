from __future__ import annotations

import json

from core.mount.model.results import NOT_HELD, VERDICTS, Verdict
from core.mount.model.station import POSTURES


def test_a_verdicts_code_is_its_place_in_the_order_of_trouble() -> None:
    assert [verdict.code for verdict in Verdict] == [0, 1, 2, 3, 4]
    assert all(VERDICTS[verdict.code] is verdict for verdict in Verdict)
    assert (*POSTURES, *NOT_HELD) == VERDICTS


def test_a_verdict_is_told_and_stored_by_its_word() -> None:
    assert f"{Verdict.OUT_OF_REACH}" == "out of reach"
    assert json.dumps({"verdict": Verdict.OVER_THE_TOP}) == '{"verdict": "over the top"}'
    assert {"split": 1}[Verdict.SPLIT] == 1
