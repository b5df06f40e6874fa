"""Exit codes of the real program, and that nobody ever sees a traceback."""

import subprocess
import sys
from pathlib import Path

import pytest

import inspect_app

HOME = Path(inspect_app.__file__).parents[1]


def program(*arguments: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "inspect_app", *map(str, arguments)]
    return subprocess.run(command, cwd=HOME, capture_output=True, text=True, check=False)


def test_a_judgement_is_done_with_exit_0(six) -> None:
    done = program("judge", six)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Six (six): Build it, settled\n")


def test_an_input_at_fault_is_told_on_stderr_with_exit_1(tmp_path) -> None:
    done = program("judge", tmp_path)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == f"{tmp_path}/core.json: there is no such file. Name the folder of a core.\n"


def test_wrong_usage_ends_with_exit_2_and_the_usage(tmp_path) -> None:
    done = program("judge", tmp_path, "--verbose")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("usage: inspect-app")
    assert "Traceback" not in done.stderr


def test_a_reader_who_has_enough_hears_no_complaint(six) -> None:
    command = [sys.executable, "-m", "inspect_app", "judge", str(six), "--json"]
    asked = subprocess.Popen(command, cwd=HOME, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert asked.stdout is not None
    assert asked.stderr is not None
    asked.stdout.close()
    assert asked.stderr.read() == ""
    assert asked.wait() == 0
    asked.stderr.close()


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("weigh",),
        ("judge",),
        ("judge", "a", "b"),
        ("judge", "a", "--rules"),
        ("fits",),
        ("fits", "a", "b"),
        ("sheet",),
        ("sheet", "a.csv", "b.json"),
        ("sheet", "a.csv", "--to"),
        ("import",),
        ("import", "--readings", "r.csv"),
        ("export", "a"),
        ("schema",),
        ("schema", "piston"),
        ("check-rules", "a", "b"),
        ("serve", "--port", "eighty"),
        ("serve", "a"),
    ],
    ids=" ".join,
)
def test_wrong_usage_is_exit_2(run, arguments) -> None:
    done = run(*arguments)
    assert (done.code, done.out) == (2, "")
    assert "usage: inspect-app" in done.err


def test_help_and_version_are_exit_0(run) -> None:
    assert run("--version") == (0, f"inspect-app {inspect_app.__version__}\n", "")
    told = run("--help")
    assert told.code == 0
    for command in (
        "serve",
        "judge",
        "fits",
        "sheet",
        "check-rules",
        "import",
        "export",
        "backup",
        "restore",
        "check-shop",
        "schema",
    ):
        assert command in told.out


def test_serving_a_folder_that_is_not_there_is_refused(refused, tmp_path) -> None:
    assert refused("serve", "--cores", tmp_path / "none") == [
        f'serve: "{tmp_path}/none" is not a folder. Name the folder that holds the cores.'
    ]


@pytest.mark.parametrize("port", ["70000", "-1"])
def test_serving_at_a_port_that_cannot_be_is_refused(refused, tmp_path, port) -> None:
    assert refused("serve", "--cores", tmp_path, f"--port={port}") == [
        f"serve: port {port} cannot be used. Name another with --port, or none."
    ]


@pytest.mark.parametrize("command", ["judge", "fits", "sheet", "import", "serve"])
def test_rules_that_are_not_there_are_refused(refused, six, tmp_path, command) -> None:
    more = {
        "judge": [six],
        "fits": [six],
        "sheet": ["s.csv"],
        "import": [six, "--readings", "r.csv"],
        "serve": [],
    }[command]
    assert refused(command, *more, "--rules", tmp_path / "none") == [
        f"{tmp_path}/none: there are no .toml files here. Name a folder of rules."
    ]
