"""Timetable, checklist and kit as `northkey setup` prints them."""

from __future__ import annotations

from app.commands.output import say, say_table
from core.base.times import clock
from core.base.words import plain
from core.place.zones import local_clock
from core.ready import Ready
from core.setup.checklist import progress_words
from core.setup.timetable_words import (
    NO_CONTACT,
    arrive_sentence,
    light_sentence,
    moved_sentences,
    stage_note,
)


def say_ready(found: Ready, zone: str) -> None:
    """When to be there, what is still to be done, what to pack."""
    table = found.timetable
    if table is None:
        say(NO_CONTACT)
    else:
        say(arrive_sentence(table, zone))
        for sentence in (*moved_sentences(table, zone), light_sentence(table, zone)):
            say(sentence)
        rows = [
            [
                clock(one.start_utc_s, seconds=False),
                local_clock(one.start_utc_s, zone, seconds=False),
                one.what,
                plain(one.minutes),
                stage_note(one),
            ]
            for one in table.stages
        ]
        say_table(["UTC", "local", "at the latest", "min", ""], rows, left=(0, 1, 2, 4))
    say()
    say(f"Checklist: {progress_words(sum(one.done for one in found.steps))}")
    say_table(
        ["", "step", ""], [["x" if one.done else "-", one.name, one.words] for one in found.steps], (0, 1, 2)
    )
    say()
    say("Kit:")
    say_table(["take", "why"], [[one.what, one.why] for one in found.kit], left=(0, 1))
    say()
