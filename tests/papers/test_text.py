"""Text of any kind prints as text; what the fonts lack is told."""

import unicodedata

import pytest

from inspect_app.papers import print_paper
from inspect_app.papers.fonts import characters
from inspect_app.papers.printable import LONGEST_TEXT, LONGEST_WORD, Printable, clean

from .made import part_of, sheet_of, subject, text_of, with_part


def plain(text: str) -> str:
    """The printed text of a sheet whose plain words are `text`."""
    answer = subject().answer
    part = part_of(answer)
    closed = tuple(reason.model_copy(update={"plain": text}) for reason in part.closed)
    return text_of(sheet_of(subject(answer=with_part(answer, part.model_copy(update={"closed": closed})))))


@pytest.mark.parametrize(
    "text",
    [
        '#let x = 5 #x #image("/etc/passwd")',
        "*bold* _it_ `code` $x^2$ @ref <label>",
        "= Heading - list + list / term: x",
        "quotes \" and ' and \\ and \\u{41} // no comment /* none */",
        "[content] {code} #[ #{ }] ~ -- --- ...",
        "https://example.org/?a=b&c=<d>",
        "Kœnig Ångström-Żółć, façade à Çanakkale",
    ],
)
def test_marks_of_the_typesetter_print_as_they_are_typed(text: str) -> None:
    assert text in plain(text)


def test_hebrew_is_set_and_none_of_it_is_missing() -> None:
    text = "גל הארכובה סדוק"
    printable = Printable()
    assert printable(text) == text
    assert printable.told == ""
    said = plain(text)
    assert all(word in said or word[::-1] in said for word in text.split())


def test_what_the_fonts_lack_is_told_once_by_sign_and_number() -> None:
    printable = Printable()
    printable("漢 漢 😀")
    assert printable.told == (
        "The paper cannot print: 漢 (U+6F22), 😀 (U+1F600). A box or a question mark stands in its place."
    )


def test_more_than_a_dozen_are_counted() -> None:
    printable = Printable()
    printable("".join(map(chr, range(0x4E00, 0x4E00 + 15))))
    assert printable.told.endswith("U+4E0B) and 3 more. A box or a question mark stands in its place.")


def test_of_a_text_without_end_only_what_a_sheet_can_show_is_taken() -> None:
    printable = Printable()
    assert len(printable("word " * 10**6)) <= LONGEST_TEXT
    assert len(printable("x" * LONGEST_TEXT).replace("\u200b", "")) == LONGEST_TEXT
    assert printable("x" * LONGEST_TEXT + "漢") == printable("x" * LONGEST_TEXT)
    assert printable.told == ""


def test_what_a_drawing_writes_is_looked_at_too() -> None:
    answer = subject().answer
    part = part_of(answer)
    figures = tuple(figure.model_copy(update={"title": "漢"}) for figure in part.figures)
    odd = with_part(answer, part.model_copy(update={"figures": figures}))
    assert "漢 (U+6F22)" in sheet_of(subject(answer=odd)).missing


def test_the_caller_hears_of_it() -> None:
    about = subject()
    core = about.answer.core.model_copy(update={"title": "Four 漢"})
    paper = sheet_of(subject(answer=about.answer.model_copy(update={"core": core})))
    assert "漢 (U+6F22)" in paper.missing
    assert sheet_of(about).missing == ""


@pytest.mark.parametrize("char", ["\x00", "\x07", "\x1b", "\x7f", "\ud800", "\ue000", "\u202e", "\u2066"])
def test_control_and_turning_marks_are_replaced_and_told(char: str) -> None:
    printable = Printable()
    assert printable(f"a{char}b") == "a\ufffdb"
    assert f"U+{ord(char):04X}" in printable.told


@pytest.mark.parametrize("space", ["\n", "\r\n", "\t", "  ", "\u2028", " \n "])
def test_breaks_of_lines_become_one_space(space: str) -> None:
    assert Printable()(f"a{space}b") == "a b"


def test_letters_typed_in_pieces_are_put_together() -> None:
    printable = Printable()
    assert printable("e\u0301") == "é"
    assert printable.told == ""


@pytest.mark.parametrize("length", [LONGEST_WORD - 1, LONGEST_WORD, LONGEST_WORD + 1])
def test_only_a_longer_word_may_break_anywhere(length: int) -> None:
    shown = Printable()("x" * length)
    assert ("\u200b" in shown) == (length > LONGEST_WORD)
    assert shown.replace("\u200b", "") == "x" * length


def test_a_mark_stays_with_its_letter_in_a_word_that_may_break() -> None:
    word = "x\u0331" * (LONGEST_WORD + 1)
    for piece in Printable()(word).split("\u200b"):
        assert not unicodedata.combining(piece[0])


def test_hard_spaces_of_figures_hold() -> None:
    assert Printable()("0.0061\u00a0±\u00a00.0001\u00a0in") == "0.0061\u00a0±\u00a00.0001\u00a0in"


def test_the_names_of_files_and_what_is_no_text_stay() -> None:
    data = {"mark": "a" * 30, "count": 3, "rows": [["b" * 30, 1.5]]}
    done = clean(data, Printable(), ["a" * 30])
    assert isinstance(done, dict)
    assert (done["mark"], done["count"], done["rows"][0][1]) == ("a" * 30, 3, 1.5)
    assert "\u200b" in done["rows"][0][0]


def test_the_fonts_have_what_the_sheets_themselves_write() -> None:
    assert set("±−…×≥≤°€£$½\u00a0\u200b\ufffd") - set("\u200b") <= characters()
    assert "漢" not in characters()
    assert "א" in characters()


def test_an_unknown_position_is_refused_in_words() -> None:
    from inspect_app.model.problems import Problems
    from inspect_app.papers import Offer

    with pytest.raises(Problems, match='the answer has no position "flywheel"'):
        print_paper(Offer("rejection", "flywheel", "Flywheel", "rejection--flywheel"), subject())
