"""The Makefile in a copy of its own, with programs that only write down how they were called."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parents[1]
BASE_TOOLS = ("sh", "make", "touch", "id", "mkdir", "cp", "chmod")
VERSION = "{}.{}".format(*sys.version_info)

LOGGING = """#!/bin/sh
echo "$(basename "$0") $*" >> "{log}"
"""
# Answers `-c` as the real Python and makes an environment of logging programs for `-m venv`.
PYTHON = """#!/bin/sh
echo "$(basename "$0") $*" >> "{log}"
if [ "$1" = -c ]; then exec "{python}" "$@"; fi
rm -rf .venv
mkdir -p .venv/bin
for name in python ruff mypy pytest inspect-app; do cp "{logging}" ".venv/bin/$name"; done
"""


class Copy:
    """A copy of the Makefile's checkout whose PATH holds only what a test puts there."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.tools = folder / "tools"
        self.log = folder / "log"
        self.tools.mkdir()
        for name in ("Makefile", "pyproject.toml", ".ci"):
            source = CHECKOUT / name
            (shutil.copytree if source.is_dir() else shutil.copy)(source, folder / name)
        for tool in (*BASE_TOOLS, "basename", "rm"):
            (self.tools / tool).symlink_to(shutil.which(tool) or pytest.fail(f"no {tool} here"))
        logging = self.put("logging", LOGGING)
        self.put("python3", PYTHON, python=sys.executable, logging=logging)

    def put(self, name: str, script: str, **values: object) -> Path:
        """Put a program on the PATH."""
        program = self.tools / name
        program.write_text(script.format(log=self.log, **values))
        program.chmod(0o755)
        return program

    def make(self, *arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
        """Run make with nothing of this machine's settings."""
        return subprocess.run(
            ["make", *arguments],
            cwd=self.folder,
            env={"PATH": str(self.tools)} | environment,
            capture_output=True,
            text=True,
            check=False,
        )

    def calls(self) -> list[str]:
        """Return what was called since the last time, checks of the Python left out."""
        lines = self.log.read_text().splitlines() if self.log.exists() else []
        self.log.unlink(missing_ok=True)
        return [line for line in lines if " -c " not in line]


@pytest.fixture
def copy(tmp_path: Path) -> Copy:
    return Copy(tmp_path)


SERVE = "inspect-app serve"
PIP = "python -m pip --disable-pip-version-check --quiet install --editable"
CHECKS = ["ruff check .", "ruff format --check .", "mypy --strict inspect_app", "pytest "]


def test_run_installs_once_and_then_only_serves(copy: Copy) -> None:
    assert copy.make("run").returncode == 0
    assert copy.calls() == ["python3 -m venv --clear .venv", f"{PIP} .", SERVE]
    assert copy.make("run").returncode == 0
    assert copy.calls() == [SERVE]


def test_run_passes_port_and_folder_on(copy: Copy) -> None:
    copy.make("run", "PORT=9000", "CORES=my cores")
    assert copy.calls()[-1] == "inspect-app serve --cores my cores --port 9000"


def test_changed_pyproject_installs_again(copy: Copy) -> None:
    copy.make("run")
    copy.calls()
    stamp = copy.folder / ".venv/installed-by-python3"
    later = stamp.stat().st_mtime + 10
    os.utime(copy.folder / "pyproject.toml", (later, later))
    copy.make("run")
    assert f"{PIP} ." in copy.calls()


def test_another_python_gets_a_fresh_environment(copy: Copy) -> None:
    copy.make("run")
    copy.calls()
    copy.put("python3.99", PYTHON, python=sys.executable, logging=copy.tools / "logging")
    copy.make("run", "PYTHON=python3.99")
    assert copy.calls()[-3:] == ["python3.99 -m venv --clear .venv", f"{PIP} .", SERVE]


def test_test_installs_its_extra_once_and_runs_all_checks(copy: Copy) -> None:
    copy.put("chromium", LOGGING)
    copy.put("apt-get", LOGGING)
    assert copy.make("test").returncode == 0
    assert copy.calls()[1:] == [f"{PIP} .", f"{PIP} .[test]", *CHECKS]
    assert copy.make("test").returncode == 0
    assert copy.calls() == CHECKS


def test_long_forms_are_run_by_their_own_target(copy: Copy) -> None:
    copy.put("chromium", LOGGING)
    copy.make("test-long")
    assert copy.calls()[-1] == "pytest -m long or not long"


def test_bench_needs_no_more_than_the_program(copy: Copy) -> None:
    assert copy.make("bench").returncode == 0
    assert copy.calls() == ["python3 -m venv --clear .venv", f"{PIP} .", "python -m tests.bench"]


def test_a_failing_check_fails_the_whole(copy: Copy) -> None:
    copy.put("chromium", LOGGING)
    copy.make("test")
    (copy.folder / ".venv/bin/mypy").write_text("#!/bin/sh\nexit 1\n")
    assert copy.make("test").returncode != 0


def test_python_without_ensurepip_is_told_the_package(copy: Copy, tmp_path: Path) -> None:
    hidden = tmp_path / "hidden"
    hidden.mkdir()
    (hidden / "ensurepip.py").write_text('raise ImportError("stripped")')
    made = copy.make("run", PYTHONPATH=str(hidden))
    assert made.returncode != 0
    assert f"apt-get install -y python{VERSION}-venv" in made.stderr
    assert copy.calls() == []
    assert not (copy.folder / ".venv").exists()


def test_old_python_is_refused(copy: Copy) -> None:
    copy.put("python3", '#!/bin/sh\ncase "$2" in *print*) echo 3.9;; *) exit 1;; esac\n')
    made = copy.make("run")
    assert made.returncode != 0
    assert '"python3" is Python 3.9; 3.11 or later is needed.' in made.stderr


def test_missing_python_is_said(copy: Copy) -> None:
    made = copy.make("run", "PYTHON=python9")
    assert 'There is no "python9" here.' in made.stderr
    assert "make PYTHON=python3.12 run" in made.stderr


def test_without_chromium_and_apt_the_tests_fail_with_the_command(copy: Copy) -> None:
    made = copy.make("test")
    assert made.returncode != 0
    assert "apt-get update && " in made.stderr
    assert "apt-get install -y chromium" in made.stderr
    assert "pytest " not in copy.calls()


def test_chromium_is_installed_once_where_apt_can(copy: Copy) -> None:
    copy.put("sudo", '#!/bin/sh\nexec "$@"\n')
    installs = 'if [ "$1" = install ]; then cp "{folder}/logging" "{folder}/chromium"; fi\n'
    copy.put("apt-get", LOGGING + installs, folder=copy.tools)
    assert copy.make("test").returncode == 0
    assert [call for call in copy.calls() if call.startswith("apt-get")] == [
        "apt-get update -qq",
        "apt-get install -y -qq chromium",
    ]
    assert copy.make("test").returncode == 0
    assert copy.calls() == CHECKS


def test_failing_apt_fails_with_the_command(copy: Copy) -> None:
    copy.put("sudo", '#!/bin/sh\nexec "$@"\n')
    copy.put("apt-get", "#!/bin/sh\nexit 100\n")
    made = copy.make("test")
    assert made.returncode != 0
    assert "could not be installed from here" in made.stderr


def test_named_chromium_is_taken_or_said_to_be_wrong(copy: Copy) -> None:
    other = copy.put("other-chromium", LOGGING)
    assert copy.make("test", CHROMIUM=str(other)).returncode == 0
    shutil.rmtree(copy.folder / ".venv")
    made = copy.make("test", CHROMIUM="/nowhere/chromium")
    assert made.returncode != 0
    assert 'CHROMIUM names "/nowhere/chromium", which is not a program.' in made.stderr


def test_ci_runs_the_tests_from_any_folder(copy: Copy) -> None:
    for tool in ("bash", "env", "dirname"):
        (copy.tools / tool).symlink_to(shutil.which(tool) or pytest.fail(f"no {tool} here"))
    (copy.tools / "make").unlink()
    copy.put("make", '#!/bin/sh\necho "make $* in $(pwd)" >> "{log}"\n')
    subprocess.run([copy.folder / ".ci/run"], cwd="/", env={"PATH": str(copy.tools)}, check=True)
    assert copy.calls() == [f"make test in {copy.folder}"]
