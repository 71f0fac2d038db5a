"""The one door for files: only ordinary ones, of bounded size, and never waited for without end."""

from __future__ import annotations

import os
import socket
import threading

import pytest

from core.base.errors import Cancelled, FileProblem
from core.base.files import read_file, read_head, size_words
from core.elements.files import read_element_files
from core.place.horizon_file import read_horizon_file
from core.plan.storage import read_plan

MIB = 1024 * 1024


@pytest.fixture
def pipe(tmp_path):
    path = tmp_path / "pipe"
    os.mkfifo(path)
    return path


def reason(path, largest=MIB):
    with pytest.raises(FileProblem) as caught:
        read_file(path, largest, what="plan")
    assert caught.value.file == (str(path) or "(no name)")
    return caught.value.reason


def test_an_ordinary_file_is_read_whole_and_through_links(tmp_path):
    path, link = tmp_path / "a", tmp_path / "b"
    content = bytes(range(256)) * 10_000
    path.write_bytes(content)
    link.symlink_to(path)
    for name in (path, str(path), link):
        assert read_file(name, len(content)) == content
        assert read_head(name, 100) == content[:100]


def test_an_empty_file_is_nothing(tmp_path):
    path = tmp_path / "a"
    path.write_bytes(b"")
    assert read_file(path, MIB) == b""


def answered(read):
    """What a reader answers; one that waits for a pipe is told from one that does not by a thread."""
    told = []

    def ask():
        try:
            told.append(read())
        except FileProblem as problem:
            told.append(problem)

    asking = threading.Thread(target=ask, daemon=True)
    asking.start()
    asking.join(30.0)
    assert not asking.is_alive(), "it waits"
    return told[0]


def test_no_reader_waits_for_a_pipe(pipe):
    for read in (lambda: read_file(pipe, MIB), lambda: read_head(pipe, 10)):
        assert answered(read).reason == "is a pipe; name an ordinary file"
    assert (
        answered(lambda: read_element_files([pipe])).refused[0].reason == "is a pipe; name an ordinary file"
    )
    assert answered(lambda: read_plan(pipe)).reason == "is a pipe; name an ordinary file"
    assert answered(lambda: read_horizon_file(pipe)).reason == "is a pipe; name an ordinary file"


def test_no_reader_reads_a_device():
    assert reason("/dev/zero") == "is a device; name an ordinary file"
    with pytest.raises(FileProblem, match="is a device"):
        read_horizon_file("/dev/zero")
    with pytest.raises(FileProblem, match="is a device"):
        read_plan("/dev/zero")
    assert "is a device" in read_element_files(["/dev/zero"]).refused[0].reason


def test_a_socket_is_told(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # names of sockets are short
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind("socket")
        assert reason("socket") == "is a socket; name an ordinary file"


def test_what_is_exchanged_for_a_pipe_after_it_was_looked_at(tmp_path, pipe, monkeypatch):
    path = tmp_path / "a"
    path.write_bytes(b"x")
    ordinary = os.stat(path)
    monkeypatch.setattr("core.base.files.os.stat", lambda _path: ordinary)
    assert answered(lambda: read_file(pipe, MIB)).reason == "is a pipe; name an ordinary file"


def test_what_is_not_there_or_may_not_be_read(tmp_path, monkeypatch):
    assert reason(tmp_path / "none") == reason("") == "does not exist"
    assert reason(tmp_path) == "is a folder; name a file"
    assert reason("a\0b").startswith("cannot be read: embedded null")
    assert reason("x" * 5000) == "cannot be read: file name too long"
    locked = tmp_path / "locked"
    locked.write_bytes(b"x")
    monkeypatch.setattr("core.base.files.os.open", _refuse)
    assert reason(locked) == "may not be read (no permission)"


def _refuse(*_arguments):
    raise PermissionError(13, "Permission denied")


def test_the_size_is_told_and_held(tmp_path):
    path = tmp_path / "a"
    path.write_bytes(b"x" * (MIB + 1))
    assert reason(path) == "is larger than any plan (1 MiB); is it the right file?"
    assert len(read_file(path, MIB + 1)) == MIB + 1
    assert (size_words(64 * MIB), size_words(500 * 1024)) == ("64 MiB", "500 kB")


def test_a_size_that_is_not_told_is_held_too(tmp_path):
    """Files that the system makes up have the size 0."""
    path = "/proc/self/status"
    if not os.path.exists(path):
        pytest.skip("no such files here")
    assert reason(path, 100) == "is larger than any plan (0 kB); is it the right file?"
    assert len(read_file(path, MIB)) > 100


def test_it_can_be_cancelled_between_pieces(tmp_path):
    path = tmp_path / "a"
    path.write_bytes(b"x" * (3 * MIB))
    told = []

    def progress(done, total, what):
        told.append((done, total, what))
        return len(told) < 3

    with pytest.raises(Cancelled):
        read_file(path, 8 * MIB, progress, what="element file")
    assert told == [(at * MIB, 3 * MIB, "reading element file") for at in range(3)]
    for read in (read_plan, read_horizon_file, lambda path, ask: read_element_files([path], ask)):
        path.write_bytes(b"x")
        with pytest.raises(Cancelled):
            read(path, lambda *_: False)
