"""The Qt binding imported without compiling it over again at every start.

Part of the binding is Python that its library brings along as text, which every process compiles anew: half
of what the binding takes. Here what was compiled is kept.
"""

from __future__ import annotations

import builtins
from importlib import import_module

from app.kept_code import KeptCode


def import_binding() -> None:
    """Before anything else of Qt: import its binding, and go on importing and compiling as Python does.

    The binding puts an import of its own in place, which reads the source of every module imported afterwards
    for a request to have its methods named otherwise. Nothing here asks, and a start reads 150 of them (30 ms
    measured).
    """
    kept = KeptCode.beside(__file__)
    names = vars(builtins)
    plain = {name: names[name] for name in ("__import__", "compile")}
    names["compile"] = kept.compile
    try:
        import_module("PySide6")
    finally:
        names.update(plain)
    kept.write()
