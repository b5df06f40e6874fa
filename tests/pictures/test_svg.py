import pytest

from inspect_app.pictures import svg
from inspect_app.pictures.tokens import LIGHT
from tests.pictures.support import NASTY, parsed


@pytest.mark.parametrize(
    ("value", "written"),
    [(12.0, "12"), (0.7512, "0.75"), (-0.001, "0"), (1e-9, "0"), (-3.5, "-3.5"), (100, "100")],
)
def test_numbers_are_written_short(value: float, written: str) -> None:
    assert svg.number(value) == written


def test_text_and_attributes_are_escaped_and_characters_xml_lacks_are_dropped() -> None:
    drawing = svg.document(10, 10, NASTY, svg.text(0, 0, NASTY + "\ud800\uffff", LIGHT))
    root = parsed(drawing)
    assert root.get("aria-label") == '<b>& "x" '
    assert [node.text for node in root] == ['<b>& "x" '] * 2
    assert "<b>" not in drawing


def test_pieces_are_not_escaped_twice() -> None:
    inner = svg.element("title", "a & b")
    assert svg.group(inner, data_position="x 1") == '<g data-position="x 1"><title>a &amp; b</title></g>'


def test_an_attribute_without_a_value_is_left_out_and_a_trailing_mark_is_cut() -> None:
    assert svg.rect(0, 0, 1, 1, stroke=None, class_="a") == (
        '<rect x="0" y="0" width="1" height="1" class="a"/>'
    )


def test_a_line_too_long_is_cut_with_an_ellipsis() -> None:
    assert svg.fitted("short", 13, 100) == "short"
    cut = svg.fitted("x" * 500, 13, 100)
    assert cut.endswith("…")
    assert svg.text_width(cut, 13) <= 100
