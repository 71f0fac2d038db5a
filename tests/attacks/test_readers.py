"""Whatever a stranger sends: reading takes no more than its size allows, in memory and in time."""

from __future__ import annotations

import pytest

from core.elements.found import Found, Origin
from core.elements.reading import read_elements
from tests.attacks.cost import memory_growth, peak_bytes, seconds, time_growth
from tests.attacks.makers import NEEDED, drawn, numbered
from tests.attacks.readers import ATTACKS, READERS
from tests.core.elements.samples import five_sets

KIB, MIB = 1024, 1024 * 1024
#: Bytes of memory for a byte of text.
MOST_MEMORY = 20.0
#: Of a text four times as long: a reader that looks again and again at all of it takes sixteen times as long.
MOST_GROWTH = 10.0
SEEDS = 2000


@pytest.mark.parametrize("name", sorted(ATTACKS))
def test_memory_grows_no_faster_than_the_text_allows(name):
    assert memory_growth(*ATTACKS[name], 20 * KIB, 40 * KIB) <= MOST_MEMORY


@pytest.mark.parametrize("name", sorted(ATTACKS))
def test_time_grows_as_the_text_does(name):
    assert time_growth(*ATTACKS[name], 40 * KIB, MOST_GROWTH) <= MOST_GROWTH


def held(seed: int, small: int, large: int) -> list[str]:
    """What the readers take too much of for the text of a seed; nothing is expected."""
    wrong = []
    for kind, read in READERS.items():
        memory = memory_growth(read, drawn(seed), small, large)
        if memory > MOST_MEMORY:
            wrong.append(f"seed {seed}, {kind}: {memory:.0f} times the text in memory")
        four_times = time_growth(read, drawn(seed), small, MOST_GROWTH)
        if four_times > MOST_GROWTH:
            wrong.append(f"seed {seed}, {kind}: {four_times:.0f} times as long at four times the size")
    return wrong


@pytest.mark.parametrize("seed", range(0, SEEDS, SEEDS // 20))
def test_drawn_floods_cost_what_their_size_allows(seed):
    assert held(seed, 20 * KIB, 40 * KIB) == []


@pytest.mark.long
def test_the_campaign_of_floods_drawn_by_seed():
    wrong = [line for seed in range(SEEDS) for line in held(seed, 36 * KIB, 144 * KIB)]
    print(f"\n{SEEDS} drawn floods for {len(READERS)} readers, {len(wrong)} too dear", *wrong[:20], sep="\n")
    assert wrong == []


@pytest.mark.long
def test_the_campaign_of_floods_of_a_mebibyte():
    lines, dear = [], []
    for name, (read, make) in sorted(ATTACKS.items()):
        text = make(MIB)
        size = len(text.encode("utf-8", "replace"))
        memory, took = peak_bytes(read, text) / size, seconds(read, text) * MIB / size
        lines.append(f"{took:8.2f} s a MiB {memory:8.1f} times its memory  {name}")
        if memory > MOST_MEMORY:
            dear.append(name)
    print("", *sorted(lines, reverse=True), sep="\n")
    assert dear == []


def test_good_sets_cost_what_they_are_and_no_more():
    """The shortest good rows there are: what is held for each is the set itself and where it stood."""
    make = numbered("9{:05d},2024-01-01T00:00:00,1,0,0,0,0,0\n", NEEDED + "\n")
    small, large = (read_elements(make(size), "a.csv") for size in (24 * KIB, 96 * KIB))
    assert (small.refused, large.refused) == ((), ())

    def hold(_text: str) -> object:
        found = Found()
        for at, elements in enumerate(large.sets):
            found.take(Origin("a.csv", f"line {at}"), elements.model_copy())
        return found

    held_bytes = peak_bytes(hold, "") / len(large.sets)
    rows = (len(large.sets) - len(small.sets), memory_growth(READERS["elements"], make, 24 * KIB, 96 * KIB))
    a_row = rows[1] * len(make(96 * KIB)) / len(large.sets)
    assert a_row <= 2.0 * held_bytes + 200.0


def test_a_flood_never_stops_a_good_set_before_it():
    head = "\n".join([NEEDED, *(f"{s.norad_id},2024-01-01T00:00:00,14,0,90,0,0,0" for s in five_sets())])
    reading = read_elements(head + "\nx" * 50_000, "a.csv")
    assert [each.norad_id for each in reading.sets] == [each.norad_id for each in five_sets()]
    assert len(reading.refused) == 1001
    assert reading.refused[-1].reason == "9000 more are refused; they are not listed"
    assert reading.notes == (
        "a.csv: so much damage that nothing after line 10006 was read",
        "a.csv: BSTAR missing, taken as 0 (line 2 and 4 more)",
    )


def test_of_a_flood_of_one_object_the_rest_is_counted():
    row = f"{five_sets()[0].norad_id},2024-01-01T00:00:00,14,0,90,0,0,0\n"
    reading = read_elements(NEEDED + "\n" + row * 3000, "a.csv")
    assert len(reading.sets) == 1
    assert len(reading.refused) == 1001
    assert reading.refused[-1].reason.startswith("1999 more gave way to others of their object")
