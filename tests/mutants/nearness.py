"""Which tests are near a module: those that mirror it, then those that reach it by fewest imports."""

from __future__ import annotations

import ast
from collections import deque
from functools import cache
from pathlib import Path


@cache
def _imports(root: Path) -> dict[str, frozenset[str]]:
    """What each module of core, app and tests imports of them, by dotted name."""
    paths = {
        ".".join(path.relative_to(root).with_suffix("").parts).removesuffix(".__init__"): path
        for top in ("core", "app", "tests")
        for path in (root / top).rglob("*.py")
    }
    found = {}
    for name, path in paths.items():
        named = set()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                named |= {node.module, *(f"{node.module}.{one.name}" for one in node.names)}
            elif isinstance(node, ast.Import):
                named |= {one.name for one in node.names}
        found[name] = frozenset(named & paths.keys())
    return found


def near_tests(root: Path, module: str, window: bool = False) -> list[str]:
    """Test files (paths from the root) for a fault in ``module``, the nearest first.

    Args:
        root: the checkout.
        module: dotted name, e.g. ``core.mount.seat.arcs``.
        window: the window's tests too; the commands' are always among them.
    """
    imports = _imports(root)
    users: dict[str, set[str]] = {}
    for name, named in imports.items():
        for one in named:
            users.setdefault(one, set()).add(name)
    steps, waiting = {module: 0}, deque([module])
    while waiting:
        here = waiting.popleft()
        for user in sorted(users.get(here, ())):
            if user not in steps:
                steps[user] = steps[here] + 1
                waiting.append(user)
    room, _, last = module.rpartition(".")

    def rank(name: str) -> tuple[int, int, str]:
        mirror = f"tests.{room}.test_{last}"
        by_command = name.startswith("tests.app")
        near = 0 if name == mirror else 1 if name.startswith(f"tests.{room}.") else 3 if by_command else 2
        return near, steps[name], name

    files = [name for name in steps if name.rpartition(".")[2].startswith("test_")]
    kept = [name for name in files if window or not name.startswith("tests.app.window")]
    kept = [name for name in kept if name.rpartition(".")[2] not in {"test_imports", "test_mutants"}]
    # The commands run the whole from outside, by processes that no import shows.
    kept += [name for name in imports if name.startswith("tests.app.commands.test_") and name not in kept]
    return [
        f"{name.replace('.', '/')}.py"
        for name in sorted(kept, key=lambda n: rank(n) if n in steps else (4, 0, n))
    ]
