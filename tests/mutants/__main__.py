"""Plant faults drawn by seed over core, one at a time, and see whether a test notices.

    python -m tests.mutants --seed 1 --count 200 --results FILE.jsonl

Every module gets at least one where the count allows, the others go by what there is to change in it. Each
is planted in a copy of the checkout; the tests run there, the nearest first, until one fails or time is up.
What was broken off goes on with the same file. ``--again`` gives survivors another try.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from importlib.util import cache_from_source
from pathlib import Path
from queue import Empty, Queue

from tests.mutants.faults import Fault, faults_of
from tests.mutants.nearness import near_tests

ROOT = Path(__file__).resolve().parents[2]
EXPLAINED = Path(__file__).with_name("explained.json")
Drawn = tuple[str, Fault]
_NEAREST = 10


def modules_of(root: Path) -> dict[str, str]:
    """The source of every module of core, by dotted name."""
    return {
        ".".join(path.relative_to(root).with_suffix("").parts): path.read_text(encoding="utf-8")
        for path in sorted((root / "core").rglob("*.py"))
        if path.name != "__init__.py"
    }


def shares(sizes: dict[str, int], count: int) -> dict[str, int]:
    """How many of ``count`` each gets: one each as far as they go, the rest by size (largest remainders)."""
    names = [name for name, size in sizes.items() if size]
    given = dict.fromkeys(sorted(names, key=lambda n: -sizes[n])[:count], 1)
    spare, whole = count - len(given), sum(sizes[name] for name in given) or 1
    exact = {name: spare * sizes[name] / whole for name in given}
    for name in given:
        given[name] += int(exact[name])
    left = count - sum(given.values())
    for name in sorted(given, key=lambda n: (int(exact[n]) - exact[n], n))[:left]:
        given[name] += 1
    return {name: min(number, sizes[name]) for name, number in given.items()}


def drawn(root: Path, seed: int, count: int, only: list[str]) -> list[Drawn]:
    """The faults of a campaign: the same seed and source give the same ones."""
    sources = {n: s for n, s in modules_of(root).items() if not only or any(n.startswith(o) for o in only)}
    faults = {name: faults_of(source) for name, source in sources.items()}
    number = shares({name: len(found) for name, found in faults.items()}, count)
    chosen = [(n, f) for n, k in number.items() for f in random.Random(f"{seed}:{n}").sample(faults[n], k)]
    random.Random(seed).shuffle(chosen)
    return chosen


def key_of(module: str, fault: Fault) -> str:
    """A fault's name: it outlives changes elsewhere in the file."""
    return f"{module}: {' '.join(fault.old.split())} -> {' '.join(fault.new.split())}"


def id_of(key: str, line: int) -> str:
    """The same change can be drawn at two lines of a module."""
    return f"{line} {key}"


def put(path: Path, source: str) -> None:
    """Give a module another source; what was compiled goes by second and size, which may be the same."""
    path.write_text(source, encoding="utf-8")
    Path(cache_from_source(str(path))).unlink(missing_ok=True)


def tried(copy: Path, module: str, fault: Fault, run_s: float, window: bool) -> dict[str, str]:
    """What became of a fault: killed by which test, by time, or survived."""
    path = copy / f"{module.replace('.', '/')}.py"
    good = path.read_text(encoding="utf-8")
    files = near_tests(ROOT, module, window)
    put(path, fault.planted(good))
    begun = time.monotonic()
    try:
        # Gathering all tests takes longer than the nearest ones take to notice.
        for some in (files[:_NEAREST], files[_NEAREST:]):
            left_s = run_s - (time.monotonic() - begun)
            told = _noticed(copy, some, left_s) if some and left_s > 0.0 else None
            if told is not None:
                return told
    finally:
        put(path, good)
    return {"state": "survived", "by": ""}


def _noticed(copy: Path, files: list[str], run_s: float) -> dict[str, str] | None:
    """Run some tests on a copy: who noticed, or None."""
    words = ["-m", "pytest", "-x", "-q", "-n", "0", "-p", "no:cacheprovider", "-p", "tests.mutants.clock"]
    env = os.environ | {"PYTHONPATH": str(copy), "MUTANTS_RUN_S": str(run_s), "QT_QPA_PLATFORM": "offscreen"}
    env.setdefault("NORTHKEY_SHARED", str(ROOT.parent / "shared"))
    done = subprocess.run(
        [sys.executable, *words, *files], cwd=copy, env=env, capture_output=True, text=True, check=False
    )
    if done.returncode == -signal.SIGALRM:
        return {"state": "killed by time", "by": ""}
    lines = done.stdout.splitlines()
    failed = [line.split(" - ")[0] for line in lines if line.startswith(("FAILED", "ERROR"))]
    if failed or done.returncode not in {0, 2, 5}:
        return {"state": "killed", "by": failed[0] if failed else f"exit {done.returncode}"}
    return None


def campaign(work: list[Drawn], results: Path, workers: int, run_s: float, window: bool) -> None:
    """Try them all, each result a line of the file."""
    queue: Queue[Drawn] = Queue()
    for item in work:
        queue.put(item)
    writing = threading.Lock()

    def worker() -> None:
        with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
            copy = Path(folder) / "checkout"
            for top in ("core", "app", "tests", "resources"):
                shutil.copytree(ROOT / top, copy / top, ignore=shutil.ignore_patterns("__pycache__"))
            for name in ("pyproject.toml", "README.md"):
                shutil.copy(ROOT / name, copy)
            while True:
                try:
                    module, fault = queue.get_nowait()
                except Empty:
                    return
                told = tried(copy, module, fault, run_s, window)
                entry = {"key": key_of(module, fault), "module": module, "line": fault.line, **told}
                with writing, results.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(entry) + "\n")

    threads = [threading.Thread(target=worker) for _ in range(workers)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def known(results: Path) -> dict[str, dict[str, str]]:
    """What is in the file, the latest of each."""
    if not results.exists():
        return {}
    entries = [json.loads(line) for line in results.read_text(encoding="utf-8").splitlines()]
    return {id_of(entry["key"], entry["line"]): entry for entry in entries}


def told(entries: list[dict[str, str]]) -> str:
    """A table by room, and the survivors with why they may."""
    explained = json.loads(EXPLAINED.read_text(encoding="utf-8")) if EXPLAINED.exists() else {}
    rooms: dict[str, Counter[str]] = {}
    for entry in entries:
        rooms.setdefault(entry["module"].rpartition(".")[0], Counter())[entry["state"]] += 1
    states = ("killed", "killed by time", "survived")
    lines = [f"{'room':40}" + "".join(f"{state:>16}" for state in states)]
    for room, count in sorted(rooms.items()):
        lines.append(f"{room:40}" + "".join(f"{count[state]:16}" for state in states))
    whole = Counter(entry["state"] for entry in entries)
    lines.append(f"{'all':40}" + "".join(f"{whole[state]:16}" for state in states))
    killed = whole["killed"] + whole["killed by time"]
    lines.append(f"{killed} of {len(entries)} killed: {100.0 * killed / max(len(entries), 1):.1f} %")
    left = (entry for entry in entries if entry["state"] == "survived")
    lines += (f"line {e['line']}: {e['key']}: {explained.get(e['key'], 'not explained')}" for e in left)
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("--seed", type=int, required=True)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--results", type=Path, required=True, help="a file that grows by a line a fault")
    parser.add_argument("--module", action="append", default=[], help="only modules whose name begins so")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--seconds", type=float, default=150.0, help="the tests' time for each fault")
    parser.add_argument(
        "--again", action="store_true", help="try survivors once more, with the window's tests too"
    )
    words = parser.parse_args()
    work = drawn(ROOT, words.seed, words.count, words.module)
    found = known(words.results)
    done = {key for key, entry in found.items() if not (words.again and entry["state"] == "survived")}
    open_ = [
        (module, fault) for module, fault in work if id_of(key_of(module, fault), fault.line) not in done
    ]
    campaign(open_, words.results, words.workers, words.seconds, window=words.again)
    found = known(words.results)
    print(told([found[id_of(key_of(module, fault), fault.line)] for module, fault in work]))


if __name__ == "__main__":
    main()
