"""The examples in the docstrings of the measurement modules run as they stand."""

import doctest
import importlib
import inspect
import pkgutil

import pytest

import inspect_app.metrology

MODULES = sorted(module.name for module in pkgutil.iter_modules(inspect_app.metrology.__path__))


@pytest.mark.parametrize("name", MODULES)
def test_examples_hold(name: str) -> None:
    done = doctest.testmod(importlib.import_module(f"inspect_app.metrology.{name}"))
    assert done.failed == 0


def test_there_are_examples_to_run() -> None:
    modules = (importlib.import_module(f"inspect_app.metrology.{name}") for name in MODULES)
    finder = doctest.DocTestFinder()
    assert sum(bool(test.examples) for module in modules for test in finder.find(module)) > 20


@pytest.mark.parametrize("name", MODULES)
def test_every_function_for_others_has_an_example(name: str) -> None:
    module = importlib.import_module(f"inspect_app.metrology.{name}")
    public = [
        function
        for function in vars(module).values()
        if inspect.isfunction(function)
        and function.__module__ == module.__name__
        and not function.__name__.startswith("_")
    ]
    assert [function.__name__ for function in public if ">>>" not in (function.__doc__ or "")] == []
