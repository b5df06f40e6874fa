"""The examples in the docstrings of the measurement modules run as they stand."""

import doctest
import importlib
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
