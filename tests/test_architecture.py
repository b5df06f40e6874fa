"""The shape of the package: who may import whom, what an import loads, and how long things get."""

import ast
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import inspect_app

PACKAGE = Path(inspect_app.__file__).parent
ORDER = (
    "model", "metrology", "rulebook", "closing", "prices", "judge", "outlook", "bundle",
    "photos", "pictures", "papers", "store", "ui", "cli",
)  # fmt: skip
LIBRARY = ("model", "metrology", "rulebook", "closing", "prices", "judge", "bundle")
WITH_CLI = {"answer_text", "cli_papers", "cli_shop", "fit_text", "schemas", "__main__"}
FOR_ALL = {"shipped", ""}
"""Modules that every package may import; "" is the package itself, which only holds the version."""

HEAVY = ("streamlit", "sqlalchemy", "pandas", "cv2", "PIL", "scipy", "pint")


def modules() -> dict[str, Path]:
    """Every module of the package by its dotted name below `inspect_app`; "" is the package itself."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        steps = path.relative_to(PACKAGE).with_suffix("").parts
        found[".".join(steps[:-1] if steps[-1] == "__init__" else steps)] = path
    return found


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imported(name: str, path: Path, known: set[str]) -> Iterator[str]:
    """Modules of the package that a module imports anywhere, also inside its functions."""
    package = name if path.name == "__init__.py" else name.rpartition(".")[0]
    for node in ast.walk(tree(path)):
        match node:
            case ast.Import():
                targets = [(alias.name, "") for alias in node.names]
            case ast.ImportFrom(level=0):
                targets = [(node.module or "", alias.name) for alias in node.names]
            case ast.ImportFrom():
                steps = package.split(".")[: len(package.split(".")) - node.level + 1]
                above = ".".join(step for step in ("inspect_app", *steps, node.module or "") if step)
                targets = [(above, alias.name) for alias in node.names]
            case _:
                continue
        for module, item in targets:
            head, _, below = module.partition(".")
            if head == "inspect_app":
                deeper = f"{below}.{item}".strip(".")
                yield deeper if deeper in known else below


def imports() -> dict[str, set[str]]:
    found = modules()
    return {name: set(imported(name, path, set(found))) for name, path in found.items()}


def layer(name: str) -> str:
    head = name.partition(".")[0]
    return "cli" if head in WITH_CLI else head


def test_every_module_belongs_to_a_package_of_the_order() -> None:
    assert {layer(name) for name in modules()} <= {*ORDER, *FOR_ALL}


def test_a_package_imports_only_packages_before_it() -> None:
    wrong = [
        f"{name} imports {other}"
        for name, others in imports().items()
        for other in others
        if layer(other) not in FOR_ALL
        and (layer(name) in FOR_ALL or ORDER.index(layer(other)) > ORDER.index(layer(name)))
    ]
    assert wrong == []


def test_the_imports_are_seen_at_all() -> None:
    seen = imports()
    assert "bundle" in seen["cli"], "an import inside a function"
    assert "judge" in seen["bundle.judging"], "an import of a package"
    assert "judge.costs" in seen["judge.parts"], "a relative import"
    assert "model.pieces" in seen["model.evidence"]
    assert "ui.words" in seen["answer_text"], "a module imported from its package"


def test_no_modules_import_each_other_in_a_circle() -> None:
    try:
        TopologicalSorter(imports()).prepare()
    except CycleError as error:
        pytest.fail(f"a circle: {' -> '.join(error.args[1])}")


def fresh(code: str) -> str:
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, cwd=PACKAGE.parent, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_importing_the_library_loads_nothing_heavy() -> None:
    names = [f"inspect_app.{name}" for name in modules() if layer(name) in LIBRARY]
    assert len(names) > 40
    code = f"import sys, {', '.join(names)}; print([m for m in {HEAVY} if m in sys.modules])"
    assert fresh(code) == "[]"


def test_units_are_loaded_on_first_use() -> None:
    code = (
        "import sys; from inspect_app.model.units import factor; before = 'pint' in sys.modules; "
        "factor('in'); print(before, 'pint' in sys.modules)"
    )
    assert fresh(code) == "False True"


def test_the_command_line_loads_no_screens_unless_it_serves() -> None:
    code = "import sys, inspect_app.cli, inspect_app.answer_text; print('streamlit' in sys.modules)"
    assert fresh(code) == "False"


def test_the_version_stands_in_one_place_only() -> None:
    project = tomllib.loads((PACKAGE.parent / "pyproject.toml").read_text(encoding="utf-8"))
    assert "version" not in project["project"]
    assert project["project"]["dynamic"] == ["version"]
    assert project["tool"]["hatch"]["version"]["path"] == "inspect_app/__init__.py"


def test_the_program_tells_its_version() -> None:
    assert inspect_app.__version__.count(".") == 2
    assert fresh("from inspect_app.cli import main; main(['--version'])") == (
        f"inspect-app {inspect_app.__version__}"
    )


def test_files_stay_short() -> None:
    lines = {
        str(path.relative_to(PACKAGE)): len(path.read_text(encoding="utf-8").splitlines())
        for path in modules().values()
    }
    assert {name for name, count in lines.items() if count > 300} == set()


def function_lengths() -> dict[str, int]:
    return {
        f"{name}.{node.name}": (node.end_lineno or 0) - node.lineno + 1
        for name, path in modules().items()
        for node in ast.walk(tree(path))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    }


def test_functions_stay_short() -> None:
    lengths = function_lengths()
    assert {name for name, count in lengths.items() if count > 40} == set()
    assert sum(count > 25 for count in lengths.values()) <= len(lengths) / 50


def test_pages_reach_the_shop_file_through_one_module() -> None:
    wired = {
        name for name, others in imports().items() if layer(name) == "ui" and "store" in map(layer, others)
    }
    assert wired <= {"ui.shelf", "ui.shop_sessions"}
