"""The numbers that the manual prints in its worked examples are those the program works out today."""

import re
from collections.abc import Iterator

import pytest

from inspect_app.shipped import manual_page
from tests.help import worked

READING = manual_page("how-a-reading-becomes-a-verdict").read_text("utf-8")
LIMITS = manual_page("where-each-limit-comes-from").read_text("utf-8")
NUMBER = re.compile(r"[+−-]?\d+(?:\.\d+)?")

TABLES = {
    "1": worked.of_the_reading,
    "2": worked.of_the_doubt,
    "3": worked.of_the_warmth,
    "5": worked.of_the_repeats,
    "6": worked.of_the_spans,
    "7": worked.of_the_wear,
    "8": worked.of_the_decision,
    "9": worked.of_the_rules,
    "10": worked.of_the_clean_up,
    "11": worked.of_the_wall,
    "12": worked.of_the_plan,
}
LISTS = {"1": worked.divisions, "12": worked.needs}


def step(number: str) -> str:
    """One worked step of the page, without its heading."""
    found = re.search(rf"^### {number}\. .*?\n(.*?)(?=^##)", READING, re.DOTALL | re.MULTILINE)
    assert found, f"the page has no step {number}"
    return found[1]


def rows(text: str) -> Iterator[list[str]]:
    """The cells of every row of every table of a text, heads left out."""
    lines = text.splitlines()
    for line, following in zip(lines, [*lines[1:], ""], strict=True):
        if line.startswith("|") and not line.startswith("|--") and not following.startswith("|--"):
            yield [cell.strip() for cell in line.strip("|").split("|")]


def first_number(cell: str) -> str:
    found = NUMBER.search(cell)
    assert found, f"no number in {cell!r}"
    return found[0].replace("−", "-")


def agrees(printed: str, exact: float) -> bool:
    """Whether a number is printed as rounding its exact value to its own places gives it."""
    places = len(printed.partition(".")[2])
    return abs(float(printed) - exact) <= 0.5 * 10**-places * (1 + 1e-6) + 1e-12


@pytest.mark.parametrize("number", TABLES)
def test_each_number_of_a_step_is_what_the_program_works_out(number: str) -> None:
    expected = TABLES[number]()
    printed = {cells[0]: first_number(cells[1]) for cells in rows(step(number)) if len(cells) == 2}
    assert set(printed) == set(expected), "rows without a check, or checks without a row"
    assert {label: n for label, n in printed.items() if not agrees(n, expected[label])} == {}


@pytest.mark.parametrize("number", LISTS)
def test_each_list_of_numbers_is_what_was_read_or_worked_out(number: str) -> None:
    expected = LISTS[number]()
    printed = {cells[0]: list(map(first_number, cells[1:])) for cells in rows(step(number)) if len(cells) > 2}
    assert set(printed) == set(expected)
    for label, cells in printed.items():
        assert len(cells) == len(expected[label])
        assert all(map(agrees, cells, expected[label])), label


def test_every_table_of_the_worked_steps_is_checked() -> None:
    with_numbers = {number for number in map(str, range(1, 14)) if list(rows(step(number)))}
    assert with_numbers == TABLES.keys()


def test_numbers_in_the_words_between_are_those_of_the_tables() -> None:
    """Four decimals are a size; what is written in a sentence must stand in a table too."""
    for number in TABLES:
        text = step(number)
        table = {float(first_number(cell)) for cells in rows(text) for cell in cells if NUMBER.search(cell)}
        words = "\n".join(line for line in text.splitlines() if not line.startswith("|") and "`" not in line)
        assert {n for n in NUMBER.findall(words) if "." in n and len(n) > 5} <= set(map(str, table)), number


def test_heads_of_tables_name_the_limit_and_the_factors_that_count() -> None:
    assert f"| Chance beyond {worked.shown('wear').limit.value:.4f} in |" in step("8")  # type: ignore[union-attr]
    calc = worked.clean_up_form().calc
    assert calc is not None
    assert f"| {' | '.join(f'k = {k:g}' for k in calc.k)} |" in step("12")


def test_the_sum_of_the_clean_up_size_is_written_as_the_verdict_writes_it() -> None:
    need = next(need for need in worked.plan().needs if need.place == str(worked.BORE))
    assert f"`{need.shown}`" in step("10")


def test_the_verdict_is_the_one_of_the_answer() -> None:
    block = worked.block()
    assert (block.verdict, block.standing) == ("recondition", "settled")
    assert next(way.size for way in block.ways if way.concern == "bores") == "0.020 in"
    assert "**reconditioned**: bored to 0.020 in" in step("13")
    assert "*settled*" in step("13")


def test_what_the_page_says_of_this_core_beside_its_numbers_is_so() -> None:
    """No temperatures, no conditions asked, one session, no wall read, rebuilt."""
    read = worked.readings()
    assert len(read) == 8
    assert {item.session for item in read} == {"bores, 10 Nov"}
    assert all(item.part_temperature is None for item in read)
    assert worked.engine().conditions("diameter", "bore") == ()
    assert worked.answer().core.build_standard == "rebuild"
    assert worked.block_state().scene.figures.read.unread("wall", worked.BORE)
    assert not any(change.of == "price" and change.by < 0 for change in worked.plan().flips)


def test_the_limits_by_build_standard_are_those_that_count() -> None:
    expected = worked.of_the_standards()
    printed = {cells[0]: [first_number(c) for c in cells[1:]] for cells in rows(LIMITS) if len(cells) == 4}
    assert set(printed) == set(expected)
    for label, cells in printed.items():
        assert all(map(agrees, cells, expected[label])), label


def test_whose_these_limits_are_is_told_rightly() -> None:
    def whose(quantity: str) -> list[str]:
        bound = (worked.engine().limit(quantity, "bore", s) for s in ("run", "freshen", "rebuild"))
        return [limit.origin for limit in bound if limit]

    assert whose("taper") == ["maker"] * 3
    assert whose("wear") == ["maker", "pack", "pack"]
    assert worked.engine().book.pack.freshen_reserve == 0.25
