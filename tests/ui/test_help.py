"""The Help page: the manual as it reads on a desk and a phone, and the limits told beside it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from streamlit.testing.v1 import AppTest

from inspect_app.bundle import limits_of_folder
from inspect_app.model.frozen import BuildStandard
from inspect_app.rulebook.limits_told import CountingLimit, LimitsTold, UsualLimit
from inspect_app.rulebook.load import load_rulebook
from inspect_app.shipped import manual_page, shipped
from inspect_app.ui import help, shelf
from tests.ui.made import NASTY, judge_made, put_usual
from tests.ui.made_shelf import MadeShelf, TellLimits
from tests.ui.served_shop import served

WIDTHS = {"desk": (1440, 1000), "phone": (390, 844)}
WIDE_BOXES = """() => [...document.querySelectorAll('.stApp *')]
    .filter(e => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0
        && ['auto', 'scroll'].includes(getComputedStyle(e).overflowX)).map(e => e.className)"""


def told(standard: BuildStandard | None = None) -> LimitsTold:
    """Made limits: one of the shop, one with no value to run; of a core one of the maker, its note nasty."""
    limits = (
        UsualLimit("taper", "pin", "at most", ("0.01 mm",) * 3, "guarded", NASTY, "shop"),
        UsualLimit("wall", "pin", "at least", (None, "2 mm", "3 mm"), "simple", "judgement", "pack"),
    )
    if standard is None:
        return LimitsTold(limits)
    own = CountingLimit("taper", "pin", "at most", 0.0125, "mm", "simple", "maker", "pin.taper", NASTY)
    from_pack = CountingLimit("wall", "pin", "at least", 3.0, "mm", "guarded", "pack", basis="judgement")
    return LimitsTold(limits, (own, from_pack), standard, "Pump 40", NASTY)


def tell(folder: Path | None) -> LimitsTold:
    return told("rebuild" if folder else None)


def shown(tmp_path: Path, tell_limits: TellLimits | None = tell, **query: str) -> tuple[str, str]:
    """The HTML and the Markdown of the page over the usual made cores."""

    def script() -> None:
        from inspect_app.ui import help

        help.page()

    shelf.use(MadeShelf(put_usual(tmp_path / "cores"), judge_made, tell_limits=tell_limits))  # type: ignore[arg-type]
    app = AppTest.from_function(script)
    for name, value in query.items():
        app.query_params[name] = value
    app.run()
    shelf._current = None
    assert not app.exception
    return (
        "\n".join(element.proto.body for element in app.get("html")).replace("\u00a0", " "),
        "\n".join(element.value for element in app.markdown),
    )


def test_every_page_of_the_manual_is_listed_and_none_else() -> None:
    lying = {path.stem for path in manual_page("index").parent.glob("*.md")}
    assert set(help.PAGES) == lying
    assert help.title("words") == "Words"


def test_an_unknown_page_is_refused_with_those_there_are() -> None:
    with pytest.raises(
        FileNotFoundError, match=r'no page "\.\./\.\./README"; it has at-the-bench, at-the-part, how'
    ):
        manual_page("../../README")


@pytest.mark.parametrize("name", help.PAGES)
def test_each_page_has_one_title_and_links_only_to_pages_that_are_there(name: str) -> None:
    raw = manual_page(name).read_text("utf-8")
    assert sum(line.startswith("# ") for line in raw.splitlines()) == 1
    linked = help._LINK.findall(raw)
    assert {page for _, page in linked} <= set(help.PAGES)
    assert ".md)" not in help.text(name)
    assert help.text(name).count('target="_self"') == len(linked)


@pytest.mark.parametrize("name", help.PAGES)
def test_every_formula_is_fenced_so_that_it_ends_where_it_should(name: str) -> None:
    """A display formula that shares a line with its marks swallows the rest of the page on the screen."""
    lines = manual_page(name).read_text("utf-8").splitlines()
    assert all(line == "$$" for line in lines if "$$" in line)
    assert sum(line == "$$" for line in lines) % 2 == 0


def test_a_page_is_shown_by_name_under_a_list_of_all(tmp_path: Path) -> None:
    html, markdown = shown(tmp_path, page="words")
    assert markdown.startswith("# Words")
    assert '<strong aria-current="page">Words</strong>' in html
    assert 'href="help?page=where-each-limit-comes-from"' in html
    assert "limits of shop" not in html


def test_without_a_name_and_with_an_unknown_one_the_first_page_is_shown(tmp_path: Path) -> None:
    assert shown(tmp_path / "a")[1].startswith("# The manual")
    assert shown(tmp_path / "b", page="../secret")[1].startswith("# The manual")


def test_the_limits_of_the_rules_are_told_by_build_standard(tmp_path: Path) -> None:
    html, _ = shown(tmp_path, page="where-each-limit-comes-from")
    assert "All 2 limits of shop and rule pack, by build standard" in html
    for text in ("at most 0.01 mm", "none", "at least 3 mm", "the shop&#x27;s limit: ", "guarded"):
        assert text in html, text


def test_for_a_core_whose_limit_counts_and_where_it_stands_is_told(tmp_path: Path) -> None:
    html, _ = shown(tmp_path, page="where-each-limit-comes-from", core="0417")
    for text in (
        "Limits that count for one core",
        "at most 0.0125 mm",
        "row pin.taper:",
        "Pump 40",
        "judgement",
    ):
        assert text in html, text
    assert html.index("at most 0.0125 mm") < html.index("All 2 limits"), "the core's own limits come first"


def test_nothing_typed_is_read_as_html_or_markdown(tmp_path: Path) -> None:
    html, markdown = shown(tmp_path, page="where-each-limit-comes-from", core="0417")
    assert "<img" not in html + markdown
    assert "&lt;img" in html
    assert "**bold**" not in markdown


def test_a_broken_core_and_a_server_without_limits_leave_the_manual(tmp_path: Path) -> None:
    html, markdown = shown(tmp_path / "a", page="where-each-limit-comes-from", core="0500-broken")
    assert "cannot be judged" in html
    assert "All 2 limits" in html
    html, markdown = shown(tmp_path / "b", None, page="where-each-limit-comes-from")
    assert markdown.startswith("# Where each limit comes from")
    assert "Limits that count" not in html


def test_the_program_fills_the_tables_from_its_own_rules(tmp_path: Path) -> None:
    found = limits_of_folder(shipped("demo_cores") / "brackwater-four", load_rulebook(shipped("rules")))
    html = help.counting(found).replace("\u00a0", " ")
    assert "row bore.wall: least wall that must remain on any side" in html
    assert "at least 0.13 in" in html
    assert help.usual(found).count("<tr>") == len(found.usual) + 1


@pytest.fixture(params=WIDTHS)
def screen(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A page of each width; a request to anywhere else, or a script error, fails the test."""
    width, height = WIDTHS[request.param]
    opened = browser.new_page(viewport={"width": width, "height": height})
    complaints: list[str] = []
    home = ("http://localhost:", "ws://localhost:", "data:", "blob:")
    opened.on("request", lambda sent: complaints.append(sent.url) if not sent.url.startswith(home) else None)
    opened.on("pageerror", lambda error: complaints.append(str(error)))
    opened.on("console", lambda m: complaints.append(m.text) if "Content Security" in m.text else None)
    yield opened
    opened.close()
    assert complaints == []


@pytest.mark.parametrize("name", help.PAGES)
def test_a_page_reads_without_network_and_without_sideways_scroll(
    screen: Page, address: str, name: str
) -> None:
    screen.goto(f"{address}/help?page={name}")
    expect(screen.locator("h1")).to_have_text(help.title(name))
    formulas = help.text(name).splitlines().count("$$") // 2
    expect(screen.locator(".katex-display")).to_have_count(formulas)
    assert screen.locator(".katex-error").count() == 0
    assert screen.evaluate(WIDE_BOXES) == []
    assert screen.evaluate("document.documentElement.scrollWidth") <= screen.viewport_size["width"]  # type: ignore[index]


def test_a_link_leads_to_the_other_page_in_the_same_tab(screen: Page, address: str) -> None:
    screen.goto(f"{address}/help")
    screen.locator(".st-key-help").get_by_role("link", name="Words").click()
    expect(screen.locator("h1")).to_have_text("Words")
    assert len(screen.context.pages) == 1
    assert screen.url == f"{address}/help?page=words"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("limits")
    with served(folder / "shop.sqlite", "--cores", shipped("demo_cores")) as at:
        yield at


@pytest.mark.parametrize(("width", "display"), [(320, "flex"), (390, "flex"), (800, "table-cell")])
def test_the_long_tables_of_limits_never_scroll_sideways(
    browser: Browser, shop: str, width: int, display: str
) -> None:
    """On a phone every row is a block, each cell beside the head that it stands under on a desk."""
    opened = browser.new_page(viewport={"width": width, "height": 844})
    opened.goto(f"{shop}/help?page=where-each-limit-comes-from")
    opened.locator("details.ia-more > summary").click()
    cell = opened.locator(".ia-limits td[data-head=Rebuild]").first
    expect(cell).to_be_visible()
    assert opened.locator("table.ia-limits").count() == 2
    assert cell.evaluate("cell => getComputedStyle(cell).display") == display
    assert opened.evaluate(WIDE_BOXES) == []
    for table in opened.locator("table").all():
        assert table.evaluate("table => table.getBoundingClientRect().right") <= width
    opened.close()
