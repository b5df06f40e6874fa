"""The Shop book: what the shop keeps of its own, each on a page."""

from inspect_app.ui import blocks, shelf
from inspect_app.ui.markup import Html, lines, tag

PAGES = (
    ("sheet", "Engine sheet", "Counts, sizes, limits and torques of a core's engine, typed from its manual."),
    ("prices", "Prices", "What work, parts and replacements cost here, and what old pieces bring."),
    ("gauges", "Gauges", "How fine each gauge reads and how far its calibration leaves it open."),
    ("phones", "Phones", "Let a phone in the shop work on this file, and see which ones may."),
)


def page() -> None:
    """Draw the page."""
    book = shelf.current().book
    own = len({key for key, where in book.where.items() if where.overlay})
    said = f"{own} entries are the shop's own" if own != 1 else "1 entry is the shop's own"
    blocks.show(
        tag(
            "div",
            blocks.title_strip(("View", "Shop book"), ("Rules", f"{book.pack.title}, {book.pack.version}")),
            blocks.heading(said),
            lines(f"They stand in {shelf.current().rules_folder}, and replace shipped ones by id."),
            tag("ul", *(_page(*one) for one in PAGES), cls="ia-shop-book"),
            cls="ia-page",
        )
    )


def _page(path: str, title: str, told: str) -> Html:
    return tag("li", tag("a", title, href=f"/{path}"), lines(told, cls="ia-soft"))
