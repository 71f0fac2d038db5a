"""What the seat whose evening is best gains, in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.mount.seat.by_evening import BestEvening
from core.mount.seat.evening_saving import (
    EveningAt,
    evening_of_curve,
    evening_of_order,
    evening_saving,
    evening_saving_sentence,
)
from core.mount.seat.limits import SeatLimit
from tests.core.mount.seat.evenings_by_seat import made_up_curve
from tests.seat_evening import seat_evening, seat_plan

BEST = BestEvening(266.6, "A", (-20.0, 20.0), 13.0, 9021.4, 5538.0, 675.0, 12, 0, 0)
WALL = (SeatLimit(from_deg=50.0, to_deg=70.0, why="the wall"),)


def told(
    here: EveningAt, best: BestEvening = BEST, limits: tuple[SeatLimit, ...] = (), **mount: object
) -> str:
    plan = seat_plan(**{f"mount__{name}": value for name, value in mount.items()})
    return evening_saving_sentence(evening_saving(best, plan.mount, here, limits))


@pytest.mark.parametrize(
    ("here", "changes", "words"),
    [
        (
            EveningAt(8653.0, 1, 0),
            {},
            "Turn the keyway to 266.6 deg true, hole A: the evening is worth 9,021 s; as it stands 8,653 s.",
        ),
        (
            EveningAt(8653.0, 0, 0, exact=False),
            {"index_hole": "B"},
            "Turn the keyway to 266.6 deg true, hole A instead of B: the evening is worth 9,021 s; "
            "as it stands about 8,653 s.",
        ),
        (
            EveningAt(9030.0, 2, 0),
            {},
            "Turn the keyway to 266.6 deg true, hole A: the evening is worth 9,021 s; "
            "as it stands 9,030 s and 2 more turned back.",
        ),
        (
            EveningAt(9000.0, 0, 0),
            {},
            "Leave the keyway at 60.0 deg true, hole A: the evening is worth 9,000 s; "
            "266.6 deg, hole A, only gives more room.",
        ),
        (
            EveningAt(9021.4, 0, 0),
            {"keyway_bearing_deg": 266.62},
            "The keyway stands best as it is, 266.6 deg true, hole A: the evening is worth 9,021 s.",
        ),
    ],
)
def test_the_sentence(here: EveningAt, changes: dict[str, object], words: str) -> None:
    assert told(here, **changes) == words


def test_a_forbidden_seat_is_left_though_its_evening_is_worth_more() -> None:
    words = told(EveningAt(9500.0, 0, 0), limits=WALL)
    assert words.endswith("as it stands 9,500 s, but there it may not point (the wall).")


def test_where_every_bearing_is_forbidden_it_says_so() -> None:
    best = replace(BEST, forbidden=True)
    assert told(EveningAt(8000.0, 0, 0), best, WALL).startswith(
        "Every bearing is forbidden; were none, turn the keyway to 266.6 deg true, hole A: "
    )
    assert "though every bearing is forbidden" in told(EveningAt(9021.0, 0, 0), best, WALL)


def test_a_correction_that_turning_would_void_is_told() -> None:
    fitted = {"deg": 1.0, "keyway_bearing_deg": 60.0, "index_hole": "A"}
    assert told(EveningAt(8653.0, 0, 0), sighting_correction=fitted).endswith(
        "; turning it makes tonight's correction void."
    )
    assert "correction" not in told(EveningAt(9021.0, 0, 0), sighting_correction=fitted)


def test_the_evening_as_it_stands_is_the_order_s_or_the_nearest_candidate_s() -> None:
    plan, result, _study = seat_evening()
    assert evening_of_order(result.order).worth_s == result.order.worth.worth_s
    curve = made_up_curve([100.0, 200.0, 300.0, 400.0], turned_back=[0, 1, 2, 3])
    near = evening_of_curve(curve, plan.mount)  # at zeta 60: 90 is the nearest
    assert (near.worth_s, near.turned_back, near.exact) == (200.0, 1, False)
