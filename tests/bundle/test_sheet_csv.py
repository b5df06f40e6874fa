"""An engine sheet as CSV: nothing is lost on the way, and whatever is wrong is told by line and column."""

import re
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from inspect_app.bundle.sheet_csv import COLUMNS, SECTIONS, TypedSheet, sheet_of_csv
from inspect_app.bundle.sheet_csv_out import csv_of_sheet
from inspect_app.bundle.sheet_file import read_sheet, read_typed_sheet, write_sheet
from inspect_app.model.problems import Problems
from inspect_app.model.sheet import EngineSheet
from inspect_app.rulebook.check_sheet import sheet_problems
from tests.judge import six

HEAD = (
    "section,key,value,minimum,maximum,minimum_in,maximum_in,minimum_mm,maximum_mm,"
    "wear_limit,sizes,sizes_mm,unit"
)
SELF = "sheet,id,two\nsheet,title,A two\nsheet,source,page 12"
WIDTH = HEAD.count(",")


def typed(*rows: str, head: str = HEAD) -> TypedSheet:
    return sheet_of_csv("\n".join([head, SELF, *rows]) + "\n", "two.csv")


def row(key: str = "bore.diameter", section: str = "quantities", **cells: str) -> str:
    """A row under HEAD with some cells filled."""
    filled = {"section": section, "key": key, **cells}
    return ",".join(filled.get(name, "") for name in HEAD.split(","))


def told(*rows: str, head: str = HEAD) -> list[str]:
    """Everything said against a file, whether or not a sheet could be read."""
    try:
        return [str(problem) for problem in typed(*rows, head=head).problems]
    except Problems as problems:
        return [str(problem) for problem in problems.items]


# ---- what a file may look like ----


def test_a_sheet_of_every_section_is_read() -> None:
    sheet = typed(
        "counts,heads,2",
        "names,heads,left / right",
        "materials,block,cast iron",
        "kinds,crankshaft,cast / forged / billet",
        row("crankshaft / forged / main_journal.diameter", "kinds", maximum="2.5", unit="in"),
        row(minimum="80.00", maximum="80.02 mm", sizes="0.25 / 0.50", unit="mm"),
        "conventions,firing_order,1-2",
    ).sheet
    assert sheet.model_dump(exclude_defaults=True) == {
        "id": "two",
        "title": "A two",
        "source": "page 12",
        "counts": {"heads": 2},
        "names": {"heads": ("left", "right")},
        "materials": {"block": "cast iron"},
        "kinds": {
            "crankshaft": {
                "fitted": "cast",
                "others": ("forged", "billet"),
                "rows": {"forged": {"main_journal.diameter": {"maximum": "2.5 in"}}},
            }
        },
        "quantities": {
            "bore.diameter": {"minimum": "80.00 mm", "maximum": "80.02 mm", "sizes": ("0.25 mm", "0.50 mm")}
        },
        "conventions": {"firing_order": "1-2"},
    }


def test_columns_may_stand_in_any_order_as_manuals_differ() -> None:
    head = "unit,wear_limit,minimum,maximum,value,key,section"
    rows = [",,,,two,id,sheet", ",,,,A two,title,sheet", ",,,,page 12,source,sheet"]
    rows.append("in,5.505,5.4995,5.501,,bore.diameter,quantities")
    sheet = sheet_of_csv("\n".join([head, *rows]), "two.csv").sheet
    assert sheet.quantities["bore.diameter"].model_dump(exclude_defaults=True) == {
        "minimum": "5.4995 in",
        "maximum": "5.501 in",
        "wear_limit": "5.505 in",
    }


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "byte order mark"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"], ids=["lf", "crlf", "cr"])
def test_byte_order_mark_and_line_ends_change_nothing(tmp_path: Path, mark: bytes, line_end: str) -> None:
    text = "\n".join(
        [HEAD, SELF.replace("A two", "Zweizylinder für 20 °C"), row(minimum="80", unit="mm"), ""]
    )
    path = tmp_path / "two.csv"
    path.write_bytes(mark + text.replace("\n", line_end).encode())
    sheet = read_sheet(path)
    assert (sheet.title, sheet.quantities["bore.diameter"].minimum) == ("Zweizylinder für 20 °C", "80 mm")


def test_a_decimal_comma_is_kept_as_typed_between_semicolons() -> None:
    text = "\n".join([HEAD, SELF, row(minimum="80#00", maximum_mm="80#02", maximum_in="3#1504", unit="mm")])
    read = sheet_of_csv(text.replace(",", ";").replace("#", ","), "two.csv")
    assert read.problems == ()
    bore = read.sheet.quantities["bore.diameter"]
    assert (bore.minimum, bore.maximum) == ("80,00 mm", "3,1504 in")


def test_a_comma_in_a_number_between_commas_is_refused() -> None:
    """In one country it parts thousands, in another decimals."""
    assert told(row(minimum='"80,00"', unit="mm")) == [
        'two.csv, line 5, column minimum: "80,00" has a comma in it, and commas part the columns of this '
        "file. Write 86.02, or part the columns with semicolons."
    ]


def test_empty_rows_spaces_and_capitals_do_not_matter() -> None:
    head = HEAD.replace("section", " Section ").replace("minimum,", "Minimum,", 1)
    sheet = typed("", ",,,", row(section=" Quantities ", minimum=" 80 ", unit=" mm "), head=head).sheet
    assert sheet.quantities["bore.diameter"].minimum == "80 mm"


# ---- inch and mm twins ----


def test_twins_that_agree_leave_the_first_that_is_filled() -> None:
    """TM 10-3930-653-14&P prints 3.4331 beside 87.20 and 3.4350 beside 87.25."""
    cells = {"minimum_in": "3.4331", "minimum_mm": "87.20", "maximum": "87.25 mm", "maximum_in": "3.4350"}
    read = typed(row(**cells))
    assert read.problems == ()
    bore = read.sheet.quantities["bore.diameter"]
    assert (bore.minimum, bore.maximum) == ("3.4331 in", "87.25 mm")


@pytest.mark.parametrize(
    ("inch", "mm", "words"),
    [
        ("0.003", "0.076", None),
        ("0.003", "0.76", "0.003 in is 0.0762 mm, not 0.76 mm."),
        ("0.00015", "0.038", "0.00015 in is 0.00381 mm, not 0.038 mm."),
        ("0.0015", "0.038", None),
    ],
)
def test_twins_of_a_manual_and_its_misprints(inch: str, mm: str, words: str | None) -> None:
    """TM 5-3895-369-14 prints 0.003 beside 0.76, and 0.00015 beside 0.038."""
    found = told(row("bore.taper", maximum_in=inch, maximum_mm=mm))
    advice = "One of them is misprinted: leave out the one you cannot trust."
    assert found == ([f"two.csv, line 5, column maximum_mm: {words} {advice}"] if words else [])


def test_twins_are_compared_whatever_part_of_an_inch_or_metre_they_are_in() -> None:
    assert told(row("bore.taper", maximum="3 thou", maximum_mm="0.076")) == []
    assert told(row("bore.diameter", maximum="8 cm", maximum_in="3.1")) == []
    (found,) = told(row("bore.diameter", maximum="80 cm", maximum_in="3.1"))
    assert "3.1 in is 78.74 mm, not 800 mm." in found


def test_one_unit_given_twice_must_be_one_number() -> None:
    assert told(row(maximum="3.4350", maximum_in="3.435", unit="in")) == []
    (found,) = told(row(maximum="3.4350", maximum_in="3.453", unit="in"))
    assert found.startswith('two.csv, line 5, column maximum_in: "3.453 in" is not "3.4350 in".')


def test_listed_sizes_are_compared_one_by_one() -> None:
    assert told(row(sizes="0.020 / 0.040", sizes_mm="0.508 / 1.016", unit="in")) == []
    (found,) = told(row(sizes="0.020 / 0.040", sizes_mm="0.508 / 1.16", unit="in"))
    assert "column sizes_mm: 0.040 in is 1.016 mm, not 1.16 mm." in found
    (found,) = told(row(sizes="0.020 / 0.040", sizes_mm="0.508", unit="in"))
    assert "column sizes_mm: 1 sizes beside 2 in the column sizes. List the same sizes in both." in found


@settings(max_examples=200, deadline=None)
@given(st.integers(10, 99_999), st.integers(3, 5), st.integers(2, 4), st.sampled_from([-1, 1]))
def test_twins_that_were_rounded_agree_and_a_slipped_point_never_passes(
    digits: int, inch_decimals: int, mm_decimals: int, slip: int
) -> None:
    inch = Decimal(digits).scaleb(-inch_decimals)
    mm = (inch * Decimal("25.4")).quantize(Decimal(1).scaleb(-mm_decimals))
    assert told(row("bore.taper", maximum_in=f"{inch:f}", maximum_mm=f"{mm:f}")) == []
    slipped = mm.scaleb(slip)
    assume(mm >= 10 * Decimal(1).scaleb(-mm_decimals))
    assert len(told(row("bore.taper", maximum_in=f"{inch:f}", maximum_mm=f"{slipped:f}"))) == 1


@pytest.mark.parametrize("cell", ["30 Nm", "30", "thirty"])
def test_what_is_no_length_has_no_twin(cell: str) -> None:
    (found,) = told(row(maximum=cell, maximum_mm="30"))
    assert found.startswith("two.csv, line 5, column maximum_mm: ")


# ---- what is wrong with a file ----


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (
            "valves,inlet,2",
            'two.csv, line 5, column section: "valves" is no section of a sheet. '
            "Use one of: sheet, counts, names, materials, kinds, quantities, conventions.",
        ),
        (
            ",inlet,2",
            "two.csv, line 5, column section: the section is missing. "
            "Use one of: sheet, counts, names, materials, kinds, quantities, conventions.",
        ),
        ("counts,,2", "two.csv, line 5, column key: the key is missing. Say what the row is about."),
        ("counts", "two.csv, line 5, column key: the key is missing. Say what the row is about."),
        (
            "sheet,author,me",
            'two.csv, line 5, column key: "author" is nothing that a sheet says of itself. '
            "Use one of: sheet_version, id, title, source.",
        ),
        (
            "kinds,crankshaft / forged,x",
            'two.csv, line 5, column key: "crankshaft / forged" names no part, or no kind and quantity of '
            'one. Write "part", or "part / kind / quantity" for a row of another kind.',
        ),
        (
            "quantities,bore.diameter,,80,80.02",
            "two.csv, line 5: 5 cells under 13 columns. "
            "Fill the row up with empty cells; a text with a comma needs quotes.",
        ),
        (
            "conventions,layout,inline,,,,,,,,,,,over,head",
            "two.csv, line 5: 15 cells under 13 columns. "
            "Fill the row up with empty cells; a text with a comma needs quotes.",
        ),
        (
            "conventions,layout,inline, overhead valves",
            'two.csv, line 5, column minimum: "overhead valves" stands where this row has nothing. '
            "Take it out; a text with a comma needs quotes.",
        ),
        (
            row(value="80"),
            'two.csv, line 5, column value: "80" stands where this row has nothing. '
            "Take it out; a text with a comma needs quotes.",
        ),
        (
            "counts,heads,two",
            "two.csv, line 5, column value: Input should be a valid integer, unable to parse string as an "
            "integer. It says 'two'.",
        ),
        ("counts,heads,0", "two.csv, line 5, column value: Input should be greater than 0. It says '0'."),
        (
            "sheet,sheet_version,2",
            "two.csv, line 5, column value: Input should be 1. It says '2'.",
        ),
        ("sheet,id,three", "two.csv, line 5, column key: this entry stands already in line 2, column value."),
        ('conventions,layout,"inline', "two.csv, line 5: this is not CSV: unexpected end of data."),
    ],
)  # fmt: skip
def test_a_row_at_fault_is_told_with_its_line_and_column(line: str, words: str) -> None:
    (found,) = told(line)
    assert found.startswith(words), found


def test_two_rows_of_one_quantity_are_told() -> None:
    assert told(row(minimum="80 mm"), row(maximum="81 mm")) == [
        "two.csv, line 6, column key: this entry stands already in line 5. Keep one."
    ]


@pytest.mark.parametrize(
    ("head", "words"),
    [
        ("key,value", 'the column "section" is missing. Add it.'),
        ("section,value", 'the column "key" is missing. Add it.'),
        ("section,key,value,valeu", f'"valeu" is no column of a sheet. Use: {", ".join(COLUMNS)}.'),
        ("section,key,value,value", 'the column "value" stands twice. Keep one.'),
    ],
)
def test_columns_at_fault_are_told(head: str, words: str) -> None:
    assert told(head=head) == [f"two.csv, line 1: {words}"]


def test_a_sheet_that_does_not_say_what_it_is_is_refused() -> None:
    with pytest.raises(Problems) as found:
        sheet_of_csv("section,key,value\ncounts,heads,two\n", "two.csv")
    assert [str(problem) for problem in found.value.items] == [
        'two.csv: the sheet has no "id". Add a row: sheet, id.',
        'two.csv: the sheet has no "title". Add a row: sheet, title.',
        'two.csv: the sheet has no "source". Add a row: sheet, source.',
        "two.csv, line 2, column value: Input should be a valid integer, unable to parse string as an "
        "integer. It says 'two'.",
    ]


def test_a_row_that_cannot_be_placed_is_told_before_what_it_would_leave_out() -> None:
    """With a count in a section that is misspelt, the pack would miss the count: that is no second fault."""
    with pytest.raises(Problems, match='"count" is no section') as found:
        typed("count,cylinders,6", row("bore.taper", minimum_in="1", minimum_mm="2"))
    assert len(found.value.items) == 2
    assert len(typed(row("bore.taper", minimum_in="1", minimum_mm="2")).problems) == 1


def test_rows_of_another_kind_want_the_kind_that_is_fitted() -> None:
    assert told(row("crankshaft / forged / main_journal.diameter", "kinds", maximum="2.5 in")) == [
        "two.csv: crankshaft has rows of another kind, but none that names the kind fitted. "
        "Add a row: kinds, crankshaft."
    ]


def test_all_rows_at_fault_are_told_at_once() -> None:
    assert len(told("valves,inlet,2", "counts,heads,two", row(minimum_in="1", minimum_mm="2"))) == 3


def test_the_checks_of_the_pack_name_line_and_column() -> None:
    read = typed(
        *(f"counts,{name},{number}" for name, number in six.sheet().counts.items()),
        "counts,valves,12",
        "materials,block,cheese",
        row(minimum_in="3.5", maximum_in="about 3", unit="in"),
        row("bore.colour", minimum="1 in"),
        row("bore.taper", maximum="0.002", wear_limit="0.001", unit="in"),
        row("bore.wear", maximum="0.002"),
    )
    first = 5 + len(six.sheet().counts)
    found = [str(problem) for problem in sheet_problems(six.book(), read.sheet, read.spot)]
    assert [text.partition(": ")[0] for text in found] == [
        f"two.csv, line {first}, column value",
        f"two.csv, line {first + 1}, column value",
        f"two.csv, line {first + 2}, column maximum_in",
        f"two.csv, line {first + 3}",
        f"two.csv, line {first + 4}, column wear_limit",
        f"two.csv, line {first + 5}, column maximum",
    ]


def test_what_stands_on_no_line_names_the_part_of_the_sheet() -> None:
    read = typed("counts,cylinders,6")
    found = [str(problem) for problem in sheet_problems(six.book(), read.sheet, read.spot)]
    assert 'two.csv, counts: "mains" is missing. Add the number of main bearings.' in found


# ---- there and back ----

word = st.text(st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp")), min_size=1, max_size=12).map(
    str.strip
)
words = word.filter(bool)
entry = words.map(lambda text: text.replace("/", "-")).map(str.strip).filter(bool)
number = st.from_regex(re.compile(r"[0-9]{1,3}([.,][0-9]{1,5})?", re.ASCII), fullmatch=True)
sizes = st.one_of(
    st.builds("{} {}".format, number, st.sampled_from(["mm", "in", "thou", "newton * meter"])),
    st.just("0"),
    number,
)
quantity = st.fixed_dictionaries(
    {},
    optional={
        "nominal": sizes,
        "minimum": sizes,
        "maximum": sizes,
        "wear_limit": sizes,
        "sizes": st.lists(sizes, max_size=3),
        "conditions": st.lists(entry, max_size=2),
        "note": words,
    },
)
kinds = st.fixed_dictionaries(
    {"fitted": entry, "others": st.lists(entry, max_size=2)},
    optional={
        "rows": st.dictionaries(entry, st.dictionaries(entry, quantity, min_size=1, max_size=2), max_size=2)
    },
)
sheets = st.fixed_dictionaries(
    {"id": words, "title": word, "source": word},
    optional={
        "counts": st.dictionaries(words, st.integers(1, 64), max_size=3),
        "names": st.dictionaries(words, st.lists(entry, max_size=3), max_size=2),
        "materials": st.dictionaries(words, word, max_size=2),
        "kinds": st.dictionaries(entry, kinds, max_size=2),
        "quantities": st.dictionaries(words, quantity, max_size=4),
        "conventions": st.dictionaries(words, word, max_size=3),
    },
).map(EngineSheet.model_validate)


@settings(max_examples=200, deadline=None)
@given(sheets)
def test_a_sheet_comes_back_from_csv_as_it_went_in(sheet: EngineSheet) -> None:
    read = sheet_of_csv(csv_of_sheet(sheet).replace("\r\n", "\n"), "sheet.csv")
    assert (read.sheet, read.problems) == (sheet, ())


@pytest.mark.parametrize("name", ["sheet.csv", "sheet.json", "SHEET.CSV"])
def test_a_sheet_comes_back_from_a_file_as_it_went_in(tmp_path: Path, name: str) -> None:
    sheet = six.sheet(title="Sechszylinder für 20 °C, “six”", conventions={"note": 'two\nlines; one, "two"'})
    write_sheet(sheet, tmp_path / name)
    assert read_sheet(tmp_path / name) == sheet


def test_the_unit_of_a_row_stands_once_where_all_its_sizes_have_it() -> None:
    rows = {
        "bore.diameter": {"minimum": "3.50 in", "sizes": ("0.020 in", "0.030 in")},
        "bore.wear": {"maximum": "0.1 mm", "wear_limit": "0.008 in"},
        "bore.taper": {"maximum": "0", "wear_limit": "0.008 in"},
    }
    lines = csv_of_sheet(six.sheet(quantities=rows)).splitlines()
    assert [line for line in lines if line.startswith("quantities")] == [
        "quantities,bore.diameter,,,3.50,,,0.020 / 0.030,in,,",
        "quantities,bore.wear,,,,0.1 mm,0.008 in,,,,",
        "quantities,bore.taper,,,,0,0.008 in,,,,",
    ]


def test_a_sheet_with_decimal_commas_is_written_between_semicolons() -> None:
    text = csv_of_sheet(six.sheet(quantities={"bore.diameter": {"minimum": "86,02 mm"}}))
    assert text.startswith("section;key;value;nominal;minimum;")
    assert "quantities;bore.diameter;;;86,02;;;;mm;;\r\n" in text


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"title": " six "}, "title: ' six ' cannot stand in a CSV file as it is. "),
        ({"conventions": {"a": "b\rc"}}, "conventions.a: 'b\\rc' cannot stand in a CSV file as it is. "),
        (
            {"quantities": {"bore.wear": {"maximum": ""}}},
            "quantities.bore.wear.maximum: '' cannot stand in a CSV file as it is. ",
        ),
        (
            {"names": {"heads": ("left/right",)}},
            "names.heads: ('left/right',) cannot stand in a CSV file as it is. ",
        ),
        (
            {"kinds": {"block": {"fitted": "a", "rows": {"b": {}}}}},
            "kinds.block.rows.b: {} cannot stand in a CSV file as it is. ",
        ),
    ],
)
def test_what_no_cell_can_hold_is_refused_and_not_lost(changes: dict[str, object], words: str) -> None:
    with pytest.raises(Problems) as found:
        csv_of_sheet(six.sheet(**changes))
    (problem,) = found.value.items
    assert str(problem).startswith(f"engine sheet six, {words}")


def test_a_key_that_no_cell_can_hold_is_refused() -> None:
    with pytest.raises(Problems, match="engine sheet six: it cannot be written as CSV: the key is missing"):
        csv_of_sheet(six.sheet(conventions={" ": "x"}))


def test_a_file_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "six.csv"
    path.write_text("mine")
    with pytest.raises(Problems, match="this file is there already"):
        write_sheet(six.sheet(), path)
    assert path.read_text() == "mine"


def test_a_file_that_says_nothing_of_its_form_is_refused(tmp_path: Path) -> None:
    for call in (read_typed_sheet, lambda path: write_sheet(six.sheet(), path)):
        with pytest.raises(Problems, match=r"six\.txt: an engine sheet is a \.csv or a \.json file\."):
            call(tmp_path / "six.txt")


# ---- any input ----

cell = st.one_of(
    st.sampled_from([*SECTIONS, "id", "title", "source", "bore.diameter", "a / b / bore.diameter", ""]),
    st.sampled_from(
        ["0.003", "0.76", "3,5", "1 / 2", "mm", "in", "80 mm", "-1", "1e9", "nan", "=1+1", "√2 in"]
    ),
    st.text(max_size=6),
)
files = st.one_of(
    st.text(max_size=200),
    st.builds(
        lambda head, rows, part, end: end.join(part.join(cells) for cells in [head, *rows]),
        st.one_of(st.just(list(COLUMNS)), st.lists(st.sampled_from(COLUMNS), max_size=8, unique=True)),
        st.lists(st.lists(cell, max_size=len(COLUMNS)), max_size=6),
        st.sampled_from([",", ";"]),
        st.sampled_from(["\n", "\r\n"]),
    ),
    st.lists(st.lists(cell, min_size=1, max_size=4), max_size=6).map(
        lambda rows: "\n".join([HEAD, SELF, *(",".join(cells).ljust(WIDTH, ",") for cells in rows)])
    ),
)


@settings(max_examples=200, deadline=None)
@given(files)
@example("")
@example("section,key\n" + "sheet,id" * 200_000)
@example('section,key,value\nsheet,id,"')
@example("section,key,value\nsheet,id,\x00")
def test_no_input_is_met_with_anything_but_words(text: str) -> None:
    try:
        read = sheet_of_csv(text, "any.csv")
        found = [*read.problems, *sheet_problems(six.book(), read.sheet, read.spot)]
    except Problems as problems:
        found = list(problems.items)
    assert found, "no such file is a whole sheet of this pack"
    assert all(str(problem).startswith("any.csv") and problem.what for problem in found)


@settings(max_examples=100, deadline=None)
@given(data=st.binary(max_size=120))
def test_no_bytes_are_met_with_anything_but_words(
    data: bytes, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.getbasetemp() / "any.csv"
    path.write_bytes(data)
    with pytest.raises(Problems):
        read_sheet(path)


def test_sizes_without_a_leading_nought_come_in_and_go_out_as_csv() -> None:
    found = typed(row(maximum=".0005", minimum=".0001", wear_limit=".0008", sizes=".010 / .020", unit="in"))
    assert not found.problems
    kept = found.sheet.quantities["bore.diameter"]
    assert (kept.maximum, kept.wear_limit, kept.sizes) == (".0005 in", ".0008 in", (".010 in", ".020 in"))
    assert sheet_of_csv(csv_of_sheet(found.sheet), "two.csv").sheet == found.sheet
