"""Files are written whole or not at all, by whoever may; what killed writers left is cleared away."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from core.base.errors import FileProblem
from core.base.whole_files import clear_away, stamp_of, write_bytes


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_nothing_is_replaced_without_force(tmp_path):
    path = tmp_path / "sheet.pdf"
    write_bytes(path, b"one", force=False)
    with pytest.raises(FileProblem, match=r"is there already; use --force"):
        write_bytes(path, b"two", force=False)
    assert contents(tmp_path) == {"sheet.pdf": b"one"}
    write_bytes(path, b"two", force=True)
    assert contents(tmp_path) == {"sheet.pdf": b"two"}


def test_places_that_cannot_be_written_to_are_told(tmp_path):
    for path, words in [
        (tmp_path, "is a folder"),
        (tmp_path / "none" / "x.csv", "no such file or directory"),
        (Path(os.devnull), "is no ordinary file"),
        ("", "is a folder"),
        ("a\0b", "null"),
        (tmp_path / ("x" * 300), "too long"),
    ]:
        for force in (False, True):
            with pytest.raises(FileProblem, match=words) as caught:
                write_bytes(path, b"x", force=force)
            assert str(caught.value).isprintable()
    assert contents(tmp_path) == {}
    assert stat.S_ISCHR(os.stat(os.devnull).st_mode)


def test_a_long_name_can_be_written(tmp_path):
    path = tmp_path / ("x" * 255)
    write_bytes(path, b"x", force=False)
    assert path.read_bytes() == b"x"


def test_a_link_stays_a_link(tmp_path):
    target, link = tmp_path / "kept.json", tmp_path / "link.json"
    target.write_bytes(b"old")
    link.symlink_to(target)
    write_bytes(link, b"new", force=True)
    assert link.is_symlink()
    assert target.read_bytes() == b"new"


def test_permissions_are_kept_and_new_files_get_the_usual_ones(tmp_path):
    path = tmp_path / "kept.json"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_bytes(path, b"new", force=True)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    mask = os.umask(0o027)
    try:
        write_bytes(tmp_path / "new.json", b"new", force=False)
    finally:
        os.umask(mask)
    assert stat.S_IMODE((tmp_path / "new.json").stat().st_mode) == 0o640


@pytest.mark.parametrize("force", [True, False])
def test_a_read_only_file_is_not_replaced(tmp_path, force):
    path = tmp_path / "kept.json"
    path.write_bytes(b"old")
    path.chmod(0o444)
    with pytest.raises(FileProblem, match="is read-only; name another" if force else "is there already"):
        write_bytes(path, b"new", force=force)
    assert contents(tmp_path) == {"kept.json": b"old"}


def test_each_writing_has_a_stamp_of_its_own(tmp_path):
    path = tmp_path / "kept.json"
    assert stamp_of(path) is None
    first = write_bytes(path, b"one", force=True)
    assert stamp_of(path) == first
    second = write_bytes(path, b"two", force=True)
    assert stamp_of(path) == second != first
    assert stamp_of(tmp_path / "a\0b") is None


#: Dies while the file beside is there and not yet in its place.
_KILLED = """
import os, signal, sys
from core.base import whole_files
os.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
whole_files.write_bytes(sys.argv[1], b"half", force=True)
"""


def test_what_a_killed_writer_left_is_cleared_away_by_the_next(tmp_path):
    path = tmp_path / "kept.json"
    write_bytes(path, b"old", force=False)
    for _ in range(2):
        subprocess.run([sys.executable, "-c", _KILLED, str(path)], check=False)
    left = [name for name in contents(tmp_path) if name.startswith(".northkey-")]
    assert len(left) == 2
    assert path.read_bytes() == b"old"
    write_bytes(path, b"new", force=True)
    assert contents(tmp_path) == {"kept.json": b"new"}


def test_what_is_being_written_and_what_has_another_name_stays(tmp_path):
    mine = write_beside(tmp_path)
    other = mine.with_name(".northkey-00000000-1-abcdefgh")
    foreign = [other, tmp_path / ".northkey-demo.json", tmp_path / ".northkey-abcdefgh", tmp_path / "abc"]
    for path in foreign:
        path.write_bytes(b"x")
    clear_away(tmp_path)
    assert set(contents(tmp_path)) == {path.name for path in (mine, *foreign)}
    long_ago = time.time() - 2.0 * 86_400.0
    for path in foreign:
        os.utime(path, (long_ago, long_ago))
    clear_away(tmp_path)
    assert set(contents(tmp_path)) == {mine.name, ".northkey-demo.json", "abc"}


def write_beside(folder: Path) -> Path:
    """A file as this very process writes it, caught before it is in its place."""
    seen: list[Path] = []
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(os, "replace", lambda beside, _target: seen.append(Path(beside)))
        write_bytes(folder / "never.json", b"x", force=False)
    return seen[0]
