"""Code that Python compiles anew in every process, kept for the next one.

Python keeps what it compiles of files, and nothing of what it compiles of texts made on the way: the methods
of dataclasses, annotations that are text, the parts that the Qt binding brings along. Here that is kept too,
as Python keeps the other: in the folder of the compiled files, if that can be written to, and used as long as
the text is the same.
"""

from __future__ import annotations

import builtins
import dataclasses
import marshal
import sys
import typing
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.util import MAGIC_NUMBER, cache_from_source, source_hash
from pathlib import Path
from types import CodeType
from typing import Any

#: More texts than all commands and the window ask for together: what is beyond is of older versions.
_MOST_KEPT = 8192

#: Hash of the text, whether it is text or bytes, name of its file, mode.
_Key = tuple[bytes, str, str, str]


class KeptCode:
    """The built-ins `compile` and `exec`, which remember: code by the hash of its text."""

    def __init__(self, file: Path) -> None:
        """Read what was kept in ``file``; nothing where it is not there, torn or another Python's."""
        self._file, self._plain = file, builtins.compile
        self._codes = _read(file)
        self._asked: set[_Key] = set()
        self._added = False

    @classmethod
    def beside(cls, module_file: str) -> KeptCode:
        """What is kept for a module, beside its own compiled code."""
        return cls(Path(cache_from_source(module_file)).with_suffix(".parts"))

    def compile(self, source: object, filename: object, mode: object, *rest: Any, **named: Any) -> Any:
        """As the built-in; kept are texts and bytes that are compiled without any options."""
        if rest or named or not (isinstance(filename, str) and isinstance(mode, str)):
            return self._plain(source, filename, mode, *rest, **named)  # type: ignore[call-overload]
        if isinstance(source, str):
            content = source.encode("utf-8", "surrogatepass")
        elif isinstance(source, bytes):
            content = source
        else:
            return self._plain(source, filename, mode)  # type: ignore[call-overload]
        key = source_hash(content), type(source).__name__, filename, mode
        self._asked.add(key)
        return self._known(key) or self._new(key, source)

    def exec(self, source: object, names: dict[str, Any], local: Any = None) -> None:
        """As the built-in with its names given; kept are texts."""
        code: Any = self.compile(source, "<string>", "exec") if isinstance(source, str) else source
        exec(code, names, local)

    def _known(self, key: _Key) -> CodeType | None:
        with suppress(KeyError, ValueError, EOFError, TypeError):
            code = marshal.loads(self._codes[key])
            return code if isinstance(code, CodeType) else None
        return None

    def _new(self, key: _Key, source: str | bytes) -> CodeType:
        *_, filename, mode = key
        code = self._plain(source, filename, mode, dont_inherit=True)  # not with this module's own futures
        self._codes[key] = marshal.dumps(code)
        self._added = True
        return code

    def write(self) -> None:
        """Keep what was compiled, with what others kept meanwhile; where that cannot be done, it is not."""
        if not self._added or sys.dont_write_bytecode:
            return
        self._codes = _read(self._file) | self._codes
        if len(self._codes) > _MOST_KEPT:
            self._codes = {key: self._codes[key] for key in self._asked}
        # A start that finds all kept goes without.
        from core.base.errors import FileProblem
        from core.base.whole_files import write_bytes

        with suppress(FileProblem, OSError, ValueError):
            self._file.parent.mkdir(parents=True, exist_ok=True)
            write_bytes(self._file, marshal.dumps((MAGIC_NUMBER, self._codes)), force=True)
            self._added = False


def _read(file: Path) -> dict[_Key, bytes]:
    with suppress(OSError, ValueError, EOFError, TypeError):
        magic, codes = marshal.loads(file.read_bytes())
        if magic == MAGIC_NUMBER and isinstance(codes, dict):
            return codes
    return {}


@contextmanager
def code_kept() -> Iterator[KeptCode]:
    """Before the first model is made: as long as this lasts, methods of dataclasses and annotations are kept.

    A start makes 660 such methods and, in the models' library, 790 such annotations; to compile them is a
    tenth of it (measured). Python's modules look up the built-in by its name, and so find this one first.

    Yields:
        What is kept, which is written in the end.
    """
    kept = KeptCode.beside(__file__)
    places = (
        (vars(dataclasses), "exec", kept.exec),
        (vars(typing), "compile", kept.compile),
    )
    for names, name, own in places:
        names[name] = own
    try:
        yield kept
    finally:
        for names, name, _ in places:
            names.pop(name, None)
        kept.write()
