"""The rejection sheet as it is printed: read back from the PDF."""

import re
from dataclasses import replace
from datetime import date

import pytest

from inspect_app.model.answer import Answer, Forced, OldPiece, Option
from inspect_app.model.evidence import Finding, OutsideReport, Photo
from inspect_app.model.frozen import Spread
from inspect_app.papers import NotOffered, Offer, Picture, offers
from inspect_app.papers.rejection import rejection
from inspect_app.pictures.figure_words import measured, money
from inspect_app.pictures.words import number

from .made import CRACK, SHAFT, book, four, part_of, photographed, sheet_of, subject, text_of, with_part

NUMBER = re.compile(r"\d+(?:,\d{3})*(?:\.\d+)?")


def changed(answer: Answer, **values: object) -> Answer:
    return with_part(answer, part_of(answer).model_copy(update=values))


def test_a_sheet_is_offered_only_where_replace_or_scrap_is_settled() -> None:
    told = {one.position: one for one in offers(subject().answer)}
    assert isinstance(told[SHAFT], Offer)
    assert told["rod 1"] == NotOffered(
        "rejection", "rod 1", "Connecting rod 1", "Reuse: nothing is rejected."
    )
    block = told["block"]
    assert isinstance(block, NotOffered)
    assert block.why == "Recondition: nothing is rejected."


@pytest.mark.parametrize("verdict", ["replace", "scrap"])
def test_a_verdict_that_is_not_settled_is_told_with_what_it_turns_on(verdict: str) -> None:
    answer = subject().answer
    settled = {one.position: one for one in offers(changed(answer, verdict=verdict))}
    assert isinstance(settled[SHAFT], Offer)
    open_ = {one.position: one for one in offers(changed(answer, verdict=verdict, standing="provisional"))}
    refused = open_[SHAFT]
    assert isinstance(refused, NotOffered)
    assert refused.why == f"{verdict.capitalize()} is not settled."


def test_a_part_that_is_not_judged_says_what_is_missing() -> None:
    answer = changed(subject().answer, verdict=None, standing=None, open_points=())
    refused = next(one for one in offers(answer) if one.position == SHAFT)
    assert isinstance(refused, NotOffered)
    assert refused.why == "Not judged. Nobody has looked at it."


def test_positions_that_would_share_a_file_name_get_numbers() -> None:
    answer = subject().answer
    part = part_of(answer)
    twins = tuple(part.model_copy(update={"position": name}) for name in ("head a/b", "head a b", "head ä b"))
    named = [
        one.file_name for one in offers(answer.model_copy(update={"parts": twins})) if isinstance(one, Offer)
    ]
    assert named == ["rejection--head-a-b.pdf", "rejection--head-a-b--2.pdf", "rejection--head---b.pdf"]


def test_the_sheet_says_what_the_reason_is_in_plain_and_in_shop_words_with_its_basis() -> None:
    about = subject(photos=1)
    text = text_of(sheet_of(about))
    reason = next(one for one in part_of(about.answer).closed if one.closes == "own")
    for said in (
        "The crankshaft cannot be used again",
        "Replace, settled",
        reason.plain,
        reason.why,
        "hard rule, common practice",
        "Every way to keep it",
        "Crack, rod journal 2, fillet, front",
        "Confirmed by magnetic-particle test",
        "25 Nov 2026",
        "page 1 of 1",
    ):
        assert said in text, said


def test_every_number_on_the_sheet_is_one_of_the_answer_in_the_stated_rounding() -> None:
    """Nothing is worked out anew: money whole, figures at the places of their gauge."""
    about = subject(photos=1)
    answer, part = about.answer, part_of(about.answer)
    text = text_of(sheet_of(about)).partition("Why this closes every way to keep it")[2]
    assert text
    known: set[str] = set()
    for reason in part.closed:
        known |= found_in(reason.why, reason.basis, reason.limit_basis)
        if reason.measured and reason.limit:
            known |= found_in(measured(reason.measured), number(reason.limit.value, 4))
    for option in part.options:
        if option.source != "own" and option.cost:
            known |= found_in(*(money(getattr(option.cost, end), "USD") for end in ("low", "likely", "high")))
    broken = next(choice.value for choice in answer.choices if choice.choice == "break")
    assert broken is not None
    known |= found_in(*(money(getattr(broken, end), "USD") for end in ("low", "likely", "high")))
    assert part.old_piece is not None
    known |= found_in(money(part.old_piece.value, "USD"), "30 days", "page 1 of 1")
    known |= found_in(f"Evidence: {answer.core.evidence.count}", "22 Nov 2026", answer.rulebook.version)
    known |= found_in(answer.prices.title, answer.prices.date)
    printed = found_in(text)
    assert printed - known == set()
    assert {"0.0061", "0.0010", "360", "780", "1,052"} <= printed


def found_in(*texts: str) -> set[str]:
    return {found for text in texts for found in NUMBER.findall(text)}


def test_every_way_forward_stands_with_its_cost_the_cheapest_first_and_no_closed_way() -> None:
    about = subject()
    part = part_of(about.answer)
    data = rejection(about, part).data
    offered = [(way["what"], way["likely"]) for way in data["ways"]]
    assert offered == [
        ("Exchange piece", "$360"),
        ("Used piece", "$486"),
        ("New piece", "$900"),
        ("Stop here: break the core for parts", "leaves $240"),
    ]
    assert all(option.state == "closed" for option in part.options if option.source == "own")


def test_a_way_says_what_it_forces_on_other_parts() -> None:
    answer = subject().answer
    forces = (
        Forced(position="rod 1", choice="new", why="It wants the rods made for it."),
        Forced(position="rod 2", choice="new", why="It wants the rods made for it."),
    )
    options = tuple(
        option.model_copy(update={"forces": forces}) if option.source == "new" else option
        for option in part_of(answer).options
    )
    text = text_of(sheet_of(subject(answer=changed(answer, options=options))))
    assert "Connecting rod 1, 2, new: It wants the rods made for it." in text


def test_a_way_without_a_price_is_offered_last_and_says_so() -> None:
    answer = subject().answer
    bare = Option(source="another_core", ways=(), state="proven", cost=None)
    ways = rejection(
        subject(answer=changed(answer, options=(bare, *part_of(answer).options))),
        part_of(changed(answer, options=(bare, *part_of(answer).options))),
    ).data["ways"]
    assert (ways[3]["what"], ways[3]["likely"]) == ("Piece from another core", "no price")


def test_each_limit_says_whose_it_is_and_where_it_stands() -> None:
    text = text_of(sheet_of(subject()))
    assert "against 0.0010 in, the rule pack's limit" in text
    assert "The limit stands in the rule pack Piston engines for cars and light trucks" in text
    assert "0.0018 ± 0.0001 in against 0.0004 in, the maker's limit" in text


@pytest.mark.parametrize(
    ("whose", "said"),
    [
        ("maker", "The limit stands on the engine sheet Brackwater Four"),
        ("shop", "The limit stands in the shop's own rules."),
    ],
)
def test_the_limit_of_the_bar_may_be_the_makers_or_the_shops(whose: str, said: str) -> None:
    answer = subject().answer
    closed = tuple(
        reason.model_copy(update={"limit_from": whose}) if reason.measured else reason
        for reason in part_of(answer).closed
    )
    assert said in text_of(sheet_of(subject(answer=changed(answer, closed=closed))))


def test_a_part_that_another_parts_way_rules_out_says_which_and_on_what_basis() -> None:
    text = text_of(sheet_of(subject(), "piston 1"))
    assert "Piston 1 does not go with the other work" in text
    assert "Block, the bores: bore to size to 0.020 in: Bored cylinders need pistons of the new size." in text
    coupling = book().couplings["bored-bores-want-new-pistons"]
    assert coupling.basis in text.partition("Bored cylinders need pistons of the new size. Why")[2]


def test_a_part_replaced_for_money_offers_to_keep_it_and_says_what_that_costs() -> None:
    answer = subject().answer
    cost = Spread(low=100, likely=777, high=900, mean=592.33)
    own = part_of(answer).options[0].model_copy(update={"state": "open", "cost": cost})
    money_says = changed(answer, grounds="money", closed=(), options=(own, *part_of(answer).options[13:]))
    text = text_of(sheet_of(subject(answer=money_says)))
    for said in (
        "The crankshaft costs more to keep than to replace",
        "Why no way to keep it is taken",
        "Not closed by a rule. Likely $777, $100 to $900.",
        "Keep it: mains: polish",
    ):
        assert said in text, said


def test_the_old_piece_says_where_it_goes_what_it_brings_and_how_long_it_is_kept() -> None:
    text = text_of(sheet_of(subject()))
    assert "The old piece: scrap, $6. It is kept for 30 days from the date above." in text
    assert "The customer wants it back: yes no" in text
    gone = subject(answer=changed(subject().answer, old_piece=OldPiece(piece=SHAFT, fate="sell", value=0)))
    assert "The old piece: sell. It is kept" in text_of(sheet_of(gone))


def test_the_caution_of_its_damage_stands_on_the_sheet() -> None:
    text = text_of(sheet_of(subject()))
    assert "Caution: a cracked piece can look sound. Mark it" in text
    assert "a cracked piece" not in text_of(sheet_of(subject(), "rod 2"))


def test_room_for_an_answer_and_a_signature() -> None:
    text = text_of(sheet_of(subject()))
    assert "do it leave it ask me" in text
    assert text.index("Customer") < text.index("For the shop") < text.index("page 1 of 1")


def test_a_photo_says_who_took_it_when_and_which_it_is() -> None:
    text = text_of(sheet_of(subject(photos=1)))
    assert "Photo 1, washed, 22 Nov 2026, K.O. Test card. SHA-256 0000 0000 0000" in text


def test_what_the_machine_shop_said_stands_with_its_grounds() -> None:
    core, _ = four()
    said = OutsideReport(
        id="shop-says",
        who="M.R.",
        when="2026-11-12",
        stage="machine_shop",
        piece=SHAFT,
        says="unusable",
        grounds="crack test",
    )
    kept = tuple(item for item in core.evidence if not isinstance(item, OutsideReport))
    text = text_of(sheet_of(subject(core=core.model_copy(update={"evidence": (*kept, said)}))))
    assert "Outside report: unusable Grounds: crack test. 12 Nov 2026, M.R." in text


def test_a_figure_beside_a_stronger_reason_is_told_as_such() -> None:
    assert "Measured besides: Wear on diameter, rod journal 2" in text_of(sheet_of(subject()))
    answer = subject().answer
    worn = tuple(reason for reason in part_of(answer).closed if reason.measured)
    assert "Measured besides" not in text_of(sheet_of(subject(answer=changed(answer, closed=worn))))


def test_a_photo_that_cannot_be_read_is_counted_and_the_sheet_is_made() -> None:
    about = subject(photos=2)
    blind = replace(about, picture=lambda photo: None)
    data = rejection(blind, part_of(blind.answer)).data
    assert (data["photos"], data["unshown"]) == ([], 2)
    assert text_of(sheet_of(blind))


def test_photos_that_no_sheet_has_room_for_are_not_even_read() -> None:
    about = subject(photos=12)
    read: list[str] = []

    def picture(photo: Photo) -> Picture | None:
        read.append(photo.id)
        return about.picture(photo)

    told = rejection(replace(about, picture=picture), part_of(about.answer)).data
    assert (len(read), len(told["photos"]), told["unshown"]) == (7, 7, 5)


def test_a_mark_and_its_finding_share_a_letter() -> None:
    core, _ = four()
    marked = photographed(photographed(core, 1, "score-p2"), 0)
    data = rejection(subject(core=marked), part_of(subject(core=marked).answer)).data
    letters = {found["what"].partition(",")[0]: found["letter"] for found in data["findings"]}
    assert letters.items() >= {"Crack": "", "Score": "A", "Heat colour": ""}.items()


def test_a_finding_that_was_corrected_keeps_its_mark() -> None:
    core, _ = four()
    marked = photographed(core, 1)
    crack = next(item for item in marked.evidence if item.id == CRACK)
    assert isinstance(crack, Finding)
    later = crack.model_copy(update={"id": "crack-again", "supersedes": CRACK, "extent": "0.7 in"})
    corrected = marked.model_copy(update={"evidence": (*marked.evidence, later)})
    (first, *_) = rejection(subject(core=corrected), part_of(subject(core=corrected).answer)).data["findings"]
    assert (first["letter"], "0.7 in" in first["what"]) == ("A", True)


def test_the_same_input_gives_the_same_bytes_and_another_day_others() -> None:
    about = subject(photos=2)
    assert sheet_of(about).pdf == sheet_of(about).pdf
    later = replace(about, made=date(2026, 11, 26))
    assert sheet_of(later).pdf != sheet_of(about).pdf
