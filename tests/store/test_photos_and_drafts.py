"""Photos with their bytes, previews, and marks that are not evidence yet."""

import pytest

from inspect_app.model.evidence import Region
from inspect_app.model.problems import Problems
from inspect_app.store import (
    Preview,
    ShopFile,
    add_photo,
    confirm_draft,
    discard_draft,
    drafts_of,
    keep_preview,
    load_core,
    photos_of,
    picture_of,
    preview_of,
    previews_about,
    save_draft,
)
from tests.support import finding, pump_book

from .pumps import COMMON, OTHER, PICTURE, begin, photo, sha256

LINE = {"shape": "crack_line", "points": [[10.5, 20], [30, 40]]}
POINT = {"shape": "point", "points": [[1, 2]]}


def times_kept(shop: ShopFile, picture: bytes) -> int:
    query = "SELECT count(*) FROM file_bytes WHERE sha256 = ?"
    with shop.reading() as connection:
        return int(connection.exec_driver_sql(query, (sha256(picture),)).scalar_one())


def test_a_photo_and_its_bytes_come_out_as_they_went_in(shop: ShopFile) -> None:
    begin(shop)
    revision = add_photo(shop, pump_book(), "pump-1", photo("p1"), PICTURE)
    assert picture_of(shop, "pump-1", "p1") == PICTURE
    (held,) = photos_of(shop, "pump-1")
    assert (held.photo, held.size) == (photo("p1"), len(PICTURE))
    assert load_core(shop, "pump-1").revision == revision


def test_bytes_that_are_not_those_of_the_photo_are_refused_with_it(shop: ShopFile) -> None:
    begin(shop)
    with pytest.raises(Problems, match="did not come with it"):
        add_photo(shop, pump_book(), "pump-1", photo("p1"), OTHER)
    assert photos_of(shop, "pump-1") == ()
    assert times_kept(shop, OTHER) == 0


def test_the_same_picture_is_kept_once_for_all_who_show_it(shop: ShopFile) -> None:
    begin(shop, photo("p1"), photo("p2"))
    begin(shop, photo("p1"), name="pump-2")
    assert times_kept(shop, PICTURE) == 1
    assert picture_of(shop, "pump-2", "p1") == picture_of(shop, "pump-1", "p2") == PICTURE


def test_a_photo_of_another_core_is_not_found(shop: ShopFile) -> None:
    begin(shop, photo("p1"))
    begin(shop, name="pump-2")
    with pytest.raises(Problems, match=r'core "pump-2": it has no photo "p1"\. Load the page'):
        picture_of(shop, "pump-2", "p1")


def test_a_preview_is_kept_and_made_anew_under_its_name(shop: ShopFile) -> None:
    begin(shop, photo("p1"), photo("p2", OTHER))
    assert preview_of(shop, sha256(PICTURE), "small") is None
    keep_preview(shop, sha256(PICTURE), "small", Preview('{"width": 1}', b"one"))
    keep_preview(shop, sha256(PICTURE), "small", Preview('{"width": 2}', b"two"))
    assert preview_of(shop, sha256(PICTURE), "small") == Preview('{"width": 2}', b"two")
    assert previews_about(shop, "pump-1", "small") == {sha256(PICTURE): '{"width": 2}'}
    assert previews_about(shop, "pump-1", "large") == {}


def marks(shop: ShopFile, session: str) -> list[object]:
    held = drafts_of(shop, "pump-1", "p1")
    return [mark for draft in held if draft.session == session for mark in draft.marks]


def test_a_draft_is_stored_on_every_change_and_what_comes_late_is_passed_over(shop: ShopFile) -> None:
    begin(shop, photo("p1"))
    assert save_draft(shop, "pump-1", "p1", "phone", 1, [LINE])
    assert save_draft(shop, "pump-1", "p1", "phone", 3, [LINE, POINT])
    assert not save_draft(shop, "pump-1", "p1", "phone", 2, [])
    assert not save_draft(shop, "pump-1", "p1", "phone", 3, [POINT])
    assert marks(shop, "phone") == [LINE, POINT]


def test_two_sessions_that_mark_one_photo_do_not_disturb_each_other(shop: ShopFile) -> None:
    begin(shop, photo("p1"))
    save_draft(shop, "pump-1", "p1", "phone", 5, [LINE])
    save_draft(shop, "pump-1", "p1", "bench", 1, [POINT])
    discard_draft(shop, "pump-1", "p1", "phone")
    assert (marks(shop, "phone"), marks(shop, "bench")) == ([], [POINT])


def test_confirming_writes_the_evidence_and_ends_the_draft(shop: ShopFile) -> None:
    begin(shop, photo("p1"))
    save_draft(shop, "pump-1", "p1", "phone", 1, [LINE])
    points = ((10.5, 20), (30, 40))
    items = [
        finding("crack", "pocket driver", id="f1"),
        Region(**COMMON, id="g1", photo="p1", finding="f1", shape="crack_line", points=points),
    ]
    confirm_draft(shop, pump_book(), "pump-1", "p1", "phone", items)
    assert drafts_of(shop, "pump-1") == ()
    assert load_core(shop, "pump-1").core.evidence == (photo("p1"), *items)


def test_marks_that_are_left_stay_as_the_draft_and_take_the_next_edit(shop: ShopFile) -> None:
    begin(shop, photo("p1"))
    save_draft(shop, "pump-1", "p1", "phone", 7, [LINE, POINT])
    items = [finding("crack", "pocket driver", id="f1")]
    confirm_draft(shop, pump_book(), "pump-1", "p1", "phone", items, [POINT])
    assert marks(shop, "phone") == [POINT]
    assert not save_draft(shop, "pump-1", "p1", "phone", 8, [])
    assert save_draft(shop, "pump-1", "p1", "phone", 9, [LINE])


def test_a_draft_whose_evidence_is_refused_is_kept(shop: ShopFile) -> None:
    begin(shop, photo("p1"))
    save_draft(shop, "pump-1", "p1", "phone", 1, [LINE])
    with pytest.raises(Problems, match='"rot" is no damage word'):
        confirm_draft(shop, pump_book(), "pump-1", "p1", "phone", [finding("rot", "pocket driver", id="f1")])
    assert marks(shop, "phone") == [LINE]


def test_a_mark_on_a_photo_that_is_not_there_is_told(shop: ShopFile) -> None:
    begin(shop)
    with pytest.raises(Problems, match='it has no photo "p1" to mark'):
        save_draft(shop, "pump-1", "p1", "phone", 1, [LINE])
