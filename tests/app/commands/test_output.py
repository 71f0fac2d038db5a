"""How commands speak."""

from __future__ import annotations

import io
import sys

import pytest

from app.commands import output


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_tables_stay_aligned_whatever_stands_in_them(capsys):
    output.say_table(["name", "deg"], [["a\nb", "1.0"], ["ccccc", "100.25"]])
    assert capsys.readouterr().out == "name      deg\na b       1.0\nccccc  100.25\n"


def test_a_line_on_standard_error_is_one_line(capsys):
    output.tell("a\n  b\x1b[2J\u2028c")
    assert capsys.readouterr().err == "northkey: a b [2J c\n"


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_no_json_is_never_printed(capsys, value):
    with pytest.raises(ValueError, match="JSON"):
        output.say_json({"value": value})
    assert capsys.readouterr().out == ""


def test_progress_is_shown_on_a_terminal_after_a_second_and_wiped(monkeypatch):
    stream, now = Terminal(), [0.0]
    monkeypatch.setattr(sys, "stderr", stream)
    monkeypatch.setattr("time.monotonic", lambda: now[0])
    with output.shown_progress() as progress:
        for done in range(10):
            now[0] = done * 0.2
            assert progress(done, 10, "study of the seat") is True
    assert stream.getvalue().startswith(
        "\rstudy of the seat: 5 of 10\x1b[K\rstudy of the seat: 7 of 10\x1b[K"
    )
    assert stream.getvalue().endswith("\r\x1b[K")


def test_short_work_and_files_see_no_progress(monkeypatch):
    for stream in (Terminal(), io.StringIO(), None):
        monkeypatch.setattr(sys, "stderr", stream)
        with output.shown_progress() as progress:
            assert progress(1, 2, "search") is True
        assert stream is None or stream.getvalue() == ""


def test_an_interrupted_computation_wipes_its_line(monkeypatch):
    stream, now = Terminal(), [0.0]
    monkeypatch.setattr(sys, "stderr", stream)
    monkeypatch.setattr("time.monotonic", lambda: now[0])

    def interrupted() -> None:
        with output.shown_progress() as progress:
            now[0] = 5.0
            progress(1, 2, "search")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert stream.getvalue().endswith("\r\x1b[K")


@pytest.mark.parametrize("count", [0, 1, 3])
@pytest.mark.parametrize("more", [{"refused": []}, {"refused": [{"satellite": "EMBER-3"}], "note": "ü"}])
def test_a_long_list_is_written_as_if_it_were_one_object(capsys, count, more):
    """Item by item, so that a catalogue's is never held twice; a reader sees no difference."""
    items = [
        {"satellite": f"ALDER-{n} ü", "aos": {"deg": 0.1 * n}, "stretches": [], "cut": None}
        for n in range(count)
    ]
    output.say_json_list("passes", [output.json_text(item) for item in items], more)
    written = capsys.readouterr().out
    output.say_json({"passes": items} | more)
    assert written == capsys.readouterr().out
