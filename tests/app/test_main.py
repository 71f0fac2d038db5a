"""The program's door: words, help, exit codes, streams; and any words at all."""

from __future__ import annotations

import errno
import io
import os
import subprocess
import sys

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app import main as door
from app.commands import output
from core.base.errors import NorthkeyError
from tests.app.commands.runner import ROOT, refused, run, run_alone
from tests.plans import full_plan_data, short_plan_data, write_elements_file, write_plan_file

COMMANDS = ("passes", "plan", "check", "orient", "evening", "season", "sheet", "export", "demo")


# --- help and words ---------------------------------------------------------------------------------------


def test_help_names_every_command_and_how_to_start():
    answer = run("--help")
    assert (answer.code, answer.err) == (0, "")
    for words in [*COMMANDS, 'Start with "northkey demo"', "--json", "Times are UTC"]:
        assert words in answer.out
    assert all(len(line) <= 110 for line in answer.out.splitlines())


@pytest.mark.parametrize(
    ("command", "phrases"),
    [
        (
            "passes",
            [
                "--elements FILE",
                "--site LAT,LON[,HEIGHT_M]",
                "--horizon FILE",
                "(default: 5)",
                "grid locator",
            ],
        ),
        ("plan", ["--elements FILE", "--site LAT,LON[,HEIGHT_M]", "-o PLAN", "--force"]),
        ("check", ["PLAN", "plan file (*.northkey.json)", "--json", "the verdict and why"]),
        ("orient", ["PLAN", "--json", "every index hole"]),
        ("evening", ["PLAN", "--json", "with the moves between them"]),
        ("season", ["PLAN", "--days N", "--seed S", "--keyways B,B", "Statistics, no times"]),
        ("sheet", ["-o FILE.pdf", "--paper {a4,letter}", "--force"]),
        ("export", ["--as {csv,html,log}", "-o FILE", "--step S", "--force"]),
        ("demo", ["DIR", "northkey-demo", "Needs no network"]),
    ],
)
def test_every_command_explains_itself(command, phrases):
    answer = run(command, "--help")
    assert (answer.code, answer.err) == (0, "")
    flat = " ".join(answer.out.split())
    assert flat.startswith(f"usage: northkey {command} ")
    for phrase in phrases:
        assert phrase in flat


@pytest.mark.parametrize(
    "words",
    [["chek"], ["--version-of-what"], ["passes"], ["check"], ["check", "a", "b"], ["export", "x", "-o", "y"]],
)
def test_wrong_words_are_one_line_and_point_to_help(words):
    assert "--help" in refused(*words)


@pytest.mark.parametrize(
    ("words", "joined"),
    [
        (["--site", "-33.9,151.2"], ["--site=-33.9,151.2"]),
        (["--site", "-.5,3", "--json"], ["--site=-.5,3", "--json"]),
        (["--min-elevation", "-5"], ["--min-elevation=-5"]),
        (["--site", "47,9"], ["--site", "47,9"]),
        (["--json", "--site"], ["--json", "--site"]),
        (["-o", "-5"], ["-o", "-5"]),
        (["--site=1,2", "-3"], ["--site=1,2", "-3"]),
        (["-33.9,151.2"], ["-33.9,151.2"]),
        (["--names", "-a"], ["--names", "-a"]),
        ([], []),
    ],
)
def test_negative_values_are_joined_to_their_option(words, joined):
    assert door.joined_negatives(words) == joined


# --- exit codes and streams -------------------------------------------------------------------------------


def failing(error: BaseException):
    def run_(_options: object) -> int:
        raise error

    return run_


@pytest.mark.parametrize(
    ("error", "code", "line"),
    [
        (NorthkeyError("told\nin one line"), 2, "told in one line"),
        (KeyboardInterrupt(), 130, None),
        (RuntimeError("what nobody thought of"), 2, "unexpected RuntimeError: what nobody thought of; set "),
        (FileNotFoundError(errno.ENOENT, "No such file", "table.bin"), 2, "table.bin: no such file"),
        (OSError(errno.ENOSPC, "No space left on device"), 2, "the answer cannot be written: no space left"),
        (BrokenPipeError(errno.EPIPE, "Broken pipe"), 0, None),
        (RecursionError("deep"), 2, "unexpected RecursionError: deep"),
    ],
)
def test_every_failure_is_a_code_and_at_most_one_line(tmp_path, monkeypatch, error, code, line):
    monkeypatch.setattr("app.commands.check.evaluated", failing(error))
    answer = run("check", write_plan_file(tmp_path))
    assert (answer.code, answer.out) == (code, "")
    assert len(answer.errors) == (line is not None)
    assert line is None or answer.errors[0].startswith(line)


def test_a_traceback_is_to_be_had_for_the_asking(tmp_path, monkeypatch):
    monkeypatch.setattr("app.commands.check.evaluated", failing(RuntimeError("odd")))
    monkeypatch.setenv("NORTHKEY_TRACEBACK", "1")
    with pytest.raises(RuntimeError, match="odd"):
        run("check", write_plan_file(tmp_path))


def test_a_terminal_that_lacks_letters_gets_them_spelled(tmp_path, monkeypatch):
    narrow = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    monkeypatch.setattr(sys, "stdout", narrow)
    assert door.main(["check", str(write_plan_file(tmp_path, site__name="Föhrenkamm"))]) == 0
    narrow.seek(0)
    assert "F\\xf6hrenkamm" in narrow.read()


def test_closed_streams_take_nothing(monkeypatch):
    monkeypatch.setattr(sys, "stdout", None)
    monkeypatch.setattr(sys, "stderr", None)
    output.say("into the void")
    output.tell("into the void")
    output.say_json({})


# --- in processes of their own ----------------------------------------------------------------------------


def test_in_a_process_of_its_own(tmp_path):
    elements = write_elements_file(tmp_path)
    words = ("passes", "--elements", elements.name, "--start", "2024-11-01T17:00:00Z", "--hours", "3")
    answer = run_alone(*words, "--site", "-33.9,151.2", "--json", folder=tmp_path)
    assert (answer.code, answer.err) == (0, "")
    assert len(answer.json["passes"]) == 1
    answer = run_alone(*words, "--site", "151.2,-33.9", folder=tmp_path)
    assert (answer.code, answer.out, len(answer.errors)) == (2, "", 1)


NO_WINDOW = """
import json, sys
from app.main import main
folder = sys.argv[1]
plan, elements = folder + "/evening.northkey.json", folder + "/elements.json"
there, then = ["--site", "47.2,9.1"], ["--start", "2024-11-01T17:00Z", "--hours", "3"]
codes = [
    main(["passes", "--elements", elements, *there, *then]),
    *(main([command, plan]) for command in ("check", "orient", "evening")),
    main(["season", plan, "--days", "3"]),
    main(["export", plan, "--as", "csv", "-o", folder + "/out.csv"]),
    main(["sheet", plan, "-o", folder + "/out.pdf"]),
    main(["demo", folder + "/demo"]),
]
unwanted = {"PySide6", "shiboken6", "matplotlib", "PyQt6", "tkinter"}
print(json.dumps([codes, sorted(unwanted & {name.split(".")[0] for name in sys.modules})]), file=sys.stderr)
"""


def test_no_command_loads_the_window_s_libraries(tmp_path):
    write_plan_file(tmp_path)
    write_elements_file(tmp_path)
    done = subprocess.run(
        [sys.executable, "-c", NO_WINDOW, str(tmp_path)], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stderr == "[[0, 0, 0, 0, 0, 0, 0, 0], []]\n"


def test_a_reader_that_goes_away_is_no_failure(tmp_path):
    plan = write_plan_file(tmp_path, evening__end="2024-11-11T17:00:00Z")
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [sys.executable, "-m", "app.main", "check", str(plan)],
        cwd=ROOT,
        stdout=writing,
        stderr=subprocess.PIPE,
        check=False,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="this system has no full device to write to")
def test_a_full_disk_is_told(tmp_path):
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "app.main", "check", str(write_plan_file(tmp_path))],
            cwd=ROOT,
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.returncode == 2
    assert done.stderr == b"northkey: the answer cannot be written: no space left on device\n"


# --- any words at all -------------------------------------------------------------------------------------

#: No slash and no NUL: what is written stays in the test's folder, and a process could have been given it.
odd_text = st.text(st.characters(codec="utf-8", exclude_characters="/\0"), max_size=12)
odd_number = st.sampled_from(
    ["0", "-0", "5", "-5", "1e3", "1e309", "nan", "-inf", "", "0x10", "1_0", "٣", "5,5", "1e-9", "-.5"]
) | st.floats().map(str)
odd_place = st.sampled_from(
    ["47.2,9.1", "-33.9,151.2", "151.2,-33.9", "QF56oc", "47.2", "0,0", "90,180", "-90,-180,9000", "1,2,3,4"]
) | st.tuples(odd_number, odd_number).map(",".join)
odd_file = st.sampled_from(
    [
        *(
            "elements.json",
            "evening.northkey.json",
            "full.northkey.json",
            "horizon.csv",
            "none",
            ".",
            "empty",
        ),
        *("binary", "wrong.northkey.json"),
    ]
)
odd_time = st.sampled_from(
    [
        *(
            "2024-11-01T17:00:00Z",
            "2024-11-01",
            "2024-W44-5",
            "1957-01-01",
            "2099-12-31T23:59:59.9999Z",
            "now",
        ),
        *("0001-01-01T00:00:00+23:59", "9999-12-31T23:59:59.9999999Z", "-5", ""),
    ]
)
passes_words = st.tuples(
    st.just(["passes"]),
    st.lists(odd_file, min_size=1, max_size=3).map(lambda files: ["--elements", *files]),
    odd_place.map(lambda place: ["--site", place]),
    odd_time.map(lambda time: ["--start", time]),
    st.one_of(st.just("3"), odd_number).map(lambda hours: ["--hours", hours]),
    st.one_of(st.just([]), odd_number.map(lambda degrees: ["--min-elevation", degrees])),
    st.one_of(st.just([]), odd_file.map(lambda file: ["--horizon", file])),
    st.one_of(st.just([]), (odd_text | st.just("70001")).map(lambda names: ["--names", names])),
    st.sampled_from([[], ["--json"]]),
).map(lambda parts: [word for part in parts for word in part])
plan_words = st.tuples(
    st.sampled_from(["check", "orient", "evening"]), odd_file, st.sampled_from(["--json", "--help", "-x"])
).map(list)
season_words = st.tuples(
    odd_file,
    st.one_of(st.just("3"), odd_text),
    st.one_of(st.just([]), (odd_text | odd_number).map(lambda bearings: ["--keyways", bearings])),
    st.one_of(st.just([]), odd_number.map(lambda degrees: ["--apart", degrees])),
    st.one_of(st.just([]), odd_number.map(lambda seed: ["--seed", seed])),
).map(lambda parts: ["season", parts[0], "--days", parts[1], *parts[2], *parts[3], *parts[4]])
export_words = st.tuples(odd_file, odd_text, odd_number, st.booleans()).map(
    lambda parts: (
        ["export", parts[0], "--as", "csv", "-o", parts[1], "--step", parts[2]] + ["--force"] * parts[3]
    )
)
loose_words = st.lists(
    odd_text
    | odd_file
    | odd_number
    | st.sampled_from([*COMMANDS[:4], "--json", "--site", "--elements", "--hours", "-h", "--", "-", "--x=y"]),
    max_size=6,
)


@pytest.fixture(scope="module")
def fuzz_folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("fuzz")
    write_plan_file(folder, full_plan_data()).rename(folder / "full.northkey.json")
    write_plan_file(folder, colour=1).rename(folder / "wrong.northkey.json")
    write_plan_file(folder, short_plan_data())
    write_elements_file(folder)
    (folder / "horizon.csv").write_text("0,2\n90,12\n")
    (folder / "empty").write_bytes(b"")
    (folder / "binary").write_bytes(bytes(range(256)))
    return folder


@settings(
    max_examples=500,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(words=passes_words | plan_words | season_words | export_words | loose_words)
def test_any_words_end_in_an_answer_or_one_clear_refusal(fuzz_folder, monkeypatch, words):
    monkeypatch.chdir(fuzz_folder)
    monkeypatch.setattr(door, "_window", lambda _words, _kept: 2)  # no window is opened here
    kept = {name: (fuzz_folder / name).read_bytes() for name in ("full.northkey.json", "elements.json")}
    answer = run(*words)
    assert answer.code in {0, 2}
    for line in answer.errors:
        assert "unexpected" not in line
        assert "Traceback" not in line
    assert answer.out or answer.errors or answer.code == 2
    for name, content in kept.items():
        if "--force" not in words:
            assert (fuzz_folder / name).read_bytes() == content
