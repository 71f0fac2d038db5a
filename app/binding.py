"""The Qt binding imported without compiling it over again at every start.

Part of the binding is Python that its library brings along as text, which every process compiles anew: half
of what the binding takes. Here what was compiled is kept as Python keeps what it compiles of files: in the
folder of this module's own compiled code, if it can be written to, and used as long as the text is the same.
"""

from __future__ import annotations

import builtins
import marshal
import sys
from contextlib import suppress
from importlib import import_module
from importlib.util import MAGIC_NUMBER, cache_from_source, source_hash
from pathlib import Path
from types import CodeType

from core.base.errors import FileProblem
from core.base.whole_files import write_bytes


class KeptCode:
    """The built-in `compile` that remembers: code by the name and the hash of its text."""

    def __init__(self, file: Path) -> None:
        self._file, self._plain = file, builtins.compile
        self._codes: dict[tuple[str, bytes], CodeType] = {}
        self._added = False
        with suppress(OSError, ValueError, EOFError, TypeError):
            magic, codes = marshal.loads(file.read_bytes())
            if magic == MAGIC_NUMBER:
                self._codes = codes

    def compile(self, source: object, filename: object, mode: str, *rest: object, **named: object) -> object:
        """As the built-in; kept are whole modules, given as bytes."""
        if rest or named or mode != "exec" or not isinstance(source, bytes) or not isinstance(filename, str):
            return self._plain(source, filename, mode, *rest, **named)  # type: ignore[call-overload]
        key = filename, source_hash(source)
        if key not in self._codes:
            self._codes[key] = self._plain(source, filename, mode)
            self._added = True
        return self._codes[key]

    def write(self) -> None:
        """Keep what was compiled for the next start; where that cannot be done it is compiled then."""
        if self._added and not sys.dont_write_bytecode:
            with suppress(FileProblem, OSError, ValueError):
                self._file.parent.mkdir(parents=True, exist_ok=True)
                write_bytes(self._file, marshal.dumps((MAGIC_NUMBER, self._codes)), force=True)


def import_binding() -> None:
    """Before anything else of Qt: import its binding, and go on importing and compiling as Python does.

    The binding puts an import of its own in place, which reads the source of every module imported afterwards
    for a request to have its methods named otherwise. Nothing here asks, and a start reads 150 of them (30 ms
    measured).
    """
    kept = KeptCode(Path(cache_from_source(__file__)).with_suffix(".parts"))
    names = vars(builtins)
    plain = {name: names[name] for name in ("__import__", "compile")}
    names["compile"] = kept.compile
    try:
        import_module("PySide6")
    finally:
        names.update(plain)
    kept.write()
