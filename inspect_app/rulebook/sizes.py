"""Sizes written in rule files and engine sheets, checked with words that say what to write instead."""

from collections.abc import Iterator

from inspect_app.model.problems import Problem
from inspect_app.model.units import NotANumber, UnknownUnit, size


def size_problem(where: str, field: str, text: str, dimension: str = "length") -> Iterator[Problem]:
    """The problem with a size such as "0.0005 in", if it has one."""
    try:
        size(text, dimension)
    except (NotANumber, UnknownUnit) as error:
        yield Problem(f"{where}, {field}", str(error), "")
