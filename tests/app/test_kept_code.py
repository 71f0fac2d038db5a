"""Code kept for the next process: the same code, kept by its text, and Python as it was afterwards."""

from __future__ import annotations
import __future__

import ast
import dataclasses
import marshal
import os
import subprocess
import sys
import typing
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from app import kept_code
from app.kept_code import KeptCode, code_kept

SOURCE = "answer = 6 * 7"
IMPORTED = """
import sys
from app.kept_code import code_kept
with code_kept() as kept:
    import core.evaluate
    print(len(kept._asked), kept._added)
from core.place.site import Site
assert Site(latitude_deg=47.0, longitude_deg=8.0, height_m=0.0).height_m == 0.0
"""


@pytest.fixture(autouse=True)
def may_keep(monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", False)


def answer(kept: KeptCode, source: str | bytes = SOURCE) -> object:
    names: dict[str, object] = {}
    exec(kept.compile(source, "part.py", "exec"), names)
    return names["answer"]


def kept_in(file: Path, source: str | bytes = SOURCE) -> KeptCode:
    kept = KeptCode(file)
    answer(kept, source)
    kept.write()
    return kept


def compiled_anew(kept: KeptCode, source: str | bytes = SOURCE) -> bool:
    assert answer(kept, source) == 42
    return kept._added


@pytest.mark.parametrize("source", [SOURCE, SOURCE.encode()])
def test_code_is_kept_by_its_text(tmp_path, source):
    assert compiled_anew(KeptCode(tmp_path / "kept"), source)
    kept_in(tmp_path / "kept", source)
    before, again = (tmp_path / "kept").stat(), KeptCode(tmp_path / "kept")
    assert not compiled_anew(again, source)
    again.write()
    assert (tmp_path / "kept").stat() == before
    assert answer(again, "answer = 41") == 41
    with pytest.raises(SyntaxError):
        again.compile("answer =", "part.py", "exec")


def test_a_text_is_another_in_another_file_or_mode_or_as_bytes(tmp_path):
    kept = kept_in(tmp_path / "kept")
    assert kept.compile(SOURCE, "other.py", "exec").co_filename == "other.py"
    assert eval(kept.compile("6 * 7", "part.py", "eval")) == 42
    assert eval(kept.compile("6 * 7", "part.py", "exec")) is None
    umlaut = "# coding: latin-1\nanswer = len('\u00e4')"  # bytes go by the word, a text is read already
    assert answer(kept, umlaut) == 1
    assert answer(kept, umlaut.encode("utf-8")) == 2


def test_what_has_options_is_compiled_as_ever(tmp_path):
    kept = KeptCode(tmp_path / "kept")
    assert isinstance(kept.compile(SOURCE, "part.py", "exec", ast.PyCF_ONLY_AST), ast.Module)
    assert kept.compile(ast.parse(SOURCE), "part.py", "exec").co_filename == "part.py"
    assert not kept._added


def test_no_future_of_this_program_is_put_into_others_code(tmp_path):
    code = KeptCode(tmp_path / "kept").compile("def told(x: 6 * 7): pass", "part.py", "exec")
    assert not code.co_flags & __future__.annotations.compiler_flag
    names: dict[str, typing.Any] = {}
    exec(code, names)
    assert names["told"].__annotations__ == {"x": 42}


@pytest.mark.parametrize("content", [b"", b"torn", marshal.dumps((b"another Python", {})), marshal.dumps(7)])
def test_a_file_that_says_nothing_is_written_anew(tmp_path, content):
    kept_in(tmp_path / "kept")
    good = (tmp_path / "kept").read_bytes()
    (tmp_path / "kept").write_bytes(content)
    kept_in(tmp_path / "kept")
    assert (tmp_path / "kept").read_bytes() == good


@pytest.mark.parametrize("torn", [b"", b"torn", marshal.dumps(7)])
def test_a_torn_code_is_compiled_anew(tmp_path, torn):
    kept = kept_in(tmp_path / "kept")
    kept._codes = dict.fromkeys(kept._codes, torn)
    assert compiled_anew(kept)


def test_two_that_write_keep_both(tmp_path):
    one, other = KeptCode(tmp_path / "kept"), KeptCode(tmp_path / "kept")
    assert (answer(one, "answer = 1"), answer(other, "answer = 2")) == (1, 2)
    one.write()
    other.write()
    both = KeptCode(tmp_path / "kept")
    assert (answer(both, "answer = 1"), answer(both, "answer = 2"), both._added) == (1, 2, False)


def test_what_nobody_asks_for_is_not_kept_for_ever(tmp_path, monkeypatch):
    monkeypatch.setattr(kept_code, "_MOST_KEPT", 2)
    for number in range(2):
        kept_in(tmp_path / "kept", f"answer = {number}")
    kept_in(tmp_path / "kept")
    assert len(KeptCode(tmp_path / "kept")._codes) == 1
    assert not compiled_anew(KeptCode(tmp_path / "kept"))


def test_nothing_is_kept_where_python_keeps_nothing(tmp_path, monkeypatch):
    (tmp_path / "file").write_bytes(b"")
    kept_in(tmp_path / "file" / "kept")  # a folder that cannot be made
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    kept_in(tmp_path / "kept")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


# --- what it is for ---------------------------------------------------------------------------------------


def nouns() -> tuple[list[typing.Any], ...]:
    """Functions of classes made now, and an annotation."""

    @dataclasses.dataclass(frozen=True, order=True)
    class Stop:
        bearing_deg: float
        names: tuple[str, ...] = dataclasses.field(default_factory=tuple, hash=False)

    methods = [method for _, method in sorted(vars(Stop).items()) if hasattr(method, "__code__")]
    assert len(methods) > 8
    stop = Stop(270.0)
    assert stop == Stop(270.0, ())
    assert (str(stop), Stop(1.0) < stop) == (f"{Stop.__qualname__}(bearing_deg=270.0, names=())", True)
    return methods, [typing.ForwardRef("dict[str, float]").__forward_code__]


@contextmanager
def kept_at(file: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[KeptCode]:
    monkeypatch.setattr(kept_code, "cache_from_source", lambda _module: str(file))
    with code_kept() as kept:
        yield kept


@pytest.mark.skipif(sys.version_info >= (3, 14), reason="annotations are not compiled there")
def test_kept_methods_and_annotations_are_those_that_python_compiles(tmp_path, monkeypatch):
    plain, plain_annotation = nouns()
    for added in (True, False):
        with kept_at(tmp_path / "kept.pyc", monkeypatch) as kept:
            made, annotation = nouns()
            assert kept._added is added
        assert [method.__code__ for method in made] == [method.__code__ for method in plain]
        assert [method.__defaults__ for method in made] == [method.__defaults__ for method in plain]
        assert annotation == plain_annotation
    assert (tmp_path / "kept.parts").exists()


def test_python_is_as_it_was_afterwards(tmp_path, monkeypatch):
    def fails() -> None:
        with kept_at(tmp_path / "kept.pyc", monkeypatch):
            assert "exec" in vars(dataclasses)
            raise KeyError

    with pytest.raises(KeyError):
        fails()
    assert "exec" not in vars(dataclasses)
    assert "compile" not in vars(typing)


def test_the_second_start_compiles_none_of_it(tmp_path):
    environment = os.environ | {"PYTHONPYCACHEPREFIX": str(tmp_path)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    told = [
        subprocess.run(
            [sys.executable, "-W", "error", "-c", IMPORTED],
            env=environment,
            capture_output=True,
            text=True,
            check=True,
            timeout=60,
        ).stdout.split()
        for _ in range(2)
    ]
    assert told[0][1:] == ["True"]
    assert told[1] == [told[0][0], "False"]
    assert int(told[0][0]) > 500
