"""The rejection sheet as it is printed: read back from the PDF."""

from inspect_app.papers import NotOffered, Offer, offers

from .made import sheet_of, subject, text_of


def test_a_sheet_is_offered_only_where_replace_or_scrap_is_settled() -> None:
    told = {one.position: one for one in offers(subject().answer)}
    assert isinstance(told["crankshaft"], Offer)
    assert told["rod 1"] == NotOffered(
        "rejection", "rod 1", "Connecting rod 1", "Reuse: nothing is rejected."
    )
    assert told["block"].why == "Recondition: nothing is rejected."  # type: ignore[union-attr]


def test_the_sheet_says_what_the_reason_is_and_holds_it_to_one_page() -> None:
    text = text_of(sheet_of(subject(photos=1)))
    assert "The crankshaft cannot be used again Replace, settled" in text
    assert "Crack in the fillet of rod journal 2" in text
    assert "Every way to keep it" in text
    assert "page 1 of 1" in text


def test_the_same_input_gives_the_same_bytes() -> None:
    about = subject(photos=2)
    assert sheet_of(about).pdf == sheet_of(about).pdf
