from html.parser import HTMLParser

from hypothesis import given
from hypothesis import strategies as st

from inspect_app.ui.markup import Html, join, table, tag


class Tags(HTMLParser):
    """Collects the tags and the text that a browser would read."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


def read(html: str) -> Tags:
    tags = Tags()
    tags.feed(html)
    tags.close()
    return tags


@given(st.text(), st.text())
def test_text_never_becomes_a_tag_or_attribute(text: str, value: str) -> None:
    found = read(tag("p", text, title=value))
    assert found.tags == ["p"]
    assert found.text == text.replace("\r\n", "\n") or "\r" in text or "\0" in text


def test_finished_html_is_kept_and_text_beside_it_escaped() -> None:
    assert join(tag("b", "x"), "<i>") == "<b>x</b>&lt;i&gt;"


def test_empty_attributes_are_left_out() -> None:
    assert tag("p", "x", cls="", title=None) == "<p>x</p>"


def test_cells_carry_the_head_of_their_column() -> None:
    made = table(("A", 'B "q"'), [("1", "2")], numbers=frozenset({1}))
    assert '<td class="ia-num" data-head="B &quot;q&quot;">2</td>' in made
    assert isinstance(made, Html)
