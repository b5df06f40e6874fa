"""The photos of a part and the marks on them, over a real shop file."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from inspect_app import photos, store
from inspect_app.model.core import Core
from inspect_app.model.evidence import Finding, Photo, Region, Withdrawal
from inspect_app.ui import entry, part_page_at, photo_intake, photo_list, photo_marks_kept
from inspect_app.ui.marks import Mark, Sent
from inspect_app.ui.part_page_at import AtPart
from inspect_app.ui.photo_list import Shot
from inspect_app.ui.shelf import Shelf
from tests.ui.own_core import shop_with_own
from tests.ui.pictures_made import flat, jpeg
from tests.ui.shop_core import VEE, html, part_page

LINE = Mark("m1", "crack_line", ((10.0, 20.0), (300.0, 200.0)))
SPOT = Mark("m2", "point", ((50.0, 60.0),))
CAPTION = "<b>Left</b> bank :red[x]"


@pytest.fixture
def cores(tmp_path: Path) -> Iterator[Shelf]:
    with shop_with_own(tmp_path) as made:
        yield made


def at(cores: Shelf, position: str = "crankshaft") -> AtPart:
    slot = cores.get(VEE)
    assert slot is not None
    return part_page_at.at_part(slot, position)


def core(cores: Shelf) -> Core:
    return at(cores).core


def add(cores: Shelf, id_: str, data: bytes, **changes: str) -> Photo:
    taken = photos.take_in(data, id_)
    fields = entry.stamp(at(cores).slot, "B.W.") | {"id": id_, "piece": "crankshaft", "sha256": taken.sha256}
    photo = Photo.model_validate(fields | {"path": f"photos/{id_}.jpg"} | changes)
    cores.add_photo(VEE, photo, data, photo_intake.previews(taken))
    return photo


def shot(cores: Shelf) -> Shot:
    return photo_list.shots(at(cores))[-1]


def marked(cores: Shelf, number: int, photo: str = "p1") -> None:
    """Put a finding with its region on record."""
    stamp = entry.stamp(at(cores).slot, "B.W.") | {"piece": "crankshaft"}
    finding = Finding(**stamp, id=f"f{number}", damage="pit", place="rod_journal 1", strength="suspected")
    region = Region(
        **stamp, id=f"r{number}", photo=photo, finding=finding.id, shape="point", points=((5.0, number),)
    )
    cores.add(VEE, [finding, region])


def test_thumbnails_are_newest_first_with_their_hints_and_as_text(cores: Shelf) -> None:
    add(cores, "p1", jpeg(seed=1), caption=CAPTION, captured="2026-11-22T14:05")
    add(cores, "p2", flat(5))
    shown = html(part_page("crankshaft").run())
    assert "Photos: 2" in shown
    assert shown.index("/photo/brackwater-vee/p2/small") < shown.index("/photo/brackwater-vee/p1/small")
    assert "Looks too dark: take it again with a lamp beside the camera." in shown
    assert "1. &lt;b&gt;Left&lt;/b&gt; bank :red[x]" in shown
    assert "Taken 22 Nov 2026, 14:05, B.W., as found" in shown


def test_a_new_caption_is_a_correction_of_the_same_photo(cores: Shelf) -> None:
    add(cores, "p1", jpeg(seed=1))
    marked(cores, 1)
    app = part_page("crankshaft", item="p1").run()
    app.text_input(key="change_p1_caption").set_value(CAPTION).run()
    next(button for button in app.button if button.label == "Save correction").click().run()
    again = core(cores).evidence[-1]
    assert isinstance(again, Photo)
    assert (again.caption, again.supersedes) == (CAPTION, "p1")
    (one,) = photo_list.shots(at(cores))
    assert (one.id, one.photo.id, one.number) == ("p1", again.id, 1)
    assert [kept.letter for kept in photo_marks_kept.on_record(at(cores), one)] == ["A"]


def test_a_withdrawn_photo_is_no_longer_among_them(cores: Shelf) -> None:
    add(cores, "p1", jpeg(seed=1))
    gone = Withdrawal(**entry.stamp(at(cores).slot, "B.W."), id="w1", of="p1", reason="Another engine")
    cores.add(VEE, [gone])
    assert photo_list.shots(at(cores)) == []
    assert "<s>Photo</s>" in html(part_page("crankshaft").run())


def test_the_opened_photo_shows_its_marks_with_letters(cores: Shelf) -> None:
    add(cores, "p1", jpeg(seed=1))
    marked(cores, 1)
    marked(cores, 2)
    shown = html(part_page("crankshaft", photo="p1").run())
    assert shown.count('class="ia-letter ia-suspected"') == 2
    assert "Pit, rod journal 1, suspected" in shown
    assert "Mark A on photo 1" in shown
    assert "Mark B on photo 1" in shown


def test_marks_of_a_withdrawn_finding_are_gone_and_of_a_corrected_one_stay(cores: Shelf) -> None:
    add(cores, "p1", jpeg(seed=1))
    marked(cores, 1)
    marked(cores, 2)
    stamp = entry.stamp(at(cores).slot, "K.O.")
    worse = Finding(
        **stamp,
        id="f3",
        piece="crankshaft",
        damage="score",
        place="rod_journal 1",
        strength="seen",
        supersedes="f2",
    )
    cores.add(VEE, [Withdrawal(**stamp, id="w1", of="f1", reason="It was dirt"), worse])
    kept = photo_marks_kept.on_record(at(cores), shot(cores))
    assert [(one.letter, one.region.id, one.finding) for one in kept] == [("A", "r2", worse)]


def test_drafts_are_stored_and_those_of_others_are_told_apart(cores: Shelf) -> None:
    add(cores, "p1", jpeg(seed=1))
    assert photo_marks_kept.store_marks(VEE, shot(cores), "me", Sent("p1", 1, (LINE,))) == ""
    assert photo_marks_kept.store_marks(VEE, shot(cores), "you", Sent("p1", 4, (SPOT,))) == ""
    drawing = photo_marks_kept.drawing(VEE, shot(cores), "me")
    assert (drawing.mine, drawing.revision, drawing.others) == ((LINE,), 1, (SPOT,))
    drawn = photo_marks_kept.drawn([], drawing)
    assert [(one.letter, one.words, one.dashed) for one in drawn] == [
        ("A", "being drawn by somebody else", True)
    ]


def test_two_pages_of_one_browser_lose_no_mark(cores: Shelf) -> None:
    add(cores, "p1", jpeg(seed=1))
    photo_marks_kept.store_marks(VEE, shot(cores), "me", Sent("p1", 3, (LINE,)))
    said = photo_marks_kept.store_marks(VEE, shot(cores), "me", Sent("p1", 2, (SPOT,)))
    assert said == "Another page of this browser draws on this photo too: the marks of both are kept."
    drawing = photo_marks_kept.drawing(VEE, shot(cores), "me")
    assert (drawing.mine, drawing.revision) == ((LINE, SPOT), 4)


def test_marks_that_cannot_be_written_are_told(cores: Shelf, tmp_path: Path) -> None:
    add(cores, "p1", jpeg(seed=1))
    mine = shot(cores)
    other = store.open_shop_file(tmp_path / "shop.sqlite", wait_s=0.05)
    cores.shop, kept = other, cores.shop
    with kept.writing():
        said = photo_marks_kept.store_marks(VEE, mine, "me", Sent("p1", 1, (LINE,)))
    cores.shop = kept
    other.close()
    assert said.startswith("The marks are not saved. ")
    assert "somebody else is writing to it." in said


def test_a_draft_that_does_not_fit_the_photo_is_left_alone(cores: Shelf) -> None:
    add(cores, "p1", jpeg(seed=1))
    cores.save_draft(VEE, "p1", "me", 1, [{"id": "m1", "shape": "spiral", "points": [[1, 1]]}])
    assert photo_marks_kept.drawing(VEE, shot(cores), "me").mine == ()
    assert len(cores.drafts(VEE, "p1")) == 1


def test_a_circle_of_corrections_ends() -> None:
    def item(id_: str, supersedes: str | None) -> Finding:
        return Finding(
            id=id_,
            who="B.W.",
            when="2026-11-25",
            stage="bench",
            piece="block",
            damage="pit",
            place="deck",
            strength="seen",
            supersedes=supersedes,
        )

    assert photo_list.first_ids([item("a", None), item("b", "a"), item("c", "b")]) == dict.fromkeys(
        "abc", "a"
    )
    assert set(photo_list.first_ids([item("a", "b"), item("b", "a")])) == {"a", "b"}
    assert photo_list.first_ids([item("a", "gone")]) == {"a": "a"}
